"""What the database itself can say about the records: that all can be read, and fits together."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, get_args, get_origin, get_type_hints

from core.records import engine, guards, index
from core.records.engine import query
from core.records.lean import pw
from core.records.models import EXEMPT, JOURNAL, ROWS, database
from core.records.tables import TABLES, Ref

MOST_TOLD = 20


def counted() -> int:
    """Return how many rows all tables have; reading them all shows whether they can be read."""
    named = (model._meta.table_name for model in (*JOURNAL, *EXEMPT))
    return sum(_count(table) for table in (*named, *ROWS))


def _count(table: str) -> int:
    return int(query(f'SELECT count(*) FROM "{table}"')[0][0])


def broken_pages() -> list[str]:
    """Return what is wrong with the pages of the file, as SQLite finds it.

    PostgreSQL looks after its own pages; there every row is read once instead.
    """
    try:
        if engine.kind() == "sqlite":
            told = [str(line) for (line,) in query(f"PRAGMA integrity_check({MOST_TOLD})")]
            return [] if told == ["ok"] else told
        for table in ROWS:
            query(f'SELECT count("t"::text) FROM "{table}" "t"')
    except pw.DatabaseError as error:
        return [f"A part of the records can not be read: {error}."]
    return []


def references() -> Iterator[tuple[str, str, str]]:
    """Give every column that refers to a row of another table: table, column, other table."""
    for table, row in ROWS.items():
        for name, hint in get_type_hints(row, include_extras=True).items():
            if other := _other(hint):
                yield table, name, other


def _other(hint: object) -> str:
    marks = get_args(hint) if get_origin(hint) is Annotated else ()
    return next((mark.table for mark in marks if isinstance(mark, Ref)), "")


def broken_references() -> list[str]:
    """Return a sentence for each row that refers to one that is not there."""
    found = []
    for table, column, other in references():
        sql = (
            f'SELECT t."id", t."{column}" FROM "{table}" t '
            f'LEFT JOIN "{other}" o ON o."id" = t."{column}" '
            f'WHERE t."{column}" IS NOT NULL AND o."id" IS NULL LIMIT {MOST_TOLD}'
        )
        found += [
            f"Row {row} of {table} refers to {other} {to}, which is not there."
            for row, to in query(sql)
        ]
    return found


def guards_wanted() -> set[str]:
    """Return the names of the guards that stand in the database."""
    wanted = (*guards.journal_guards(), *guards.row_guards(TABLES))
    return {f"{guard.name}_{guard.table}_{guard.act.lower()}" for guard in wanted}


def missing_guards() -> list[str]:
    """Return a sentence for each guard that somebody has taken away."""
    there = {name for (name,) in query(_TRIGGERS[engine.kind()])}
    return [f"The guard {name} is gone." for name in sorted(guards_wanted() - there)]


_TRIGGERS = {
    "sqlite": "SELECT name FROM sqlite_master WHERE type = 'trigger'",
    "postgresql": "SELECT tgname FROM pg_trigger WHERE tgenabled <> 'D'",
}


def strangers() -> list[str]:
    """Return a sentence for each secret that belongs to no person."""
    sql = (
        'SELECT s."person" FROM "secret" s LEFT JOIN "person" p ON p."id" = s."person" '
        'WHERE p."id" IS NULL'
    )
    return [f"A PIN is kept for {person}, who is not in the records." for (person,) in query(sql)]


def mend_index() -> None:
    """Make the search index anew from the rows."""
    with database.atomic():
        engine.now_open().take_turn()
        index.rebuild()


def steps() -> list[int]:
    """Return the numbers of the migrations that have run."""
    return [number for (number,) in query('SELECT "number" FROM "schema_step" ORDER BY "number"')]
