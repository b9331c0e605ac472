"""What a signature closes, as the database holds it, and the hash that stands for all of it."""

from __future__ import annotations

import functools
import hashlib
import json
import sqlite3
from collections.abc import Iterator, Sequence
from dataclasses import fields
from typing import Annotated, Any, get_args, get_origin, get_type_hints

from core.records import engine
from core.records.engine import query
from core.records.lean import pw
from core.records.migrate import VERSION
from core.records.models import ROWS
from core.records.tables import TABLES, Row, Since, Visit

SIGNATURE = ("state", "signed_at", "signed_by", "sign_hash")
"""Columns of the visit that the signature itself writes."""

Held = dict[str, Any]
"""One row: column to value, in the form the database holds it."""

_SCHEMA = """
SELECT e."schema" FROM "edit_line" l JOIN "edit" e ON e."id" = l."edit"
WHERE l."in_table" = 'visit' AND l."row" = ? AND l."change" LIKE '%"sign_hash"%'
ORDER BY e."clock" DESC LIMIT 1
"""


def closing_tables() -> tuple[type[Row], ...]:
    """Return the tables whose rows close with their visit, the visit itself aside."""
    return tuple(
        t for t in TABLES if t.closing == "visit" and any(f.name == "visit" for f in fields(t))
    )


def schema_of(visit_id: str) -> int:
    """Return the schema number under which a visit was signed; this version's when it is not."""
    found = query(_SCHEMA, (visit_id,))
    return int(found[0][0]) if found else VERSION


@functools.cache
def names(table: str, schema: int = VERSION) -> tuple[str, ...]:
    """Return the columns that a table had under a schema number: later ones were never signed."""
    kind = ROWS[table]
    hints = get_type_hints(kind, include_extras=True)
    return tuple(f.name for f in fields(kind) if _since(hints[f.name]) <= schema)


def _since(annotation: object) -> int:
    marks = get_args(annotation) if get_origin(annotation) is Annotated else ()
    return next((mark.schema for mark in marks if isinstance(mark, Since)), 1)


def rows_of(kind: type[Row], schema: int = VERSION, /, **where: str) -> list[Held]:
    """Return the rows of a table that match, as the database holds them, by key."""
    known = names(kind.table, schema)
    listed = ", ".join(f'"{name}"' for name in known)
    test = " AND ".join(f'"{name}" = ?' for name in where) or "1 = 1"
    sql = f'SELECT {{}} FROM "{kind.table}" WHERE {test}'
    values = tuple(where.values())
    try:
        found = query(sql.format(listed), values)
    except (sqlite3.OperationalError, pw.OperationalError):
        if engine.kind() != "sqlite":
            raise
        found = _as_bytes(sql, known, values)
    rows = [dict(zip(known, row, strict=True)) for row in found]
    return sorted(rows, key=lambda row: str(row["id"]))


def _as_bytes(sql: str, known: Sequence[str], values: tuple[str, ...]) -> list[tuple[Any, ...]]:
    """Read rows of which a byte is no text any more; SQLite hands those over as bytes only."""
    form = """CASE typeof("{0}") WHEN 'text' THEN CAST("{0}" AS BLOB) ELSE "{0}" END"""
    listed = ", ".join(form.format(name) for name in known)
    return [
        tuple(v.decode(errors="backslashreplace") if isinstance(v, bytes) else v for v in row)
        for row in query(sql.format(listed), values)
    ]


def signed_rows(visit_id: str, schema: int = VERSION) -> Iterator[tuple[str, Held]]:
    """Give every row that the signature closes, table by table, the visit itself last."""
    for kind in closing_tables():
        if kind.brought_by <= schema:
            for row in rows_of(kind, schema, visit=visit_id):
                yield kind.table, row
    for visit in rows_of(Visit, schema, id=visit_id):
        yield "visit", {k: v for k, v in visit.items() if k not in SIGNATURE}


def record_hash(visit_id: str, schema: int = VERSION) -> str:
    """Return the hash of everything that the signature closes, row by row in a fixed order.

    The values are hashed as the database holds them, so that no changed byte is read away.
    """
    return hash_of([[table, row] for table, row in signed_rows(visit_id, schema)])


def hash_of(body: object) -> str:
    """Return the SHA-256 of values as JSON, the same on every engine."""
    text = json.dumps(body, sort_keys=True, ensure_ascii=False, default=repr)
    return hashlib.sha256(text.encode(errors="backslashreplace")).hexdigest()
