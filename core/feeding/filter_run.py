"""What goes into a run of the filter model, a feeding plan, and what comes out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from core.errors import BadInput
from core.numbers import figures

NOT_VALIDATED = (
    "From a model that was never checked against a real system: test the water on the days "
    "given, and let the gates decide."
)


@dataclass(frozen=True)
class FeedingPlan:
    """What is fed from day to day.

    Attributes
    ----------
    from_g : float
        Grams a day before the first change; the filter is taken to have settled on it.
    changes : tuple of (float, float)
        Day and grams a day from then on, days rising from 0.
    straight : bool
        True when the ration climbs evenly from one change to the next, starting at `from_g`
        on day 0; False when it jumps.

    Raises
    ------
    BadInput
        For a ration below zero or days that do not rise.
    """

    from_g: float
    changes: tuple[tuple[float, float], ...] = ()
    straight: bool = False

    def __post_init__(self) -> None:
        days = [day for day, _ in self.changes]
        if any(day < 0 for day in days) or any(b <= a for a, b in pairwise(days)):
            raise BadInput("The days of a feeding plan rise from day 0.")
        if not all(
            0 <= grams < float("inf") for grams in (self.from_g, *dict(self.changes).values())
        ):
            raise BadInput("A ration can not be below 0 g.")

    def __str__(self) -> str:
        steps = ", ".join(f"{figures(grams)} g from day {day:g}" for day, grams in self.changes)
        return f"from {figures(self.from_g)} g: {steps or 'held'}"

    def pieces(self, days: float) -> Iterator[tuple[float, float, float, float]]:
        """Give each stretch up to `days`: its first and last day, and its first and last grams."""
        day, grams = 0.0, self.from_g
        for then, after in (*self.changes, (days, None)):
            end = min(then, days)
            reached = after if self.straight and after is not None else grams
            if end > day:
                whole = then - day
                yield day, end, grams, grams + (reached - grams) * (end - day) / whole
            day, grams = max(day, end), grams if after is None else after
            if then >= days:
                return


@dataclass(frozen=True)
class FilterRun:
    """What the model says about one feeding plan.

    Attributes
    ----------
    days : tuple of float
        Moments of the series, from 0.
    tan_mg_l, nitrite_mg_l, nitrate_mg_l, alkalinity_mg_l : tuple of float
        The series; alkalinity as CaCO3, the others as N.
    ended_day : float
        Where it ended; before the day asked for when it stopped.
    stopped : str
        Why it stopped, in words; empty when it did not.
    nitrogen_in_g, nitrogen_out_g, nitrogen_gain_g : float
        From food and new water, with the old water, and what the water gained.
    note : str
        That the model was never validated.
    """

    days: tuple[float, ...]
    tan_mg_l: tuple[float, ...]
    nitrite_mg_l: tuple[float, ...]
    nitrate_mg_l: tuple[float, ...]
    alkalinity_mg_l: tuple[float, ...]
    ended_day: float
    stopped: str
    nitrogen_in_g: float
    nitrogen_out_g: float
    nitrogen_gain_g: float
    note: str = NOT_VALIDATED

    def __str__(self) -> str:
        (tan_day, tan), (nitrite_day, nitrite) = self.tan_peak, self.nitrite_peak
        return (
            f"highest ammonia {figures(tan)} mg/L N on day {round(tan_day)}, nitrite "
            f"{figures(nitrite)} on day {round(nitrite_day)}. {self.stopped or self.note}"
        )

    @property
    def tan_peak(self) -> tuple[float, float]:
        """Return day and height (mg/L as N) of the highest ammonia."""
        return _peak(self.days, self.tan_mg_l)

    @property
    def nitrite_peak(self) -> tuple[float, float]:
        """Return day and height (mg/L as N) of the highest nitrite."""
        return _peak(self.days, self.nitrite_mg_l)

    def on(self, day: float) -> tuple[float, float, float, float]:
        """Return TAN, nitrite, nitrate and alkalinity (mg/L) on a day, between two moments evenly.

        Raises
        ------
        BadInput
            For a day before the start or after the end of the run.
        """
        if not 0 <= day <= self.ended_day:
            raise BadInput(f"The run goes from day 0 to day {figures(self.ended_day)}.")
        after = next(n for n, moment in enumerate(self.days) if moment >= day)
        before = max(0, after - 1)
        width = self.days[after] - self.days[before]
        share = (day - self.days[before]) / width if width else 0.0
        tan, nitrite, nitrate, alkalinity = (
            series[before] + share * (series[after] - series[before])
            for series in (
                self.tan_mg_l,
                self.nitrite_mg_l,
                self.nitrate_mg_l,
                self.alkalinity_mg_l,
            )
        )
        return tan, nitrite, nitrate, alkalinity


def even_rise(from_g: float, to_g: float, rise_days: float) -> FeedingPlan:
    """Return a plan that climbs evenly between two rations (g a day) over some days; 0 jumps.

    Raises
    ------
    BadInput
        For a ration or a number of days below zero.
    """
    return FeedingPlan(from_g, ((rise_days, to_g),), straight=rise_days > 0)


def _peak(days: tuple[float, ...], series: tuple[float, ...]) -> tuple[float, float]:
    height, day = max(zip(series, days, strict=True), key=lambda pair: pair[0])
    return day, height
