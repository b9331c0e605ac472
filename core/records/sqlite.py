"""Records in one SQLite file: every connection durable, the guards as triggers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from core.records.guards import WORDS, Guard, Line, journal_writes, writing
from core.records.lean import pw
from core.records.models import database

PRAGMAS = {
    "journal_mode": "wal",
    "synchronous": 2,
    "foreign_keys": 1,
    "busy_timeout": 5000,
}
"""FULL: an entry that the screen calls saved is on the disk."""

APPLICATION_ID = 0x46524E44
"""Marks a file as ours, so that a foreign SQLite file is never written to."""


class Sqlite:
    """The embedded engine."""

    kind = "sqlite"

    def __init__(self, file: Path) -> None:
        self.file = file

    def database(self) -> pw.Database:
        """Return the database of the file, not connected yet."""
        found = pw.SqliteDatabase(str(self.file), pragmas=PRAGMAS, lock_type="IMMEDIATE")
        found.register_function(journal_writes, "journal_writes", 3)
        return found

    def spoken(self, sql: str) -> str:
        """Return a statement as this engine takes it: as it is written."""
        return sql

    def take_turn(self) -> None:
        """Wait for the right to write; a transaction has it from its begin here."""

    def mark(self, line: Line | None) -> None:
        """Tell which line the journal writes; the database asks `journal_writes` for it."""
        writing.set(line)

    def write_all(self, steps: Sequence[tuple[Line | None, str, tuple[Any, ...]]]) -> None:
        """Run many statements, in their order."""
        try:
            for line, sql, values in steps:
                writing.set(line)
                database.execute_sql(sql, values)
        finally:
            writing.set(None)

    def this_device(self) -> str | None:
        """Return None: the file itself says which of its devices is this one."""
        return None

    def guards(self, wanted: Iterator[Guard]) -> Iterator[str]:
        """Give the triggers that hold the rules, one statement each."""
        for guard in wanted:
            yield (
                f'CREATE TRIGGER "{guard.name}_{guard.table}_{guard.act.lower()}" '
                f'BEFORE {guard.act} ON "{guard.table}" WHEN {_when(guard)} '
                f"BEGIN SELECT RAISE(ABORT, '{guard.refusal}'); END"
            )


def _when(guard: Guard) -> str:
    if guard.rule == "door":
        side = "NEW" if guard.act == "INSERT" else "OLD"
        line = f"'{guard.table}', {side}.\"{guard.key}\", '{WORDS[guard.act]}'"
        same = ' AND NEW."id" = OLD."id"' if guard.act == "UPDATE" else ""
        return f"NOT (journal_writes({line}) = 1{same})"
    if guard.rule == "this visit":
        return 'OLD."signed_at" IS NOT NULL'
    if guard.rule == "its visit":
        sides = ("NEW",) if guard.act == "INSERT" else ("OLD", "NEW")
        return " OR ".join(_is_signed(side) for side in sides)
    if guard.rule == "invoice":
        return 'OLD."invoice" IS NOT NULL'
    return "1"


def _is_signed(side: str) -> str:
    return f'(SELECT "signed_at" FROM "visit" WHERE "id" = {side}."visit") IS NOT NULL'
