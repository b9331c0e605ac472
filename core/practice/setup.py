"""Making the practice, its people, clients, sites, systems and fish."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any
from zoneinfo import ZoneInfo, available_timezones

from core.billing.money import half_up
from core.catalogue import load
from core.errors import BadInput
from core.practice.door import edit
from core.practice.keep import Act
from core.practice.roles import VET
from core.records.keys import new_key
from core.records.tables import (
    Client,
    FishGroup,
    Person,
    Practice,
    Price,
    Row,
    Site,
    System,
    TaxClass,
)


def _added(act: Act, kind: str, row: Row) -> str:
    with edit(kind, who=act.by, at=act.at) as doing:
        doing.add(row)
    return row.id


def make_practice(
    act: Act, *, name: str, address: str, phone: str, currency: str, zone: str, **more: Any
) -> str:
    """Make the practice; there is one in a file."""
    row = Practice(
        id=new_key(), name=name, address=address, phone=phone, currency=currency, zone=zone, **more
    )
    return _added(act, "practice", row)


def edit_practice(act: Act, practice_id: str, **columns: Any) -> None:
    """Change details of the practice."""
    with edit("practice", who=act.by, at=act.at) as doing:
        doing.change(Practice, practice_id, **columns)


def add_person(act: Act, name: str, role: str, licence: str = "") -> str:
    """Add somebody at work: a veterinarian, a technician or the reception."""
    return _added(act, "person", Person(id=new_key(), name=name, role=role, licence=licence))


def add_client(act: Act, name: str, **more: Any) -> str:
    """Add a client."""
    return _added(act, "client", Client(id=new_key(), name=name, **more))


def add_site(act: Act, client: str, name: str, **more: Any) -> str:
    """Add a site of a client."""
    return _added(act, "site", Site(id=new_key(), client=client, name=name, **more))


def add_system(act: Act, site: str, name: str, kind: str, **more: Any) -> str:
    """Add a body of water to a site."""
    return _added(act, "system", System(id=new_key(), site=site, name=name, kind=kind, **more))


def add_group(act: Act, system: str, species: str, name: str, **more: Any) -> str:
    """Add a single fish or a group to a system."""
    row = FishGroup(id=new_key(), system=system, species=species, name=name, **more)
    return _added(act, "fish", row)


@dataclass(frozen=True)
class NewPerson:
    """Somebody who will be at work."""

    name: str
    role: str
    licence: str = ""


def begin(
    act: Act, details: Practice, people: Sequence[NewPerson], tax: dict[str, Decimal]
) -> tuple[str, ...]:
    """Make the practice at its first start, with its people, taxes and a first price list.

    Parameters
    ----------
    details : Practice
        As entered; its id is made here.
    people : sequence of NewPerson
        At least one.
    tax : dict
        Rate in % by the code of a tax class of the catalogue.

    Returns
    -------
    tuple of str
        Ids of the people.

    Raises
    ------
    BadInput
        Without people, without a veterinarian, or for a time zone or currency that is none.
    """
    if not people:
        raise BadInput("A practice needs somebody at work.", "Enter at least one person.")
    if all(person.role != VET for person in people):
        raise BadInput("Without a veterinarian nobody signs.", "Enter at least one.")
    checked = replace(
        details, id=new_key(), zone=time_zone(details.zone), currency=currency(details.currency)
    )
    with edit("first start", who=act.by, at=act.at) as doing:
        doing.add(checked)
        for code in tax_classes():
            rate = tax.get(code, Decimal(0))
            doing.add(TaxClass(id=new_key(), code=code, name=code, rate_percent=rate))
        for row in first_prices(checked.currency_exponent):
            doing.add(row)
        return tuple(add_person(act, p.name, p.role, p.licence) for p in people)


def tax_classes() -> tuple[str, ...]:
    """Return the codes of the catalogue's classes of tax."""
    return tuple(load.table("prices")["tax"]["percent"])


def first_prices(exponent: int = 2) -> tuple[Price, ...]:
    """Return the price list a practice starts from; the amounts are invented.

    Parameters
    ----------
    exponent : int
        Digits of the currency's minor unit; the catalogue counts in hundredths.
    """
    rows: dict[str, dict[str, Any]] = load.table("prices")["price"]
    return tuple(
        Price(
            id=new_key(),
            code=code,
            name=row["name"],
            unit_minor=half_up(Decimal(row["minor"]).scaleb(exponent - 2)),
            tax_class=row["tax_class"],
        )
        for code, row in rows.items()
    )


def time_zone(text: str) -> str:
    """Return a time zone's name as the zone table writes it.

    Raises
    ------
    BadInput
        When there is no such zone.
    """
    asked = text.strip().lower().replace(" ", "_")
    known = {name.lower(): name for name in available_timezones()}
    if asked not in known:
        raise BadInput("This is not a time zone.", "Type for example Europe/Lisbon.")
    return ZoneInfo(known[asked]).key


def currency(text: str) -> str:
    """Return a currency's code in capitals.

    Raises
    ------
    BadInput
        When it is not three letters.
    """
    code = text.strip().upper()
    if len(code) != 3 or not (code.isascii() and code.isalpha()):
        raise BadInput("A currency is its code of three letters.", "Type for example EUR.")
    return code
