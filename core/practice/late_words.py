"""What an edit that was never written would have said, in words."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import fields
from datetime import date
from typing import Any

from core.practice.edit_words import Telling
from core.practice.record_words import Key, TableWords, Values
from core.records import read
from core.records.edits import Edit, Line
from core.records.journal import OpenEdit
from core.records.signed import rows_of
from core.records.tables import TABLES, Practice
from core.records.turns import Turn

ROWS = {kind.table: kind for kind in TABLES}
_COLUMN = re.compile(r"\{(\w+)\}")


class _Unwritten(Telling):
    """Tells one edit that stands nowhere in the journal."""

    most = 1000
    """Nothing of it is left out: there is no other place to read it."""

    def __init__(self, tried: OpenEdit, practice: Practice | None) -> None:
        self._tried = [Line(t, row, act, json.loads(body)) for t, row, act, body in tried.lines]
        edit = Edit(tried.id, "", 0, "", tried.at, tried.who, tried.kind, tried.visit, None)
        super().__init__([edit], practice)
        self.said = self.words(edit, tried.at.date())

    def _lines(self) -> Mapping[str, list[Line]]:
        return dict.fromkeys(self._edits, self._tried)

    def _stood(self, lines: Mapping[str, list[Line]]) -> dict[tuple[str, str, str], dict[str, Any]]:
        """Return what stands in each row: nothing of the edit was written."""
        return {
            (edit, line.table, line.row): _row(line.table, line.row)
            for edit, told in lines.items()
            for line in told
            if line.act != "add" and line.table in ROWS
        }

    def _named(self) -> dict[Key, Values]:
        """Return the rows that sentences name, those of the edit itself too."""
        mine = {
            (turn.table, turn.row): self._rows(edit, turn)[1]
            for edit in self._edits.values()
            for turn in self._turns[edit.id]
            if turn.added
        }
        return {**super()._named(), **mine}

    def _phrase(self, known: TableWords, edit: Edit, turn: Turn, day: date) -> str:
        """Say all that was typed: what the short sentence of an added row leaves out, too."""
        said = super()._phrase(known, edit, turn, day)
        if not turn.added or known.once:
            return said
        row = self._rows(edit, turn)[1]
        more = [
            f"{known.columns[column]} {words}"
            for column in _beside(known, turn.table, row)
            if (words := self._speaker.said(turn.table, column, row, day))
        ]
        return ", ".join([said, *more])


def _beside(known: TableWords, table: str, row: Values) -> Iterator[str]:
    """Give the columns that hold more than their default and that no sentence has told."""
    told = {"id", "struck", "visit", "system", *_COLUMN.findall(known.added)}
    for column in fields(ROWS[table]):
        name = column.name
        if name not in told and not known.hides(name) and row.get(name) != column.default:
            yield name


def _row(table: str, row_id: str) -> dict[str, Any]:
    found = rows_of(ROWS[table], id=row_id)
    return found[0] if found else {}


def late_words(tried: OpenEdit) -> str:
    """Return what an edit would have written, all of it, in words for a person."""
    return _Unwritten(tried, read.first(Practice)).said
