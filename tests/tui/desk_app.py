"""The app on a small practice in a file of its own, for the tests of the two desks."""

from __future__ import annotations

from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from datetime import date
from pathlib import Path

from textual.pilot import Pilot
from textual.widgets import Static

from core import clock
from core.practice.desk import Desk
from core.practice.keep import Act
from core.practice.who import people, practice
from tests.small import ZONE, Small, fill
from tui.app import FinroundsApp
from tui.widgets.lines import Lines

Plant = Callable[[Small, Act, date], None]


@asynccontextmanager
async def at_desk(
    folder: Path, desk_key: str, plant: Plant
) -> AsyncIterator[tuple[Pilot[None], FinroundsApp]]:
    """Open the app at a desk of a small practice in which more was planted."""
    desk = Desk(folder / "practice.db")

    def make() -> None:
        today = clock.today(ZONE)
        small = fill(Act("setup", clock.now()), today)
        plant(small, Act(small.vet, clock.now()), today)

    try:
        desk.save(make).result(timeout=30)
        house = desk.look(practice)
        assert house is not None
        app = FinroundsApp(desk, house, desk.look(people)[0])
        async with app.run_test(size=(80, 24)) as pilot:
            await app.workers.wait_for_complete()
            await press(pilot, desk_key)
            yield pilot, app
    finally:
        desk.close()


async def press(pilot: Pilot[None], *keys: str) -> None:
    """Press keys one after another, each when the one before has been done."""
    for key in keys:
        await pilot.press(key)
        await pilot.app.workers.wait_for_complete()
        await pilot.pause()


async def write(pilot: Pilot[None], text: str) -> None:
    """Type a text and accept it."""
    names = {" ": "space", ".": "full_stop", "-": "minus", ":": "colon", "+": "plus"}
    await pilot.press(*(names.get(letter, letter) for letter in text))
    await press(pilot, "enter")


def rows(app: FinroundsApp, which: str) -> list[str]:
    """Return the lines of a list as they stand."""
    found = app.screen.query_one(f"#{which}", Lines)
    return found.painted()


def said(app: FinroundsApp, which: str) -> str:
    """Return what a part of the screen says."""
    return str(app.screen.query_one(f"#{which}", Static).render())
