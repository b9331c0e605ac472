"""Waters of the demonstration, made small: what the plan and the assessment are tried on."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from typing import Any

from core.practice import setup, visits, water
from core.practice.dose_parts import Ask
from core.practice.keep import Act
from core.practice.treatments import Order
from core.practice.water import Measured
from tests.read_rows import all_read

MOMENT = datetime(2026, 11, 25, 8, 30, tzinfo=UTC)
D = date(2026, 11, 25)


@dataclass(frozen=True)
class Case:
    """A visit to one water with its fish."""

    act: Act
    technician: Act
    client: str
    site: str
    system: str
    group: str
    visit: str

    def read(self, place: str = "here", **values: float) -> None:
        """Record readings, each in its canonical unit."""
        for key, value in values.items():
            measured = Measured(key, value, str(value), basis="N" if key in BASES else "")
            water.record_reading(self.act, self.visit, self.system, measured, place)

    def order(self, medicine: str, dose: str, route: str, **more: Any) -> Order:
        """Make an order; keys of `Ask` go to it."""
        asked = {k: more.pop(k) for k in list(more) if k in Ask.__dataclass_fields__}
        order = Order("given here", medicine, Ask(dose, route, **asked), self.system)
        return replace(order, **more)


BASES = ("ammonia", "nitrite", "nitrate")


def case(
    kind: str = "goldfish_pond",
    volume_l: float | None = 3390.0,
    species: str = "goldfish",
    count: int | None = 13,
    day: date = D,
    *,
    switched_on: bool = True,
    **more: Any,
) -> Case:
    """Make a practice with one visit to one water, its medicines read unless said."""
    act = Act("setup", MOMENT)
    setup.make_practice(
        act,
        name="Practice of the Tests",
        address="1 Invented Lane",
        phone="555 0199",
        currency="EUR",
        zone="Etc/UTC",
        authority="the authority of the tests",
        invented=True,
    )
    vet = setup.add_person(act, "Vera Test", "veterinarian", "L-1")
    technician = setup.add_person(act, "Tim Test", "technician")
    client = setup.add_client(act, "Clara Test", phone="555 0100")
    site = setup.add_site(act, client, "home", address="2 Invented Lane")
    known = {"plants": "no", "invertebrates": "no", "zeolite": "no"} | more
    system = setup.add_system(act, site, "the water", kind, volume_l=volume_l, **known)
    group = setup.add_group(act, system, species, species, count=count)
    by = Act(vet, MOMENT)
    if switched_on:
        all_read(by)
    visit = visits.book(by, system, day, "10:30", vet, "test visit")
    return Case(by, Act(technician, MOMENT), client, site, system, group, visit)


def with_ask(order: Order, **changed: Any) -> Order:
    """Return an order with some of what its dose is worked out from changed."""
    return replace(order, ask=replace(order.ask, **changed))
