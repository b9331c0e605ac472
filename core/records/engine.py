"""Opening the practice's records, and the two ways to speak to them: ask and write.

Every statement is written once, with ``?`` for a value, and runs on both engines.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Protocol

import peewee as pw

from core.errors import Refusal
from core.records import guards
from core.records.models import database
from core.records.place import Place, place_of


class Engine(Protocol):
    """What differs between SQLite and PostgreSQL."""

    kind: str

    def database(self) -> pw.Database:
        """Return the database, not connected yet."""

    def spoken(self, sql: str) -> str:
        """Return a statement with the driver's own marks for values."""

    def take_turn(self) -> None:
        """Wait, inside a transaction, until this desk alone may write."""

    def mark(self, line: guards.Line | None) -> None:
        """Tell the database which line the journal is writing."""

    def this_device(self) -> str | None:
        """Return this machine's id, or None when the records themselves say it."""

    def guards(self, wanted: Iterator[guards.Guard]) -> Iterator[str]:
        """Give the statements that make the guards."""


class _Open:
    """The open records of this process: there is one at a time."""

    engine: Engine
    place: Place


def engine_of(place: Place) -> Engine:
    """Return the engine that a place needs."""
    if place.file is not None:
        from core.records import passphrase

        if key := passphrase.key_of(place.file):
            from core.records.sqlcipher import Sqlcipher

            return Sqlcipher(place.file, key)
        from core.records.sqlite import Sqlite

        return Sqlite(place.file)
    from core.records.postgres import Postgres

    return Postgres(place)


def open_records(where: Path | str | Place) -> None:
    """Open the records at a place, making or raising its tables, for every thread of the process.

    Raises
    ------
    Refusal
        When they can not be opened, are no database, or were made by a newer version.
    """
    from core.records import migrate

    place = place_of(where)
    _make_folder(place)
    _Open.engine, _Open.place = engine_of(place), place
    database.initialize(_Open.engine.database())
    try:
        with database.connection_context():
            migrate.raise_schema()
    except (pw.DatabaseError, sqlite3.DatabaseError) as error:
        raise Refusal(
            f"The records in {place.said} can not be opened: {error}.",
            "Nothing was written there. Look whether it is Finrounds's own and can be read.",
        ) from error


def _make_folder(place: Place) -> None:
    try:
        place.folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise Refusal(
            f"The records in {place.said} can not be opened: {error.strerror}.",
            "Name a folder that can be written.",
        ) from error


def now_open() -> Engine:
    """Return the engine of the open records."""
    return _Open.engine


def place() -> Place:
    """Return where the open records lie."""
    return _Open.place


def kind() -> str:
    """Return ``sqlite`` or ``postgresql``."""
    return _Open.engine.kind


def let_go_of_the_dead() -> None:
    """Give up this thread's connection when a server has ended it; the next statement connects."""
    if kind() != "sqlite":
        database.let_go()


def let_go() -> None:
    """Close every connection that waits for the next reader."""
    if kind() != "sqlite":
        database.close_idle()


@contextmanager
def connection() -> Iterator[None]:
    """Hold a connection of this thread's own for the length of the block."""
    if database.is_closed():
        with database.connection_context():
            yield
    else:
        yield


def query(sql: str, values: Sequence[object] = ()) -> list[tuple[Any, ...]]:
    """Run one reading statement, with ``?`` for each value, and return its rows."""
    return list(execute(sql, values).fetchall())


def execute(sql: str, values: Sequence[object] = ()) -> Any:
    """Run one statement, with ``?`` for each value; return the driver's cursor."""
    return database.execute_sql(_Open.engine.spoken(sql), tuple(values))
