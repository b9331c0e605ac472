"""Watching by keys only, at 80x24; the clock is the test's own."""

from __future__ import annotations

import string
from collections.abc import Iterator
from pathlib import Path

import pytest
from textual.widgets import Digits, Static

from core import clock
from core.practice import watching
from core.practice.desk import Desk
from core.practice.keep import Act
from core.records import read
from core.records.journal import edit
from core.records.tables import Sign, Visit
from tests.small import Small, build
from tests.tui.form_app import keys
from tests.tui.stage_app import Opened, opened
from tui.workup.breath_counter import BreathCounter
from tui.workup.watching import WatchingStage


class Clock:
    """Seconds that go on only when the test says so."""

    def __init__(self) -> None:
        self.now = 500.0

    def __call__(self) -> float:
        return self.now


@pytest.fixture
def seconds(monkeypatch: pytest.MonkeyPatch) -> Iterator[Clock]:
    found = Clock()
    monkeypatch.setattr(WatchingStage, "clock", found)
    return found


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "practice.db"


@pytest.fixture
def made(file: Path) -> Small:
    return build(file)


def signs(here: Opened) -> list[tuple[str, str, str]]:
    return [(r.subject, r.sign, r.state) for r in here.app.desk.look(read.find, Sign)]


async def tap(here: Opened, seconds: Clock, times: int, every: float, key: str = " ") -> None:
    for n in range(times):
        seconds.now += every if n else 0.0
        await keys(here.pilot, key)


@pytest.mark.parametrize("key", [" ", "q"])
async def test_thirty_taps_in_twenty_seconds_give_ninety(
    file: Path, made: Small, seconds: Clock, key: str
) -> None:
    async with opened(file, made.visit, "Watching") as here:
        await here.press("l")
        await here.press(" ")
        assert isinstance(here.app.screen, BreathCounter)
        await tap(here, seconds, 30, 20 / 30, key)
        assert here.app.screen.query_one("#rate", Digits).value == "90"
        count = str(here.app.screen.query_one("#count", Static).render())
        assert count == "a minute; 30 taps in 19 s"
        seconds.now += 7
        await here.press("enter")
        assert here.row("number breaths").split()[3] == "90"
        assert "koi: 90 breaths a minute" in here.below()
        await here.go("number breaths")
        assert "90" in here.stage.working_text()
        (row,) = here.app.desk.look(read.find, Sign)
    assert row.value == pytest.approx(90)
    assert (row.subject, row.subject_id) == ("group", made.group)


async def test_counting_starts_again_and_is_left_without_keeping(
    file: Path, made: Small, seconds: Clock
) -> None:
    async with opened(file, made.visit, "Watching") as here:
        await here.press(" ")
        await here.press("enter")
        assert isinstance(here.app.screen, BreathCounter), "nothing to keep yet"
        await tap(here, seconds, 5, 1.0)
        await here.press("backspace")
        assert here.app.screen.query_one("#rate", Digits).value == "--"
        await tap(here, seconds, 3, 0.5)
        assert here.app.screen.query_one("#rate", Digits).value == "120"
        await here.press("escape")
        assert signs(here) == []


async def test_breaths_are_typed_too(file: Path, made: Small) -> None:
    async with opened(file, made.visit, "Watching") as here:
        await here.go("number breaths")
        await here.press("30 in 20", "enter", "escape")
        (row,) = here.app.desk.look(read.find, Sign)
        assert (row.value, row.note) == (90, "30 in 20")
        await here.go("number breaths")
        await here.press("9x", "enter")
        assert "Type 90, or 30 in 20" in here.form.row.state.error


async def test_letters_answer_signs_of_one_subject_and_no_other(file: Path, made: Small) -> None:
    async with opened(file, made.visit, "Watching") as here:
        await here.go("sign air")
        await here.press("enter", "o", "p", "n")
        await here.press("escape", "l")
        await here.go("sign gasping")
        await here.press("enter", "s", "n", "l", "escape")
        assert here.row("sign gasping").split()[-2:] == ["seen", "saved"]
        assert here.row("sign fast_breathing").split()[-3:] == ["not", "seen", "saved"]
        assert here.row("sign at_inlet").split()[-3:] == ["not", "looked", "saved"]
        assert signs(here) == [
            ("system", "air", "ok"),
            ("system", "flow", "problem"),
            ("system", "filter", "not seen"),
            ("group", "gasping", "seen"),
            ("group", "fast_breathing", "not seen"),
            ("group", "at_inlet", "not looked"),
        ]
        assert "koi pond: problem: flow and pumps" in here.below()
        assert "koi: seen: gasping at the surface" in here.below()


async def test_one_fish_of_a_group_has_signs_of_its_own(file: Path, made: Small) -> None:
    async with opened(file, made.visit, "Watching") as here:
        for words in ("white one", "red cap"):
            await here.press("a")
            await here.press("enter", "enter", words, "enter", "f")
        assert here.stage.subject.label == "koi 2 of 12"
        await here.go("sign isolated")
        await here.press("enter", "s", "escape")
        others = 0
        for _ in here.stage.watched.subjects[1:]:
            await here.press("l")
            shown = [here.row(k) for k in here.keys_of_rows("sign isolated")]
            others += sum("saved" in row for row in shown)
        assert others == 0
        await here.press("l")
        assert "saved" in here.row("sign isolated")
        assert "koi 2 of 12 (red cap): seen: alone" in here.below()
        kept = [r for r in here.app.desk.look(read.find, Sign) if r.sign == "isolated"]
    assert [r.subject_id for r in kept] == [f"{made.group}#2"]


async def test_the_subject_is_found_by_part_of_its_name(file: Path, made: Small) -> None:
    async with opened(file, made.visit, "Watching") as here:
        await here.go("subject")
        await here.press("enter", "koi", "down", "enter")
        assert here.stage.subject.kind in ("group", "system")
        assert here.stage.subject.label in here.row("subject")


async def test_a_note_may_hold_every_letter(file: Path, made: Small) -> None:
    text = string.ascii_lowercase + " " + string.ascii_uppercase + " ?.,[b]"
    async with opened(file, made.visit, "Watching") as here:
        await here.go("sign smell")
        await here.press("enter", "w")
        await here.press("p", text, "enter", "f")
        (row,) = here.app.desk.look(read.find, Sign)
        assert (row.sign, row.state, row.note) == ("smell", "problem", text)
        await here.go("sign smell")
        assert text in here.detail()
        await here.press("r")
        await here.press("wrong pond", "enter", "f")
        assert signs(here) == []


async def test_every_row_and_letter_fits_at_80_columns(file: Path, made: Small) -> None:
    async with opened(file, made.visit, "Watching") as here:
        await here.press("a")
        await here.press("escape", "f")
        for _ in here.stage.watched.subjects:
            here.all_fit()
            await here.press("l")


async def test_left_at_any_moment_nothing_is_lost(file: Path, made: Small) -> None:
    async with opened(file, made.visit, "Watching") as here:
        await here.go("sign air")
        await here.press("enter", "p", "escape")
        await here.go("number breaths")
        await here.press("7", "escape", "right")
        await here.press("left")
        assert "7 ?" in here.row("number breaths")
        assert here.row("sign air").split()[-2:] == ["problem", "saved"]


async def test_signed_watching_shows_all_and_refuses_each_change(
    file: Path, made: Small, seconds: Clock
) -> None:
    desk = Desk(file)
    act = Act(made.vet, clock.now())

    def close() -> None:
        water = watching.view(made.visit, made.system).subjects[0]
        watching.record_sign(act, made.visit, made.system, water, "air", "problem")
        with edit("sign", who=act.by, at=act.at, visit=made.visit) as doing:
            doing.change(Visit, made.visit, signed_at=act.at, state="signed")

    desk.save(close).result(timeout=30)
    desk.close()
    async with opened(file, made.visit, "Watching") as here:
        assert "problem" in here.row("sign air")
        await here.go("sign air")
        await here.press("enter", "o")
        assert "is kept as a proposed addendum" in here.form.row.state.error
        await here.press("escape", " ")
        await tap(here, seconds, 3, 1.0)
        await here.press("enter")
        await here.go("sign air")
        await here.press("r")
        await here.press("no", "enter", "f")
        await here.press("escape")
        told = " ".join(n.message for n in here.app._notifications)
        assert "This visit was signed at" in told
        assert signs(here) == [("system", "air", "problem")]
