"""The statements of the search index that the open engine understands."""

from __future__ import annotations

from types import ModuleType

from core.records import engine


def spoken() -> ModuleType:
    """Return the statements of the engine that is open."""
    if engine.kind() == "sqlite":
        from core.records import index_sqlite

        return index_sqlite
    from core.records import index_postgres

    return index_postgres
