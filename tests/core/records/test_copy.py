"""Carrying a practice over: all of it, proved on both sides, or nothing; the old file stays."""

from __future__ import annotations

import argparse
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from core.errors import Refusal
from core.practice import setup
from core.practice.copy import Copied, copy
from core.practice.keep import Act
from core.records import exchange, fileguard, read, secrets
from core.records.journal import edit
from core.records.keys import new_key
from core.records.models import database
from core.records.place import Place, place_of
from core.records.tables import Client, Reading
from tests.conftest import MOMENT
from tests.core.records.checks import all_hold, edits, held, orphans
from tests.core.records.outside import program
from tests.core.records.rows import ids_of, one_of_each, sample
from tests.servers import Server, close, opened
from tests.small import fill
from tui.commands import copy_to

MANY = 450
"""More edits than go to the database at once."""
PAPER = Path("2026") / "paper.pdf"


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give a closed practice with every table filled, a struck row, a PIN and a paper."""
    file = tmp_path_factory.mktemp("old") / "practice.db"
    with opened(file):
        small = fill(Act("setup", MOMENT), MOMENT.date())
        rows = one_of_each(full=True)
        with edit("all", who="x", at=MOMENT) as doing:
            for row in rows.values():
                doing.add(row)
            doing.strike(Client, small.client, "100 % \\ 'of' \"this\"; -- ? is %s struck\n|")
        ids = {**ids_of(rows), "visit": small.visit}
        with database.atomic():
            for _ in range(MANY):
                with edit("reading", who=small.vet, at=MOMENT, visit=small.visit) as doing:
                    doing.add(sample(Reading, ids))
        secrets.put_all([(small.vet, "$argon2id$x", "$argon2id$y", 2, None)])
    paper = file.parent / "papers" / PAPER
    paper.parent.mkdir(parents=True)
    paper.write_bytes(b"%PDF paper")
    return file


def test_it_is_all_there_and_the_old_file_is_as_it_was(file: Path, new_place: Place) -> None:
    with opened(file):
        stood = exchange.state(), held(), edits()
        proved = secrets.all_rows()
    before = content(file)
    said: list[str] = []
    made = copy(place_of(file), new_place, said.append)
    assert said[-1] == "comparing both sides"
    with opened(new_place):
        assert (exchange.state(), held(), edits()) == stood
        assert secrets.all_rows() == proved
        all_hold()
    assert content(file) == before
    assert_told(made, stood[0]["edits"])
    assert (new_place.papers / PAPER).read_bytes() == b"%PDF paper"


def assert_told(made: Copied, count: int) -> None:
    assert f"{count} edits" in made.text
    assert "1 were copied there" in made.text
    assert f"reading {MANY + 1:>16}" in made.text
    assert str(made.source.file) in made.text


def content(file: Path) -> list[str]:
    with closing(sqlite3.connect(f"{file.as_uri()}?mode=ro", uri=True)) as opened_file:
        return list(opened_file.iterdump())


def test_work_goes_on_there_on_a_device_of_its_own(file: Path, new_place: Place) -> None:
    copy(place_of(file), new_place, lambda words: None)
    with opened(new_place):
        before = edits()
        setup.add_client(Act("setup", MOMENT), "Newly Made")
        after = [one for one in edits() if one not in before]
        assert [one["count"] for one in after] == [1]
        assert after[0]["device"] not in {one["device"] for one in before}
        assert after[0]["clock"] > max(one["clock"] for one in before)
        assert len(read.find(Client, name="Newly Made")) == 1
        assert orphans() == []
        all_hold()


def test_where_there_are_records_nothing_is_put(file: Path, new_place: Place) -> None:
    with opened(new_place):
        setup.add_client(Act("setup", MOMENT), "Stands There")
        stood = held(), edits()
    with pytest.raises(Refusal, match="not empty"):
        copy(place_of(file), new_place, lambda words: None)
    close()
    with opened(new_place):
        assert (held(), edits()) == stood


def test_a_copy_that_breaks_off_leaves_nothing(file: Path, new_place: Place) -> None:
    def break_off(words: str) -> None:
        raise KeyboardInterrupt(words)

    with pytest.raises(KeyboardInterrupt, match="comparing"):
        copy(place_of(file), new_place, break_off)
    close()
    with opened(new_place):
        assert edits() == []
        assert held() == {}
    copy(place_of(file), new_place, lambda words: None)


def test_an_edit_that_was_changed_is_not_carried_over(
    file: Path, new_place: Place, tmp_path: Path
) -> None:
    bad = tmp_path / "bad" / "practice.db"
    bad.parent.mkdir()
    with closing(sqlite3.connect(file)) as old, closing(sqlite3.connect(bad)) as new:
        old.backup(new)
        for name in ("grows_edit_update", "grows_edit_line_update"):
            new.execute(f"DROP TRIGGER {name}")
        new.execute("UPDATE edit SET who = 'other' WHERE count = 300")
        new.commit()
    with pytest.raises(Refusal, match="Edit 300 of a device was changed"):
        copy(place_of(bad), new_place, lambda words: None)
    close()
    with opened(new_place):
        assert held() == {}


def test_by_the_command_line(file: Path, new_place: Place, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FINROUNDS_DATABASE", f"sqlite:///{file}")
    text = copy_to.run(argparse.Namespace(url=new_place.url))
    close()
    assert "equal" in text
    assert "set FINROUNDS_DATABASE" in text


@pytest.fixture
def foreign(request: pytest.FixtureRequest, tmp_path: Path, server: Server) -> Iterator[Place]:
    """Give a database of another program."""
    place = place_of(tmp_path / "theirs.db") if request.param == "sqlite" else server.new()
    with program(place) as say:
        say("CREATE TABLE theirs (words TEXT)")
        say("INSERT INTO theirs VALUES ('a letter')")
    yield place
    close()


@pytest.mark.parametrize("foreign", ["sqlite", "postgresql"], indirect=True)
def test_a_database_of_another_program_is_left_alone(file: Path, foreign: Place) -> None:
    with pytest.raises(fileguard.NotOurs):
        copy(place_of(file), foreign, lambda words: None)
    close()
    tables = {
        "sqlite": "SELECT name FROM sqlite_master",
        "postgresql": "SELECT tablename FROM pg_tables WHERE schemaname = 'public'",
    }
    with program(foreign) as say:
        assert say(tables["sqlite" if foreign.file else "postgresql"]) == [("theirs",)]
        assert say("SELECT words FROM theirs") == [("a letter",)]


def test_what_can_not_be_carried_over_is_told(file: Path, tmp_path: Path) -> None:
    there = place_of(tmp_path / "new.db")
    cases = [
        (place_of("postgresql://localhost/x"), there, "is no file"),
        (place_of(tmp_path / "none.db"), there, "no records"),
        (place_of(file), place_of(file), "lie there already"),
    ]
    for source, target, why in cases:
        with pytest.raises(Refusal, match=why):
            copy(source, target, lambda words: None)
    held_file = fileguard.hold(file)
    with pytest.raises(Refusal, match="open in another copy"):
        copy(place_of(file), there, lambda words: None)
    held_file.release()
    assert not (tmp_path / "new.db").exists()


def test_records_of_an_older_version_are_opened_once_first(file: Path, tmp_path: Path) -> None:
    old = tmp_path / "old.db"
    with closing(sqlite3.connect(file)) as now, closing(sqlite3.connect(old)) as then:
        now.backup(then)
        then.execute("DELETE FROM schema_step WHERE number > 1")
        then.commit()
    with pytest.raises(Refusal, match="Open them once"):
        copy(place_of(old), place_of(tmp_path / "new.db"), lambda words: None)
    close()


def test_a_text_that_a_server_can_not_hold_is_refused_at_the_door(records: Place) -> None:
    with (
        pytest.raises(Refusal, match="character of no meaning"),
        edit("test", who="x", at=MOMENT) as doing,
    ):
        doing.add(Client(id=new_key(), name="a\0b"))
    assert edits() == []
