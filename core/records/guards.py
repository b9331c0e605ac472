"""What the database itself refuses: writes beside the journal, and changes to what is closed.

The rules are the same on both engines; `sqlite` and `postgres` say them as triggers.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextvars import ContextVar
from dataclasses import dataclass
from typing import Literal

from core.records.tables import Row

Line = tuple[str, str, str]
"""Table, row and act of the one line that the journal is writing at this moment."""

writing: ContextVar[Line | None] = ContextVar("the line being written", default=None)

BESIDE = "finrounds: a write beside the journal"
SIGNED = "finrounds: the visit is signed"
INVOICED = "finrounds: the line stands on an issued invoice"
GROWS = "finrounds: these rows are only added"
NEVER = "finrounds: rows are struck, never deleted"

Act = Literal["INSERT", "UPDATE", "DELETE"]
Rule = Literal["door", "always", "this visit", "its visit", "invoice"]

WORDS: dict[Act, str] = {"INSERT": "add", "UPDATE": "change", "DELETE": "remove"}
"""How the journal calls an act."""


@dataclass(frozen=True)
class Guard:
    """One thing that is refused.

    Attributes
    ----------
    rule : str
        When it is refused: ``door`` unless the journal is writing exactly this line,
        ``always``, once ``this visit`` or ``its visit`` is signed, or once the line stands
        on an ``invoice``.
    key : str
        The column that the journal's line names the row by.
    """

    name: str
    table: str
    act: Act
    rule: Rule
    refusal: str
    key: str = "id"


def journal_writes(table: str, row: str, act: str) -> int:
    """Tell the database whether the journal is writing exactly this line now (1) or not (0)."""
    return int(writing.get() == (table, row, act))


def journal_guards() -> Iterator[Guard]:
    """Give the guards of the journal's own tables: lines are added by the journal, for good."""
    for table, key in (("edit", "id"), ("edit_line", "edit")):
        yield Guard("door", table, "INSERT", "door", BESIDE, key)
        yield Guard("grows", table, "UPDATE", "always", GROWS)
        yield Guard("grows", table, "DELETE", "always", GROWS)


def row_guards(rows: Iterable[type[Row]]) -> Iterator[Guard]:
    """Give the guards of tables of rows."""
    for row in rows:
        yield Guard("door", row.table, "INSERT", "door", BESIDE)
        yield Guard("door", row.table, "UPDATE", "door", BESIDE)
        yield Guard("door", row.table, "DELETE", "door", BESIDE)
        yield Guard("kept", row.table, "DELETE", "always", NEVER)
        yield from _closing(row)


def _closing(row: type[Row]) -> Iterator[Guard]:
    if row.table == "visit":
        yield Guard("signed", "visit", "UPDATE", "this visit", SIGNED)
    elif row.closing == "visit":
        yield Guard("signed", row.table, "INSERT", "its visit", SIGNED)
        yield Guard("signed", row.table, "UPDATE", "its visit", SIGNED)
    elif row.closing == "grows":
        yield Guard("grows", row.table, "UPDATE", "always", GROWS)
    elif row.closing == "invoice":
        yield Guard("invoiced", row.table, "UPDATE", "invoice", INVOICED)
