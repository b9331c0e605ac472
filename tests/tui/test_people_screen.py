"""The screen of the practice, by keys: people, details, prices, settings, and who may not."""

from __future__ import annotations

from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from decimal import Decimal
from pathlib import Path

import pytest
from textual.widgets import Static

from core import clock
from core.practice import access, setup
from core.practice.desk import Desk
from core.practice.keep import Act
from core.practice.who import people as at_work
from core.practice.who import practice
from core.records import journal, read
from core.records.tables import Person, Practice, Price, Setting, TaxClass, Visit
from tests.pins import OTHER, PIN, cheap
from tests.small import build
from tests.tui.test_lock import Quiet, Shop
from tui import remembered
from tui.lock.new_pin import NewPin
from tui.practice.screen import PracticeScreen
from tui.themes import NIGHT, SUNLIGHT
from tui.widgets.form import Form

__all__ = ["cheap"]


def more() -> None:
    """Put in what a practice begins with, and somebody of each other role."""
    now = clock.now()
    act = Act("setup", now)
    with journal.edit("prices", who="setup", at=now) as doing:
        for row in setup.first_prices():
            doing.add(row)
        doing.add(TaxClass(id="tax", code="goods", name="goods", rate_percent=Decimal(7)))
    setup.add_person(act, "Rae Desk", "reception")
    setup.add_person(act, "Rory Reads", "read only")


@asynccontextmanager
async def opened(
    folder: Path, who: int = 0, more: Callable[[], None] = more
) -> AsyncIterator[Shop]:
    made = build(folder / "p.db")
    desk = Desk(folder / "p.db")
    try:
        desk.save(more).result(timeout=30)
        house = desk.look(practice)
        assert house is not None
        app = Quiet(desk, house, desk.look(at_work)[who])
        async with app.run_test(size=(80, 24)) as pilot:
            here = Shop(app, pilot, made, [])
            await here.settle()
            await here.press("*")
            assert isinstance(app.screen, PracticeScreen)
            yield here
    finally:
        desk.close()


def form(here: Shop) -> Form:
    return here.app.screen.query_one(Form)


def go(here: Shop, label: str) -> None:
    form(here).go([f.label for f in form(here).fields].index(label))


def row(here: Shop) -> str:
    """Return the current row as it is painted."""
    return form(here).row._text(80).plain


def find(here: Shop, name: str) -> Person:
    (found,) = here.app.desk.look(read.find, Person, name=name)
    return found


async def test_every_page_is_shown_whole_at_80_columns(tmp_path: Path) -> None:
    async with opened(tmp_path) as here:
        for page in ("PEOPLE", "DETAILS", "PRICES", "SETTINGS"):
            painted = here.painted()
            assert page in painted.splitlines()[1]
            for number, one in enumerate(form(here).rows):
                form(here).go(number)
                await here.pilot.pause()
                below = str(here.app.screen.query_one("#detail", Static).content)
                assert "…" not in one._text(80).plain or below
            await here.press("right")
        await here.press("right")
        assert "SETTINGS" in here.painted()


async def test_a_page_of_which_there_is_nothing_yet_says_so(tmp_path: Path) -> None:
    async with opened(tmp_path, more=lambda: None) as here:
        await here.press("right", "right")
        assert "PRICES" in here.painted().splitlines()[1]
        assert form(here).fields == []
        await here.press("down", "enter")
        assert "none of these yet" in here.painted()
        await here.press("right")
        assert "SETTINGS" in here.painted().splitlines()[1]


async def test_somebody_is_added_changed_and_leaves(tmp_path: Path) -> None:
    async with opened(tmp_path) as here:
        await here.press("a")
        await here.press("Nell New", "enter", "t")
        await here.press("escape")
        await here.press("f")
        assert find(here, "Nell New").role == "technician"
        go(here, "Nell New")
        await here.press("enter")
        await here.press("down", "enter", "v")
        await here.press("escape")
        await here.press("f")
        assert find(here, "Nell New").role == "veterinarian"
        assert "veterinarian" in row(here)
        go(here, "Nell New")
        await here.press("enter")
        form(here).go(3)
        await here.press("enter", "n")
        await here.press("f")
        assert not find(here, "Nell New").active, (here.told(), here.painted())
        assert "not at work here any more" in here.painted()


async def test_the_only_veterinarian_can_not_be_made_something_else(tmp_path: Path) -> None:
    async with opened(tmp_path) as here:
        go(here, "Vera Test")
        await here.press("enter")
        await here.press("down", "enter", "t")
        await here.press("escape")
        await here.press("f")
        assert "only veterinarian" in here.told()[0]
        assert find(here, "Vera Test").role == "veterinarian"


async def test_details_prices_and_settings_are_kept_as_typed(tmp_path: Path) -> None:
    async with opened(tmp_path) as here:
        await here.press("right")
        go(here, "Phone")
        await here.press("enter", "555 0777", "enter", "escape")
        go(here, "Time zone")
        await here.press("enter", "nowhere", "enter")
        assert "not a time zone" in row(here)
        await here.press("ctrl+u")
        await here.press("europe/lisbon", "enter", "escape")
        (house,) = here.app.desk.look(read.find, Practice)
        assert (house.phone, house.zone) == ("555 0777", "Europe/Lisbon")
        assert here.app.practice.zone == "Europe/Lisbon"
        await here.press("right")
        go(here, "Call-out")
        await here.press("61,50", "enter", "escape")
        (price,) = here.app.desk.look(read.find, Price, code="call_out")
        assert price.unit_minor == 6150
        await here.press("right")
        await here.press("7", "enter", "escape")
        go(here, "Years: visit record")
        await here.press("12", "enter", "escape")
        kept = {s.key: s.value for s in here.app.desk.look(read.find, Setting)}
        assert kept == {access.IDLE_KEY: "7", "keep_years.record": "12"}


async def test_what_is_half_typed_waits_on_its_page(tmp_path: Path) -> None:
    async with opened(tmp_path) as here:
        await here.press("right")
        await here.press("enter", "Half a na")
        await here.press("escape")
        await here.press("right")
        assert form(here).drafts() == {}
        await here.press("left")
        assert form(here).drafts() == {"name": "Half a na"}
        (house,) = here.app.desk.look(read.find, Practice)
        assert house.name == "Practice of the Tests"


@pytest.mark.parametrize("who", [1, 2, 3])
async def test_who_is_no_veterinarian_may_look_and_is_told(tmp_path: Path, who: int) -> None:
    async with opened(tmp_path, who) as here:
        name = here.app.worker.name
        await here.press("a")
        await here.press("Nell New", "enter", "v")
        await here.press("escape")
        await here.press("f")
        assert f"Only a veterinarian says who is at work and as what; {name}" in here.told()[0]
        await here.press("escape")
        await here.press("right")
        await here.press("enter", "Mine", "enter")
        assert "Only a veterinarian changes the details of the practice" in row(here)
        assert here.app.practice.name == "Practice of the Tests"


async def test_who_only_reads_is_answered_by_every_key_of_the_day(tmp_path: Path) -> None:
    async with opened(tmp_path, 3) as here:
        await here.press("escape")
        before = here.app.desk.look(read.find, Visit)
        await here.press("x")
        await here.press("gate", "enter")
        await here.press("f")
        assert "a visit; Rory Reads is at work as read only" in here.told()[0]
        assert here.app.desk.look(read.find, Visit) == before


async def test_the_own_pin_is_set_and_then_it_locks(tmp_path: Path) -> None:
    async with opened(tmp_path, 3) as here:
        assert "none" in row(here)
        await here.press("enter")
        await here.type("12")
        assert "4 to 12" in here.said()
        await here.type(PIN)
        await here.type(PIN)
        asked = here.app.screen
        assert isinstance(asked, NewPin)
        await here.type(asked.code[-5:])
        assert "set" in row(here)
        assert "PIN set, " in here.painted()
        await here.press("!")
        assert here.shut
        await here.type(PIN)
        assert isinstance(here.app.screen, PracticeScreen)


async def test_a_veterinarian_sets_a_forgotten_pin_anew(tmp_path: Path) -> None:
    async with opened(tmp_path) as here:
        save, made = here.app.desk.save, here.made
        for person in (made.vet, made.technician):
            save(access.set_pin, Act(person, clock.now()), person, PIN).result(timeout=30)
        await here.press("escape")
        await here.press("*")
        go(here, "Tim Test")
        await here.press("enter")
        form(here).go(4)
        await here.press("enter", "y")
        await here.press("f")
        asked = here.app.screen
        assert isinstance(asked, NewPin)
        assert "typed by Tim Test" in here.painted()
        await here.type(OTHER)
        await here.type(OTHER)
        await here.type(asked.code[-5:])
        act = Act(made.technician, clock.now())
        save(access.check, act, made.technician, OTHER).result(timeout=30)


async def test_the_theme_is_remembered(tmp_path: Path) -> None:
    async with opened(tmp_path) as here:
        assert here.app.theme == SUNLIGHT.name
        here.app.action_wear(NIGHT.name)
        again = Quiet(here.app.desk, here.app.practice, here.app.worker)
        assert again.theme == NIGHT.name
    (tmp_path / remembered.FILE).write_bytes(b"\xff\xfe nonsense")
    assert remembered.theme(tmp_path, "usual") == "usual"
