"""What a dose in hand is worked out from: who receives it, what is wanted, and what is at hand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from core.catalogue import load
from core.dosing import course, products
from core.dosing.kinds import Strength
from core.dosing.medicines import Medicine
from core.dosing.recipient import Recipient
from core.errors import BadInput
from core.fish.size import estimated_weight
from core.practice import same_day, typed_sizes
from core.practice.fish import species
from core.practice.in_hand import Fish
from core.practice.own_products import own_shelf
from core.practice.read_medicines import merged
from core.practice.syringes import syringes as syringes
from core.practice.syringes import usual_syringe as usual_syringe

BY_WEIGHT = ("mg/kg", "ug/kg", "IU/kg", "mL/kg")


def injectables() -> tuple[Medicine, ...]:
    """Return what can be given to a fish in hand: by injection or mouth, dosed by weight."""
    return tuple(
        m
        for m in merged().values()
        if m.unit in BY_WEIGHT and any(r.startswith("injection") or r == "oral" for r in m.routes)
    )


def shelf(medicine: Medicine) -> tuple[products.Product, ...]:
    """Return the products of the shelf that hold a medicine in a strength by volume."""
    rows = {**own_shelf(), **products.from_table(load.table("products"))}.values()
    return tuple(p for p in rows if p.agent == medicine.name and isinstance(p.strength, Strength))


@dataclass(frozen=True)
class Context:
    """Who receives it, as the record knows it at the moment."""

    recipient: Recipient
    weight_g: float | None
    weight_how: str
    day: date
    count: int
    doubts: tuple[str, ...] = ()
    """Why the weight may be a slip, by what else is on record of these fish."""
    today: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """By the medicine's name, what of it the fish had today already."""


def context(fish: Fish, day: date) -> Context:
    """Return what the doses of a fish in hand are worked out from."""
    row = fish.handling
    weight, how = fish.weight_each_g, row.weight_how or "weighed"
    if weight is None:
        weight, how = _by_length(fish), "from length"
    had = same_day.had(row.system, row.group, row.id, [day], day)
    doubts = typed_sizes.of_hand(row)
    return Context(fish.recipient, weight, how, day, row.count, doubts, had)


def _by_length(fish: Fish) -> float | None:
    kind = species().get(fish.group.species) if fish.group else None
    if kind is None or fish.handling.length_cm is None:
        return None
    try:
        return estimated_weight(kind, fish.handling.length_cm).weight_g
    except BadInput:
        return None


@dataclass(frozen=True)
class Wanted:
    """What somebody wants to give; None is *not said yet*."""

    medicine: str
    route: str = ""
    dose: float | None = None
    product: str = ""
    strength: float | None = None
    """In mg/mL, or IU/mL for units; for a product that is not on the shelf."""
    syringe: str = ""
    diluted: bool | None = None
    place: str = ""
    lot: str = ""
    expires: date | None = None
    withdrawal_days: int | None = None
    reason: str = ""
    repeats: int = 1
    """Doses in all, the one given now among them; the others are offered as visits in Plan."""
    interval_days: int | None = None
    from_lot: str = ""
    """Id of a lot of the shelf; the oldest of the product when empty."""
    lot_why: str = ""
    """Why it is another lot than the oldest."""

    def days(self, first: date) -> tuple[date, ...]:
        """Return the day of every dose, the first of them given now."""
        return course.dates(first, self.interval_days or 1, self.repeats)
