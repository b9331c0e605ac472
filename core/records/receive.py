"""Taking in edits that were made elsewhere, as they are: their count, clock and hash stay."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import Any

from core.errors import Refusal
from core.records import engine
from core.records.engine import execute, query
from core.records.journal import as_line, chain_hash, let_index_follow
from core.records.models import ROWS, columns, database

Lines = Sequence[tuple[str, str, str, str]]
"""Table, row, act and change of each line, in order."""

EDIT_COLUMNS = (
    *("id", "device", "count", "clock", "at", "who", "kind", "schema", "visit"),
    *("reverses", "before", "hash"),
)

_ADD_EDIT = (
    f'INSERT INTO "edit" ({", ".join(chr(34) + n + chr(34) for n in EDIT_COLUMNS)}) '
    f"VALUES ({', '.join('?' for _ in EDIT_COLUMNS)})"
)
_ADD_LINE = (
    'INSERT INTO "edit_line" ("edit", "position", "in_table", "row", "act", "change")'
    " VALUES (?, ?, ?, ?, ?, ?)"
)
_DEVICE = 'SELECT "count", "hash" FROM "device" WHERE "id" = ?'
_ADD_DEVICE = 'INSERT INTO "device" ("id", "here", "count", "clock", "hash") VALUES (?, 0, ?, ?, ?)'
_COUNT_ON = 'UPDATE "device" SET "count" = ?, "clock" = ?, "hash" = ? WHERE "id" = ?'


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
    values = {name: edit[name] for name in EDIT_COLUMNS}
    if chain_hash(values, list(lines)) != values["hash"]:
        raise Foreign(f"Edit {values['count']} of a device was changed on its way.")
    with database.atomic():
        engine.now_open().take_turn()
        _follows(values)
        for table, row, act, body in lines:
            _apply(table, row, act, json.loads(body))
        with as_line("edit", values["id"], "add"):
            execute(_ADD_EDIT, tuple(values.values()))
        for position, line in enumerate(lines):
            with as_line("edit_line", values["id"], "add"):
                execute(_ADD_LINE, (values["id"], position, *line))
        let_index_follow(lines)


def _follows(edit: Mapping[str, Any]) -> None:
    found = query(_DEVICE, (edit["device"],))
    count, last = found[0] if found else (0, "")
    if edit["count"] != count + 1 or edit["before"] != last:
        raise Foreign(
            f"Edit {edit['count']} of a device does not follow on edit {count}, the last one here."
        )
    state = (edit["count"], edit["clock"], edit["hash"])
    if found:
        execute(_COUNT_ON, (*state, edit["device"]))
    else:
        execute(_ADD_DEVICE, (edit["device"], *state))


def _apply(table: str, row: str, act: str, change: Mapping[str, list[Any]]) -> None:
    known = columns(table) if table in ROWS else {}
    unknown = [name for name in change if name not in known]
    if unknown:
        raise Foreign(f"These records know no {unknown[0]} of {table}.")
    new = {name: value for name, (_, value) in change.items()}
    with as_line(table, row, act):
        if act == "add":
            names = ", ".join(f'"{name}"' for name in new)
            marks = ", ".join("?" for _ in new)
            execute(f'INSERT INTO "{table}" ({names}) VALUES ({marks})', tuple(new.values()))
        else:
            sets = ", ".join(f'"{name}" = ?' for name in new)
            execute(f'UPDATE "{table}" SET {sets} WHERE "id" = ?', (*new.values(), row))
