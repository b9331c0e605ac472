"""Food in percent of body weight a day, against what is usual for the fish and the water."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import exp, isfinite, log
from typing import Any

from core.errors import BadInput, Refusal
from core.numbers import figures, plain
from core.sourced import sourced


@dataclass(frozen=True)
class FeedingRate:
    """One row of the feeding rates.

    Attributes
    ----------
    group, stage : str
        Which animals, as `Species.feeding_group`, and how old.
    weight_low_g, weight_high_g : float or None
        Mean weight to which it applies; None for any.
    temperature_low_c, temperature_high_c : float or None
        Water temperature to which it applies; None for any.
    percent_low, percent_high, percent_target : float
        Food as fed in percent of body weight a day.
    meals : str
        Meals a day, in words.
    maintenance : bool
        True when fish at this rate neither grow nor shrink: for comparison, never a target.
    note, source, how : str
        A remark, the key of the source, and how the row is known.
    """

    group: str
    stage: str
    weight_low_g: float | None
    weight_high_g: float | None
    temperature_low_c: float | None
    temperature_high_c: float | None
    percent_low: float
    percent_high: float
    percent_target: float
    meals: str
    maintenance: bool
    note: str
    source: str
    how: str

    def __str__(self) -> str:
        return (
            f"{self.group}, {self.stage}: {plain(self.percent_low)} to "
            f"{plain(self.percent_high)} % ({self.source}, {self.how})"
        )


@dataclass(frozen=True)
class RationVerdict:
    """A measured ration beside the row it is held against.

    Attributes
    ----------
    percent : float
        What is fed, in percent of body weight a day.
    place : str
        ``under``, ``inside`` or ``over`` the row's range.
    target_g : float
        The row's target for this stock, in grams a day.
    row : FeedingRate
        The row, with its source.
    sentence : str
        The same for a person, naming the limit and where it comes from.
    """

    percent: float
    place: str
    target_g: float
    row: FeedingRate
    sentence: str

    def __str__(self) -> str:
        return self.sentence


def feeding_rates_from(rows: Sequence[Mapping[str, Any]]) -> tuple[FeedingRate, ...]:
    """Return the feeding rates of a catalogue table, in its order."""
    return tuple(
        FeedingRate(
            str(row["group"]),
            str(row["stage"]),
            row.get("weight_low_g"),
            row.get("weight_high_g"),
            row.get("temperature_low_c"),
            row.get("temperature_high_c"),
            float(row["percent_low"]),
            float(row["percent_high"]),
            float(row["percent_target"]),
            str(row.get("meals", "")),
            bool(row.get("maintenance", False)),
            str(row.get("note", "")),
            str(row["source"]),
            str(row["how"]),
        )
        for row in rows
    )


@sourced(equation="rate = 100 x food / days / biomass", source="ARITHMETIC")
def rate_percent(fed_g: float, every_days: float, biomass_g: float) -> float:
    """Return the food in percent of body weight a day.

    Parameters
    ----------
    fed_g : float
        Food given at one time, in grams.
    every_days : float
        Days from one such feeding to the next; 1 for daily, 0.5 for twice a day.
    biomass_g : float
        Mass of the fish in grams.

    Raises
    ------
    BadInput
        For food below zero, or days or biomass not above zero.

    Examples
    --------
    >>> round(rate_percent(45.0, 1.0, 14590.0), 2)
    0.31
    """
    if not (fed_g >= 0 and every_days > 0 and biomass_g > 0 and isfinite(fed_g)):
        raise BadInput("A rate needs food of 0 g or more, and days and biomass above 0.")
    return 100 * fed_g / every_days / biomass_g


@sourced(equation="ration = biomass x rate / 100", source="ARITHMETIC")
def ration_g(biomass_g: float, percent: float) -> float:
    """Return the grams of food a day for a biomass in grams at a rate in percent a day.

    Raises
    ------
    BadInput
        When the biomass or the rate is below zero.

    Examples
    --------
    >>> ration_g(400.0, 1.0)
    4.0
    """
    if not (biomass_g >= 0 and percent >= 0 and isfinite(biomass_g * percent)):
        raise BadInput("A ration needs a biomass and a rate of 0 or more, as 400 g at 1 %.")
    return biomass_g * percent / 100


@sourced(equation="meal = ration / meals", source="ARITHMETIC")
def meal_g(daily_g: float, meals: int) -> float:
    """Return the grams of one meal when the day's ration in grams is given in equal meals.

    Raises
    ------
    BadInput
        For fewer than one meal or a ration below zero.
    """
    if meals < 1 or not daily_g >= 0:
        raise BadInput("A day has at least one meal and a ration of 0 g or more.")
    return daily_g / meals


@sourced(equation="dry food = food x (1 - water) / (1 - water of dry food)", source="ARITHMETIC")
def dry_food_equivalent_g(
    fed_g: float, water_fraction: float, dry_water_fraction: float = 0.08
) -> float:
    """Return the grams of dry food that hold as much dry matter as this moist food.

    Parameters
    ----------
    fed_g : float
        Moist food as weighed, in grams, thawed and drained.
    water_fraction, dry_water_fraction : float
        Water in the moist and in the dry food, fractions of their weight.

    Raises
    ------
    BadInput
        For a fraction outside 0 to under 1, or food below zero.

    Examples
    --------
    >>> round(dry_food_equivalent_g(10.0, 0.80), 2)
    2.17
    """
    if not (0 <= water_fraction < 1 and 0 <= dry_water_fraction < 1 and fed_g >= 0):
        raise BadInput("Water in food is a fraction from 0 to under 1, for example 0.80 for 80 %.")
    return fed_g * (1 - water_fraction) / (1 - dry_water_fraction)


_CARP = ((12.0, 0.40), (18.0, 0.75), (24.0, 1.20), (30.0, 1.90))


@sourced(
    equation="log-linear in °C between 0.40 at 12, 0.75 at 18, 1.20 at 24, 1.90 at 30 °C",
    source="GOOLISH84",
    valid={"temperature_c": (12, 30)},
)
def carp_maintenance_percent(temperature_c: float) -> float:
    """Return the ration at which juvenile carp neither grow nor shrink, in % of body weight a day.

    Parameters
    ----------
    temperature_c : float
        Water temperature in °C, 12 to 30.

    Notes
    -----
    Source: Goolish & Adelman 1984, four temperatures; between them our interpolation.
    Large fish need less for their weight.
    """
    for (cool, low), (warm, high) in pairwise(_CARP):
        if temperature_c <= warm:
            share = (temperature_c - cool) / (warm - cool)
            return exp(log(low) + share * log(high / low))
    return _CARP[-1][1]


def target_for(
    rows: Iterable[FeedingRate],
    group: str,
    stage: str,
    temperature_c: float,
    mean_weight_g: float | None = None,
) -> FeedingRate:
    """Return the row that fits these fish in water of this temperature (°C).

    Where two rows meet or overlap, the one with the lower target is taken.

    Parameters
    ----------
    rows : iterable of FeedingRate
        The catalogue's, or the practice's own.
    group, stage : str
        As in the rows.
    temperature_c : float
        Water temperature in °C.
    mean_weight_g : float, optional
        Mean weight of one fish in grams; None passes over the rows' weights.

    Raises
    ------
    Refusal
        When no row fits; the sentence says which temperatures the rows of that group cover.
    """
    mine = [r for r in rows if r.group == group and r.stage == stage and not r.maintenance]
    fitting = [
        r
        for r in mine
        if _within(temperature_c, r.temperature_low_c, r.temperature_high_c)
        and (mean_weight_g is None or _within(mean_weight_g, r.weight_low_g, r.weight_high_g))
    ]
    if fitting:
        return min(fitting, key=lambda r: r.percent_target)
    raise Refusal(
        f"No feeding rate is kept for {group}, {stage}, at {plain(float(temperature_c))} °C.",
        f"Rates are kept for {_covered(mine)}." if mine else "Choose another group or stage.",
    )


def _within(value: float, low: float | None, high: float | None) -> bool:
    return (low is None or value >= low) and (high is None or value <= high)


def _covered(rows: list[FeedingRate]) -> str:
    spans = {
        f"{'any' if r.temperature_low_c is None else plain(float(r.temperature_low_c))} to "
        f"{'any' if r.temperature_high_c is None else plain(float(r.temperature_high_c))} °C"
        for r in rows
    }
    return ", ".join(sorted(spans))


@sourced(equation="rate against the range of its row", source="ARITHMETIC", gives="")
def verdict(
    row: FeedingRate,
    fed_g: float,
    every_days: float,
    biomass_g: float,
    citations: Mapping[str, str] | None = None,
) -> RationVerdict:
    """Hold what is fed (grams, every so many days) against a row, for a biomass in grams.

    Parameters
    ----------
    row : FeedingRate
        As `target_for` gives it.
    fed_g, every_days, biomass_g : float
        As `rate_percent`.
    citations : mapping, optional
        Source key to citation; without it the sentence shows the key.

    Raises
    ------
    BadInput
        As `rate_percent`.
    """
    percent = rate_percent(fed_g, every_days, biomass_g)
    place = (
        "under" if percent < row.percent_low else "over" if percent > row.percent_high else "inside"
    )
    target = ration_g(biomass_g, row.percent_target)
    cited = (citations or {}).get(row.source, row.source)
    said = (
        f"Fed {figures(percent, 2)} % of body weight a day: {place} "
        f"{plain(row.percent_low)} to {plain(row.percent_high)} % ({cited}; "
        f"{row.how}). Target {plain(row.percent_target)} % is {figures(target)} g a day."
    )
    return RationVerdict(percent, place, target, row, said)
