"""Noting what an edit would write, all of it, without writing a line."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from core.records.journal import Change, OpenEdit, _open
from core.records.models import columns
from core.records.tables import Row


class Noted(OpenEdit):
    """An edit whose lines are noted only."""

    def change(self, kind: type[Row], row_id: str, /, **new: object) -> bool:
        """Note a change, also of a row that is only noted itself."""
        if all(row_id != row for _, row, _, _ in self.lines):
            return super().change(kind, row_id, **new)
        known = columns(kind.table)
        change: Change = {name: [None, known[name].store(value)] for name, value in new.items()}
        self._note(kind.table, row_id, "change", change)
        return True

    def _write(
        self,
        table: str,
        row_id: str,
        act: str,
        change: Change,
        sql: str,
        values: tuple[Any, ...],
    ) -> None:
        self._note(table, row_id, act, change)


@contextmanager
def noting(like: OpenEdit) -> Iterator[OpenEdit]:
    """Note the lines of every edit that is opened in the block; none of them is written.

    Parameters
    ----------
    like : OpenEdit
        Whose kind, person, moment and visit the noted edit has.
    """
    now = Noted(like.kind, like.who, like.at, like.visit, like.reverses, like.may)
    mark = _open.set(now)
    try:
        yield now
    finally:
        _open.reset(mark)
