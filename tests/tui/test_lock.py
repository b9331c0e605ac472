"""The lock, by keys: it covers everything, keeps everything, and lets in who knows the PIN."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import timedelta
from pathlib import Path

import pytest
from textual import events
from textual.pilot import Pilot
from textual.widgets import Static

from core import clock
from core.practice import access, in_hand, in_hand_clock
from core.practice.desk import Desk
from core.practice.keep import Act
from core.practice.who import Worker, people, practice
from core.records import read
from core.records.engine import query
from core.records.tables import AccessMark, Reading, Visit
from tests.pins import OTHER, PIN, cheap
from tests.small import Small, build
from tests.tui.form_app import presses
from tui.app import FinroundsApp
from tui.lock.new_pin import NewPin
from tui.lock.pin_screen import LockScreen
from tui.practice.screen import PracticeScreen
from tui.start.app import StartingApp
from tui.widgets.dialog import FormDialog
from tui.widgets.form import Form
from tui.widgets.panel import Panel
from tui.workup.screen import WorkupScreen

__all__ = ["cheap"]
SECRET_WORDS = ("Clara", "Invented Lane", "koi", "555")


class Quiet(FinroundsApp):
    """The app without what it loads for later."""

    def warm(self) -> None:  # type: ignore[override]
        """Load nothing."""


class QuietStart(StartingApp):
    """The same from the door."""

    def warm(self) -> None:  # type: ignore[override]
        """Load nothing."""


class Shop:
    """The app of a practice in which the veterinarian has a PIN, and the technician another."""

    def __init__(self, app: FinroundsApp, pilot: Pilot[None], made: Small, codes: list[str]):
        self.app, self.pilot, self.made, self.codes = app, pilot, made, codes

    async def press(self, *keys: str) -> None:
        for key in keys:
            held = key.startswith("ctrl+")
            for event in [events.Key(key, None)] if held else presses(key):
                self.app.post_message(event)
        await self.settle()

    async def settle(self) -> None:
        await self.pilot.pause()
        await self.app.workers.wait_for_complete()
        await self.pilot.pause()
        await self.pilot.pause()

    async def type(self, text: str) -> None:
        await self.press(*(" ".join(text).replace("-", "-").split()), "enter")

    def painted(self) -> str:
        """Return every letter that the terminal shows."""
        strips = self.app.screen._compositor.render_strips()
        return "\n".join(strip.text for strip in strips)

    def said(self) -> str:
        return str(self.app.screen.query_one("#asking-said", Static).content)

    def told(self) -> list[str]:
        return [n.message for n in self.app._notifications]

    @property
    def shut(self) -> bool:
        return isinstance(self.app.screen, LockScreen)


@asynccontextmanager
async def shop(file: Path, *, pins: bool = True) -> AsyncIterator[Shop]:
    made, codes = build(file), []
    desk = Desk(file)
    try:
        if pins:
            for person, pin in ((made.vet, PIN), (made.technician, OTHER)):
                act = Act(person, clock.now())
                codes.append(desk.save(access.set_pin, act, person, pin).result(timeout=30))
        house = desk.look(practice)
        assert house is not None
        app = Quiet(desk, house, desk.look(people)[0])
        async with app.run_test(size=(80, 24)) as pilot:
            here = Shop(app, pilot, made, codes)
            await here.settle()
            yield here
    finally:
        desk.close()


async def test_the_key_covers_everything_and_the_pin_opens_it(tmp_path: Path) -> None:
    async with shop(tmp_path / "p.db") as here:
        assert "Clara Test" in here.painted()
        await here.press("!")
        assert here.shut
        painted = here.painted()
        assert "Vera Test is at work" in painted
        assert not [word for word in SECRET_WORDS if word in painted]
        await here.type("9999")
        assert here.shut
        assert "not the PIN" in here.said()
        await here.type(PIN)
        assert not here.shut
        assert "Clara Test" in here.painted()
        assert PIN not in painted


async def test_no_key_reaches_what_lies_below(tmp_path: Path) -> None:
    async with shop(tmp_path / "p.db") as here:
        before = here.app.desk.look(read.find, Visit)
        screens = len(here.app.screen_stack)
        await here.press("!")
        for key in ("p", "b", "q", "?", "/", "x", "a", "escape", "backspace"):
            await here.press(key)
            assert here.shut, key
        for key in ("ctrl+p", "tab", "down", "up", "!", "*", "-", "+"):
            await here.press(key)
            assert here.shut, key
        await here.press("ctrl+u")
        await here.type(PIN)
        assert len(here.app.screen_stack) == screens
        assert here.app.current_mode == "day"
        assert here.app.desk.look(read.find, Visit) == before


async def test_keys_typed_at_once_after_the_lock_are_the_pin(tmp_path: Path) -> None:
    async with shop(tmp_path / "p.db") as here:
        await here.app.push_screen(WorkupScreen(here.made.visit, "Water"))
        await here.settle()
        await here.press("!", *PIN, "enter")
        assert not here.shut
        assert here.app.screen.query_one(Form).drafts() == {}
        assert here.app.desk.look(read.find, Reading) == ()


async def test_what_is_half_typed_is_kept_in_a_row_and_in_a_dialog(tmp_path: Path) -> None:
    async with shop(tmp_path / "p.db") as here:
        await here.app.push_screen(WorkupScreen(here.made.visit, "Water"))
        await here.settle()
        await here.press("down", "2", "1")
        form = here.app.screen.query_one(Form)
        make_idle(here)
        await here.settle()
        assert here.shut
        await here.type(PIN)
        assert form.typing
        await here.press(".", "5", "enter")
        (row,) = here.app.desk.look(read.find, Reading)
        assert row.value == 21.5


def make_idle(here: Shop, minutes: float = 11) -> None:
    """Let so many minutes pass without a key, and the app notice."""
    here.app._touched = clock.now() - timedelta(minutes=minutes)
    here.app.look_idle()


async def test_a_dialog_stands_as_it_was(tmp_path: Path) -> None:
    async with shop(tmp_path / "p.db") as here:
        await here.press("x")
        dialog = here.app.screen
        assert isinstance(dialog, FormDialog)
        await here.press(*"gate")
        make_idle(here)
        await here.settle()
        assert here.shut
        await here.type(PIN)
        assert here.app.screen is dialog
        await here.press("way")
        assert here.app.screen.query_one(Form).drafts() == {"why": "gateway"}


async def test_it_locks_when_idle_and_not_before(tmp_path: Path) -> None:
    async with shop(tmp_path / "p.db") as here:
        make_idle(here, 9)
        await here.settle()
        assert not here.shut
        make_idle(here, 11)
        await here.settle()
        assert here.shut


async def test_the_first_key_after_a_long_sleep_locks_and_does_nothing_else(
    tmp_path: Path,
) -> None:
    async with shop(tmp_path / "p.db") as here:
        make_idle(here, 2)
        await here.settle()
        here.app._touched = clock.now() - timedelta(hours=8)
        await here.press("p")
        assert here.shut
        assert here.app.current_mode == "day"


async def test_without_a_pin_it_does_not_lock_and_says_how(tmp_path: Path) -> None:
    async with shop(tmp_path / "p.db", pins=False) as here:
        await here.press("!")
        assert not here.shut
        assert "no PIN yet" in here.told()[0]
        make_idle(here, 600)
        await here.settle()
        assert not here.shut


async def test_another_person_takes_over_and_their_name_is_at_work(tmp_path: Path) -> None:
    async with shop(tmp_path / "p.db") as here:
        await here.app.push_screen(WorkupScreen(here.made.visit, "Water"))
        await here.settle()
        await here.press("!", "down", "down")
        assert "> Tim Test takes over" in here.painted()
        await here.type(PIN)
        assert here.shut, "the PIN of another does not do"
        await here.type(OTHER)
        assert not here.shut
        assert here.app.worker.name == "Tim Test"
        assert "Tim Test is at work now, as technician." in here.told()
        await here.press("down", "2", "1", "enter")
        assert here.app.desk.look(last_edit) == here.made.technician


def last_edit() -> str:
    """Return who made the last edit."""
    return str(query('SELECT "who" FROM "edit" ORDER BY "clock" DESC LIMIT 1')[0][0])


async def test_a_forgotten_pin_is_set_anew_with_the_code(tmp_path: Path) -> None:
    async with shop(tmp_path / "p.db") as here:
        await here.press("!", "down")
        await here.type("AAAAA-AAAAA")
        assert "not the recovery code" in here.said()
        await here.type(here.codes[0].lower())
        asked = here.app.screen
        assert isinstance(asked, NewPin)
        await here.type("newpin1")
        await here.type("newpin2")
        assert "not the same" in here.said()
        await here.type("newpin1")
        await here.type("newpin1")
        code = asked.code
        assert code in here.painted()
        await here.press("enter", "escape")
        assert isinstance(here.app.screen, NewPin), "it is not left before it is written down"
        await here.type(code[-5:])
        assert not here.app.locked
        await here.press("!")
        await here.type(PIN)
        assert here.shut
        await here.type("newpin1")
        assert not here.shut
        marks = [m.what for m in here.app.desk.look(read.find, AccessMark, person=here.made.vet)]
        assert marks == [access.SET, access.RECOVERED]


async def test_clocks_of_anaesthesia_run_on_without_a_name(tmp_path: Path) -> None:
    async with shop(tmp_path / "p.db") as here:
        act = Act(here.made.vet, clock.now() - timedelta(minutes=4, seconds=5))
        save, made = here.app.desk.save, here.made
        fish = save(in_hand.add_fish, act, made.visit, made.system, "Clara", 1, made.group)
        key = fish.result(timeout=30)
        save(in_hand_clock.mark, act, key, in_hand_clock.INTO).result(timeout=30)
        deepest = in_hand_clock.event_of(in_hand_clock.scale("depth")[-1])
        save(in_hand_clock.mark, act, key, deepest).result(timeout=30)
        await here.press("!")
        painted = here.painted()
        assert "A fish is in the bath: 04:0" in painted
        assert in_hand_clock.scale("depth")[-1].signs.split()[0] in painted
        assert not [word for word in SECRET_WORDS if word in painted]


async def test_what_was_on_its_way_waits_below_the_lock(tmp_path: Path) -> None:
    async with shop(tmp_path / "p.db") as here:
        await here.press("x")
        dialog = here.app.screen
        await here.press("!")
        assert not here.shut, "while typing it is a sign like any other"
        await here.press("escape", "!")
        assert here.shut
        await here.app.push_screen(Panel("Clara Test", "555 0100"))
        await here.settle()
        assert here.shut
        assert "Clara" not in here.painted()
        here.app.notify("Clara Test is saved.")
        await here.settle()
        assert here.told() == []
        await here.type(PIN)
        assert isinstance(here.app.screen, Panel)
        assert here.told() == ["Clara Test is saved."]
        await here.press("escape")
        assert here.app.screen is dialog


async def test_a_dialog_that_ends_while_it_is_locked_does_not_open_the_lock(
    tmp_path: Path,
) -> None:
    async with shop(tmp_path / "p.db") as here:
        await here.press("x")
        await here.press("escape")
        dialog = here.app.screen
        assert isinstance(dialog, FormDialog)
        await here.press("!")
        dialog.dismiss(False)
        await here.settle()
        assert here.shut
        await here.type(PIN)
        assert here.app.screen is not dialog
        assert "Clara Test" in here.painted()


async def test_the_pin_is_asked_before_somebody_is_at_work(tmp_path: Path) -> None:
    file = tmp_path / "p.db"
    made = build(file)
    desk = Desk(file)
    act = Act(made.vet, clock.now())
    desk.save(access.set_pin, act, made.vet, PIN).result(timeout=30)
    try:
        app = QuietStart(desk, desk.look(practice), desk.look(people))
        async with app.run_test(size=(80, 24)) as pilot:
            here = Shop(app, pilot, made, [])
            await here.settle()
            await here.press("a")
            assert app.worker.id == ""
            await here.type("9999")
            assert "4 more" in here.said()
            await here.press("escape")
            assert "Who is at work?" in here.painted()
            await here.press("a")
            await here.type(PIN)
            assert app.worker.name == "Vera Test"
            assert "Clara Test" in here.painted()
    finally:
        desk.close()


@pytest.mark.parametrize("key", ["escape", "pin"])
async def test_a_name_given_on_the_command_line_is_asked_for_its_pin(
    tmp_path: Path, key: str
) -> None:
    file = tmp_path / "p.db"
    made = build(file)
    desk = Desk(file)
    desk.save(access.set_pin, Act(made.vet, clock.now()), made.vet, PIN).result(timeout=30)
    try:
        app = QuietStart(desk, desk.look(practice), (Worker(made.vet, "Vera Test", "x"),))
        async with app.run_test(size=(80, 24)) as pilot:
            here = Shop(app, pilot, made, [])
            await here.settle()
            assert "Vera Test has a PIN" in here.painted()
            if key == "escape":
                await here.press("escape")
                assert app.return_code == 0
            else:
                await here.type(PIN)
                assert app.current_mode == "day"
    finally:
        desk.close()


async def test_the_lock_covers_a_recovery_code_that_was_left_standing(tmp_path: Path) -> None:
    async with shop(tmp_path / "p.db") as here:
        await here.press("*")
        await here.press("enter")
        assert isinstance(here.app.screen, NewPin)
        await here.type(PIN)
        await here.type("third33")
        await here.type("third33")
        shown = here.app.screen
        assert isinstance(shown, NewPin)
        make_idle(here)
        await here.settle()
        assert here.shut
        assert shown.code not in here.painted()
        await here.type("third33")
        assert here.app.screen is shown
        await here.type(shown.code[-5:])
        assert isinstance(here.app.screen, PracticeScreen)


async def test_the_lock_says_how_to_quit_and_the_key_does(tmp_path: Path) -> None:
    async with shop(tmp_path / "p.db") as here:
        await here.press("!")
        assert "Ctrl+Q quits" in here.painted()
        assert "Nobody else has a PIN" not in here.painted()
        await here.press("ctrl+q")
        assert here.app.return_code == 0


async def test_the_lock_says_when_nobody_else_can_open_it(tmp_path: Path) -> None:
    async with shop(tmp_path / "p.db", pins=False) as here:
        act = Act(here.made.vet, clock.now())
        here.app.desk.save(access.set_pin, act, here.made.vet, PIN).result(timeout=30)
        await here.press("!")
        assert "Nobody else has a PIN: others take over at the start" in here.painted()


async def test_who_has_no_pin_is_told_how_somebody_else_takes_over(tmp_path: Path) -> None:
    async with shop(tmp_path / "p.db", pins=False) as here:
        await here.press("!")
        assert "quit (q) and start as somebody else" in here.told()[0]
