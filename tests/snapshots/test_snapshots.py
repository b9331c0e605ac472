"""Each screen a person would recognise, at 80x24 and 120x40, whole and as it was looked at.

`pytest tests/snapshots --snapshot-update` takes the pictures anew; look at each before it is
kept.
"""

from __future__ import annotations

import re
import shutil
from collections.abc import Awaitable, Callable, Iterator
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import Digits

from core import clock
from core.practice.desk import Desk
from core.practice.paperwork import paper_text
from core.practice.who import people, practice
from fixtures.demo.house import House
from tests.snapshots import clinic
from tests.snapshots.whole import cut, lines_of
from tests.tui.form_app import presses
from tui.app import FinroundsApp
from tui.paperwork import words
from tui.start import app as starting
from tui.start.app import StartingApp
from tui.themes import NIGHT
from tui.widgets.form import Form
from tui.workup.screen import WorkupScreen
from tui.workup.stages import BUILT

HASH = re.compile(r"-[0-9a-f]{12}(?=\.pdf)")
"""In the name of a paper's file; it depends on ids, which are new with every building."""
SMALL, LARGE = (80, 24), (120, 40)
Compare = Callable[..., bool]


@dataclass(frozen=True)
class View:
    """A screen: where it begins, which keys lead to it, and words that must stand there."""

    keys: tuple[str, ...] = ()
    stage: str = ""
    row: str = ""
    says: tuple[str, ...] = ()


VIEWS = {
    "day": View(("e",), says=("Vera Moss", "09:00", "17:00", "LAST", "no access", "cancelled")),
    "add_visit": View(("a",), says=("Add a visit on Wed 25 Nov", "13:15", "Client")),
    "no_access": View(("x",), says=("No access: 09:00 Ottoline Marsh", "Why")),
    "history": View(stage="History", says=("HISTORY", "Ottoline Marsh", "000 L")),
    "watching": View(stage="Watching", says=("WATCH", "flash")),
    "water": View(stage="Water", row="ammonia", says=("WATER", "7.4", "19.5", "8.1", "0.30")),
    "in_hand": View(stage="In hand", says=("IN-HAND", "koi 1", "1150 g")),
    "biopsy": View(stage="Biopsy", says=("BIOPSY", "gill", "fluke")),
    "feeding": View(stage="Feeding", says=("FEEDING", "koi pellet", "84 g")),
    "assessment": View(stage="Assessment", says=("ASSESS", "fluke", "confirmed", "suspected")),
    "plan": View(stage="Plan", says=("PLAN", "praziquantel")),
    "charges": View(stage="Charges", says=("CHARGES", "50.00")),
    "sign": View(stage="Sign", says=("SIGN",)),
    "working": View(("w",), "Water", "ammonia", ("Working: Ammonia", "mg/L")),
    "field_error": View(
        ("enter", "ctrl+u", "74", "enter"), "Water", "ph", ("pH: 74 can not be.", "For example")
    ),
    "paper_list": View(("g",), "Sign", says=("Care sheet", "Invoice", "Visit record")),
    "rechecks": View(("b",), says=("BOOKINGS", "Ottoline Marsh", "from 27 Nov")),
    "diary": View(("b", "s"), says=("BOOKINGS", "Diary", "09:00")),
    "paperwork": View(("p",), says=("PAPERWORK", "unsigned", "Ottoline Marsh")),
    "papers": View(("p", "s"), says=("PAPERWORK", "invoice", "Nell Abara")),
    "find": View(("/", *"otoline"), says=("Find", "Ottoline Marsh", "Enter opens")),
    "help": View(("?",), says=("Keys here", "On this screen", "Everywhere")),
}


@pytest.fixture(scope="module")
def house(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, House]:
    """Give the fixed practice, made once."""
    folder = tmp_path_factory.mktemp("clinic")
    return folder, clinic.build(folder)


@pytest.fixture(autouse=True)
def _still(monkeypatch: pytest.MonkeyPatch) -> None:
    """Stop the clock, and stand in a place of our own."""
    monkeypatch.setattr(clock, "now", lambda: clinic.NOW)
    monkeypatch.setattr(starting, "local_zone", lambda: clinic.ZONE)
    monkeypatch.setattr(words, "paper_text", lambda paper: HASH.sub("", paper_text(paper)))


@pytest.fixture
def desk(house: tuple[Path, House]) -> Iterator[Desk]:
    made = Desk(house[0] / "practice.db")
    yield made
    made.close()


def app_on(desk: Desk) -> FinroundsApp:
    """Return the app with the first vet at work."""
    found = desk.look(practice)
    assert found is not None
    vet = next(p for p in desk.look(people) if p.name == "Vera Moss")
    return FinroundsApp(desk, found, vet)


async def settle(pilot: Pilot[None]) -> None:
    for _ in range(2):
        await pilot.pause(0)
        await pilot.app.workers.wait_for_complete()
    await pilot.pause()


async def press(pilot: Pilot[None], *keys: str) -> None:
    for key in keys:
        for event in presses(key):
            pilot.app.post_message(event)
        await settle(pilot)


def walk(view: View, visit: str, size: tuple[int, int]) -> Callable[[Pilot[None]], Awaitable[None]]:
    """Return what leads to a screen and looks at its words."""

    async def go(pilot: Pilot[None]) -> None:
        await settle(pilot)
        if view.stage:
            await pilot.app.push_screen(WorkupScreen(visit, view.stage))
            await settle(pilot)
        if view.row:
            form = pilot.app.screen.query_one("#form", Form)
            form.go([f.key for f in form.fields].index(view.row))
            await settle(pilot)
        await press(pilot, *view.keys)
        check(pilot, view.says, size)

    return go


def check(pilot: Pilot[None], says: tuple[str, ...], size: tuple[int, int]) -> None:
    """Everything that must be said is said, and nothing is cut."""
    app = pilot.app
    lines = lines_of(app)
    text = "\n".join(lines)
    assert not [word for word in says if word not in text], text
    assert len(lines) == size[1]
    assert max(map(len, lines)) <= size[0]
    assert not cut(app), "\n".join([*cut(app), text])


@pytest.mark.parametrize("size", [SMALL, LARGE], ids="%dx%d".__mod__)
@pytest.mark.parametrize("name", VIEWS)
def test_a_screen(
    name: str, size: tuple[int, int], desk: Desk, house: tuple[Path, House], snap_compare: Compare
) -> None:
    before = walk(VIEWS[name], house[1].visits[clinic.MAIN], size)
    assert snap_compare(app_on(desk), terminal_size=size, run_before=before)


@pytest.mark.parametrize("size", [SMALL, LARGE], ids="%dx%d".__mod__)
def test_the_clock_of_an_anaesthesia(
    house: tuple[Path, House],
    tmp_path: Path,
    size: tuple[int, int],
    monkeypatch: pytest.MonkeyPatch,
    snap_compare: Compare,
) -> None:
    """Large digits, every key with what it means, and the last marks: all of it legible."""
    own = tmp_path / "practice.db"
    shutil.copy(house[0] / own.name, own)
    desk = Desk(own)
    now = {"at": clinic.NOW}

    async def before(pilot: Pilot[None]) -> None:
        monkeypatch.setattr(clock, "now", lambda: now["at"])
        await pilot.app.push_screen(WorkupScreen(house[1].visits[clinic.MAIN], "In hand"))
        await settle(pilot)
        await press(pilot, "i", "1")
        now["at"] += timedelta(seconds=132)
        await press(pilot, "3", "0")
        now["at"] += timedelta(seconds=60)
        pilot.app.screen.paint_time()  # type: ignore[attr-defined]
        await settle(pilot)
        assert [d.value for d in pilot.app.screen.query(Digits) if d.value] == ["03:12", "01:00"]
        check(pilot, ("6 loss of all reflexes", "0 back in water", "02:12  deep sedation"), size)

    try:
        assert snap_compare(app_on(desk), terminal_size=size, run_before=before)
    finally:
        desk.close()


@pytest.mark.parametrize("size", [SMALL, LARGE], ids="%dx%d".__mod__)
def test_who_is_at_work(desk: Desk, size: tuple[int, int], snap_compare: Compare) -> None:
    app = StartingApp(desk, desk.look(practice), desk.look(people))

    async def before(pilot: Pilot[None]) -> None:
        await settle(pilot)
        check(pilot, ("Tern Lane Fish Practice", "Who is at work?", "Rae Holt, reception"), size)

    assert snap_compare(app, terminal_size=size, run_before=before)


@pytest.mark.parametrize("size", [SMALL, LARGE], ids="%dx%d".__mod__)
def test_the_first_start(tmp_path: Path, size: tuple[int, int], snap_compare: Compare) -> None:
    empty = Desk(tmp_path / "practice.db")

    async def before(pilot: Pilot[None]) -> None:
        await settle(pilot)
        await press(pilot, "escape")
        check(pilot, ("First start: your practice", "law of the place.", "Name"), size)

    try:
        app = StartingApp(empty, None, ())
        assert snap_compare(app, terminal_size=size, run_before=before)
    finally:
        empty.close()


@pytest.mark.parametrize("name", ["day", "water"])
def test_by_night(name: str, desk: Desk, house: tuple[Path, House], snap_compare: Compare) -> None:
    app = app_on(desk)
    app.theme = NIGHT.name
    before = walk(VIEWS[name], house[1].visits[clinic.MAIN], SMALL)
    assert snap_compare(app, terminal_size=SMALL, run_before=before)


def test_a_window_too_small_says_so(desk: Desk, snap_compare: Compare) -> None:
    async def before(pilot: Pilot[None]) -> None:
        await settle(pilot)
        assert "Window 60x20, made for 80x24." in lines_of(pilot.app)[0]
        assert "09:00" in "\n".join(lines_of(pilot.app))

    assert snap_compare(app_on(desk), terminal_size=(60, 20), run_before=before)


def test_every_stage_has_its_picture() -> None:
    assert set(BUILT) <= {view.stage for view in VIEWS.values()}
