"""Where a signed record was altered: its rows beside what the journal says of each."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from core.records.engine import query
from core.records.journal import chain_hash
from core.records.models import ROWS, Edit
from core.records.signed import Held, closing_tables, names, rows_of, signed_rows
from core.records.tables import Client, Visit

_LINES = """
SELECT l."in_table", l."row", l."change" FROM "edit_line" l JOIN "edit" e ON e."id" = l."edit"
WHERE {} ORDER BY e."clock", l."position"
"""
_OF_VISIT = _LINES.format(
    """l."row" IN (SELECT "row" FROM "edit_line" WHERE "act" = 'add' AND "change" LIKE ?)"""
)
_OF_ROW = _LINES.format('l."in_table" = ? AND l."row" = ?')
_EDIT_NAMES = tuple(Edit._meta.fields)
_EDITS = f"""
SELECT {", ".join(f'"{name}"' for name in _EDIT_NAMES)} FROM "edit" WHERE "id" IN
(SELECT "edit" FROM "edit_line" WHERE "in_table" = ? AND "row" = ?)
"""
_EDIT_LINES = """
SELECT "in_table", "row", "act", "change" FROM "edit_line" WHERE "edit" = ? ORDER BY "position"
"""
_NOTHING = "no such row"


def named(visit_id: str) -> str:
    """Name a visit by client and day, also when a byte of it was changed."""
    visit = next(iter(rows_of(Visit, id=visit_id)), {})
    client = next(iter(rows_of(Client, id=str(visit.get("client")))), {})
    return f"Visit of {client.get('name', 'a client not known')} on {visit.get('day', 'no day')}"


def altered(visit_id: str, schema: int) -> list[str]:
    """Say of a record that is not what was signed which row and column was changed.

    Parameters
    ----------
    schema : int
        The schema number under which it was signed.
    """
    held = {(table, str(row["id"])): row for table, row in signed_rows(visit_id, schema)}
    told = _told(visit_id)
    rows = [
        (*key, held.get(key), told[key] if key in told else _replayed(_OF_ROW, key).get(key, {}))
        for key in sorted(held.keys() | told.keys())
    ]
    found = [words for row in rows for words in _differences(*row, schema)]
    return found or _in_journal(sorted(held)) or [
        "its rows agree with the journal, so it is the signature's hash that was written anew"
    ]  # fmt: skip


def _told(visit_id: str) -> dict[tuple[str, str], Held]:
    """Return the rows that the journal says were made under a visit, as it tells them."""
    closing = {kind.table for kind in closing_tables()}
    found = _replayed(_OF_VISIT, (f'%"visit":[null,"{visit_id}"]%',))
    return {key: row for key, row in found.items() if key[0] in closing}


def _replayed(sql: str, values: tuple[str, ...]) -> dict[tuple[str, str], Held]:
    """Return rows as the journal alone tells them, empty columns left out."""
    told: dict[tuple[str, str], Held] = {}
    for table, row, body in query(sql, values):
        change = {name: new for name, (_, new) in json.loads(body).items()}
        told.setdefault((table, row), {}).update(change)
    return {k: {n: v for n, v in row.items() if v is not None} for k, row in told.items()}


def _differences(table: str, row: str, held: Held | None, told: Held, schema: int) -> Iterator[str]:
    where = f"{table} {row}"
    if held is None:
        moved = rows_of(ROWS[table], schema, id=row)
        if not moved:
            yield f"{where} is gone; the journal has it"
            return
        held = moved[0]
    if not told:
        yield f"{where} was put there beside the journal"
        return
    for name in names(table, schema):
        if name in held and held[name] != told.get(name):
            yield f"{where}, {name}: it holds {_shown(held[name])}, the journal says " + _shown(
                told.get(name)
            )


def _shown(value: Any) -> str:
    text = "nothing" if value is None else repr(value)
    return text if len(text) <= 60 else f"{text[:57]}..."


def _in_journal(rows: list[tuple[str, str]]) -> list[str]:
    """Say which edits of the journal were changed with the rows, when those agree."""
    found: dict[str, str] = {}
    for table, row in rows:
        for values in query(_EDITS, (table, row)):
            edit = dict(zip(_EDIT_NAMES, values, strict=True))
            lines = query(_EDIT_LINES, (edit["id"],))
            if chain_hash(edit, lines) != edit["hash"]:
                about = ", ".join(dict.fromkeys(f"{t} {r}" for t, r, *_ in lines))
                where = f"edit {edit['count']} of device {str(edit['device'])[-8:]}"
                found[edit["id"]] = f"{about} was changed in the journal too ({where})"
    return list(found.values())
