"""Proving the records: the chain of each device, and every row against the journal.

Everything is read in parts, so that a million lines need no more memory than ten thousand.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from itertools import groupby
from typing import Any

from core.records import edits
from core.records.engine import query
from core.records.journal import chain_hash
from core.records.models import MODELS, Edit

PART = 2000
"""So many edits, or rows, are read at once."""

EXEMPT: Mapping[str, str] = {
    "device": "the count, the clock and the end of the chain of each device: proved by the chain",
    "schema_step": "which migrations have run, and when",
    "secret": "hashes of PINs and recovery codes, which must not be in any export",
    "search": "the words that are searched, made again from the rows at any time",
}
"""Tables outside the journal, each with the reason; ``search`` stands for all that begin so."""

_COLUMNS = tuple(Edit._meta.fields)
_LISTED = ", ".join(f'e."{name}"' for name in _COLUMNS)
_EDITS = (
    f'SELECT {_LISTED} FROM "edit" e WHERE e."device" = ? AND e."count" > ? '
    'ORDER BY e."count" LIMIT ?'
)
_LINES = (
    'SELECT e."count", l."position", l."in_table", l."row", l."act", l."change" '
    'FROM "edit" e JOIN "edit_line" l ON l."edit" = e."id" '
    'WHERE e."device" = ? AND e."count" > ? AND e."count" <= ? '
    'ORDER BY e."count", l."position"'
)
_DEVICES = 'SELECT DISTINCT "device" FROM "edit" ORDER BY "device"'
_ENDS = 'SELECT "id", "count", "hash" FROM "device" WHERE "count" > 0 ORDER BY "id"'
_LOST = (
    'SELECT l."in_table", l."row", l."edit" FROM "edit_line" l '
    'LEFT JOIN "edit" e ON e."id" = l."edit" WHERE e."id" IS NULL'
)


def exempt(table: str) -> str:
    """Return why a table stands outside the journal; "" when it does not."""
    begins = "search" if table.startswith("search_") else table
    return EXEMPT.get(begins, "")


def broken() -> list[str]:
    """Return everything that is wrong with the records, in sentences; nothing when all holds."""
    return [*broken_chain(), *broken_rows()]


def broken_chain() -> list[str]:
    """Return what is wrong with the journal itself: a sentence each, saying which edit."""
    found: list[str] = []
    ends: dict[str, tuple[int, str]] = {}
    for (device,) in query(_DEVICES):
        chain = _Chain(device)
        found += chain.wrong()
        ends[device] = (chain.count, chain.before)
    said = {device: (count, last) for device, count, last in query(_ENDS)}
    for device in sorted(ends.keys() | said.keys()):
        if ends.get(device) != said.get(device):
            count = ends.get(device, (0, ""))[0]
            told = said.get(device, (0, ""))[0]
            found.append(
                f"The chain of device {device} ends at edit {count}, "
                f"and the device says that it ends at edit {told}."
            )
    for table, row, edit in query(_LOST):
        found.append(f"A line about {table} {row} belongs to edit {edit}, which is not there.")
    return found


class _Chain:
    """The edits of one device, walked in order."""

    def __init__(self, device: str) -> None:
        self.device = device
        self.count = 0
        self.clock = ""
        self.before = ""

    def wrong(self) -> Iterator[str]:
        """Give a sentence for each thing that is wrong."""
        while part := query(_EDITS, (self.device, self.count, PART)):
            told = [dict(zip(_COLUMNS, values, strict=True)) for values in part]
            lines = _lines(self.device, self.count, told[-1]["count"])
            for edit in told:
                for what in self._wrong(edit, lines.get(edit["count"], [])):
                    yield f"{_said(edit)} {what}."

    def _wrong(self, edit: dict[str, Any], lines: list[tuple[Any, ...]]) -> Iterator[str]:
        if edit["count"] != self.count + 1:
            yield f"does not follow on edit {self.count}: what lay between is missing"
        elif edit["before"] != self.before:
            yield "does not follow on the one before it: one of the two was changed"
        if edit["clock"] <= self.clock:
            yield "has a clock that is not after the one before it"
        if [position for position, *_ in lines] != [*range(len(lines))]:
            yield "has lines missing or out of place"
        if chain_hash(edit, [tuple(line[1:]) for line in lines]) != edit["hash"]:
            yield "was changed after it was made: its hash is not that of its content"
        self.count, self.clock, self.before = edit["count"], edit["clock"], edit["hash"]


def _lines(device: str, after: int, to: int) -> dict[int, list[tuple[Any, ...]]]:
    rows = query(_LINES, (device, after, to))
    return {
        count: [tuple(row[1:]) for row in of] for count, of in groupby(rows, key=lambda row: row[0])
    }


def _said(edit: Mapping[str, Any]) -> str:
    return (
        f"Edit {edit['count']} of device {edit['device']} "
        f"({edit['kind']}, {edit['at']}, by {edit['who']})"
    )


def broken_rows() -> Iterator[str]:
    """Give a sentence for each row and column that is not what the journal tells."""
    for table in MODELS:
        yield from _broken_table(table)
    known = set(MODELS)
    for (table,) in query('SELECT DISTINCT "in_table" FROM "edit_line" ORDER BY "in_table"'):
        if table not in known:
            yield f"The journal tells of {table}, a table that is not there."


def _broken_table(table: str) -> Iterator[str]:
    names = list(MODELS[table]._meta.fields)
    listed = ", ".join(f'"{name}"' for name in names)
    sql = f'SELECT {listed} FROM "{table}" WHERE "id" > ? ORDER BY "id" LIMIT ?'
    last = ""
    while True:
        part = query(sql, (last, PART))
        whole = len(part) < PART
        held = {row[0]: row for row in (_filled(names, values) for values in part)}
        to = None if whole else max(held)
        told = _replayed(table, last, to)
        for row in sorted(held.keys() | told.keys()):
            yield from _differs(table, row, held.get(row, ("", None))[1], told.get(row))
        if to is None:
            return
        last = to


def _filled(names: list[str], values: tuple[Any, ...]) -> tuple[str, dict[str, Any]]:
    row = {n: v for n, v in zip(names, values, strict=True) if v is not None}
    return row["id"], row


def _replayed(table: str, after: str, to: str | None) -> dict[str, dict[str, Any]]:
    """Return the rows of a table between two ids as the journal alone tells them."""
    sql = (
        'SELECT e."clock", e."id", l."position", l."row", l."change" '
        'FROM "edit_line" l JOIN "edit" e ON e."id" = l."edit" '
        'WHERE l."in_table" = ? AND l."row" > ?' + (' AND l."row" <= ?' if to is not None else "")
    )
    values = (table, after) if to is None else (table, after, to)
    found: dict[str, dict[str, Any]] = {}
    # Put in order here, which takes a third of the time that the database needs for it.
    for *_, row, body in sorted(query(sql, values)):
        found.setdefault(row, {}).update(_new(body))
    return {i: {n: v for n, v in row.items() if v is not None} for i, row in found.items()}


def _new(body: str) -> dict[str, Any]:
    """Return the new values that a line tells; none when it was made unreadable."""
    try:
        return {name: new for name, (_, new) in json.loads(body).items()}
    except (ValueError, TypeError, AttributeError):
        return {}  # the hash of its edit tells of it


def _differs(
    table: str, row: str, held: dict[str, Any] | None, told: dict[str, Any] | None
) -> Iterator[str]:
    if held == told:
        return
    if held is None:
        yield f"Row {row} of {table} is gone; the journal has it."
    elif told is None:
        yield f"Row {row} of {table} stands there, and the journal does not have it."
    else:
        for name in sorted(held.keys() | told.keys()):
            if held.get(name) != told.get(name):
                yield (
                    f"Row {row} of {table}: {name} is {held.get(name)!r}, and the journal tells "
                    f"{told.get(name)!r}{_last_told(table, row, name)}."
                )


def _last_told(table: str, row: str, column: str) -> str:
    """Return which edit told the journal last of a column of a row."""
    sql = (
        f'SELECT {edits.COLUMNS}, l."change" FROM "edit_line" l JOIN "edit" e ON e."id" = l."edit" '
        'WHERE l."in_table" = ? AND l."row" = ? ORDER BY e."clock" DESC'
    )
    for *values, body in query(sql, (table, row)):
        if column in _new(body):
            edit = edits.from_values(values)
            return f" (edit {edit.count} of device {edit.device}, {edit.at:%Y-%m-%d %H:%M:%S} UTC)"
    return ""
