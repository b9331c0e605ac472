"""peewee, loaded without the PostgreSQL drivers where nothing asks for them.

peewee loads every driver that it finds while it is itself loaded: a quarter of a second that a
practice on one file would wait at each start. Where a server is named later, as in
`finrounds copy-to`, `take_driver` makes up for it.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from core.records.place import POSTGRES

_DRIVERS = ("psycopg2cffi", "psycopg2", "psycopg")


@contextmanager
def _drivers_not_asked_for() -> Iterator[None]:
    """Let the drivers seem to be missing, unless one is loaded or the address asks for it."""
    asked = os.environ.get("FINROUNDS_DATABASE", "").startswith(POSTGRES)
    hidden = [] if asked or any(d in sys.modules for d in _DRIVERS) else _DRIVERS
    for name in hidden:
        sys.modules[name] = None  # type: ignore[assignment]
    try:
        yield
    finally:
        for name in hidden:
            del sys.modules[name]


with _drivers_not_asked_for():
    import peewee as pw

__all__ = ["pw", "take_driver"]


def take_driver() -> None:
    """Give peewee the driver that it was loaded without.

    Raises
    ------
    ImportError
        When it is not installed.
    """
    import psycopg
    from psycopg.pq import TransactionStatus
    from psycopg.types.json import Json, Jsonb

    found: Any = pw
    if found.psycopg is None:
        found.psycopg, found.TransactionStatus = psycopg, TransactionStatus
        found.Json_pg3, found.Jsonb_pg3 = Json, Jsonb
        adapter = found.Psycopg3Adapter
        adapter.txn_idle = TransactionStatus.IDLE
        adapter.txn_inerror = TransactionStatus.INERROR
        adapter.txn_unknown = TransactionStatus.UNKNOWN
