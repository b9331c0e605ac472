"""Taking in edits that were made elsewhere, as they are: their count, clock and hash stay."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from core.errors import Refusal
from core.records import engine
from core.records.engine import Step, query
from core.records.journal import (
    ADD_EDIT,
    ADD_LINE,
    EDIT_COLUMNS,
    chain_hash,
    closed,
    let_index_follow,
)
from core.records.lean import pw
from core.records.models import ROWS, columns, database

Lines = Sequence[tuple[str, str, str, str]]
"""Table, row, act and change of each line, in order."""

Ends = dict[str, tuple[int, str, str]]
"""Count, clock and hash that each device has come to."""

_DEVICES = 'SELECT "id", "count", "clock", "hash" FROM "device"'
_COUNT_ON = (
    'INSERT INTO "device" ("id", "here", "count", "clock", "hash") VALUES (?, 0, ?, ?, ?) '
    'ON CONFLICT ("id") DO UPDATE SET "count" = ?, "clock" = ?, "hash" = ?'
)
_AT_ONCE = 200
"""Edits whose statements go to the database together: a server is a way off."""


class Foreign(Refusal):
    """An edit made elsewhere can not be taken in."""

    title = "Not taken in"


def receive(edit: Mapping[str, Any], lines: Lines) -> None:
    """Take in one edit of another device: its rows, its lines, and itself.

    Parameters
    ----------
    edit : mapping
        Its columns, `EDIT_COLUMNS`, as its own database held them.
    lines : sequence
        Its lines in order.

    Raises
    ------
    Foreign
        When its hash is not that of its content, or it does not follow on what is here.
    Closed
        When a row is closed here.
    """
    with database.atomic():
        engine.now_open().take_turn()
        receive_all([(edit, lines)])
        let_index_follow(lines)


def receive_all(edits: Iterable[tuple[Mapping[str, Any], Lines]]) -> None:
    """Take in many edits, in their order, inside a transaction; the search index is not told.

    Raises
    ------
    Foreign, Closed
        As `receive` does; the transaction must then be given up.
    """
    ends = {device: (count, clock, last) for device, count, clock, last in query(_DEVICES)}
    steps: list[Step] = []
    moved: set[str] = set()
    for number, (edit, lines) in enumerate(edits, start=1):
        steps += _steps(edit, lines, ends)
        moved.add(edit["device"])
        if number % _AT_ONCE == 0:
            _write(steps, {device: ends[device] for device in moved})
            steps, moved = [], set()
    _write(steps, {device: ends[device] for device in moved})


def _write(steps: list[Step], ends: Ends) -> None:
    # How far a device has come is said once for many edits: a row that is changed over and over
    # in one transaction grows slow on PostgreSQL.
    said: list[Step] = [(None, _COUNT_ON, (device, *end, *end)) for device, end in ends.items()]
    try:
        engine.now_open().write_all(steps + said)
    except pw.DatabaseError as error:
        told = closed(error)
        if told is None:
            raise
        raise told from error


def _steps(edit: Mapping[str, Any], lines: Lines, ends: Ends) -> Iterator[Step]:
    values = {name: edit[name] for name in EDIT_COLUMNS}
    if chain_hash(values, list(lines)) != values["hash"]:
        raise Foreign(f"Edit {values['count']} of a device was changed on its way.")
    count, _, last = ends.get(values["device"], (0, "", ""))
    if values["count"] != count + 1 or values["before"] != last:
        raise Foreign(
            f"Edit {values['count']} of a device does not follow on edit {count}, "
            "the last one here."
        )
    ends[values["device"]] = (values["count"], values["clock"], values["hash"])
    yield from (_row(*line) for line in lines)
    yield ("edit", values["id"], "add"), ADD_EDIT, tuple(values.values())
    for position, line in enumerate(lines):
        yield ("edit_line", values["id"], "add"), ADD_LINE, (values["id"], position, *line)


def _row(table: str, row: str, act: str, body: str) -> Step:
    change: Mapping[str, list[Any]] = json.loads(body)
    known = columns(table) if table in ROWS else {}
    unknown = [name for name in change if name not in known]
    if unknown:
        raise Foreign(f"These records know no {unknown[0]} of {table}.")
    new = {name: value for name, (_, value) in change.items()}
    if act == "add":
        names = ", ".join(f'"{name}"' for name in new)
        marks = ", ".join("?" for _ in new)
        sql = f'INSERT INTO "{table}" ({names}) VALUES ({marks})'
        return (table, row, act), sql, tuple(new.values())
    sets = ", ".join(f'"{name}" = ?' for name in new)
    return (table, row, act), f'UPDATE "{table}" SET {sets} WHERE "id" = ?', (*new.values(), row)
