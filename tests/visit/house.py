"""The practice of a drawn case, put into new records before the app is opened."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from core.practice import setup
from core.practice.keep import Act
from core.records import read
from core.records.journal import edit
from core.records.keys import new_key
from core.records.tables import Price, TaxClass
from tests.read_rows import all_read
from tests.small import ZONE
from tests.visit.draw import Draw

PRACTICE = "Practice of the Drawn Visits"
PHONE = "555 0190"
VET = "Vera Drawn"
SITE = "3 Invented Lane, gate at the side"


@dataclass(frozen=True)
class House:
    """Ids of what was made, and the price list in minor units by code."""

    vet: str
    client: str
    system: str
    group: str
    prices: dict[str, tuple[str, int, str]]
    """Code to name, price and class of tax."""


def fill(act: Act, case: Draw) -> House:
    """Make the practice of a case in the open records; it has no visit yet."""
    setup.make_practice(
        act,
        name=PRACTICE,
        address="1 Invented Lane, Millbrook",
        phone=PHONE,
        currency="EUR",
        zone=ZONE,
        tax_rounding=case.rounding,
        invented=True,
    )
    vet = setup.add_person(act, VET, "veterinarian", "L-7")
    all_read(Act(vet, act.at))
    setup.add_person(act, "Tim Drawn", "technician")
    setup.add_client(act, "Someone Else", phone="555 0191")
    client = setup.add_client(act, case.client, phone="555 0192", address=SITE)
    site = setup.add_site(act, client, "home", address=SITE, elevation_m=float(case.elevation_m))
    system = setup.add_system(
        act,
        site,
        case.water,
        case.kind.key,
        volume_l=float(case.litres),
        volume_typed=f"{case.litres} L",
        volume_how="salt",
        volume_error_percent=float(case.error),
        food_fish=case.kind.food_fish,
        plants="no",
        invertebrates="no",
        zeolite="no",
    )
    group = setup.add_group(act, system, case.kind.species, case.fish, count=case.count)
    return House(vet, client, system, group, _money(act, case))


def _money(act: Act, case: Draw) -> dict[str, tuple[str, int, str]]:
    """Put in the taxes and a price list of odd amounts."""
    with edit("prices", who=act.by, at=act.at) as doing:
        for code, rate in case.tax.items():
            doing.add(TaxClass(id=new_key(), code=code, name=code, rate_percent=rate))
        for price in setup.first_prices():
            minor = int(Decimal(price.unit_minor * case.price_factor) / 100) + 1
            doing.add(
                Price(
                    id=new_key(),
                    code=price.code,
                    name=price.name,
                    unit_minor=minor,
                    tax_class=price.tax_class,
                )
            )
    return {p.code: (p.name, p.unit_minor, p.tax_class) for p in read.find(Price)}
