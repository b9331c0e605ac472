"""What the tests of the shell share: the app on records of their own, and what it shows."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from textual.pilot import Pilot
from textual.widgets import Static

from core import clock
from core.practice import setup, visits
from core.practice.desk import Desk
from core.practice.keep import Act
from core.practice.who import people, practice
from core.records import read
from core.records.tables import Visit
from tests.small import ZONE, Small, build
from tui.app import FinroundsApp

Fill = Callable[[Act, Small], None]


@contextmanager
def app_on(folder: Path, more: Fill | None = None, person: int = 0) -> Iterator[FinroundsApp]:
    """Give the app on a small practice, with somebody of it at work."""
    file = folder / "practice.db"
    small = build(file)
    desk = Desk(file)
    try:
        if more is not None:
            desk.save(more, Act(small.vet, clock.now()), small).result(timeout=30)
        house = desk.look(practice)
        assert house is not None
        yield FinroundsApp(desk, house, desk.look(people)[person])
    finally:
        desk.close()


def book(act: Act, vet: str, client: str, starts: str, reason: str = "check") -> str:
    """Book a visit today to a client of its own."""
    owner = setup.add_client(act, client)
    site = setup.add_site(act, owner, "home", address=f"home of {client}")
    system = setup.add_system(act, site, "pond", "koi_pond", volume_l=1000.0)
    return visits.book(act, system, clock.today(ZONE), starts, vet, reason)


async def settle(pilot: Pilot[None]) -> None:
    """Wait until the workers are done and what they said is painted."""
    await pilot.pause()
    await pilot.app.workers.wait_for_complete()
    await pilot.pause()
    await pilot.pause()


def said(app: FinroundsApp, widget: str) -> str:
    """Return what a Static of the open screen says."""
    return str(app.screen.query_one(widget, Static).content)


def rows(app: FinroundsApp) -> list[str]:
    """Return the lines of the day's list."""
    from tui.day.screen import DayScreen

    screen = app.screen
    assert isinstance(screen, DayScreen)
    return screen.list.painted()


def every_visit(app: FinroundsApp) -> tuple[Visit, ...]:
    """Return the visits in the records."""
    return app.desk.look(read.find, Visit)
