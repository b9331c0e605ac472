"""The people, prices and details of the practice, as they are changed after the first start."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from core.billing.money import half_up
from core.errors import BadInput
from core.practice import access, booking, roles, settings, setup
from core.practice.door import edit
from core.practice.keep import Act
from core.records import read
from core.records.keys import new_key
from core.records.tables import Person, Practice, Price, TaxClass


def everybody() -> tuple[Person, ...]:
    """Return everybody, those at work first."""
    found = read.find(Person)
    return tuple(sorted(found, key=lambda p: (not p.active, p.id)))


def add(act: Act, name: str, role: str, licence: str = "") -> str:
    """Add somebody at work; return the id.

    Raises
    ------
    BadInput
        Without a name, with the name of somebody at work, or for a role that is none.
    """
    row = Person(id=new_key(), name=_free(name), role=_role(role), licence=licence.strip())
    with edit("person", who=act.by, at=act.at) as doing:
        doing.add(row)
    return row.id


def change(
    act: Act,
    person: str,
    *,
    name: str | None = None,
    role: str | None = None,
    licence: str | None = None,
) -> None:
    """Change a person's name, role or licence; what is None stays.

    Raises
    ------
    BadInput
        As for `add`, or when no veterinarian would be left.
    """
    new: dict[str, Any] = {}
    if name is not None:
        new["name"] = _free(name, person)
    if role is not None:
        new["role"] = _role(role)
        if role != roles.VET:
            _another_vet(person)
    if licence is not None:
        new["licence"] = licence.strip()
    with edit("person", who=act.by, at=act.at) as doing:
        doing.change(Person, person, **new)


def leave(act: Act, person: str) -> None:
    """Take somebody off the list of who may be at work; what they wrote keeps their name.

    Raises
    ------
    BadInput
        When it is who does it, or the last veterinarian.
    """
    if act.by == person:
        raise BadInput("You are at work.", "Somebody else takes you off the list.")
    _another_vet(person)
    with edit("person left", who=act.by, at=act.at) as doing:
        doing.change(Person, person, active=False)


def come_back(act: Act, person: str) -> None:
    """Put somebody on the list of who may be at work again."""
    _free(read.one(Person, person).name, person)
    with edit("person back", who=act.by, at=act.at) as doing:
        doing.change(Person, person, active=True)


def _free(name: str, person: str = "") -> str:
    bare = " ".join(name.split())
    if not bare:
        raise BadInput("A person has a name.", "For example Vera Moss.")
    taken = [p for p in read.find(Person, active=True) if p.name.casefold() == bare.casefold()]
    if any(p.id != person for p in taken):
        raise BadInput(f"{bare} is at work already.", "Add something that tells them apart.")
    return bare


def _role(role: str) -> str:
    if role not in roles.words():
        raise BadInput(f"{role} is not a role.", f"There are {', '.join(roles.words())}.")
    return role


def _another_vet(person: str) -> None:
    left = read.find(Person, active=True, role=roles.VET)
    if [p.id for p in left] == [person]:
        raise BadInput(
            "This is the only veterinarian, and without one nobody signs.",
            "Make somebody else a veterinarian first.",
        )


CHECKED = {"zone": setup.time_zone, "opens": booking.wall_time, "closes": booking.wall_time}
NEEDED = {"name": "name", "address": "address", "phone": "telephone number"}


def set_detail(act: Act, column: str, value: str) -> None:
    """Change one detail of the practice.

    Raises
    ------
    BadInput
        When it is empty and papers need it, or can not be what it should be.
    """
    bare = CHECKED[column](value) if column in CHECKED else value.strip()
    if column in NEEDED and not bare:
        raise BadInput(f"The practice has its {NEEDED[column]}.", "It stands on every paper.")
    house = read.find(Practice)[0]
    hours = {"opens": house.opens, "closes": house.closes, column: bare}
    if hours["opens"] >= hours["closes"]:
        raise BadInput("Visits would end before they begin.", "For example from 08:00 to 18:00.")
    setup.edit_practice(act, house.id, **{column: bare})


def prices() -> tuple[Price, ...]:
    """Return the price list in its own order."""
    return read.find(Price)


def taxes() -> tuple[TaxClass, ...]:
    """Return the classes of tax."""
    return read.find(TaxClass)


def set_price(act: Act, price: str, amount: Decimal) -> None:
    """Set a price, before tax; lines that stand on a bill already keep theirs.

    Raises
    ------
    BadInput
        When it is below zero.
    """
    if amount < 0:
        raise BadInput("A price is not below zero.", "For example 45.00.")
    exponent = read.find(Practice)[0].currency_exponent
    with edit("price", who=act.by, at=act.at) as doing:
        doing.change(Price, price, unit_minor=half_up(amount.scaleb(exponent)))


def set_tax(act: Act, tax: str, percent: Decimal) -> None:
    """Set the rate of a class of tax; issued invoices keep theirs.

    Raises
    ------
    BadInput
        Outside 0 to 100 %.
    """
    if not 0 <= percent <= 100:
        raise BadInput("A tax is from 0 to 100 %.", "For example 7.")
    with edit("tax", who=act.by, at=act.at) as doing:
        doing.change(TaxClass, tax, rate_percent=percent)


def set_idle(act: Act, minutes: int) -> None:
    """Set after how many idle minutes the app locks; 0 for never.

    Raises
    ------
    BadInput
        Outside 0 to 240.
    """
    if not 0 <= minutes <= access.IDLE_MOST:
        raise BadInput(f"It locks after 0 to {access.IDLE_MOST} minutes.", "0 is never.")
    settings.put(act, access.IDLE_KEY, str(minutes))
