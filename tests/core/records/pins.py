"""Writes down what the tables and guards of each engine are: ``python -m tests.core.records.pins``.

Only for a new schema number: what a released version made is never written again.
"""

from __future__ import annotations

import tempfile
from pathlib import Path

from core.records import engine
from core.records.engine import query
from core.records.migrate import VERSION
from tests.engines import ENGINES
from tests.servers import Server, new_records, opened

_SQLITE = """
SELECT "type" || ' ' || "name", "sql" FROM "sqlite_master"
WHERE "sql" IS NOT NULL AND "tbl_name" NOT LIKE 'search%' ORDER BY 1
"""
_POSTGRESQL = """
SELECT 'column ' || table_name || ' ' || lpad(ordinal_position::text, 3, '0'),
  table_name || '.' || column_name || ' ' || data_type ||
  coalesce(' ' || collation_name, '') || CASE is_nullable WHEN 'NO' THEN ' NOT NULL' ELSE '' END
FROM information_schema.columns WHERE table_schema = 'public' AND table_name NOT LIKE 'search%'
UNION ALL
SELECT 'constraint ' || conrelid::regclass || ' ' || conname,
  conrelid::regclass || ' ' || pg_get_constraintdef(oid)
FROM pg_constraint WHERE connamespace = 'public'::regnamespace AND contype <> 'n'
  AND conrelid::regclass::text NOT LIKE 'search%'
UNION ALL
SELECT 'index ' || indexname, indexdef
FROM pg_indexes WHERE schemaname = 'public' AND tablename NOT LIKE 'search%'
UNION ALL
SELECT 'trigger ' || tgrelid::regclass || ' ' || tgname, pg_get_triggerdef(oid)
FROM pg_trigger WHERE NOT tgisinternal
UNION ALL
SELECT 'function ' || proname, pg_get_functiondef(oid)
FROM pg_proc WHERE pronamespace = 'public'::regnamespace
ORDER BY 1
"""


def schema() -> str:
    """Return every table, index and guard of the open records, one a line; the index of the
    search aside, which is made anew when it must be."""
    rows = query(_SQLITE if engine.kind() == "sqlite" else _POSTGRESQL)
    return "".join(f"{' '.join(str(sql).split())}\n" for _, sql in rows)


def pin(number: int, on: str) -> Path:
    """Return the file in which the schema of a number is written down."""
    return Path(__file__).with_name(f"schema_{number}.{on}.sql")


def write() -> None:
    """Write down what the present schema is."""
    with tempfile.TemporaryDirectory() as folder:
        server = Server(Path(folder))
        for on in ENGINES:
            with new_records(on, server) as place, opened(place):
                pin(VERSION, on).write_text(schema(), encoding="utf-8")
        server.stop()


if __name__ == "__main__":
    write()
