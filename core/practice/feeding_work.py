"""What follows from stock and food: biomass, ration against its target, what to feed.

Plain calls without the records, so that a screen can show them at every key.
"""

from __future__ import annotations

import functools
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from core.catalogue import load
from core.errors import BadInput
from core.feeding import ration
from core.feeding.biomass import BiomassRange, biomass_g, biomass_range_g
from core.feeding.food_age import Food as FoodKind
from core.feeding.food_age import foods_from
from core.feeding.nitrifiers import alkalinity_used_g
from core.feeding.ramp import ammonia_from_feed_g
from core.feeding.ration import FeedingRate
from core.fish.size import estimated_weight
from core.numbers import plain
from core.practice.feeding_target import cites, row_for
from core.practice.fish import StockLine, species
from core.practice.keep import Shown
from core.records.tables import Food
from core.sourced import Step, lines, working

MOIST_WATER = 0.15
"""Above this water content food is counted as the dry food that holds as much: our choice."""
DRY_WATER = 0.08


@dataclass(frozen=True)
class Inputs:
    """Everything a feeding check rests on; None was not measured or not asked."""

    stock: tuple[StockLine, ...] = ()
    food: Food | None = None
    fed_g: float | None = None
    every_days: float = 1.0
    target_percent: float | None = None
    temperature_c: float | None = None
    gone_min: float | None = None
    left_over: bool = False
    new_deaths: int | None = None


@dataclass(frozen=True)
class Worked:
    """What follows; None where something is missing, and `missing` says what.

    Attributes
    ----------
    biomass : BiomassRange or None
    row : FeedingRate or None
        What the ration is held against.
    target_percent : float or None
        The vet's, or the row's.
    verdict : RationVerdict or None
        The ration beside its row.
    fed_daily_g, to_feed_g, meal_g : float or None
        Food as it is fed, in grams: a day now, a day at the target, and at each feeding; the
        last two as a scale can weigh them.
    tan_g, tan_target_g, alkalinity_g, alkalinity_target_g : float or None
        Ammonia N and alkalinity (as CaCO3) a day, now and at the target.
    missing : tuple of str
        Why a figure is not there, each a sentence.
    steps : dict
        Working by the name under which a figure is kept.
    """

    biomass: BiomassRange | None = None
    row: FeedingRate | None = None
    target_percent: float | None = None
    verdict: ration.RationVerdict | None = None
    fed_daily_g: float | None = None
    to_feed_g: float | None = None
    meal_g: float | None = None
    tan_g: float | None = None
    tan_target_g: float | None = None
    alkalinity_g: float | None = None
    alkalinity_target_g: float | None = None
    missing: tuple[str, ...] = ()
    steps: Mapping[str, tuple[float, list[Step]]] = field(default_factory=dict)


@functools.cache
def food_kinds() -> Mapping[str, FoodKind]:
    """Return the kinds of food of the catalogue by key."""
    return foods_from(load.table("foods"))


def weighable_g(grams: float) -> float:
    """Return grams as a scale of the house can weigh them: 0.1 g under 10 g, 1 g, 10 g over 1 kg.

    Examples
    --------
    >>> weighable_g(116.7), weighable_g(5.754), weighable_g(7936.0)
    (117.0, 5.8, 7940.0)
    """
    return round(grams, 1 if grams >= 1 else 2) if grams < 10 else _whole(grams)


def _whole(grams: float) -> float:
    return float(round(grams) if grams < 1000 else round(grams, -1))


def work_out(given: Inputs) -> Worked:
    """Return everything that follows from a feeding check as far as it goes."""
    steps: dict[str, tuple[float, list[Step]]] = {}
    missing: list[str] = []
    if not given.stock:
        return replace(_of_food(given, None, steps, missing), missing=("No fish is weighed yet.",))
    biomass = biomass_range_g([line.stock for line in given.stock])
    _keep(steps, "biomass", lambda: _biomass(given.stock))
    return replace(_of_food(given, biomass, steps, missing), biomass=biomass)


def _biomass(stock: Sequence[StockLine]) -> float:
    for line in stock:
        if line.how == "from length" and line.length_cm is not None:
            estimated_weight(species()[line.group.species], line.length_cm)
    return biomass_g([line.stock for line in stock])


def _of_food(
    given: Inputs,
    biomass: BiomassRange | None,
    steps: dict[str, tuple[float, list[Step]]],
    missing: list[str],
) -> Worked:
    row, why = row_for(given.stock, given.temperature_c, given.target_percent)
    missing += [why] if why and biomass else []
    target = row.percent_target if row else None
    fed_daily = None if given.fed_g is None else given.fed_g / given.every_days
    to_feed = meal = None
    if biomass and biomass.likely_g > 0 and target is not None:
        to_feed = _to_feed(given, biomass, target, steps)
        meal = _meal(given, to_feed, steps)
    verdict = _verdict(given, biomass, row, steps)
    if given.fed_g is None:
        missing.append("What is fed is not weighed yet.")
    now, then = _load(given, fed_daily, "", steps), _load(given, to_feed, " at target", steps)
    missing += [now[2] or then[2]] if now[2] or then[2] else []
    return Worked(
        row=row,
        target_percent=target,
        verdict=verdict,
        fed_daily_g=fed_daily,
        to_feed_g=to_feed,
        meal_g=meal,
        tan_g=now[0],
        alkalinity_g=now[1],
        tan_target_g=then[0],
        alkalinity_target_g=then[1],
        missing=tuple(missing),
        steps=steps,
    )


def _keep(
    steps: dict[str, tuple[float, list[Step]]], name: str, call: Callable[[], float]
) -> float:
    with working() as found:
        value = call()
    steps[name] = (value, found)
    return value


def _water_of(food: Food | None) -> float:
    kind = food_kinds().get(food.kind) if food else None
    return kind.water_fraction if kind and kind.water_fraction > MOIST_WATER else DRY_WATER


def protein_of(food: Food | None) -> float | None:
    """Return the protein of a food as fed: from its label, else usual for its kind."""
    if food is None:
        return None
    if food.protein_fraction is not None:
        return food.protein_fraction
    kind = food_kinds().get(food.kind)
    return kind.protein_fraction if kind else None


def dry_g(food: Food | None, fed_g: float) -> float:
    """Return moist food as the dry food that holds as much; dry food as it is."""
    water = _water_of(food)
    return fed_g if water == DRY_WATER else ration.dry_food_equivalent_g(fed_g, water, DRY_WATER)


def as_fed_g(food: Food | None, dry: float) -> float:
    """Return dry food as the food that is really fed."""
    return dry * (1 - DRY_WATER) / (1 - _water_of(food))


def load_of(food: Food | None, fed_g: float) -> tuple[float, float]:
    """Return the ammonia N and the alkalinity (as CaCO3) that a day's food costs, in grams.

    Raises
    ------
    BadInput
        When the protein is not known, or lies outside the range of the formula.
    """
    protein = protein_of(food)
    if protein is None:
        raise BadInput("The protein of the food is not known: no ammonia is worked out.")
    water = _water_of(food)
    tan = ammonia_from_feed_g(dry_g(food, fed_g), protein * (1 - DRY_WATER) / (1 - water))
    return tan, alkalinity_used_g(tan)


def _load(
    given: Inputs, fed_g: float | None, when: str, steps: dict[str, tuple[float, list[Step]]]
) -> tuple[float | None, float | None, str]:
    if fed_g is None:
        return None, None, ""
    try:
        tan = _keep(steps, f"ammonia from food{when}", lambda: load_of(given.food, fed_g)[0])
    except BadInput as error:
        return None, None, error.sentence
    used = _keep(steps, f"alkalinity used{when}", lambda: alkalinity_used_g(tan))
    return tan, used, ""


def _to_feed(
    given: Inputs,
    biomass: BiomassRange,
    target: float,
    steps: dict[str, tuple[float, list[Step]]],
) -> float:
    exact = _keep(steps, "to feed", lambda: ration.ration_g(biomass.likely_g, target))
    rounded = weighable_g(as_fed_g(given.food, exact))
    steps["to feed"] = (rounded, steps["to feed"][1])
    return rounded


def _meal(
    given: Inputs, daily_g: float, steps: dict[str, tuple[float, list[Step]]]
) -> float | None:
    if given.every_days > 1:
        return weighable_g(daily_g * given.every_days)
    meals = round(1 / given.every_days)
    exact = _keep(steps, "per meal", lambda: ration.meal_g(daily_g, meals))
    rounded = weighable_g(exact)
    steps["per meal"] = (rounded, steps["per meal"][1])
    return rounded


def _verdict(
    given: Inputs,
    biomass: BiomassRange | None,
    row: FeedingRate | None,
    steps: dict[str, tuple[float, list[Step]]],
) -> ration.RationVerdict | None:
    if given.fed_g is None or not biomass or not biomass.likely_g > 0:
        return None
    fed = dry_g(given.food, given.fed_g)
    with working() as found:
        if row is None:
            percent, said = ration.rate_percent(fed, given.every_days, biomass.likely_g), None
        else:
            said = ration.verdict(row, fed, given.every_days, biomass.likely_g, cites())
            percent = said.percent
    steps["ration"] = (percent, found)
    return said


UNITS = {
    "biomass": "g", "ration": "%", "to feed": "g", "per meal": "g", "ammonia from food": "g",
    "alkalinity used": "g", "ammonia from food at target": "g", "alkalinity used at target": "g",
}  # fmt: skip


def shown(worked: Worked) -> dict[str, Shown]:
    """Return the figures to be kept with the record, with their working."""
    found = {}
    for name, (value, steps) in worked.steps.items():
        text = "\n".join(lines(steps, cites()))
        if name in ("to feed", "per meal"):
            text += f"\nas a scale can weigh it: {plain(value)} g"
        found[name] = Shown(value, UNITS[name], text, steps[0].formula.key)
    return found
