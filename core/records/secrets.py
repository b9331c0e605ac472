"""What opens the app for a person: hashes and the count of wrong tries, outside the journal."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from core.records.engine import execute, query
from core.records.fields import UtcField
from core.records.models import database

_MOMENT = UtcField()
_READ = 'SELECT "pin_hash", "recovery_hash", "wrong", "wait_until" FROM "secret" WHERE "person" = ?'
_ADD = (
    'INSERT INTO "secret" ("person", "pin_hash", "recovery_hash", "wrong", "wait_until")'
    " VALUES (?, ?, ?, 0, NULL)"
)
_CHANGE = (
    'UPDATE "secret" SET "pin_hash" = ?, "recovery_hash" = ?, "wrong" = 0, "wait_until" = NULL'
    ' WHERE "person" = ?'
)
_COUNT = 'UPDATE "secret" SET "wrong" = ?, "wait_until" = ? WHERE "person" = ?'


@dataclass(frozen=True)
class Kept:
    """What is kept of one person's PIN."""

    pin_hash: str = ""
    recovery_hash: str = ""
    wrong: int = 0
    """Wrong tries in a row."""
    wait_until: datetime | None = None


def of(person: str) -> Kept:
    """Return what is kept of a person; empty hashes when nothing is."""
    found = query(_READ, (person,))
    if not found:
        return Kept()
    pin, recovery, wrong, wait = found[0]
    return Kept(pin, recovery, wrong, _MOMENT.python_value(wait))


def anybody() -> bool:
    """Return whether anybody has a PIN."""
    return bool(query('SELECT 1 FROM "secret" WHERE "pin_hash" <> \'\' LIMIT 1'))


def keep(person: str, pin_hash: str, recovery_hash: str) -> None:
    """Keep the hashes of a PIN and of its recovery code; wrong tries are forgotten."""
    with database.atomic():
        if query(_READ, (person,)):
            execute(_CHANGE, (pin_hash, recovery_hash, person))
        else:
            execute(_ADD, (person, pin_hash, recovery_hash))


def count(person: str, wrong: int, wait_until: datetime | None) -> None:
    """Keep how many tries were wrong in a row, and until when the next one waits."""
    with database.atomic():
        execute(_COUNT, (wrong, _MOMENT.db_value(wait_until), person))


_ALL = 'SELECT "person", "pin_hash", "recovery_hash", "wrong", "wait_until" FROM "secret"'
_PUT = (
    'INSERT INTO "secret" ("person", "pin_hash", "recovery_hash", "wrong", "wait_until") '
    "VALUES (?, ?, ?, ?, ?)"
)


def all_rows() -> list[tuple[object, ...]]:
    """Return what is kept of everybody, as the database holds it."""
    return query(_ALL)


def put_all(rows: list[tuple[object, ...]]) -> None:
    """Keep what `all_rows` gave of records that were copied here."""
    with database.atomic():
        for row in rows:
            execute(_PUT, row)
