"""An edit of the journal in one sentence for a person."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from typing import Any

from core.practice.record_words import (
    NOTHING,
    Key,
    Speaker,
    TableWords,
    Values,
    refers,
    wanted,
    words,
)
from core.records import edits
from core.records.edits import Edit, Line
from core.records.rows_then import as_given, held, states_before
from core.records.tables import Practice
from core.records.turns import Turn, turns

MOST = 5
"""So many things of one edit are named; of more it is said how many."""


class Telling:
    """Tells edits: reads at once, in a few statements, what all their sentences need.

    Parameters
    ----------
    told : iterable of Edit
        What will be asked for.
    practice : Practice or None
        For its zone, its currency and its units.
    """

    most = MOST

    def __init__(self, told: Iterable[Edit], practice: Practice | None) -> None:
        self._edits = {edit.id: edit for edit in told}
        self._reach_back()
        lines = self._lines()
        self._turns = {edit: turns(lines.get(edit, [])) for edit in self._edits}
        self._before = self._stood(lines)
        self._speaker = Speaker(
            practice.zone if practice else "Etc/UTC",
            practice.currency if practice else "",
            practice.currency_exponent if practice else 2,
            "us" if practice and practice.units == "us" else "metric",
            self._named(),
        )

    def words(self, edit: Edit, day: date) -> str:
        """Return what was done, in words; "" when there is nothing that a person would read."""
        back, origin = False, edit
        while origin.reverses is not None:
            back, origin = not back, self._edits[origin.reverses]
        said = self._done(origin, day)
        if not said or origin is edit:
            return said
        return f"took back: {said}" if back else f"did again: {said}"

    def follows(self, edit: Edit) -> str:
        """Return what holds again when an edit is taken back; "" where that needs no words."""
        for turn in self._turns[edit.id]:
            line = str(turn.left.get("line", ""))
            if turn.added and (said := words()[turn.table].back_of_line.get(line)):
                return said
        return ""

    def _lines(self) -> Mapping[str, list[Line]]:
        """Return the lines of each edit."""
        return edits.lines_of(self._edits)

    def _stood(self, lines: Mapping[str, list[Line]]) -> dict[tuple[str, str, str], dict[str, Any]]:
        """Return what stood in each changed row just before each edit."""
        return states_before(lines)

    def _reach_back(self) -> None:
        """Add the edits that others have taken back, as far as they go."""
        while missing := {
            edit.reverses
            for edit in self._edits.values()
            if edit.reverses is not None and edit.reverses not in self._edits
        }:
            self._edits.update(edits.some(missing))

    def _done(self, edit: Edit, day: date) -> str:
        loud: list[str] = []
        faint: list[str] = []
        tables = {turn.table for turn in self._turns[edit.id]}
        for turn in self._turns[edit.id]:
            known = words()[turn.table]
            if tables & set(known.told_by):
                continue
            quiet = known.faint or (turn.table == "visit" and turn.soft)
            (faint if quiet else loud).append(self._phrase(known, edit, turn, day))
        said = [one for one in dict.fromkeys(loud or faint) if one]
        more = len(said) - self.most
        return "; ".join([*said[: self.most], *([f"and {more} more"] if more > 0 else [])])

    def _phrase(self, known: TableWords, edit: Edit, turn: Turn, day: date) -> str:
        say = self._speaker
        old, new = self._rows(edit, turn)
        if known.once:
            return known.added if turn.added else known.changed
        if turn.added:
            added = known.of_line.get(str(new.get("line", "")), known.added)
            return say.fill(added, turn.table, new, day)
        called = say.called(turn.table, old, day)
        if turn.left.get("struck"):
            return f"struck {called}: {turn.left['struck']}"
        if "struck" in turn.left:
            return f"{called} counts again"
        return self._change(known, turn, (old, new), day)

    def _change(self, known: TableWords, turn: Turn, rows: tuple[Values, Values], day: date) -> str:
        """Return the columns of a row that changed, under what the row is called."""
        asked = [c for c in turn.left if c != known.main and not known.hides(c)]
        main = self._column(turn.table, known.main, rows, day) if known.main else ""
        parts = [
            f"{known.columns[column]} {said}"
            for column in asked
            if (said := self._column(turn.table, column, rows, day))
        ]
        called = self._speaker.called(turn.table, rows[0], day)
        if main:
            return ", ".join([f"{called} {main}", *parts])
        return f"{called}: {', '.join(parts)}" if parts else ""

    def _column(self, table: str, column: str, rows: tuple[Values, Values], day: date) -> str:
        before, after = (self._speaker.said(table, column, row, day) for row in rows)
        if before == after:
            return ""
        return f"from {before} to {after or NOTHING}" if before else after

    def _rows(self, edit: Edit, turn: Turn) -> tuple[Values, Values]:
        """Return the row before the edit and after it."""
        before = {} if turn.added else self._before.get((edit.id, turn.table, turn.row), {})
        old = {**before, **({} if turn.added else turn.back)}
        new = {**before, **turn.left}
        return as_given(turn.table, old), as_given(turn.table, new)

    def _named(self) -> dict[Key, Values]:
        """Return every row that a sentence names, and those that these name in turn."""
        asked: set[Key] = set()
        for edit in self._edits.values():
            for turn in self._turns[edit.id]:
                known = words()[turn.table]
                for row in self._rows(edit, turn):
                    asked |= wanted(turn.table, row, (known.added, known.one))
                    asked |= {
                        key
                        for column in ([] if turn.added else turn.left)
                        if not known.hides(column)
                        and (key := refers(turn.table, column, row)) is not None
                    }
        found: dict[Key, Values] = {}
        while missing := asked - found.keys():
            loaded = _loaded(missing)
            found.update({key: loaded.get(key, {}) for key in missing})
            for (table, _), row in loaded.items():
                asked |= wanted(table, row, (words()[table].one,))
        return {key: row for key, row in found.items() if row}


def _loaded(keys: Iterable[Key]) -> dict[Key, Values]:
    by_table: dict[str, list[str]] = {}
    for table, row in keys:
        by_table.setdefault(table, []).append(row)
    return {
        (table, row_id): as_given(table, row)
        for table, ids in by_table.items()
        for row_id, row in held(table, ids).items()
    }
