"""With colours off everything is still told apart: a word or a mark stands for each state."""

from __future__ import annotations

import re
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

import pytest
from textual.pilot import Pilot

from core import clock
from core.practice.desk import Desk
from fixtures.demo.house import House
from tests.snapshots import clinic
from tests.snapshots.test_snapshots import SMALL, app_on, press, settle
from tests.snapshots.whole import lines_of
from tui.app import FinroundsApp
from tui.widgets.form import Form
from tui.workup.screen import WorkupScreen


@asynccontextmanager
async def colourless(
    folder: Path, patch: pytest.MonkeyPatch
) -> AsyncIterator[tuple[Pilot[None], House]]:
    patch.setenv("NO_COLOR", "1")
    patch.setattr(clock, "now", lambda: clinic.NOW)
    house = clinic.build(folder)
    desk = Desk(folder / "practice.db")
    try:
        app = app_on(desk)
        async with app.run_test(size=SMALL) as pilot:
            await settle(pilot)
            yield pilot, house
    finally:
        desk.close()


def grey(app: FinroundsApp) -> bool:
    """Whether no colour is left on the screen."""
    colours = [
        colour.triplet
        for strip in app.screen._compositor.render_strips()
        for segment in strip
        if segment.style
        for colour in (segment.style.color, segment.style.bgcolor)
        if colour is not None and colour.triplet is not None
    ]
    return all(c.red == c.green == c.blue for c in colours)


def current(lines: list[str]) -> list[str]:
    return [line for line in lines if line.startswith("> ")]


async def test_the_day(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    async with colourless(tmp_path, monkeypatch) as (pilot, _):
        app = pilot.app
        assert isinstance(app, FinroundsApp)
        await press(pilot, "e", "down")
        lines = lines_of(app)
        assert grey(app)
        [here] = current(lines)
        assert "Harbour School" in here
        states = ("Charges done", "Water begun", "not begun", "signed", "no access", "cancelled")
        for state in states:
            assert any(state in line for line in lines), state
        assert any(re.search(r"signed +paid$", line) for line in lines)
        assert any(re.match(r"  17:00 LAST", line) for line in lines)
        assert "DAY  b Bookings  p Paperwork" in lines[0]


async def test_a_form(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    async with colourless(tmp_path, monkeypatch) as (pilot, house):
        app = pilot.app
        assert isinstance(app, FinroundsApp)
        await app.push_screen(WorkupScreen(house.visits[clinic.MAIN], "Water"))
        await settle(pilot)
        assert " History+ Watch+ WATER+ In-hand+ " in lines_of(app)[1] + " "
        assert len(current(lines_of(app))) == 1
        form = app.screen.query_one("#form", Form)
        form.go([f.key for f in form.fields].index("ph"))
        await settle(pilot)
        assert row(app, "pH").startswith("> good ")
        assert row(app, "pH").endswith(" saved")
        assert row(app, "Ammonia").startswith("  watch ")
        for key, line in (("s", " > Water        done"), ("g", " > Care sheet")):
            await press(pilot, key)
            [here] = [x for x in lines_of(app) if " > " in x]
            assert line in here
            await press(pilot, "escape")
        await press(pilot, "enter", "9", "x")
        assert lines_of(app)[-1].startswith(" enter takes it"), "typing is said in words"
        await press(pilot, "enter")
        assert any("pH: " in line and "Allowed 0 to 14" in line for line in lines_of(app))
        await press(pilot, "escape", "down")
        assert re.search(r"pH +9x \?", row(app, "pH")), "not accepted: a question mark"
        assert not row(app, "pH").endswith("saved")
        assert grey(app)


def row(app: FinroundsApp, label: str) -> str:
    return next(line.rstrip(" ▁▂▃▄▅▆▇█▔") for line in lines_of(app) if label in line[9:26])


async def test_the_two_other_desks(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    async with colourless(tmp_path, monkeypatch) as (pilot, _):
        app = pilot.app
        assert isinstance(app, FinroundsApp)
        await press(pilot, "b")
        [here] = current(lines_of(app))
        assert here.startswith("> from 27 Nov")
        assert "BOOKINGS" in lines_of(app)[0]
        await press(pilot, "p", "f")
        [here] = current(lines_of(app))
        assert re.match(r"> unsigned +seen Ottoline Marsh", here)
        assert "PAPERWORK" in lines_of(app)[0]
        assert grey(app)
