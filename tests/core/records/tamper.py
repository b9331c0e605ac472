"""Changing the records below their guards, as somebody with the file or the server could."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any, Protocol

from core.records.place import Place


class Below(Protocol):
    """Runs one statement, with ``?`` for a value, beside the journal; it stands at once."""

    def __call__(self, sql: str, *values: Any) -> None: ...


@contextmanager
def below(place: Place) -> Iterator[Below]:
    """Give a way to write that no guard sees: triggers dropped, or those of a replica."""
    with _sqlite(place) if place.file is not None else _postgres(place) as run:
        yield run


@contextmanager
def _sqlite(place: Place) -> Iterator[Below]:
    assert place.file is not None
    connection = sqlite3.connect(place.file, isolation_level=None)
    try:
        triggers = connection.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'")
        for (name,) in triggers.fetchall():
            connection.execute(f'DROP TRIGGER "{name}"')

        def run(sql: str, *values: Any) -> None:
            connection.execute(sql, values)

        yield run
    finally:
        connection.close()


@contextmanager
def _postgres(place: Place) -> Iterator[Below]:
    import psycopg

    with psycopg.connect(place.url, autocommit=True) as connection:
        connection.execute("SET session_replication_role = replica")

        def run(sql: str, *values: Any) -> None:
            connection.execute(sql.replace("?", "%s").encode(), values)

        yield run


def one_byte(value: Any) -> Any:
    """Return a value with one byte, or one bit, of it changed."""
    if isinstance(value, str):
        return value[:-1] + chr(ord(value[-1]) ^ 1) if value else "."
    if isinstance(value, bool) or value is None:
        raise TypeError("such a value is not held")
    return value + 1 if isinstance(value, int) else value * (1 + 2**-50)
