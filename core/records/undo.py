"""Taking back what was done: a new edit that reverses one, refused when something stands on it.

What was changed gets its old values again. What was added is struck with the reason
`turns.TAKEN_BACK`, since rows are never deleted. Doing it again is the undo of the undo.
"""

from __future__ import annotations

import json
from collections.abc import Collection, Iterator, Mapping
from datetime import datetime
from typing import Any

from core.errors import Refusal
from core.records import edits, journal, never
from core.records.edits import Edit, chunks, marks
from core.records.engine import query
from core.records.journal import May, OpenEdit
from core.records.models import ROWS
from core.records.rows_then import held
from core.records.turns import Turn, references, referring, turns

KIND = "undo"

ONE_EACH: dict[str, tuple[str, ...]] = {
    "tax_class": ("code",),
    "price": ("code",),
    "stage_mark": ("visit", "stage"),
    "answer": ("visit", "system", "question"),
    "sign": ("visit", "system", "subject", "subject_id", "sign"),
    "reading": ("visit", "system", "place", "analyte"),
    "handling": ("visit", "number"),
    "feeding": ("visit", "system"),
    "figure": ("visit", "subject", "name"),
    "charge": ("visit", "code", "origins"),
    "owner_step": ("visit", "origin"),
    "recheck": ("visit", "origin"),
    "day_mark": ("day", "line"),
    "setting": ("key",),
}
"""Tables in which one row stands for one question: a second one is not lifted beside it.

A row that leaves one of the columns empty stands for itself.
"""


class StandsOn(Refusal):
    """Something later stands on what was to be taken back.

    Attributes
    ----------
    table, row, column : str
        What stands in the way; `column` is "" for a whole row.
    edit : Edit or None
        The later edit, where one is to blame.
    """

    title = "Not taken back"

    def __init__(self, sentence: str, table: str, row: str, column: str, by: Edit | None) -> None:
        super().__init__(sentence, "Take that back first, or correct it as it stands now.")
        self.table, self.row, self.column, self.edit = table, row, column, by


def undo(edit_id: str, *, who: str, at: datetime, may: May | None = None) -> str:
    """Take an edit back by a new one that reverses it; return the new one's id.

    The undo of an undo does it again.

    Parameters
    ----------
    edit_id : str
        The edit to take back.
    may : callable, optional
        Asked before each line whether this person may write it.

    Raises
    ------
    NeverUndone
        When it is of a kind that is never taken back.
    StandsOn
        When a later edit stands on it.
    Refusal
        When there is no such edit, or it is taken back already.
    """
    asked = edits.one(edit_id)
    with journal.edit(KIND, who=who, at=at, visit=asked.visit, reverses=edit_id, may=may) as doing:
        reverse(doing, asked)
        return doing.id


def reverse(doing: OpenEdit, asked: Edit) -> None:
    """Write, inside an edit that is open, the lines that take an edit back.

    Raises
    ------
    NeverUndone, StandsOn, Refusal
        As `undo`.
    """
    if edits.taken_back([asked.id]):
        raise Refusal("That is taken back already.")
    lines = edits.lines_of([asked.id]).get(asked.id, [])
    rule = never.of_edit(asked.kind, (line.table for line in lines))
    if rule is not None:
        raise rule.refusal()
    for turn in tuple(_Look(asked, turns(lines)).possible()):
        doing.change(ROWS[turn.table], turn.row, **turn.back)
    if not doing.lines:
        raise Refusal("There is nothing left of that to take back.")


class _Look:
    """Looks whether something stands on an edit before it is taken back."""

    def __init__(self, asked: Edit, turning: list[Turn]) -> None:
        self.asked = asked
        self.turns = turning
        self.rows = {table: held(table, ids) for table, ids in _by_table(turning).items()}
        self.since = self._since()

    def possible(self) -> Iterator[Turn]:
        """Give every turn, those aside that would only end what others have begun."""
        self._not_signed()
        for turn in self.turns:
            rule = never.of_row(turn.table, turn.added, turn.back, self._row(turn))
            if rule is not None:
                raise rule.refusal()
        others = self._others_went_on()
        for turn in self.turns:
            if turn.ends and others:
                continue
            try:
                self._look(turn)
            except StandsOn:
                if turn.soft:
                    continue
                raise
            yield turn

    def _row(self, turn: Turn) -> Mapping[str, Any]:
        return self.rows[turn.table][turn.row]

    def _not_signed(self) -> None:
        visits = {
            row["id" if table == "visit" else "visit"]
            for table, rows in self.rows.items()
            if ROWS[table].closing == "visit"
            for row in rows.values()
        }
        for part in chunks(visits):
            sql = f'"visit" WHERE "signed_at" IS NOT NULL AND "id" IN ({marks(part)})'
            if query(f"SELECT 1 FROM {sql}", part):
                raise never.NeverUndone(
                    "This visit is signed: nothing of its record is taken back.",
                    "Write an addendum.",
                )

    def _others_went_on(self) -> bool:
        """Say whether anything was done later at the same visit, and stands."""
        if self.asked.visit is None or not any(turn.soft for turn in self.turns):
            return False
        sql = 'SELECT "id" FROM "edit" WHERE "visit" = ? AND "clock" > ? AND "reverses" IS NULL'
        later = [edit for (edit,) in query(sql, (self.asked.visit, self.asked.clock))]
        return bool(set(later) - edits.taken_back(later))

    def _since(self) -> dict[tuple[str, str, str], str]:
        """Return the standing later edit that changed each column of the rows, by id.

        Undos are left out: what they undid or did again is told by the value that stands.
        """
        told = []
        for table, ids in _by_table(self.turns).items():
            for part in chunks(ids):
                sql = (
                    'SELECT l."edit", l."row", l."change" FROM "edit_line" l '
                    'JOIN "edit" e ON e."id" = l."edit" '
                    f'WHERE l."in_table" = ? AND l."row" IN ({marks(part)}) '
                    'AND e."clock" > ? AND e."reverses" IS NULL'
                )
                found = query(sql, (table, *part, self.asked.clock))
                told += [(edit, table, row, json.loads(body)) for edit, row, body in found]
        gone = edits.taken_back(edit for edit, *_ in told)
        return {
            (table, row, column): edit
            for edit, table, row, changed in told
            if edit not in gone
            for column in changed
        }

    def _look(self, turn: Turn) -> None:
        row = self._row(turn)
        for column, left in turn.left.items():
            by = self.since.get((turn.table, turn.row, column))
            if by is not None or row[column] != left:
                raise StandsOn(
                    "It was changed since.",
                    turn.table,
                    turn.row,
                    column,
                    edits.one(by) if by else None,
                )
        if turn.strikes:
            self._nobody_refers(turn)
        elif turn.lifts or row["struck"] is None:
            self._all_stand(turn)
        if turn.lifts:
            self._only_one(turn)

    def _nobody_refers(self, turn: Turn) -> None:
        gone = {(t.table, t.row) for t in self.turns if t.strikes}
        for table, column in referring(turn.table):
            sql = f'SELECT "id" FROM "{table}" WHERE "{column}" = ? AND "struck" IS NULL'
            for (row,) in query(sql, (turn.row,)):
                if (table, row) not in gone:
                    raise StandsOn("Something else refers to it.", table, row, "", None)

    def _all_stand(self, turn: Turn) -> None:
        """Refuse to lift a row, or to lead it back, to one that is struck."""
        lifted = {(t.table, t.row) for t in self.turns if t.lifts}
        row = {**self._row(turn), **turn.back}
        for column, table in references(turn.table).items():
            target = row[column]
            if target is None or not (turn.lifts or column in turn.back):
                continue
            sql = f'SELECT 1 FROM "{table}" WHERE "id" = ? AND "struck" IS NOT NULL'
            if (table, target) not in lifted and query(sql, (target,)):
                raise StandsOn("What it belongs to is struck.", table, target, "", None)

    def _only_one(self, turn: Turn) -> None:
        names = ONE_EACH.get(turn.table, ())
        row = {**self._row(turn), **turn.back}
        if not names or "" in [row[name] for name in names]:
            return
        tests = [f'"{n}" IS NULL' if row[n] is None else f'"{n}" = ?' for n in names]
        sql = (
            f'SELECT "id" FROM "{turn.table}" WHERE {" AND ".join(tests)} '
            'AND "struck" IS NULL AND "id" <> ?'
        )
        values = [row[n] for n in names if row[n] is not None]
        for (other,) in query(sql, (*values, turn.row)):
            raise StandsOn("Something else stands in its place.", turn.table, other, "", None)


def _by_table(turning: Collection[Turn]) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for turn in turning:
        found.setdefault(turn.table, []).append(turn.row)
    return found
