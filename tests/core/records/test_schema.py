"""What migration 1 makes is pinned: a change of it after a release needs a migration of its own."""

from __future__ import annotations

from pathlib import Path

from core.records.engine import query

PINNED = Path(__file__).with_name("schema_1.sql")


def schema() -> str:
    """Return every table, index and trigger of the open records, one statement a line."""
    rows = query(
        'SELECT "sql" FROM "sqlite_master" WHERE "sql" IS NOT NULL ORDER BY "type", "name"'
    )
    return "".join(f"{' '.join(str(sql).split())}\n" for (sql,) in rows)


def test_the_first_schema_is_as_pinned(records: Path) -> None:
    assert schema() == PINNED.read_text(encoding="utf-8")
