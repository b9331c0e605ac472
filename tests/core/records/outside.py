"""Another program at the same records: with the guards in its way, or as one who owns them."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from typing import Any

import psycopg

from core.records.place import Place

REFUSALS = (sqlite3.Error, psycopg.Error)
Say = Callable[[str], list[tuple[Any, ...]]]


@contextmanager
def program(place: Place) -> Iterator[Say]:
    """Give a way to say statements to the database that knows nothing of Finrounds."""
    if place.file is not None:
        with closing(sqlite3.connect(place.file, isolation_level=None)) as file:
            yield lambda statement: file.execute(statement).fetchall()
        return
    with psycopg.connect(place.url, autocommit=True) as server:

        def say(statement: str) -> list[tuple[Any, ...]]:
            done = server.execute(statement)
            return list(done.fetchall()) if done.description else []

        yield say


@contextmanager
def owner(place: Place, table: str) -> Iterator[Say]:
    """Give the same to one who may take the guards of a table away, and does.

    Against the owner of the database no guard helps, on either engine; the chain of hashes
    tells it afterwards.
    """
    with program(place) as say:
        for name, relation in triggers(place, say):
            if relation == table:
                on = "" if place.file is not None else f' ON "{table}"'
                say(f'DROP TRIGGER "{name}"{on}')
        yield say


def triggers(place: Place, say: Say) -> list[tuple[Any, ...]]:
    """Return the name and the table of every guard."""
    if place.file is not None:
        return say("SELECT name, tbl_name FROM sqlite_master WHERE type = 'trigger'")
    return say(
        "SELECT t.tgname, c.relname FROM pg_trigger t JOIN pg_class c ON c.oid = t.tgrelid "
        "WHERE NOT t.tgisinternal"
    )
