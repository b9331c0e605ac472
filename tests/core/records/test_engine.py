"""Opening records: durable on every connection, and refusing what is not ours."""

from __future__ import annotations

import sqlite3
import threading
from contextlib import closing
from pathlib import Path

import pytest

from core.errors import Refusal
from core.records import engine, read
from core.records.engine import query
from core.records.migrate import VERSION, applied
from core.records.place import default_place, place_of
from core.records.tables import Client
from core.records.writer import Writer
from tests.conftest import MOMENT
from tests.core.records.checks import held
from tests.small import build

WANTED = {"synchronous": 2, "foreign_keys": 1}


def pragmas() -> dict[str, int]:
    return {name: query(f"PRAGMA {name}")[0][0] for name in WANTED}


@pytest.mark.usefixtures("records")
def test_this_connection_is_durable_and_minds_references() -> None:
    assert pragmas() == WANTED
    assert query("PRAGMA journal_mode") == [("wal",)]


@pytest.mark.usefixtures("records")
def test_so_are_the_writers_and_a_readers() -> None:
    found: dict[str, dict[str, int]] = {}

    def look() -> None:
        with engine.connection():
            found["reader"] = pragmas()

    reader = threading.Thread(target=look)
    reader.start()
    reader.join()
    writer = Writer()
    found["writer"] = writer.submit(pragmas).result(timeout=10)
    writer.close()
    assert found == {"reader": WANTED, "writer": WANTED}


def test_opening_again_changes_nothing(tmp_path: Path) -> None:
    file = tmp_path / "practice.db"
    made = build(file)
    with engine.connection():
        stood = held()
    engine.open_records(file)
    with engine.connection():
        assert held() == stood
        assert applied() == VERSION
        assert read.one(Client, made.client).name == "Clara Test"


def at_rest(file: Path) -> bytes:
    """Return what lies in a file once its log is folded in."""
    with closing(sqlite3.connect(file)) as found:
        found.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    return file.read_bytes()


def test_a_newer_file_is_refused_and_stays_as_it_was(tmp_path: Path) -> None:
    file = tmp_path / "practice.db"
    engine.open_records(file)
    with closing(sqlite3.connect(file)) as newer:
        newer.execute("INSERT INTO schema_step VALUES (?, ?)", (VERSION + 1, f"{MOMENT:%FT%T}.0Z"))
        newer.commit()
    stood = at_rest(file)
    with pytest.raises(Refusal, match=r"newer version of Finrounds.*nothing was changed"):
        engine.open_records(file)
    assert at_rest(file) == stood


@pytest.mark.parametrize(
    "content",
    [b"not a database, but somebody's letter\n" * 200, b"%PDF-1.7 " + bytes(5000), b"hello"],
    ids=["letter", "paper", "five bytes"],
)
def test_what_is_no_database_is_refused_and_stays_as_it_was(tmp_path: Path, content: bytes) -> None:
    file = tmp_path / "letter.txt"
    file.write_bytes(content)
    with pytest.raises(Refusal) as refused:
        engine.open_records(file)
    assert "letter.txt" in refused.value.sentence
    assert file.read_bytes() == content
    assert [p.name for p in tmp_path.iterdir()] == ["letter.txt"]


def test_a_folder_is_refused(tmp_path: Path) -> None:
    with pytest.raises(Refusal, match="can not be opened"):
        engine.open_records(tmp_path)


def test_a_place_where_no_folder_can_be_is_refused(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(Refusal, match="can not be opened"):
        engine.open_records(tmp_path / "file" / "practice.db")


def test_folders_on_the_way_are_made(tmp_path: Path) -> None:
    file = tmp_path / "a" / "b" / "practice.db"
    engine.open_records(file)
    assert file.exists()


def test_an_address_names_a_file(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("FINROUNDS_DATABASE", f"sqlite:///{tmp_path}/mine.db")
    assert default_place().file == tmp_path / "mine.db"
    with pytest.raises(Refusal, match="sqlite:///FILE"):
        place_of("mysql://somewhere")


def test_without_an_address_it_is_the_users_data_folder(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.delenv("FINROUNDS_DATABASE")
    monkeypatch.setattr("platformdirs.user_data_dir", lambda *_, **__: str(tmp_path / "own"))
    assert default_place().file == tmp_path / "own" / "practice.db"
