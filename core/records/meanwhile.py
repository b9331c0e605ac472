"""What others have saved meanwhile: told to whoever would write over it without having seen it."""

from __future__ import annotations

import json
from collections.abc import Mapping
from contextvars import ContextVar
from dataclasses import dataclass
from typing import Any

from core.errors import Refusal
from core.records.engine import query

seen: ContextVar[str | None] = ContextVar("the clock up to which the screen has seen", default=None)
"""Set by whoever writes what a person typed; None writes whatever stands there."""

_own: set[str] = set()
"""Edits made by this process: nobody is told of their own."""

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
        What stands there and what was to be written, as the database holds them.
    at : str
        When it was saved, as the records hold moments.
    """

    table: str
    row: str
    column: str
    value: Any
    mine: Any
    who: str
    at: str


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
    if since is None:
        return
    for edit, who, at, body in query(_SINCE, (table, row, since)):
        theirs = {} if edit in _own else json.loads(body)
        for column in theirs.keys() & change.keys():
            held, mine = change[column]
            raise Conflict(Theirs(table, row, column, held, mine, who, at))
