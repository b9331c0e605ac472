"""Numbered migrations, each run once in a transaction; a newer file is refused."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime

from core.errors import Refusal
from core.records import guards
from core.records.models import EXEMPT, JOURNAL, MODELS, SchemaStep, database


def _first() -> None:
    """Make every table and every guard."""
    database.create_tables([*EXEMPT, *JOURNAL, *MODELS.values()])
    for statement in guards.statements():
        database.execute_sql(statement)


MIGRATIONS: tuple[Callable[[], None], ...] = (_first,)
VERSION = len(MIGRATIONS)
"""The schema number that every edit carries."""


def applied() -> int:
    """Return the number of the last migration that has run in the open file."""
    if not database.table_exists("schema_step"):
        return 0
    return max((step.number for step in SchemaStep.select()), default=0)


def raise_schema() -> None:
    """Run the migrations that the open file lacks.

    Raises
    ------
    Refusal
        When the file was made by a newer version of the app.
    """
    done = applied()
    if done > VERSION:
        raise Refusal(
            "These records were made by a newer version of Finrounds.",
            "Install the newer version; nothing was changed in the file.",
        )
    for number in range(done + 1, VERSION + 1):
        with database.atomic():
            MIGRATIONS[number - 1]()
            SchemaStep.create(number=number, at=datetime.now(UTC))
