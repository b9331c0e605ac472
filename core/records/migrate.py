"""Numbered migrations, each run once in a transaction; newer records are refused."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import fields
from datetime import UTC, datetime
from typing import Annotated, get_args, get_origin, get_type_hints

from core.errors import Refusal
from core.records import engine, guards
from core.records.models import EXEMPT, JOURNAL, MODELS, SchemaStep, Secret, database
from core.records.tables import TABLES, Row, Since


def _first() -> None:
    """Make the tables and guards that the first released version had."""
    database.create_tables([m for m in EXEMPT if m is not Secret] + [*JOURNAL])
    _make(1)
    _guard(guards.journal_guards())


def _second() -> None:
    """Add settings, the chain of signatures, proposed addenda, holds and what opens the app."""
    database.create_tables([Secret])
    _make(2)


def _make(schema: int) -> None:
    """Make the tables and the columns that a schema number brings, and their guards."""
    new = [row for row in TABLES if row.brought_by == schema]
    for row in new:
        # One by one: peewee would sort them by name, and each refers to those before it.
        MODELS[row.table].create_table()
    for row, name in _columns(schema):
        _add_column(row, name)
    _guard(guards.row_guards(new))


def _guard(wanted: Iterator[guards.Guard]) -> None:
    for statement in engine.now_open().guards(wanted):
        engine.execute(statement)


def _columns(schema: int) -> Iterator[tuple[type[Row], str]]:
    """Give the columns, by table and name, that older tables have since a schema number."""
    for row in TABLES:
        hints = get_type_hints(row, include_extras=True)
        yield from ((row, f.name) for f in fields(row) if _since(hints[f.name]) == schema)


def _since(annotation: object) -> int | None:
    marks = get_args(annotation) if get_origin(annotation) is Annotated else ()
    return next((mark.schema for mark in marks if isinstance(mark, Since)), None)


def _add_column(row: type[Row], name: str) -> None:
    """Add a column, with its default in every row, unless the table was made with it."""
    if name in {column.name for column in database.get_columns(row.table)}:
        return
    from playhouse.migrate import SchemaMigrator, migrate

    field = MODELS[row.table]._meta.fields[name]
    field.default = next(f.default for f in fields(row) if f.name == name)
    migrate(SchemaMigrator.from_database(database.obj).add_column(row.table, name, field))


MIGRATIONS: tuple[Callable[[], None], ...] = (_first, _second)
VERSION = len(MIGRATIONS)
"""The schema number that every edit carries."""


def applied() -> int:
    """Return the number of the last migration that has run in the open records."""
    if not database.table_exists("schema_step"):
        return 0
    return max((step.number for step in SchemaStep.select()), default=0)


def raise_schema() -> None:
    """Run the migrations that the open records lack.

    Raises
    ------
    Refusal
        When the records were made by a newer version of the app.
    """
    done = applied()
    if done > VERSION:
        raise Refusal(
            "These records were made by a newer version of Finrounds.",
            "Install the newer version; nothing was changed in them.",
        )
    for number in range(done + 1, VERSION + 1):
        with database.atomic():
            engine.now_open().take_turn()
            # Another desk may have come first.
            if applied() >= number:
                continue
            MIGRATIONS[number - 1]()
            SchemaStep.create(number=number, at=datetime.now(UTC))
