"""Doses and times of a medicine of the practice's own, as they are typed with their units.

A dose has to be of the kind that its route is dosed in: a bath in mg/L or uL/L, fish by weight
in mg/kg, food in mg/kg of food.
"""

from __future__ import annotations

import re

from core.dosing.kinds import FeedLevel
from core.dosing.medicines import BATHS
from core.dosing.quantities import concentration, dose, feed_level
from core.dosing.quantity import Quantity, spelled
from core.errors import BadInput
from core.numbers import plain
from core.practice.medicines import typed

FEED = "medicated feed"
OF_FOOD = (" feed", " food")
HOURS = {
    **dict.fromkeys(("h", "hour", "hours"), 1),
    **dict.fromkeys(("d", "day", "days"), 24),
    **dict.fromkeys(("week", "weeks"), 168),
}
KEPT = ("mg/L", "g/L", "uL/L", "mg/kg", "ug/kg", "mg/kg/day", "ug/kg/day", "IU/kg", "mL/kg")
"""Units that a row keeps a dose in; any other is converted once, when it is typed."""


def asked_unit(route: str) -> str:
    """Return an example of a dose by a route, with the unit that it is written in."""
    if route in BATHS:
        return "5 mg/L"
    return "10 mg/kg/day" if route == FEED else "10 mg/kg"


def dose_typed(text: str, route: str) -> tuple[float, str]:
    """Return a dose as a row keeps it: a number, and a unit that fits the route.

    Raises
    ------
    BadInput
        For a bare number, and for a unit of another kind than the route's.

    Examples
    --------
    >>> dose_typed("500 ug/L", "bath")
    (0.5, 'mg/L')
    """
    found = _dose(text, route)
    if not isinstance(found, FeedLevel) and found.unit not in KEPT:
        found = found.to(next(unit for unit in found.units if unit in KEPT))
        return float(f"{found.magnitude:.6g}"), found.unit
    food = " feed" if isinstance(found, FeedLevel) else ""
    return found.magnitude, f"{found.unit}{food}"


def _dose(text: str, route: str) -> Quantity:
    value, unit = typed(text, asked_unit(route))
    if route in BATHS:
        if unit.casefold() == "ml/l":
            raise BadInput(
                "mL/L is a thousand times uL/L and easily slips.",
                f"If it is meant, type {plain(value * 1000)} uL/L.",
            )
        return concentration(value, unit)
    if route == FEED and unit.endswith(OF_FOOD):
        return feed_level(value, re.sub(r"( of)? (feed|food)\Z", "", unit))
    if route == FEED and spelled(FeedLevel, unit):
        raise BadInput(
            f"{unit} of food, or of fish in a day?",
            f"Type {plain(value)} {unit} feed, or {plain(value)} {unit}/day.",
        )
    return dose(value, unit)


def hours_typed(text: str) -> int:
    """Return the hours between two doses, as typed with a unit.

    Raises
    ------
    BadInput
        For a bare number, another unit, a part of an hour, or nothing at all.

    Examples
    --------
    >>> hours_typed("3 d"), hours_typed("48 h")
    (72, 48)
    """
    value, unit = typed(text, "3 d")
    times = HOURS.get(unit.casefold())
    if times is None:
        raise BadInput(f"{unit[:16]} is no time between doses.", "Type for example 48 h or 3 d.")
    hours = value * times
    if hours != int(hours) or not 1 <= hours <= 24 * 365:
        raise BadInput("Whole hours, from 1 h to 365 d.", "Type for example 48 h or 3 d.")
    return int(hours)


def same_unit(text: str, route: str, unit: str) -> float:
    """Return the low end of a dose in the unit of its high end.

    Raises
    ------
    BadInput
        When the two are of different kinds.
    """
    value, own = dose_typed(text, route)
    if own == unit:
        return value
    bare, wanted = own.removesuffix(" feed"), unit.removesuffix(" feed")
    kind = feed_level if own.endswith(" feed") else concentration if route in BATHS else dose
    found = kind(value, bare)
    if not spelled(type(found), wanted) or (bare == own) != (wanted == unit):
        raise BadInput(f"The low end is in {own} and the high end in {unit}.", "Type both alike.")
    return found.m_as(wanted)
