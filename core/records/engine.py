"""Opening the practice's records, and the two ways to speak to them: ask and write.

Every statement is written once, with ``?`` for a value, and runs on both engines.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from pathlib import Path
from typing import TYPE_CHECKING, Any, Protocol, TypeVar

from core import folders
from core.errors import Refusal
from core.records import fileguard, guards
from core.records.lean import pw
from core.records.models import database
from core.records.place import Place, place_of

if TYPE_CHECKING:
    from filelock import FileLock


T = TypeVar("T")

Step = tuple[guards.Line | None, str, tuple[Any, ...]]
"""A statement with its values, and the line that the journal writes with it."""


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

    def write_all(self, steps: Sequence[Step]) -> None:
        """Run many statements, in their order, in as few goes as the engine can."""

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


def open_records(where: Path | str | Place, *, alone: bool = False) -> FileLock | None:
    """Open the records at a place, making or raising its tables, for every thread of the process.

    Parameters
    ----------
    alone : bool
        Whether a file is held, so that no other copy of the app works on it.

    Returns
    -------
    FileLock or None
        What holds the file, to be released.

    Raises
    ------
    Refusal
        When they can not be opened, are damaged, held or no Finrounds records, or were made by
        a newer version.
    """
    from core.records import migrate, passphrase

    place = place_of(where)
    if place.file is not None:
        sealed = passphrase.sealed(place.file)
        fileguard.look_before(place.file, migrate.VERSION, sealed=sealed)
    _make_folder(place)
    held = fileguard.hold(place.file) if alone and place.file is not None else None
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
    return held


def _make_folder(place: Place) -> None:
    try:
        folders.make(place.folder)
    except OSError as error:
        raise Refusal(
            f"The records in {place.said} can not be opened: {error.strerror}.",
            "Name a folder that can be written.",
        ) from error


def now_open() -> Engine:
    """Return the engine of the open records."""
    return _Open.engine


def any_open() -> Engine | None:
    """Return the engine of the open records; None before any were opened."""
    return getattr(_Open, "engine", None)


def connected() -> bool:
    """Return whether this thread holds a connection to the open records."""
    return any_open() is not None and not database.is_closed()


def place() -> Place:
    """Return where the open records lie."""
    return _Open.place


def kind() -> str:
    """Return ``sqlite`` or ``postgresql``."""
    return _Open.engine.kind


def renew() -> None:
    """Connect this thread anew when a server has ended its connection."""
    if kind() != "sqlite":
        database.renew()


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


_beside: ContextVar[Any] = ContextVar("the connection that is read instead", default=None)


def from_beside(connection: Any, found: Iterator[T]) -> Iterator[T]:
    """Give what a reading iterator finds at another file's connection.

    The open records are written meanwhile: between one and the next `query` speaks to them.
    """
    while True:
        mark = _beside.set(connection)
        try:
            one = next(found)
        except StopIteration:
            return
        finally:
            _beside.reset(mark)
        yield one


def query(sql: str, values: Sequence[object] = ()) -> list[tuple[Any, ...]]:
    """Run one reading statement, with ``?`` for each value, and return its rows."""
    other = _beside.get()
    if other is not None:
        return list(other.execute(sql, tuple(values)).fetchall())
    return list(execute(sql, values).fetchall())


def execute(sql: str, values: Sequence[object] = ()) -> Any:
    """Run one statement, with ``?`` for each value; return the driver's cursor."""
    return database.execute_sql(_Open.engine.spoken(sql), tuple(values))
