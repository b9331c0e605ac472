"""peewee, loaded without the PostgreSQL drivers where nothing asks for them.

peewee loads every driver that it finds while it is itself loaded: a quarter of a second that a
practice on one file would wait at each start. Who needs the driver without an address that says
so loads it before, as `finrounds copy-to` does.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager

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

__all__ = ["pw"]
