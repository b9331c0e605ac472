"""Restoring: checked first, the present file set aside, what is missing told, a new device."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest

from core.errors import Refusal
from core.practice import setup
from core.practice.keep import Act
from core.records import backup, engine, fileguard, files, migrate, restore
from core.records.fileguard import Damaged, NotOurs
from core.records.place import place_of
from tests.conftest import MOMENT
from tests.core.records import checks
from tests.records_keep.test_backup import foreign, spoil
from tests.small import Small, build

LATER = MOMENT + timedelta(hours=9)


@pytest.fixture
def kept(tmp_path: Path) -> Path:
    """Give a backup of small records after which two clients were added; both files are closed."""
    file = tmp_path / "practice.db"
    small = build(file)
    kept = backup.make(place_of(file), MOMENT).file
    write(file, small, "After One", "After Two")
    return kept


def write(file: Path, small: Small, *names: str) -> None:
    engine.open_records(file)
    with engine.connection():
        for name in names:
            setup.add_client(Act(small.vet, MOMENT), name)


def clients(file: Path) -> set[str]:
    with closing(sqlite3.connect(file)) as opened:
        return {name for (name,) in opened.execute("SELECT name FROM client")}


def test_the_backup_stands_in_its_place_and_the_old_file_beside(kept: Path) -> None:
    file = kept.parent.parent / "practice.db"
    old = file.read_bytes()
    made = restore.restore(place_of(file), kept, LATER)
    assert clients(file) == {"Clara Test"}
    assert made.aside == file.with_name("practice-set-aside-2026-11-25-173000.db")
    assert made.aside.read_bytes()[100:] == old[100:]
    assert clients(made.aside) == {"Clara Test", "After One", "After Two"}
    assert made.missing == (restore.Missing("2026-11-25", "Vera Test", 2),)
    assert files.proved(kept) == made.facts


def test_what_is_written_after_it_is_of_a_new_device(kept: Path) -> None:
    file = kept.parent.parent / "practice.db"
    made = restore.restore(place_of(file), kept, LATER)
    engine.open_records(file)
    with engine.connection():
        small_vet = engine.query('SELECT "id" FROM "person" ORDER BY "id" LIMIT 1')[0][0]
        # A clock that is behind: what is new comes after what is there all the same.
        setup.add_client(Act(small_vet, MOMENT - timedelta(days=400)), "On The New Device")
        checks.all_hold()
        devices = engine.query('SELECT "here", "count" FROM "device" ORDER BY "here"')
        newest = engine.query('SELECT "device", "count" FROM "edit" ORDER BY "clock" DESC LIMIT 1')
        here = engine.query('SELECT "id" FROM "device" WHERE "here" = 1')
    assert devices == [(0, made.facts.edits), (1, 1)]
    assert newest == [(here[0][0], 1)]


def test_a_log_that_was_left_is_not_read_into_it(kept: Path) -> None:
    file = kept.parent.parent / "practice.db"
    spoil(file, 0, 200)
    files.beside(file, "-wal").write_bytes(b"left by a kill" * 400)
    made = restore.restore(place_of(file), kept, LATER)
    assert made.missing is None
    assert made.aside is not None
    assert files.beside(made.aside, "-wal").read_bytes().startswith(b"left by a kill")
    assert not files.beside(file, "-wal").exists()
    engine.open_records(file)
    with engine.connection():
        checks.all_hold()


def test_where_nothing_stands_the_backup_is_put(kept: Path, tmp_path: Path) -> None:
    new = tmp_path / "another" / "machine.db"
    made = restore.restore(place_of(new), kept, LATER)
    assert (made.aside, made.missing) == (None, ())
    assert clients(new) == {"Clara Test"}


def test_on_a_disk_without_second_names_the_old_file_is_copied(
    kept: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def none(file: Path, other: Path) -> None:
        raise OSError(95, "Operation not supported")

    monkeypatch.setattr("core.folders.os.link", none)
    file = kept.parent.parent / "practice.db"
    made = restore.restore(place_of(file), kept, LATER)
    assert made.aside is not None
    assert clients(made.aside) == {"Clara Test", "After One", "After Two"}


def test_twice_in_one_second_sets_aside_twice(kept: Path) -> None:
    file = kept.parent.parent / "practice.db"
    first = restore.restore(place_of(file), kept, LATER)
    second = restore.restore(place_of(file), kept, LATER)
    assert first.aside != second.aside
    assert first.aside is not None
    assert clients(first.aside) > clients(file)


def unchanged_after(file: Path, backup_file: Path, refusal: type[Refusal], words: str) -> None:
    before = file.read_bytes()
    with pytest.raises(refusal, match=words):
        restore.restore(place_of(file), backup_file, LATER)
    assert file.read_bytes() == before
    assert [f.name for f in file.parent.glob("*set-aside*")] == []
    assert [f.name for f in file.parent.glob(".*")] == []


def test_what_does_not_hold_is_not_restored(
    kept: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = kept.parent.parent / "practice.db"
    unchanged_after(file, tmp_path / "none.db", Refusal, "no backup")
    unchanged_after(file, file, Refusal, "records themselves")
    unchanged_after(file, foreign(tmp_path / "songs.db"), NotOurs, "no Finrounds records")
    text = tmp_path / "letter.db"
    text.write_text("Dear reader, " * 500)
    unchanged_after(file, text, Damaged, "can not be read")
    monkeypatch.setattr(migrate, "VERSION", 1)
    unchanged_after(file, kept, Refusal, "newer version")
    monkeypatch.undo()
    spoil(kept, 40 * 4096)
    unchanged_after(file, kept, Damaged, "damaged|can not be read")


def test_records_that_are_open_elsewhere_are_not_replaced(kept: Path) -> None:
    file = kept.parent.parent / "practice.db"
    held = fileguard.hold(file)
    try:
        unchanged_after(file, kept, fileguard.Held, "another copy")
    finally:
        held.release()


def test_records_on_a_server_are_restored_there(kept: Path) -> None:
    with pytest.raises(Refusal, match="lie on a server"):
        restore.restore(place_of("postgresql://desk/practice"), kept, LATER)
