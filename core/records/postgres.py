"""Records on PostgreSQL, for several desks: the guards as triggers, edits one at a time."""

from __future__ import annotations

import functools
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from core.errors import Refusal
from core.records.guards import NEVER, WORDS, Guard, Line
from core.records.keys import new_key
from core.records.lean import pw, take_driver
from core.records.place import Place

TURN = 4_611_686_018
"""The number of the lock that an edit holds: edits are one after another, at every desk."""


_MARK = "SELECT set_config('finrounds.line', %s, true)"


class Postgres:
    """The engine of a practice with several desks."""

    kind = "postgresql"

    def __init__(self, place: Place) -> None:
        self.place = place

    def database(self) -> pw.Database:
        """Return the database of the address, not connected yet.

        Raises
        ------
        Refusal
            When the driver is not installed.
        """
        try:
            take_driver()
            from core.records.pool import Pool
        except ImportError as error:
            raise Refusal(
                "PostgreSQL needs its driver, which is not installed.",
                "Install finrounds[postgresql].",
            ) from error
        found: pw.Database = Pool(self.place.url)
        return found

    def spoken(self, sql: str) -> str:
        """Return a statement with the driver's own marks for values."""
        return _spoken(sql)

    def take_turn(self) -> None:
        """Wait until no other desk is in the middle of an edit."""
        _run("SELECT pg_advisory_xact_lock(%s)", (TURN,))

    def mark(self, line: Line | None) -> None:
        """Tell the database which line the journal writes, for this transaction."""
        said = "|".join(line) if line else ""
        _run(_MARK, (said,))

    def write_all(self, steps: Sequence[tuple[Line | None, str, tuple[Any, ...]]]) -> None:
        """Run many statements in one go: each wait for the server costs more than a statement."""
        if not steps:
            return
        from core.records.models import database

        said = database.cursor().mogrify
        script, before = [], None
        for line, sql, values in steps:
            if line is not None and line != before:
                script.append(said(_MARK, ("|".join(line),)))
                before = line
            script.append(said(_spoken(sql), values))
        script.append(said(_MARK, ("",)))
        database.execute_sql(";".join(script).replace("%", "%%"))

    def this_device(self) -> str | None:
        """Return this machine's id, kept in the user's folder; made when it is first asked for."""
        return _device_id(self.place.folder / "this-machine")

    def guards(self, wanted: Iterator[Guard]) -> Iterator[str]:
        """Give the functions and triggers that hold the rules, one statement each."""
        yield _GUARD
        yield _NEVER
        tables: dict[str, None] = {}
        for guard in wanted:
            tables[guard.table] = None
            told = ", ".join(
                f"'{w}'" for w in (guard.rule, guard.refusal, guard.key, WORDS[guard.act])
            )
            yield (
                f'CREATE TRIGGER "{guard.name}_{guard.table}_{guard.act.lower()}" '
                f'BEFORE {guard.act} ON "{guard.table}" FOR EACH ROW '
                f"EXECUTE FUNCTION finrounds_guard({told})"
            )
        for table in tables:
            yield (
                f'CREATE TRIGGER "kept_{table}_truncate" BEFORE TRUNCATE ON "{table}" '
                f"FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()"
            )


_GUARD = """
CREATE OR REPLACE FUNCTION finrounds_guard() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  before jsonb := CASE WHEN TG_OP = 'INSERT' THEN NULL ELSE to_jsonb(OLD) END;
  after jsonb := CASE WHEN TG_OP = 'DELETE' THEN NULL ELSE to_jsonb(NEW) END;
  row_key text := coalesce(before, after) ->> TG_ARGV[2];
  line text := TG_TABLE_NAME || '|' || row_key || '|' || TG_ARGV[3];
  refused boolean := true;
BEGIN
  IF TG_ARGV[0] = 'door' THEN
    refused := coalesce(current_setting('finrounds.line', true), '') <> line
      OR (TG_OP = 'UPDATE' AND before ->> 'id' <> after ->> 'id');
  ELSIF TG_ARGV[0] = 'this visit' THEN
    refused := before ->> 'signed_at' IS NOT NULL;
  ELSIF TG_ARGV[0] = 'its visit' THEN
    refused := EXISTS (
      SELECT 1 FROM "visit" WHERE "id" IN (before ->> 'visit', after ->> 'visit')
        AND "signed_at" IS NOT NULL);
  ELSIF TG_ARGV[0] = 'invoice' THEN
    refused := before ->> 'invoice' IS NOT NULL;
  END IF;
  IF refused THEN
    RAISE EXCEPTION '%', TG_ARGV[1];
  END IF;
  RETURN CASE WHEN TG_OP = 'DELETE' THEN OLD ELSE NEW END;
END $$
"""
_NEVER = f"""
CREATE OR REPLACE FUNCTION finrounds_never() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION '{NEVER}';
END $$
"""


@functools.cache
def _spoken(sql: str) -> str:
    return sql.replace("%", "%%").replace("?", "%s")


def _run(sql: str, values: tuple[Any, ...]) -> None:
    from core.records.models import database

    database.execute_sql(sql, values)


@functools.cache
def _device_id(file: Path) -> str:
    if not file.exists():
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(new_key(), encoding="utf-8")
    return file.read_text(encoding="utf-8").strip()
