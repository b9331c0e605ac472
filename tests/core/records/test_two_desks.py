"""Two processes at the same records at once, and one that hangs in the middle of an edit."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from core.errors import Refusal
from core.records import engine
from core.records.journal import edit
from core.records.keys import new_key
from core.records.place import Place
from core.records.tables import Client
from core.records.writer import Writer
from tests.conftest import MOMENT
from tests.core.records.checks import all_hold, edits, entries
from tests.core.records.outside import program
from tests.servers import opened

EACH = 40


def desk(place: Place, folder: Path, name: str) -> subprocess.Popen[str]:
    command = [sys.executable, "-m", "tests.core.records.desk"]
    return subprocess.Popen(
        [*command, place.url, str(folder), name, str(EACH)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )


def test_two_processes_write_at_once(records: Place, tmp_path: Path) -> None:
    desks = [desk(records, tmp_path / name, name) for name in ("one", "two")]
    for each in desks:
        assert each.stdout is not None
        assert each.stdout.readline() == "ready\n"
    for each in desks:
        assert each.stdin is not None
        each.stdin.write("go\n")
        each.stdin.flush()
    for each in desks:
        each.communicate(timeout=50)
    assert [each.returncode for each in desks] == [0, 0]
    found = edits()
    counts: dict[str, list[int]] = {}
    for one in found:
        counts.setdefault(one["device"], []).append(one["count"])
    # A file is one device, whoever writes to it; at a server each machine has its own count.
    wanted = [2 * EACH] if records.file else [EACH, EACH]
    assert [len(each) for each in counts.values()] == wanted
    assert all(each == [*range(1, len(each) + 1)] for each in counts.values())
    assert len({one["clock"] for one in found}) == 2 * EACH
    by = [one["who"] for one in sorted(found, key=lambda one: one["clock"])]
    assert by not in (["one"] * EACH + ["two"] * EACH, ["two"] * EACH + ["one"] * EACH)
    assert len(entries("client", "name")) == 2 * EACH
    all_hold()


HOLD = {
    "sqlite": "BEGIN IMMEDIATE",
    "postgresql": "SELECT pg_advisory_lock(4611686018)",
}
IMPATIENT = {"sqlite": "PRAGMA busy_timeout = 100", "postgresql": "SET lock_timeout = 100"}


def put(name: str) -> None:
    with edit("test", who="x", at=MOMENT) as doing:
        doing.add(Client(id=new_key(), name=name))


def test_who_waits_for_a_desk_that_hangs_is_told_and_goes_on_after(records: Place) -> None:
    writer = Writer()
    writer.submit(engine.execute, IMPATIENT[engine.kind()]).result(timeout=10)
    with program(records) as say:
        say(HOLD[engine.kind()])
        with pytest.raises(Refusal, match=r"holding the records: this was not saved"):
            writer.submit(put, "waits").result(timeout=10)
    writer.submit(put, "goes on").result(timeout=10)
    writer.close()
    assert [name for _, name in entries("client", "name")] == ["goes on"]
    all_hold()


def test_each_machine_has_an_id_of_its_own_at_a_server(new_place: Place, tmp_path: Path) -> None:
    for name in ("one", "two", "one"):
        with opened(replace(new_place, folder=tmp_path / name)):
            put(name)
    with opened(new_place):
        found = [(one["device"], one["count"]) for one in edits()]
        all_hold()
    assert len({device for device, _ in found}) == (1 if new_place.file else 2)
    assert sorted(count for _, count in found) == ([1, 2, 3] if new_place.file else [1, 1, 2])
