"""Reading the journal: edits, their lines, and which of them stand."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any, TypeVar

from core.errors import Refusal
from core.records import engine
from core.records.engine import query
from core.records.models import Edit as _Edit

T = TypeVar("T")
CHUNK = 400
"""So many values at most go into one statement."""


@dataclass(frozen=True)
class Edit:
    """What one person did once; `reverses` names the edit that it took back, if it did."""

    id: str
    device: str
    count: int
    clock: str
    at: datetime
    who: str
    kind: str
    visit: str | None
    reverses: str | None


@dataclass(frozen=True)
class Line:
    """One row changed by an edit: ``{column: [old, new]}`` in the form the database holds."""

    table: str
    row: str
    act: str
    change: Mapping[str, list[Any]]


COLUMNS = ", ".join(
    f'e."{name}"'
    for name in ("id", "device", "count", "clock", "at", "who", "kind", "visit", "reverses")
)
"""What a statement asks of ``"edit" e`` to make an `Edit` of it."""


def from_values(values: Sequence[Any]) -> Edit:
    """Return the edit made of the values of `COLUMNS`."""
    id_, device, count, clock, at, *rest = values
    moment = _Edit.at.python_value(at)
    assert moment is not None  # the column is never empty
    return Edit(id_, device, count, clock, moment, *rest)


def one(edit_id: str) -> Edit:
    """Return the edit with this id.

    Raises
    ------
    Refusal
        When there is none.
    """
    found = some([edit_id])
    if not found:
        raise Refusal("That edit is not in the records.", "Nothing was changed.")
    return found[edit_id]


def some(ids: Iterable[str]) -> dict[str, Edit]:
    """Return the edits with these ids, by id; what is not there is left out."""
    found = {}
    for part in chunks(ids):
        sql = f'SELECT {COLUMNS} FROM "edit" e WHERE e."id" IN ({marks(part)})'
        found.update({row[0]: from_values(row) for row in query(sql, part)})
    return found


def lines_of(ids: Iterable[str]) -> dict[str, list[Line]]:
    """Return the lines of edits in order, by the edit's id."""
    found: dict[str, list[Line]] = {}
    for part in chunks(ids):
        sql = (
            'SELECT "edit", "in_table", "row", "act", "change" FROM "edit_line" '
            f'WHERE "edit" IN ({marks(part)}) ORDER BY "edit", "position"'
        )
        for edit, table, row, act, body in query(sql, part):
            found.setdefault(edit, []).append(Line(table, row, act, json.loads(body)))
    return found


def history(table: str, rows: Sequence[str]) -> Iterator[tuple[str, Line]]:
    """Give every line about some rows of a table, the oldest first, with its edit's id."""
    sql = (
        'SELECT l."edit", l."row", l."act", l."change" FROM "edit_line" l '
        'JOIN "edit" e ON e."id" = l."edit" '
        f'WHERE l."in_table" = ? AND l."row" IN ({marks(rows)}) '
        'ORDER BY e."clock", l."position"'
    )
    for edit, row, act, body in query(sql, (table, *rows)):
        yield edit, Line(table, row, act, json.loads(body))


def taken_back(ids: Iterable[str]) -> set[str]:
    """Return those of the edits that do not stand: one that took them back does."""
    pairs: list[tuple[str, str]] = []
    for part in chunks(ids):
        sql = f'SELECT "id", "reverses" FROM "edit" WHERE "reverses" IN ({marks(part)})'
        pairs += [(by, of) for by, of in query(sql, part)]
    if not pairs:
        return set()
    gone = taken_back(by for by, _ in pairs)
    return {of for by, of in pairs if by not in gone}


def this_device() -> str | None:
    """Return the id under which this machine writes; None before it has written."""
    named = engine.now_open().this_device()
    if named:
        return named
    found = query('SELECT "id" FROM "device" WHERE "here" = 1')
    return found[0][0] if found else None


def marks(values: Sequence[object]) -> str:
    """Return a ``?`` for each value of a statement."""
    return ", ".join("?" for _ in values)


def chunks(values: Iterable[T]) -> Iterator[list[T]]:
    """Give the values, each once, so many at a time as one statement takes."""
    every = list(dict.fromkeys(values))
    for start in range(0, len(every), CHUNK):
        yield every[start : start + CHUNK]
