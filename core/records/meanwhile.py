"""What others have saved meanwhile: told to whoever would write over it without having seen it."""

from __future__ import annotations

import json
from collections.abc import Mapping
from contextvars import ContextVar
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from core.errors import Refusal
from core.records.engine import query
from core.records.models import Edit, columns

seen: ContextVar[str | None] = ContextVar("the clock up to which the screen has seen", default=None)
"""Set by whoever writes what a person typed; None writes whatever stands there."""

ASIDE = frozenset({"at", "by"})
"""Columns that every write of a row fills: two who differ in these only do not disagree."""

WORKED_OUT = frozenset({"figure", "stage_mark"})
"""Tables whose rows follow from others: they are worked out anew, nobody types them."""

_own: set[str] = set()
"""Edits made by this process: nobody is told of their own."""

_OTHERS = 'SELECT "id" FROM "edit" WHERE "clock" > ?'
_NEWEST = 'SELECT max("clock") FROM "edit"'
_SINCE = """
SELECT e."id", e."who", e."at", l."change" FROM "edit_line" l
JOIN "edit" e ON e."id" = l."edit"
WHERE l."in_table" = ? AND l."row" = ? AND e."clock" > ? ORDER BY e."clock" DESC
"""


@dataclass(frozen=True)
class Theirs:
    """What somebody else has put where a person is about to write.

    Attributes
    ----------
    value, mine : object
        What stands there and what was to be written.
    """

    table: str
    row: str
    column: str
    value: Any
    mine: Any
    who: str
    at: datetime


class Conflict(Refusal):
    """Somebody else has changed the same thing since it was last seen here."""

    title = "Changed meanwhile"

    def __init__(self, theirs: Theirs) -> None:
        super().__init__(
            f"Somebody else has put {theirs.value} there meanwhile; yours is {theirs.mine}.",
            "Save again to keep yours.",
        )
        self.theirs = theirs


def now() -> str:
    """Return the clock of the newest edit in the records; "" before there is one."""
    [[newest]] = query(_NEWEST)
    return newest or ""


def others(since: str) -> int:
    """Return how many edits after a clock were not made by this process."""
    return sum(edit not in _own for (edit,) in query(_OTHERS, (since,)))


def made_here(edit: str) -> None:
    """Remember an edit as made by this process."""
    _own.add(edit)


def look(table: str, row: str, change: Mapping[str, list[Any]]) -> None:
    """Refuse a change of what somebody else has changed since it was last seen here.

    Raises
    ------
    Conflict
        With what stands there, who put it there and when.
    """
    since = seen.get()
    if since is None or table in WORKED_OUT:
        return
    for edit, who, at, body in query(_SINCE, (table, row, since)):
        theirs = {} if edit in _own else json.loads(body)
        both = [column for column in change if column in theirs and column not in ASIDE]
        if both:
            give = columns(table)[both[0]].give
            held, mine = (give(value) for value in change[both[0]])
            moment = Edit.at.python_value(at)
            assert moment is not None
            raise Conflict(Theirs(table, row, both[0], held, mine, who, moment))
