"""Numbered migrations, each run once in a transaction; newer records are refused."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import fields
from pathlib import Path
from typing import Annotated, get_args, get_origin, get_type_hints

from core import clock
from core.errors import Refusal
from core.records import engine, guards
from core.records.fileguard import NotOurs
from core.records.lean import pw
from core.records.models import EXEMPT, JOURNAL, MODELS, SchemaStep, Secret, database
from core.records.sqlite import APPLICATION_ID
from core.records.tables import TABLES, Row, Since


def _first() -> None:
    """Make the tables and guards that the first released version had."""
    database.create_tables([m for m in EXEMPT if m is not Secret] + [*JOURNAL])
    _make(1)
    _guard(guards.journal_guards())


def _second() -> None:
    """Add settings, the chain of signatures, proposed addenda, holds and what opens the app."""
    from core.records import index

    database.create_tables([Secret])
    _make(2)
    for statement in _INDEXES_2:
        engine.execute(statement)
    index.create()
    index.rebuild()
    if engine.kind() == "sqlite":
        engine.execute(f"PRAGMA application_id = {APPLICATION_ID}")


def _third() -> None:
    """Add the practice's own medicines, its products and stock, and which rows were read."""
    _make(3)


_INDEXES_2 = (
    # A day asks which of its visits are rechecks, a visit for the one before at the same place
    # and for its own readings of a water: however many there have been.
    'CREATE INDEX IF NOT EXISTS "recheck_booked" ON "recheck" ("booked")',
    'CREATE INDEX IF NOT EXISTS "visit_site_day" ON "visit" ("site", "day", "starts")',
    'CREATE INDEX IF NOT EXISTS "reading_visit_system" ON "reading" ("visit", "system")',
)


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
    model = MODELS[row.table]
    column = model._meta.fields[name]
    default = column.db_value(next(f.default for f in fields(row) if f.name == name))
    context = database.get_sql_context()
    said, _ = context.sql(column.ddl(context)).query()
    # The default is in the statement: writing it into each row would go beside the journal.
    given = "" if default is None else f" DEFAULT {_literal(default)}"
    engine.execute(f'ALTER TABLE "{row.table}" ADD COLUMN {said}{given}')
    pw.SchemaManager(model).create_indexes(safe=True)


def _literal(value: object) -> str:
    return "'" + value.replace("'", "''") + "'" if isinstance(value, str) else str(value)


MIGRATIONS: tuple[Callable[[], None], ...] = (_first, _second, _third)
VERSION = len(MIGRATIONS)
"""The schema number that every edit carries."""


def applied() -> int:
    """Return the number of the last migration that has run in the open records."""
    if not database.table_exists("schema_step"):
        return 0
    return max((step.number for step in SchemaStep.select()), default=0)


class NotRaised(Refusal):
    """A migration failed; the records are as they were."""

    title = "Not opened"


def raise_schema() -> None:
    """Run the migrations that the open records lack, after a backup of records that have any.

    Raises
    ------
    NotRaised
        When a migration fails: nothing of it is in the records, and the backup is named.
    Refusal
        When the records were made by a newer version of the app, or can not be backed up.
    """
    done = applied()
    if done > VERSION:
        raise Refusal(
            "These records were made by a newer version of Finrounds.",
            "Install the newer version; nothing was changed in them.",
        )
    if done == VERSION:
        return
    _must_be_ours(done)
    kept = _kept_before(done)
    for number in range(done + 1, VERSION + 1):
        try:
            _raise_to(number)
        except Exception as error:
            raise NotRaised(
                f"The records could not be brought to schema {number} ({error}); they are as "
                "they were.",
                f"A backup from before lies in {kept}." if kept else "",
            ) from error


def _must_be_ours(done: int) -> None:
    """Refuse a database of another program; while another desk makes the tables they are ours."""
    if done == 0 and database.get_tables() and applied() == 0:
        raise NotOurs(
            f"There are tables of another program in {engine.place().said}.",
            "Nothing was written there; name a database that is empty.",
        )


def _kept_before(done: int) -> Path | None:
    """Make a backup of records that are to be raised; a server has its own."""
    place = engine.place()
    if done == 0 or place.file is None:
        return None
    from core.records import backup

    return backup.before_schema(place, VERSION, clock.now())


def _raise_to(number: int) -> None:
    with database.atomic():
        engine.now_open().take_turn()
        # Another desk may have come first.
        if applied() < number:
            MIGRATIONS[number - 1]()
            SchemaStep.create(number=number, at=clock.now())
