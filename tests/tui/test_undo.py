"""Taking back, doing again and *What changed*, by keys only."""

from __future__ import annotations

from pathlib import Path

from textual.widgets import Static

from core import clock
from core.practice.desk import Desk
from core.practice.door import edit
from core.practice.keep import Act
from core.records import read
from core.records.tables import Addendum, Reading, Visit
from tests.small import Small, build
from tests.tui.shell import app_on, book, rows, settle
from tests.tui.stage_app import Opened, opened
from tui.app import FinroundsApp
from tui.changed.screen import ChangedScreen

KEYS = {"-": "minus", "+": "plus", ";": "semicolon"}


async def press(here: Opened, *keys: str) -> None:
    """Press keys that a form in *moving* takes as commands."""
    for key in keys:
        await here.pilot.press(KEYS.get(key, key))
        await here.settle()


def readings(here: Opened) -> list[str]:
    return [r.typed for r in here.app.desk.look(read.find, Reading)]


def toast(app: FinroundsApp) -> str:
    """Return what is said beside the screen, with its title."""
    [one] = list(app._notifications)
    return f"{one.title}: {one.message}"


def story(app: FinroundsApp) -> str:
    assert isinstance(app.screen, ChangedScreen)
    head, body = (app.screen.query_one(f"#changed-{part}", Static) for part in ("title", "body"))
    return f"{head.render()}\n{body.render()}"


async def test_a_reading_is_gone_and_back_by_two_keys(tmp_path: Path) -> None:
    small = build(tmp_path / "practice.db")
    async with opened(tmp_path / "practice.db", small.visit, "Water") as here:
        await here.go("ph")
        await here.press("8.1", "enter", "escape")
        assert "8.1" in here.row("ph")
        await press(here, "-")
        assert toast(here.app) == "Taken back: pH here 8.1. + does it again."
        assert readings(here) == []
        assert "8.1" not in here.row("ph")
        assert here.form.typing is None or not here.form.typing
        await press(here, "+")
        assert toast(here.app) == "Done again: pH here 8.1. - takes it back."
        assert readings(here) == ["8.1"]
        assert "8.1" in here.row("ph")


async def test_a_correction_goes_back_to_what_stood(tmp_path: Path) -> None:
    small = build(tmp_path / "practice.db")
    async with opened(tmp_path / "practice.db", small.visit, "Water") as here:
        await here.go("ph")
        await here.press("8.1", "enter", "escape", "up", "7.9", "enter", "escape")
        await press(here, "-")
        assert toast(here.app) == "Taken back: pH here from 8.1 to 7.9. + does it again."
        assert readings(here) == ["8.1"]
        await press(here, "-", "-")
        assert readings(here) == []
        await press(here, "+", "+")
        assert readings(here) == ["7.9"]


async def test_it_works_after_a_restart_and_tells_whose_visit_it_was(tmp_path: Path) -> None:
    small = build(tmp_path / "practice.db")
    async with opened(tmp_path / "practice.db", small.visit, "Water") as here:
        await here.press("8.2", "enter", "escape")
    async with opened(tmp_path / "practice.db", small.visit, "History") as here:
        await here.pilot.press("escape")
        await here.settle()
        assert not isinstance(here.app.screen, ChangedScreen)
        await press(here, "-")
        assert toast(here.app) == "Taken back: Oxygen here 8.2 mg/L. + does it again."
        assert readings(here) == []
    async with opened(tmp_path / "practice.db", small.visit, "Water") as here:
        await press(here, "+")
        assert readings(here) == ["8.2"]


async def test_while_typing_the_signs_belong_to_the_field(tmp_path: Path) -> None:
    small = build(tmp_path / "practice.db")
    async with opened(tmp_path / "practice.db", small.visit, "Water") as here:
        await here.press("8.2", "enter")
        await press(here, "-", "1", ";", "+")
        assert here.form.typing
        assert here.form.row.state.draft == "-1;+"
        assert readings(here) == ["8.2"]


async def test_a_signed_visit_says_its_sentence(tmp_path: Path) -> None:
    small = build(tmp_path / "practice.db")
    async with opened(tmp_path / "practice.db", small.visit, "Water") as here:
        await here.press("8.2", "enter", "escape")

        def close() -> None:
            act = Act(small.vet, clock.now())
            with edit("sign", who=act.by, at=act.at, visit=small.visit) as doing:
                doing.change(Visit, small.visit, signed_at=act.at, state="signed")

        await here.app.save(close)
        await press(here, "-")
        said = toast(here.app)
        assert said.startswith("Not taken back: This visit is signed")
        assert said.endswith("Write an addendum.")
        assert readings(here) == ["8.2"]
        assert here.app.desk.look(read.find, Addendum) == ()


async def test_nothing_done_yet_is_said(tmp_path: Path) -> None:
    with app_on(tmp_path) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            await pilot.press("minus")
            await settle(pilot)
            assert "nothing yet that could be taken back" in toast(app)
            await pilot.press("plus")
            await settle(pilot)
            assert "nothing to do again" in toast(app)


async def test_on_the_day_list_a_booking_is_taken_back_and_the_story_told(tmp_path: Path) -> None:
    def more(act: Act, small: Small) -> None:
        book(act, small.vet, "Olga Other", "15:00", "gasping")

    with app_on(tmp_path, more) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            assert len(rows(app)) == 2
            await pilot.press("minus")
            await settle(pilot)
            assert "booked Olga Other for " in toast(app)
            assert len(rows(app)) == 1
            await pilot.press("plus")
            await settle(pilot)
            assert len(rows(app)) == 2
            await pilot.press("end", "semicolon")
            await settle(pilot)
            told = story(app)
            assert told.startswith("What changed: Olga Other, visit of ")
            assert told.index("did again: booked") < told.index("took back: booked")
            assert "Vera Test" in told
            await pilot.press("s")
            await settle(pilot)
            assert "Olga Other, everything" in story(app)
            assert "new client Olga Other" in story(app)
            await pilot.press("semicolon")
            await settle(pilot)
            assert len(rows(app)) == 2


async def test_a_long_story_is_told_page_by_page(tmp_path: Path) -> None:
    small = build(tmp_path / "practice.db")

    def many() -> None:
        for number in range(205):
            act = Act(small.vet, clock.now())
            with edit("note", who=act.by, at=act.at, visit=small.visit) as doing:
                doing.change(Visit, small.visit, advice=f"advice {number}")

    desk = Desk(tmp_path / "practice.db")
    desk.save(many).result(timeout=30)
    desk.close()
    async with opened(tmp_path / "practice.db", small.visit, "Water") as here:
        await press(here, ";")
        assert "advice 204" in story(here.app)
        assert "booked Clara Test" not in story(here.app)
        await press(here, "left")
        assert ", page 2" in story(here.app)
        assert "booked Clara Test" in story(here.app)
        await press(here, "right", "end", "home", "pagedown", "escape")
        assert not isinstance(here.app.screen, ChangedScreen)
