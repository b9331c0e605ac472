"""Two desks on one day, on PostgreSQL: what one saves the other sees, and who differs is told."""

from __future__ import annotations

from collections.abc import AsyncIterator, Iterator

import pytest
from textual.pilot import Pilot

from core import clock
from core.practice import setup, visits, water
from core.practice.desk import Desk
from core.practice.keep import Act
from core.practice.water import Measured
from core.practice.who import people, practice
from core.records import meanwhile, read
from core.records.tables import Reading
from tests.servers import Server, close
from tests.small import ZONE, Small, fill
from tests.tui.shell import rows, settle
from tui.app import FinroundsApp
from tui.widgets.form import Form
from tui.workup.screen import WorkupScreen


@pytest.fixture
def desk(server: Server) -> Iterator[Desk]:
    place = server.records()
    found = Desk(place)
    yield found
    found.close()
    close()
    server.drop(place)


@pytest.fixture
def small(desk: Desk) -> Small:
    return desk.save(fill, Act("setup", clock.now()), clock.today(ZONE)).result(timeout=30)


@pytest.fixture
async def pilot(desk: Desk, small: Small) -> AsyncIterator[Pilot[None]]:
    house = desk.look(practice)
    assert house is not None
    app = FinroundsApp(desk, house, desk.look(people)[0])
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        yield pilot


def elsewhere(desk: Desk, write, *given) -> None:  # type: ignore[no-untyped-def]
    """Let the other desk write."""
    before = set(meanwhile._own)
    desk.save(write, *given).result(timeout=30)
    meanwhile._own.intersection_update(before)


async def look(pilot: Pilot[None]) -> None:
    """Let the app ask now, as it does every two seconds."""
    assert isinstance(pilot.app, FinroundsApp)
    await pilot.app.others.look().wait()
    await settle(pilot)


def another_visit(small: Small) -> None:
    act = Act(small.technician, clock.now())
    client = setup.add_client(act, "Nora Elsewhere", phone="555 0199")
    site = setup.add_site(act, client, "mill", address="3 Invented Lane")
    system = setup.add_system(act, site, "tank", "koi_pond")
    visits.book(act, system, clock.today(ZONE), "14:00", small.vet, "booked at the other desk")


def ph(small: Small, value: float) -> None:
    act = Act(small.technician, clock.now())
    measured = Measured("ph", value, f"{value:g}")
    water.record_reading(act, small.visit, small.system, measured)


async def test_a_visit_booked_at_the_other_desk_appears(
    pilot: Pilot[None], desk: Desk, small: Small
) -> None:
    assert isinstance(pilot.app, FinroundsApp)
    assert not any("Nora" in line for line in rows(pilot.app))
    elsewhere(desk, another_visit, small)
    await look(pilot)
    assert any("Nora" in line for line in rows(pilot.app))


async def at_ph(pilot: Pilot[None], small: Small) -> Form:
    """Open the visit's water and go to the row of pH."""
    await pilot.app.push_screen(WorkupScreen(small.visit, "Water"))
    await settle(pilot)
    form = pilot.app.screen.query_one(Form)
    form.go([field.key for field in form.fields].index("ph"))
    return form


def readings(desk: Desk) -> list[float]:
    return [row.value for row in desk.look(read.find, Reading, analyte="ph")]


async def test_a_reading_of_the_other_desk_appears_while_one_is_typed(
    pilot: Pilot[None], desk: Desk, small: Small
) -> None:
    form = await at_ph(pilot, small)
    await pilot.press("up", "7", "full_stop")
    elsewhere(desk, ph, small, 7.9)
    await look(pilot)
    row = form.rows[form.index + 1]
    assert row.state.shown.value == "7.9"
    assert form.typing
    assert form.row.state.draft == "7."


async def test_two_in_the_same_field_the_second_is_told_and_chooses(
    pilot: Pilot[None], desk: Desk, small: Small
) -> None:
    form = await at_ph(pilot, small)
    await pilot.press("7")
    elsewhere(desk, ph, small, 7.9)
    await look(pilot)
    await pilot.press("enter")
    await settle(pilot)
    assert form.row.state.error.startswith("Tim Test put 7.9 here at ")
    assert "; yours is 7." in form.row.state.error
    assert form.row.state.draft == "7"
    assert readings(desk) == [7.9]
    await pilot.press("enter")
    await settle(pilot)
    assert readings(desk) == [7.0]
    assert not form.rows[form.index - 1].state.error
