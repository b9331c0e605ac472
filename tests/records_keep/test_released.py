"""From the records of every released version to today's: nothing lost, and the same tables."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from core.practice import day, signatures
from core.practice.desk import Desk
from core.practice.who import people, practice
from core.records import engine, files, index, verify
from core.records.migrate import VERSION
from core.records.sqlite import APPLICATION_ID
from tests.core.records import checks
from tests.records_keep.released import DAY, NUMBERS, put
from tui.app import FinroundsApp


def counts(file: Path) -> dict[str, int]:
    """Return how many rows each table has, as another program sees it."""
    with closing(sqlite3.connect(file)) as opened:
        named = opened.execute("SELECT name FROM sqlite_master WHERE type = 'table'").fetchall()
        return {
            name: opened.execute(f'SELECT count(*) FROM "{name}"').fetchone()[0]
            for (name,) in named
        }


def shape(file: Path) -> dict[str, object]:
    """Return tables with columns and references, indexes and triggers, in no order."""
    found: dict[str, object] = {}
    with closing(sqlite3.connect(file)) as opened:
        for kind, name, sql in opened.execute("SELECT type, name, sql FROM sqlite_master"):
            if kind == "table":
                columns = opened.execute(f'PRAGMA table_info("{name}")').fetchall()
                refers = opened.execute(f'PRAGMA foreign_key_list("{name}")').fetchall()
                # The place of a column and its default in the file's own words do not count.
                plain = {(column, of, needed, key) for _, column, of, needed, _, key in columns}
                found[name] = (plain, {(other, own, to) for _, _, other, own, to, *_ in refers})
            else:
                found[name] = (kind, sql)
    return found


@pytest.fixture(params=NUMBERS)
def climbed(request: pytest.FixtureRequest, tmp_path: Path) -> tuple[Path, Path]:
    """Give records of a released version, opened by this one, and their backup from before."""
    file = put(request.param, tmp_path)
    engine.open_records(file)
    return file, next((tmp_path / "backups").glob(f"before-schema-{VERSION}-*.db"))


def test_every_schema_that_was_released_is_here() -> None:
    assert [*range(1, len(NUMBERS) + 1)] == NUMBERS
    assert len(NUMBERS) in (VERSION - 1, VERSION)


def test_the_climb_loses_nothing_and_all_holds(climbed: tuple[Path, Path]) -> None:
    file, before = climbed
    with engine.connection():
        checks.all_hold()
        assert verify.broken() == []
        assert signatures.check() == []
        assert index.check() == []
    old, new = counts(before), counts(file)
    assert old["edit"] > 600
    assert old["invoice"] > 10
    assert {t for t, n in old.items() if new[t] != n} == {"schema_step"}
    assert new["schema_step"] == VERSION


def test_the_climb_ends_in_the_tables_of_new_records(
    climbed: tuple[Path, Path], tmp_path: Path
) -> None:
    file, _ = climbed
    new = tmp_path / "new" / "practice.db"
    with closing(sqlite3.connect(file)) as opened:
        assert opened.execute("PRAGMA application_id").fetchone() == (APPLICATION_ID,)
    Desk(new).close()
    assert shape(file) == shape(new)
    # The comparison would see a column, an index and a trigger that are missing.
    with closing(sqlite3.connect(new)) as opened:
        opened.execute('DROP INDEX "visit_day"')
        opened.execute('DROP TRIGGER "kept_visit_delete"')
        opened.execute('ALTER TABLE "hold" DROP COLUMN "why"')
    was, now = shape(file), shape(new)
    assert {name for name in was if was[name] != now.get(name)} == {
        "visit_day",
        "kept_visit_delete",
        "hold",
    }


def test_the_backup_from_before_is_as_it_was(climbed: tuple[Path, Path]) -> None:
    file, before = climbed
    with files.reading(before) as old:
        assert files.faults(old) == []
        assert files.facts(old).schema < VERSION
    assert files.proved(before).last == files.proved(file).last


async def test_the_day_opens(climbed: tuple[Path, Path]) -> None:
    file, _ = climbed
    desk = Desk(file)
    try:
        lines = desk.look(day.view, DAY).lines
        assert len(lines) == 8
        assert any("Larkspur" in line.client for line in lines)
        house = desk.look(practice)
        assert house is not None
        app = FinroundsApp(desk, house, desk.look(people)[0])
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.pause()
            await pilot.app.workers.wait_for_complete()
            assert app.current_mode == "day"
    finally:
        desk.close()
