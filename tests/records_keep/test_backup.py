"""Backups: whole, proved, made while others write, and kept by one rule."""

from __future__ import annotations

import os
import threading
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import Refusal
from core.practice import setup
from core.practice.keep import Act
from core.records import backup, engine, files
from core.records.fileguard import Damaged, NotOurs
from core.records.place import place_of
from tests.conftest import MOMENT
from tests.small import Small

DAY = timedelta(days=1)


def of(*days_ago: float) -> list[datetime]:
    return [MOMENT - days * DAY for days in days_ago]


def test_of_each_of_the_last_days_the_newest_is_kept() -> None:
    found = backup.kept(of(0, 0.1, 0.2, 1, 1.1, 13), MOMENT.date())
    assert found == {*of(0, 1, 13)}


def test_of_each_of_the_last_months_the_newest_is_kept() -> None:
    daily = of(*range(400))
    found = sorted(backup.kept(daily, MOMENT.date()), reverse=True)
    assert found[:14] == daily[:14]
    # November is there by its days; before it stand the last days of eleven months.
    ends = [m.date() for m in found[14:]]
    assert ends[0] == date(2026, 10, 31)
    assert ends[-1] == date(2025, 12, 31)
    assert len(ends) == 11


def test_a_pause_and_a_clock_that_jumped_take_nothing_away() -> None:
    old = of(*range(1000, 1010))
    assert backup.kept([*old, MOMENT], MOMENT.date()) == {*old, MOMENT}
    ahead = [MOMENT + 900 * DAY, MOMENT]
    assert backup.kept(ahead, MOMENT.date()) == {*ahead}


@given(st.lists(st.integers(0, 60 * 24 * 800), max_size=60), st.integers(0, 400))
def test_the_rule_keeps_the_newest_never_too_many_and_is_steady(
    minutes: list[int], ago: int
) -> None:
    moments = [MOMENT - timedelta(minutes=m) for m in minutes]
    today = (MOMENT - ago * DAY).date()
    found = backup.kept(moments, today)
    assert found <= set(moments)
    if moments:
        assert max(moments) in found
    assert len([m for m in found if m.date() <= today]) <= backup.DAYS + backup.MONTHS
    assert backup.kept(found, today) == found


def test_a_backup_is_whole_the_same_and_dated(practice: Small, records: Path) -> None:
    made = backup.make(place_of(records), MOMENT)
    assert made.file == records.parent / "backups" / "practice-2026-11-25-083000.db"
    with files.reading(records, "live") as opened:
        assert made.facts == files.facts(opened) == files.proved(made.file)
    assert made.facts.edits > 5
    assert [f.name for f in made.file.parent.iterdir()] == [made.file.name]
    assert [one.moment for one in backup.dated(place_of(records))] == [MOMENT]


def test_the_rule_takes_away_dated_backups_and_nothing_else(records: Path) -> None:
    place = place_of(records)
    stays = backup.before_schema(place, 2, MOMENT - 900 * DAY)
    note = place.backups / "notes.db"
    note.write_text("mine")
    for hour in range(3):
        made = backup.make(place, MOMENT + timedelta(hours=hour))
    assert tuple(one.file for one in made.gone) == (
        place.backups / "practice-2026-11-25-093000.db",
    )
    assert {*place.backups.iterdir()} == {made.file, stays, note}


def test_what_a_killed_copy_left_is_swept_away(records: Path) -> None:
    place = place_of(records)
    place.backups.mkdir()
    old, young = place.backups / ".old.db.part", place.backups / ".young.db.part"
    for part, hours in ((old, 2), (young, 0)):
        part.touch()
        os.utime(part, (0, (MOMENT - timedelta(hours=hours)).timestamp()))
    backup.make(place, MOMENT)
    assert (old.exists(), young.exists()) == (False, True)


def test_a_backup_is_due_once_a_day(records: Path, tmp_path: Path) -> None:
    place = place_of(records)
    assert not backup.due(place_of(tmp_path / "nothing.db"), MOMENT)
    assert backup.due(place, MOMENT)
    backup.make(place, MOMENT)
    assert not backup.due(place, MOMENT + timedelta(hours=15))
    assert backup.due(place, MOMENT + DAY)


def test_others_write_while_it_is_made(practice: Small, records: Path) -> None:
    """The copy is of one moment: the edits that it says, and none of those made meanwhile."""
    begun, seen = threading.Event(), []

    def on(done: int, whole: int) -> None:
        begun.set()
        seen.append((done, whole))

    def write() -> None:
        begun.wait(10)
        with engine.connection():
            setup.add_client(Act(practice.vet, MOMENT), "Meanwhile Written")

    thread = threading.Thread(target=write)
    thread.start()
    before = files.PAGES
    files.PAGES = 5
    try:
        made = backup.make(place_of(records), MOMENT, on)
    finally:
        files.PAGES = before
        thread.join()
    assert seen[-1][0] == seen[-1][1] > 5
    assert len(seen) > 5
    with files.reading(records, "live") as opened:
        assert files.facts(opened).edits == made.facts.edits + 1
    assert files.proved(made.file) == made.facts


def spoil(file: Path, start: int, length: int = 4096) -> None:
    with file.open("r+b") as opened:
        opened.seek(start)
        opened.write(b"\x55" * length)


def test_a_damaged_file_gives_no_backup(practice: Small, records: Path) -> None:
    whole = backup.make(place_of(records), MOMENT)
    broken = place_of(records.parent / "broken" / "practice.db")
    broken.folder.mkdir()
    assert broken.file is not None
    broken.file.write_bytes(whole.file.read_bytes())
    spoil(broken.file, 40 * 4096)
    with pytest.raises(Damaged):
        backup.make(broken, MOMENT)
    assert list(broken.backups.iterdir()) == []


def test_a_copy_that_is_not_the_same_is_no_backup(
    records: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def other(file: Path) -> files.Facts:
        return files.Facts(2, 1, "", "")

    monkeypatch.setattr(files, "proved", other)
    with pytest.raises(Damaged, match="not what was copied"):
        backup.make(place_of(records), MOMENT)
    assert list((records.parent / "backups").iterdir()) == []


def test_what_can_not_be_backed_up_is_said(records: Path, tmp_path: Path) -> None:
    with pytest.raises(Refusal, match="no records"):
        backup.make(place_of(tmp_path / "nothing.db"), MOMENT)
    stick = tmp_path / "stick"
    stick.write_text("a file, no folder")
    with pytest.raises(Refusal, match="could not be written"):
        backup.make_in(place_of(records), stick, MOMENT)
    with pytest.raises(NotOurs):
        files.proved(foreign(tmp_path / "other.db"))


def foreign(file: Path) -> Path:
    import sqlite3

    with sqlite3.connect(file) as opened:
        opened.execute("CREATE TABLE songs (name TEXT)")
    opened.close()
    return file


def test_a_moment_in_a_name_is_utc() -> None:
    east = datetime.fromisoformat("2026-11-25T01:30:00+05:00")
    assert files.stamp(east) == "2026-11-24-203000"
    assert files.stamp(MOMENT.astimezone(UTC)) == "2026-11-25-083000"
