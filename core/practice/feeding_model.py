"""The filter model asked about this water: a rise that it could follow, never validated."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from core.errors import BadInput, Refusal
from core.feeding.biofilter import FilterSystem
from core.feeding.gates import Gate
from core.feeding.ramp import Ramp, RampBounds, RampLimits, fastest_ramp
from core.practice.feeding_plan import MOST_WEEKS, must_not_be_broken, usual_rise
from core.practice.feeding_view import FeedingView
from core.practice.feeding_work import as_fed_g, dry_g, protein_of


@dataclass(frozen=True)
class Asked:
    """What the filter model is asked with: the filter, the new water, and its own limits."""

    filter_area_m2: float
    exchange_percent: float
    """Share of the water changed a day."""
    tap_alkalinity_mg_l: float
    tan_mg_l: float = 0.5
    nitrite_mg_l: float = 0.5
    gate: Gate = field(default_factory=Gate)


def filter_of(seen: FeedingView, asked: Asked) -> FilterSystem:
    """Return the water as the filter model takes it.

    Raises
    ------
    Refusal
        When something it needs is not known; the sentence says what.
    """
    readings, food = seen.today.readings, seen.inputs.food
    protein = protein_of(food)
    known = {
        "the volume": seen.system.volume_l,
        "the temperature": readings.temperature_c,
        "the alkalinity": readings.alkalinity_mg_l,
        "the protein of the food": protein,
    }
    lacking = [name for name, value in known.items() if value is None]
    if lacking:
        raise Refusal(f"The filter model needs {', '.join(lacking)}.", "Measure or ask first.")
    volume, temperature, alkalinity, share = (float(value or 0.0) for value in known.values())
    dry_protein = share * as_fed_g(food, 1.0)
    return FilterSystem(
        volume,
        asked.filter_area_m2,
        temperature,
        dry_protein,
        asked.exchange_percent / 100,
        asked.tap_alkalinity_mg_l,
        alkalinity_mg_l=alkalinity,
    )


def model_ramp(seen: FeedingView, asked: Asked, trying: Callable[[int], None]) -> Ramp:
    """Return the shortest rise that the filter model can follow; a model that was never validated.

    Parameters
    ----------
    trying : callable
        Told the number of weeks that is tried.

    Raises
    ------
    Refusal
        While a gate is broken, or when no rise stays within the limits; both name the limit.
    """
    rise = usual_rise(seen)
    must_not_be_broken(seen, asked.gate)
    system = filter_of(seen, asked)
    limits = RampLimits(asked.tan_mg_l, asked.nitrite_mg_l, gate=asked.gate)
    first, last = (dry_g(seen.inputs.food, g) for g in (rise.from_g, rise.to_g))
    broken: Refusal | None = None
    for weeks in range(1, MOST_WEEKS + 1):
        trying(weeks)
        try:
            return fastest_ramp(system, first, last, limits, RampBounds(weeks, weeks))
        except BadInput:
            raise
        except Refusal as error:
            broken = error
    assert broken is not None
    why = broken.sentence.split("model: ", 1)[-1]
    raise Refusal(
        f"In the filter model no rise in 1 to {MOST_WEEKS} weeks stays within its limits: {why}",
        broken.todo,
    )
