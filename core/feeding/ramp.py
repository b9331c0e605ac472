"""A rise in feed that the biofilter can follow.

The filter is simulated, see `biofilter`; what it gives is a plan to test against, never a
promise: each step stays behind its gate.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from core.errors import BadInput, Refusal
from core.feeding.biofilter import (
    LEAST_ALKALINITY_MG_L,
    FilterSystem,
    rates_of_change,
    settled,
)
from core.feeding.filter_run import FeedingPlan, FilterRun
from core.feeding.gates import Gate, RampStep, stepped_rise
from core.feeding.integrate import State, integrate
from core.numbers import figures, plain
from core.sourced import sourced

DAYS_AFTER_RISE = 3
DAYS_AFTER_LAST = 7


@dataclass(frozen=True)
class RampLimits:
    """Within what the model must stay while a ramp is looked for.

    Attributes
    ----------
    tan_mg_l, nitrite_mg_l : float
        Total ammonia and nitrite, as N, under which the model must stay.
    alkalinity_mg_l : float
        Alkalinity as CaCO3 under which it must not fall.
    gate : Gate
        What must be *measured* before each step; it may be stricter than the model's limits,
        since the model never settles as low as a ripe filter often reads.
    """

    tan_mg_l: float
    nitrite_mg_l: float
    alkalinity_mg_l: float = LEAST_ALKALINITY_MG_L
    gate: Gate = field(default_factory=Gate)


@dataclass(frozen=True)
class RampBounds:
    """Between which lengths a ramp is looked for.

    Attributes
    ----------
    fewest_weeks, most_weeks : int
        Weekly steps.
    watched_days : int
        How long the model is followed after the last step.
    """

    fewest_weeks: int = 1
    most_weeks: int = 26
    watched_days: int = 28


@dataclass(frozen=True)
class Ramp:
    """The shortest even rise that stays within its limits in the model.

    Attributes
    ----------
    weeks : int
        Number of weekly steps.
    steps : tuple of RampStep
        Each with its grams, its day and its gate.
    run : FilterRun
        What the model predicts.
    test_days : tuple of int
        Days from the start on which the water is tested.
    sentence : str
        The same for a person.
    """

    weeks: int
    steps: tuple[RampStep, ...]
    run: FilterRun
    test_days: tuple[int, ...]
    sentence: str

    def __str__(self) -> str:
        return self.sentence


@sourced(
    equation="TAN = feed x protein x 0.092 (0.16 x 0.80 x 0.80 x 0.90)",
    source="TIMMONS18",
    valid={"protein_fraction": (0.28, 0.52)},
)
def ammonia_from_feed_g(feed_g: float, protein_fraction: float) -> float:
    """Return the total ammonia that eaten food sets free, in grams of N.

    Parameters
    ----------
    feed_g : float
        Food as fed, in grams; moist food first turned into its dry equivalent.
    protein_fraction : float
        Protein of the dry food, a fraction of its weight, 0.28 to 0.52.

    Raises
    ------
    BadInput
        When the food is below zero.

    Notes
    -----
    Source: Timmons et al. 2018 as restated by Tetreault et al. 2023. The fractions are
    conventions; a nitrogen budget of the FAO lies about 5 % above.
    """
    if not 0 <= feed_g < float("inf"):
        raise BadInput("Food can not be below 0 g, for example 45 g.")
    return feed_g * protein_fraction * 0.092


@sourced(
    equation="V dA/dt = P - Ca A/(K + A) + Q (Ain - A), and so on for nitrite, nitrate, "
    "alkalinity and both activities; steps of Runge-Kutta",
    source="FILTER_MODEL",
    gives="",
    opaque=True,
)
def run_filter(system: FilterSystem, feeding_plan: FeedingPlan, days: float) -> FilterRun:
    """Return what the filter model predicts for a feeding plan over some days.

    It starts where the system settles on the old ration, and stops when alkalinity falls
    under 50 mg/L, since the model has no figure for a filter that lacks it.

    Parameters
    ----------
    system : FilterSystem
        Water and filter.
    feeding_plan : FeedingPlan
        The ration from day to day.
    days : float
        How long to follow it, in days, above 0 and at most 730.

    Raises
    ------
    OutOfRange
        Outside 10 to 30 °C, or for protein outside the range of `ammonia_from_feed_g`.
    Refusal
        When the filter can not carry the old ration.
    BadInput
        For a length of time that can not be followed.
    """
    if not 0 < days <= 730:
        raise BadInput("The filter model is followed from 1 to 730 days.")
    states = [(0.0, _start(system, feeding_plan))]
    stopped = _alkalinity(states[0])
    if not stopped:
        for moment in _followed(system, feeding_plan, days):
            states.append(moment)
            stopped = _alkalinity(moment)
            if stopped:
                break
    return _as_run(system, states, stopped)


def _start(system: FilterSystem, plan: FeedingPlan) -> State:
    return settled(system, ammonia_from_feed_g(plan.from_g, system.protein_fraction))


def _followed(
    system: FilterSystem, plan: FeedingPlan, days: float
) -> Iterator[tuple[float, State]]:
    """Give moment and state step by step; a jump in the ration ends a step."""
    state = _start(system, plan)
    per_gram = ammonia_from_feed_g(1.0, system.protein_fraction)
    for first, last, low, high in plan.pieces(days):
        rate = rates_of_change(system, _line(first, last, low * per_gram, high * per_gram))
        for moment in integrate(rate, first, last, state):
            yield moment
            state = moment[1]


def _line(first: float, last: float, low: float, high: float) -> Callable[[float], float]:
    slope = (high - low) / (last - first)
    return lambda day: low + slope * (day - first)


def _alkalinity(moment: tuple[float, State]) -> str:
    day, state = moment
    if state[3] >= LEAST_ALKALINITY_MG_L:
        return ""
    when = "at the start" if day == 0 else f"on day {plain(float(int(day) + 1))}"
    return (
        f"Alkalinity falls under {plain(LEAST_ALKALINITY_MG_L)} mg/L {when}: the filter model "
        "stops there. Add bicarbonate or change more water, and measure."
    )


def _as_run(system: FilterSystem, states: list[tuple[float, State]], stopped: str) -> FilterRun:
    days = tuple(day for day, _ in states)
    tan, nitrite, nitrate, alkalinity = (
        tuple(state[place] for _, state in states) for place in range(4)
    )
    first, last = states[0][1], states[-1][1]
    gain = system.volume_m3 * (sum(last[:3]) - sum(first[:3]))
    return FilterRun(
        days, tan, nitrite, nitrate, alkalinity, days[-1], stopped, last[6], last[7], gain
    )


@sourced(
    equation="the fewest even weekly steps for which the filter model stays under the limits",
    source="FILTER_MODEL",
    gives="",
    opaque=True,
)
def fastest_ramp(
    system: FilterSystem, from_g: float, to_g: float, limits: RampLimits, bounds: RampBounds
) -> Ramp:
    """Return the shortest even rise of the ration that the model's filter can follow.

    Parameters
    ----------
    system : FilterSystem
        Water and filter.
    from_g, to_g : float
        Ration now and the one aimed at, in grams a day.
    limits : RampLimits
        Ammonia, nitrite and alkalinity within which the model must stay, and each step's gate.
    bounds : RampBounds
        Between how many weeks to look.

    Raises
    ------
    Refusal
        When no ramp within the bounds stays under the limits; the sentence names the limit
        that breaks.
    BadInput, OutOfRange
        As `run_filter` and `stepped_rise`.
    """
    broken = ""
    for weeks in range(bounds.fewest_weeks, bounds.most_weeks + 1):
        steps = stepped_rise(from_g, to_g, weeks, limits.gate)
        plan = FeedingPlan(from_g, tuple((float(s.day), s.grams) for s in steps))
        run = run_filter.plain(system, plan, steps[-1].day + float(bounds.watched_days))
        broken = _broken(run, limits)
        if not broken:
            return Ramp(weeks, steps, run, _test_days(steps, run), _sentence(steps, run))
    raise Refusal(
        f"No rise in {bounds.fewest_weeks} to {bounds.most_weeks} weeks stays within its limits in "
        f"the filter model: {broken or 'the bounds leave no week to try.'}",
        "Feed less, enlarge the filter, change more water, or hold the ration.",
    )


def _broken(run: FilterRun, limits: RampLimits) -> str:
    (tan_day, tan), (nitrite_day, nitrite) = run.tan_peak, run.nitrite_peak
    if tan >= limits.tan_mg_l:
        return (
            f"ammonia reaches {figures(tan)} mg/L N on day {int(tan_day)}, the limit is "
            f"{plain(float(limits.tan_mg_l))}."
        )
    if nitrite >= limits.nitrite_mg_l:
        return (
            f"nitrite reaches {figures(nitrite)} mg/L N on day {int(nitrite_day)}, the limit is "
            f"{plain(float(limits.nitrite_mg_l))}."
        )
    least = min(run.alkalinity_mg_l)
    if run.stopped or least < limits.alkalinity_mg_l:
        return run.stopped or (
            f"alkalinity falls to {figures(least)} mg/L, the limit is "
            f"{plain(float(limits.alkalinity_mg_l))}."
        )
    return ""


def _test_days(steps: tuple[RampStep, ...], run: FilterRun) -> tuple[int, ...]:
    after = {step.day + DAYS_AFTER_RISE for step in steps}
    gates = {step.day for step in steps}
    peaks = {round(run.tan_peak[0]), round(run.nitrite_peak[0])}
    return tuple(sorted(after | gates | peaks | {steps[-1].day + DAYS_AFTER_LAST}))


def _sentence(steps: tuple[RampStep, ...], run: FilterRun) -> str:
    (tan_day, tan), (nitrite_day, nitrite) = run.tan_peak, run.nitrite_peak
    gate = steps[0].gate
    expect = (
        " That is over the gate: expect it to hold the rise."
        if tan >= gate.tan_mg_l or nitrite >= gate.nitrite_mg_l
        else ""
    )
    return (
        f"{len(steps)} weekly steps to {figures(steps[-1].grams)} g a day. The model's highest "
        f"ammonia is {figures(tan)} mg/L N on day {round(tan_day)}, nitrite {figures(nitrite)} "
        f"mg/L N on day {round(nitrite_day)}, lowest alkalinity "
        f"{figures(min(run.alkalinity_mg_l))} mg/L.{expect} {run.note}"
    )
