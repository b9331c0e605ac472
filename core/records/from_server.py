"""Records that lie on a server, as one SQLite file: every edit made again, and compared."""

from __future__ import annotations

import gc
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing
from pathlib import Path
from typing import Any, TypeVar

from core import folders
from core.records import engine, exchange, files, secrets
from core.records.files import Facts
from core.records.place import Place, place_of
from core.records.postgres import Postgres

T = TypeVar("T")


class _Server:
    """One reading transaction at the server, that takes statements as they are written here."""

    def __init__(self, place: Place) -> None:
        import psycopg

        self._spoken = Postgres(place).spoken
        self._connection = psycopg.connect(place.url, cursor_factory=psycopg.ClientCursor)
        self.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")

    def execute(self, sql: str, values: Sequence[object] = ()) -> Any:
        """Run a statement with ``?`` for each value; return its cursor."""
        return self._connection.execute(self._spoken(sql).encode(), values or None)

    def close(self) -> None:
        """Let go of the server."""
        self._connection.close()


def copy(place: Place, target: Path) -> Facts:
    """Write what a server holds at one moment into a new file, plain, and prove it.

    The open records of this process are those of the new file afterwards; a program with a
    screen does not call it.

    Raises
    ------
    Refusal
        When what came out is not what went in.
    OSError
        When the disk refuses.
    """
    folders.make(target.parent)
    part = target.with_name(f".{target.name}.part")
    _away(part)
    try:
        with closing(_Server(place)) as server:
            _filled(part, server)
        found = files.whole_copy(part, target)
    finally:
        _away(part)
    return found


def _away(part: Path) -> None:
    for ending in ("", "-wal", "-shm"):
        files.beside(part, ending).unlink(missing_ok=True)


def _filled(part: Path, server: _Server) -> None:
    def read(look: Callable[[], T]) -> T:
        looks: Iterator[T] = (look() for _ in range(1))
        return next(engine.from_beside(server, looks))

    engine.open_records(place_of(part))
    try:
        with exchange.carrying(), engine.connection():
            proved, opens = read(exchange.state), read(secrets.all_rows)
            edits = engine.from_beside(server, exchange.edits())
            exchange.take_in(edits, proved, lambda: secrets.put_all(opens))
    finally:
        engine.let_go()
        gc.collect()
