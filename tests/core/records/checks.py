"""What must hold of any file of records: replay equals rows, counts without gaps, whole chain."""

from __future__ import annotations

import json
from typing import Any

from core.records import engine, verify
from core.records.engine import query
from core.records.journal import replay
from core.records.models import MODELS, Edit
from core.records.tables import TABLES
from tests.core.records.rows import columns

Held = dict[tuple[str, str], dict[str, Any]]


def held() -> Held:
    """Return every journalled row as the database holds it, empty columns left out."""
    found: Held = {}
    for table, model in MODELS.items():
        names = list(model._meta.fields)
        listed = ", ".join(f'"{name}"' for name in names)
        for values in query(f'SELECT {listed} FROM "{table}"'):
            row = {n: v for n, v in zip(names, values, strict=True) if v is not None}
            found[table, row["id"]] = row
    return found


def edits() -> list[dict[str, Any]]:
    """Return every edit in each device's own order."""
    names = list(Edit._meta.fields)
    listed = ", ".join(f'"{name}"' for name in names)
    rows = query(f'SELECT {listed} FROM "edit" ORDER BY "device", "count"')
    return [dict(zip(names, row, strict=True)) for row in rows]


def lines(edit_id: str) -> list[tuple[str, str, str, str]]:
    """Return the lines of an edit as they were hashed."""
    sql = 'SELECT "in_table", "row", "act", "change" FROM "edit_line" WHERE "edit" = ?'
    return query(sql + ' ORDER BY "position"', (edit_id,))


def entries(table: str, column: str) -> list[tuple[str, Any]]:
    """Return each value that a column of a table was ever given: row and value, in order."""
    sql = (
        'SELECT l."row", l."change" FROM "edit_line" l JOIN "edit" e ON e."id" = l."edit" '
        'WHERE l."in_table" = ? ORDER BY e."clock", l."position"'
    )
    changes = [(row, json.loads(body)) for row, body in query(sql, (table,))]
    return [(row, change[column][1]) for row, change in changes if column in change]


def broken() -> list[str]:
    """Return what is wrong with the chain of edits; nothing when it is whole."""
    return verify.broken_chain()


def orphans() -> list[tuple[str, str, str]]:
    """Return table, row and column of every reference to a row that is not there."""
    found = []
    for kind in TABLES:
        for name, (_, ref, _) in columns(kind).items():
            if ref is not None:
                sql = (
                    f'SELECT r."id" FROM "{kind.table}" r LEFT JOIN "{ref.table}" o '
                    f'ON o."id" = r."{name}" WHERE r."{name}" IS NOT NULL AND o."id" IS NULL'
                )
                found += [(kind.table, row, name) for (row,) in query(sql)]
    return found


def all_hold() -> None:
    """Fail when anything that must hold of the records does not."""
    assert replay() == held()
    assert verify.broken() == []
    assert orphans() == []
    if engine.kind() == "sqlite":
        assert query("PRAGMA integrity_check") == [("ok",)]
