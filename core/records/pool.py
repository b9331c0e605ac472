"""Connections to a PostgreSQL server: durable ones, none of them dead, none hung for ever.

It is imported only where records on PostgreSQL are opened.
"""

from __future__ import annotations

import select
from typing import Any

import psycopg
from playhouse.pool import PooledPostgresqlDatabase
from psycopg.abc import Buffer
from psycopg.adapt import Loader

from core.records.lean import pw

MOST = 24
"""More than the threads that read at once; whoever comes late waits for one."""
IDLE_S = 300

SETTINGS = {
    # What the screen calls saved is on the server's disk, whatever its own settings say.
    "synchronous_commit": "on",
    # A desk that hangs in the middle of an edit is let go, and its edit taken back; the others
    # wait a little less long, and are told.
    "idle_in_transaction_session_timeout": "20s",
    "lock_timeout": "15s",
}
_CONNECTING: dict[str, Any] = {
    "connect_timeout": 10,
    # A server whose network is gone says nothing: this is after how long it counts as gone.
    "keepalives_idle": 10,
    "keepalives_interval": 3,
    "keepalives_count": 3,
    "tcp_user_timeout": 20_000,
}


class _Whole(Loader):
    """No column holds a numeric: it comes only from adding up whole numbers."""

    def load(self, data: Buffer) -> int:
        """Return the whole number."""
        return int(bytes(data))


class _Durable(pw.Psycopg3Adapter):
    """Connects, and says what each connection must hold."""

    def connect(self, db: pw.Database, **params: Any) -> Any:
        """Return a new connection."""
        found = super().connect(db, **params)  # type: ignore[no-untyped-call]
        found.autocommit = True
        found.adapters.register_loader("numeric", _Whole)
        # Said after connecting, not in the address: an address may have options of its own.
        found.execute("; ".join(f"SET {name} = '{value}'" for name, value in SETTINGS.items()))
        return found


class Pool(PooledPostgresqlDatabase):  # type: ignore[misc]
    """The connections of this process to one database."""

    psycopg3_adapter = _Durable

    def __init__(self, url: str) -> None:
        super().__init__(
            url.replace("postgres://", "postgresql://", 1),
            prefer_psycopg3=True,
            max_connections=MOST,
            stale_timeout=IDLE_S,
            timeout=10,
            # Values go in as text of no declared type, as the statements, which SQLite takes
            # too, expect; times of the server are never asked for.
            cursor_factory=psycopg.ClientCursor,
            **_CONNECTING,
        )

    def _is_closed(self, conn: Any) -> bool:
        if super()._is_closed(conn):
            return True
        if ended(conn):
            conn.close()
        return bool(conn.closed)

    def renew(self) -> None:
        """Put a new connection in the place of this thread's, when the server has ended that."""
        if self.is_closed() or self.in_transaction() or not ended(self.connection()):
            return
        # What was opened around this one goes on with the new one.
        self._close(self._state.conn, close_conn=True)
        self._state.conn = self._connect()


def ended(conn: Any) -> bool:
    """Return whether a connection that waits for nothing has been ended by the server.

    A server speaks to a waiting connection only to say that it ends.
    """
    return bool(conn.closed) or bool(select.select([conn.fileno()], [], [], 0)[0])
