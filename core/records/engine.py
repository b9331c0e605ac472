"""Opening the practice's records: one SQLite file, every connection durable and guarded."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import peewee as pw

from core.errors import Refusal
from core.records import migrate
from core.records.guards import journal_writes
from core.records.models import database

PRAGMAS = {
    "journal_mode": "wal",
    "synchronous": 2,
    "foreign_keys": 1,
    "busy_timeout": 5000,
}
"""FULL: an entry that the screen calls saved is on the disk."""


def address_of(url: str) -> Path:
    """Return the file that a database address names.

    Raises
    ------
    Refusal
        When the address is not of the form ``sqlite:///FILE``.
    """
    if url.startswith("sqlite:///"):
        return Path(url.removeprefix("sqlite:///"))
    raise Refusal(
        "The records can not be opened under this address.",
        "FINROUNDS_DATABASE takes sqlite:///FILE.",
    )


def default_file() -> Path:
    """Return the file of the practice's own records: the environment's choice, or the user's."""
    chosen = os.environ.get("FINROUNDS_DATABASE")
    if chosen:
        return address_of(chosen)
    import platformdirs

    return Path(platformdirs.user_data_dir("finrounds", appauthor=False)) / "practice.db"


def open_records(file: Path) -> None:
    """Open the records in a file, making or raising its tables, for every thread of the process.

    Raises
    ------
    Refusal
        When the file can not be opened, is no database, or was made by a newer version.
    """
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise Refusal(
            f"The records in {file} can not be opened: {error.strerror}.",
            "Name a folder that can be written.",
        ) from error
    found = pw.SqliteDatabase(str(file), pragmas=PRAGMAS, lock_type="IMMEDIATE")
    found.register_function(journal_writes, "journal_writes", 3)
    database.initialize(found)
    try:
        with database.connection_context():
            migrate.raise_schema()
    except (pw.DatabaseError, sqlite3.DatabaseError) as error:
        raise Refusal(
            f"The records in {file} can not be opened: {error}.",
            "Nothing was written to the file. Look whether it is a Finrounds file and readable.",
        ) from error


@contextmanager
def connection() -> Iterator[None]:
    """Hold a connection of this thread's own for the length of the block."""
    if database.is_closed():
        with database.connection_context():
            yield
    else:
        yield


def query(sql: str, values: Sequence[object] = ()) -> list[tuple[Any, ...]]:
    """Run one reading statement and return its rows."""
    return list(database.execute_sql(sql, tuple(values)).fetchall())
