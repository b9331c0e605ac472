"""The disk is full: a person is told so in one sentence, nothing is half, and the app goes on."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable, Iterator
from concurrent.futures import Future
from contextlib import contextmanager
from pathlib import Path

from core.practice.desk import Desk
from core.practice.keep import Act
from core.practice.setup import add_client
from core.records import engine
from core.records.engine import query
from core.records.trouble import NotSaved
from core.records.writer import Writer
from tests.conftest import MOMENT
from tests.core.records.checks import all_hold, edits, entries
from tests.records_hard.no_room import ROOMS
from tests.records_hard.work import begun, step
from tests.small import Small, build
from tests.terminal import ROOT
from tests.tui.stage_app import opened

FULL = (
    "The disk is full: this was not saved. "
    "What you typed stays; make room on the disk, then try again."
)
DISK = "The disk did not do its part: this was not saved."


def test_files_that_may_not_grow_are_told_and_gone_on_with(tmp_path: Path) -> None:
    file = tmp_path / "practice.db"
    command = [sys.executable, "-W", "error", "-m", "tests.records_hard.no_room", str(file)]
    ran = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, timeout=50)
    assert (ran.returncode, ran.stderr) == (0, "")
    said = json.loads(ran.stdout)
    assert said.pop("paper") == f"Not saved. {FULL}"
    assert list(said) == [str(room) for room in ROOMS]
    for sentence in said.values():
        assert sentence.startswith(f"Not saved. {DISK}")
        assert "What you typed stays" in sentence
    engine.open_records(file)
    with engine.connection():
        all_hold()


def pages(save: Callable[..., object], most: int | None) -> None:
    """Let the file have so many pages, or as many as it likes."""
    save(query, f"PRAGMA max_page_count = {most or 2**31}")


def until_told(write: Callable[[int], Future[object]]) -> tuple[int, NotSaved]:
    """Write until it is refused; return how many writes were done before, and the refusal."""
    for number in range(400):
        try:
            write(number).result(timeout=30)
        except NotSaved as error:
            return number, error
    raise AssertionError("there is always room")


@contextmanager
def full(desk: Desk, made: Small) -> Iterator[None]:
    """Fill the file to its last page, by names of clients from long to short."""
    pages(desk.save, desk.look(query, "PRAGMA page_count")[0][0])
    act = Act(made.vet, MOMENT)
    for length in (3000, 300, 1):
        until_told(lambda _, name="n" * length: desk.save(add_client, act, name))
    yield
    pages(desk.save, None)


def test_a_full_file_is_told_and_gone_on_with(records: Path) -> None:
    writer = Writer()
    made = writer.submit(begun).result(timeout=30)
    pages(writer.submit, query("PRAGMA page_count")[0][0] + 3)
    before = len(edits())
    done, refused = until_told(lambda number: writer.submit(step, made, number))
    assert str(refused) == FULL
    assert len(edits()) == before + done
    all_hold()
    pages(writer.submit, None)
    writer.submit(step, made, done).result(timeout=30)
    assert len(edits()) == before + done + 1
    all_hold()
    writer.close()


async def test_at_the_field_what_was_typed_stays_until_there_is_room(tmp_path: Path) -> None:
    file = tmp_path / "practice.db"
    made = build(file)
    async with opened(file, made.visit, "Water") as here:
        await here.go("ph")
        with full(here.app.desk, made):
            await here.press("7.4", "enter")
            words = " ".join(here.row("ph").split())
            assert "7.4" in words
            assert FULL in words
            assert here.form.field.key == "ph"
            assert not entries("reading", "typed")
        await here.press("enter")
        assert "7.4" in here.row("ph")
        assert "saved" in here.row("ph")
        assert "full" not in here.row("ph")
    with engine.connection():
        assert [typed for _, typed in entries("reading", "typed")] == ["7.4"]
        all_hold()
