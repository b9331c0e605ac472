"""What taking an edit back does to each row that it touched, and which rows refer to which."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Annotated, Any, get_args, get_origin, get_type_hints

from core.records.edits import Line
from core.records.models import ROWS, columns
from core.records.tables import Ref

TAKEN_BACK = "taken back"
"""The reason with which a row is struck when its adding is taken back."""


@dataclass(frozen=True)
class Turn:
    """What taking an edit back does to one row, in the form the database holds.

    Attributes
    ----------
    left : mapping
        What the edit left in each column it touched: it must still stand there.
    back : mapping
        What is put there.
    added : bool
        Whether the edit added the row.
    """

    table: str
    row: str
    added: bool
    left: Mapping[str, Any]
    back: Mapping[str, Any]

    @property
    def ends(self) -> bool:
        """Whether it ends what was begun."""
        return self.soft and (self.strikes or self.back.get("state") == "booked")

    @property
    def soft(self) -> bool:
        """Whether it only notes that something was begun; what others began then stays begun."""
        begins = {("booked", "open"), ("open", "booked")}
        if self.table == "visit":
            return self.left.keys() == {"state"} and self._of("state") in begins
        return self.table == "stage_mark" and (self.added or self.left.keys() == {"struck"})

    def _of(self, column: str) -> tuple[Any, Any]:
        return self.back[column], self.left[column]

    @property
    def strikes(self) -> bool:
        """Whether the row will be struck, and was not."""
        return self.back.get("struck") is not None and self.left.get("struck") is None

    @property
    def lifts(self) -> bool:
        """Whether the row was struck, and will not be."""
        return "struck" in self.back and self.back["struck"] is None


def turns(lines: Iterable[Line]) -> list[Turn]:
    """Return what taking back these lines of one edit does, once for each row."""
    by_row: dict[tuple[str, str], list[Line]] = {}
    for line in lines:
        by_row.setdefault((line.table, line.row), []).append(line)
    return [_turn(*key, told) for key, told in by_row.items()]


def _turn(table: str, row: str, told: list[Line]) -> Turn:
    old: dict[str, Any] = {}
    new: dict[str, Any] = {}
    for line in told:
        for column, (before, after) in line.change.items():
            old.setdefault(column, before)
            new[column] = after
    if told[0].act == "add":
        # Columns that the edit left empty are part of what it added.
        whole = {column: new.get(column) for column in columns(table)}
        return Turn(table, row, True, whole, {"struck": TAKEN_BACK})
    return Turn(table, row, False, new, old)


@cache
def references(table: str) -> dict[str, str]:
    """Return the columns of a table that hold the id of a row, with that row's table."""
    found = {}
    for name, hint in get_type_hints(ROWS[table], include_extras=True).items():
        told = get_args(hint)[1:] if get_origin(hint) is Annotated else ()
        mark = next((m for m in told if isinstance(m, Ref)), None)
        if mark is not None:
            found[name] = mark.table
    return found


@cache
def referring(table: str) -> tuple[tuple[str, str], ...]:
    """Return the tables and columns that hold ids of rows of a table."""
    return tuple(
        (other, column)
        for other in ROWS
        for column, target in references(other).items()
        if target == table
    )
