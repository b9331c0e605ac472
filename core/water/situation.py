"""One water with all that is known of it, and the parts that lines of *do first* share."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import ceil
from typing import Literal

from core.errors import BadInput
from core.numbers import figures
from core.water.derived import Derived
from core.water.exchange import changes_to_reach, concentration_after, fraction_to_reach
from core.water.readings import WaterReadings
from core.water.targets import CUSTOM, Limit, SystemKind
from core.water.verdict import Verdict

Presence = Literal["plants", "zeolite", "invertebrates", "salt-sensitive fish"]
NO_SALT: tuple[Presence, ...] = ("plants", "zeolite", "invertebrates", "salt-sensitive fish")
"""What may be in a water that speaks against salt, in the order it is named."""

LARGEST_CHANGE = 0.5
"""Largest share at once (common practice, no source)."""


@dataclass(frozen=True)
class FirstStep:
    """One line of *do first*."""

    action: str
    figure: str
    because: str
    """The sentence of the verdict that called for it, with its limit and source."""
    limit: Limit | None
    how_known: str
    amount: float | None = None
    unit: str = ""


@dataclass(frozen=True)
class Situation:
    """All that the list is made from."""

    readings: WaterReadings
    kind: SystemKind
    found: Derived
    verdicts: Mapping[str, Verdict]
    volume_l: float | None
    tap: WaterReadings
    present: frozenset[Presence]

    def broken(self, reading: str, *words: str) -> Verdict | None:
        """Return the verdict on a reading when its word is one of these (act or watch)."""
        verdict = self.verdicts.get(reading)
        wanted = words or ("act", "watch")
        return verdict if verdict and verdict.word in wanted else None


def step(
    verdict: Verdict, action: str, figure: str, amount: float | None = None, unit: str = ""
) -> FirstStep:
    """Return a line that carries the verdict which called for it."""
    return FirstStep(action, figure, verdict.sentence, verdict.limit, CUSTOM, amount, unit)


def per(here: Situation) -> str:
    """Return what an amount is for: the whole water, or 100 L where the volume is not known."""
    return " for all" if here.volume_l is not None else " for each 100 L"


def ammonia_verdict(here: Situation) -> Verdict | None:
    """Return the ammonia verdict that calls for acting, the toxic part before the total."""
    return here.broken("toxic_ammonia", "act") or here.broken("ammonia", "act")


def change(
    here: Situation, verdict: Verdict, start: float, incoming: float, wanted: float
) -> FirstStep:
    """Return the water change that brings a reading to what is wanted, in steps of 5 %."""
    source = "new sea water of the same salinity" if here.kind.water != "fresh" else "new water"
    try:
        share = fraction_to_reach(start, incoming, wanted)
    except BadInput:
        return step(
            verdict,
            "Find better new water",
            f"the new water itself holds {figures(incoming)} mg/L: changing does not help",
        )
    rounded = min(LARGEST_CHANGE, ceil(round(share * 20, 6)) / 20)
    percent = round(100 * rounded)
    after = concentration_after(start, incoming, rounded)
    action = f"Change {percent} % for {source} without chlorine, at the same temperature"
    figure = f"{figures(start)} becomes {figures(after)} mg/L at the pH it has now"
    if share > LARGEST_CHANGE:
        figure += _how_often(start, incoming, wanted)
    return step(verdict, action, figure, float(percent), "%")


def _how_often(start: float, incoming: float, wanted: float) -> str:
    if wanted == incoming:
        return "; again each day, testing before each"
    times = ceil(changes_to_reach(start, incoming, LARGEST_CHANGE, wanted))
    return f"; {times} such changes reach the limit, a day apart, testing before each"
