"""The keys: one meaning each, on every screen, all of them plain, all of them in sight."""

from __future__ import annotations

import re
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path
from pkgutil import walk_packages

import pytest
from textual.binding import Binding
from textual.dom import DOMNode
from textual.pilot import Pilot
from textual.widgets import Static

import tui
from core import clock
from core.practice.desk import Desk
from core.practice.who import people, practice
from tests.snapshots import clinic
from tests.tui.form_app import presses
from tui.app import FinroundsApp
from tui.keys import EVERYWHERE, IN_PLACE
from tui.widgets.foot import Foot
from tui.widgets.form import Form
from tui.workup.screen import WorkupScreen
from tui.workup.stages import BUILT

MEANINGS = {
    "back, leave": {"back"},
    "add something new": {"add"},
    "enter: into it": {"open"},
    "nobody could get to the fish": {"no_access"},
    "cancel": {"cancel"},
    "move": {"move"},
    "the one before": {"earlier", "previous_stage"},
    "the one after": {"later", "next_stage"},
    "today": {"today"},
    "show what stands behind it": {"working", "as_text"},
    "as last time": {"last"},
    "normal": {"normal"},
    "to a place, a fish, a line": {"place", "look_up"},
    "unit of the kit": {"basis"},
    "this is finished": {"finish", "seen_to", "close"},
    "pass over": {"pass_over"},
    "strike": {"strike"},
    "the other: water, vet": {"other_water", "other_vet"},
    "tap": {"tap"},
    "yes to what is offered": {"true", "take_all", "switch_on"},
    "the list beside this": {"list", "other_list"},
    "clock": {"clock"},
    "a paper": {"print", "copy"},
    "sign": {"sign"},
    "money taken": {"pay"},
    "issue the invoice": {"invoice"},
    "given into hands": {"give", "hand_over"},
    "call": {"log_call"},
    "Day": {"day"},
    "Bookings": {"bookings"},
    "Paperwork": {"paperwork"},
    "find": {"find"},
    "help": {"help"},
    "quit": {"quit"},
    "take back": {"undo"},
    "do again": {"redo"},
    "what changed": {"changed"},
    "lock": {"lock"},
    "the practice": {"practice"},
}
"""What each key means: names of the table that share a key are kinds of one meaning."""
HELD = re.compile(r"f\d+|.*(ctrl|alt|shift|super|meta|hyper)\+.*")
CLOSES = {"Panel": {"w", "question_mark", "enter"}, "StageList": {"s"}, "Papers": {"g"}}
CLOSES["ClockScreen"] = {"i"}
CLOSES["ChangedScreen"] = {"semicolon"}
"""A panel is closed by the key that opened it, too."""
PLAIN = {"escape", "backspace", "up", "down", "enter"}
BY_ITSELF = {"ClockScreen": set("0123456789"), "BreathCounter": {"space", "enter"}}
BY_ITSELF["ChangedScreen"] = {"pageup", "pagedown", "home", "end", "space"}
"""Keys of a single panel: a digit marks the numbered event, 0 the air; a tap counts a breath."""


def every_class() -> Iterator[type[DOMNode]]:
    """Give every class of the app that binds keys itself."""
    for found in walk_packages(tui.__path__, "tui."):
        module = import_module(found.name)
        for kind in vars(module).values():
            own = isinstance(kind, type) and kind.__module__ == found.name
            if own and issubclass(kind, DOMNode) and "BINDINGS" in vars(kind):
                yield kind


def bindings_of(kind: type[DOMNode]) -> Iterator[Binding]:
    for binding in vars(kind)["BINDINGS"]:
        assert isinstance(binding, Binding), f"{kind.__name__}: {binding}"
        yield from Binding.make_bindings([binding])


BOUND = [(kind, binding) for kind in every_class() for binding in bindings_of(kind)]


def key_of(name: str) -> str:
    return (EVERYWHERE.get(name) or IN_PLACE[name])[0]


def test_every_screen_takes_its_keys_from_the_one_table() -> None:
    assert len(BOUND) > 100
    for kind, binding in BOUND:
        where = f"{kind.__name__}: {binding.key} {binding.action}"
        if binding.id is None:
            allowed = PLAIN | CLOSES.get(kind.__name__, set()) | BY_ITSELF.get(kind.__name__, set())
            assert binding.key in allowed, where
        else:
            assert binding.key in key_of(binding.id).split(","), where


def test_a_key_means_one_thing() -> None:
    named = [*EVERYWHERE, *IN_PLACE]
    assert sorted(named) == sorted(name for names in MEANINGS.values() for name in names)
    keys = {meaning: {key_of(name) for name in names} for meaning, names in MEANINGS.items()}
    for meaning, found in keys.items():
        assert len(found) == 1, f"{meaning} has {found}"
    single = [key for found in keys.values() for whole in found for key in whole.split(",")]
    assert len(single) == len(set(single)), sorted(single)


def test_every_named_key_is_used_somewhere() -> None:
    used = {binding.id for _, binding in BOUND}
    assert {*EVERYWHERE, *IN_PLACE} - used == set()


def test_what_works_everywhere_is_nothing_else_anywhere() -> None:
    reserved = {k for name in EVERYWHERE if name != "back" for k in key_of(name).split(",")}
    for kind, binding in BOUND:
        if binding.key in reserved and kind is not FinroundsApp:
            assert binding.key in CLOSES.get(kind.__name__, set()), f"{kind.__name__} {binding}"


def test_no_key_is_held_and_none_has_a_number_of_its_own() -> None:
    for kind, binding in BOUND:
        assert not HELD.fullmatch(binding.key), f"{kind.__name__}: {binding.key}"
        assert binding.key in LETTERS or len(binding.key) == 1, binding.key


LETTERS = {
    *PLAIN,
    *("left", "right", "space", "equals_sign", "slash", "question_mark"),
    *("minus", "plus", "semicolon", "exclamation_mark", "asterisk"),
    *("pageup", "pagedown", "home", "end"),
}


async def settle(pilot: Pilot[None]) -> None:
    await pilot.pause(0)
    await pilot.app.workers.wait_for_complete()
    await pilot.pause()


class Walk:
    """Goes through the app by keys and looks at each screen's keys."""

    def __init__(self, pilot: Pilot[None]) -> None:
        self.pilot = pilot
        self.seen: list[str] = []

    async def press(self, *pressed: str) -> None:
        for event in presses(*pressed):
            self.pilot.app.post_message(event)
        await settle(self.pilot)

    async def look(self, what: str) -> None:
        """Check the line of keys and what is bound at this moment."""
        self.seen.append(what)
        screen = self.pilot.app.screen
        foot = screen.query_one(Foot)
        line = str(foot.render())
        assert foot.region.height == 1, what
        assert len(line) <= 80, f"{what}: {line}"
        assert "…" not in line, f"{what}: {line}"
        if foot._is_typing(screen):
            assert "esc" in line.lower()
            return
        left_out = [
            binding.description
            for _, binding, enabled, _ in screen.active_bindings.values()
            if binding.show and enabled and binding.description not in line
        ]
        # Help says all of them, so it is the one that must stand there, with the way out.
        assert not {"Help", "Back", "Leave", "Close"} & set(left_out), f"{what}: {line}"
        assert set(left_out) <= {"Quit", "Stages"}, f"{what}: no room for {left_out} in {line}"
        for key, (node, binding, _, _) in screen.active_bindings.items():
            ours = type(node).__module__.startswith("tui.")
            assert not (ours and binding.id and HELD.fullmatch(key)), f"{what}: {key}"

    async def panel(self, key: str, what: str) -> None:
        """Open something with a key, look at it, and leave it with Esc."""
        depth = len(self.pilot.app.screen_stack)
        await self.press(key)
        assert len(self.pilot.app.screen_stack) == depth + 1, f"{key} opens no {what}"
        await self.look(f"{what}, opened")
        screen = self.pilot.app.screen
        if any(form.typing for form in screen.query(Form)):
            await self.press("escape")
            await self.look(what)
        await self.press("escape")
        assert len(self.pilot.app.screen_stack) == depth, f"Esc does not leave {what}"


async def test_every_screen_is_reached_by_keys_and_shows_its_keys_in_one_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(clock, "now", lambda: clinic.NOW)
    clinic.build(tmp_path)
    desk = Desk(tmp_path / "practice.db")
    found = desk.look(practice)
    assert found is not None
    vet = next(p for p in desk.look(people) if p.name == "Vera Moss")
    try:
        app = FinroundsApp(desk, found, vet)
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            walk = Walk(pilot)
            await desks(walk)
            await workup(walk)
            print(f"{len(walk.seen)} screens: {', '.join(walk.seen)}")
            assert len(walk.seen) > 35
    finally:
        desk.close()


async def desks(walk: Walk) -> None:
    await walk.look("Day")
    await walk.panel("/", "find")
    await walk.panel(";", "what changed")
    for key, what in (("?", "help"), ("a", "a visit"), ("x", "no access"), ("c", "cancel")):
        await walk.panel(key, what)
    await walk.panel("m", "move")
    await walk.press("b")
    await walk.look("Bookings, rechecks")
    for key, what in (("k", "a call"), ("f", "close"), ("a", "a booking")):
        await walk.panel(key, what)
    await walk.press("s")
    await walk.look("Bookings, diary")
    await walk.panel("enter", "a day of the book")
    await walk.press("p")
    await walk.look("Paperwork, open")
    await walk.panel("w", "the day as text")
    await walk.press("s")
    await walk.look("Paperwork, papers")
    await walk.press("d")


async def workup(walk: Walk) -> None:
    """Every stage of the first visit, by the arrow, then its panels."""
    await walk.press("enter")
    screen = walk.pilot.app.screen
    assert isinstance(screen, WorkupScreen)
    await walk.press(*["left"] * 12)
    for number, name in enumerate(BUILT):
        if number:
            await walk.press("right")
        assert screen.stage_name == name
        assert name.upper()[:2] in str(screen.query_one("#stages", Static).render())
        await walk.look(name)
        await walk.panel("w", f"{name}, working")
        if screen.query_one(Form).field.kind != "act":
            await walk.press("enter")
            await walk.look(f"{name}, typing")
            await walk.press("escape")
    # The last stage is done by signing alone; the one before it may be passed over.
    await walk.press("left")
    for key, what in (("s", "the stages"), ("g", "the papers"), ("?", "help"), ("o", "pass over")):
        await walk.panel(key, what)
    await walk.press("escape")
    assert not isinstance(walk.pilot.app.screen, WorkupScreen)
