"""A rise in feed, step by step, each step behind its gate; and whether a gate is broken today.

Nothing here ever says that a rise is safe: either a limit is broken, or none of those
measured today is.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from core.errors import BadInput
from core.numbers import figures, plain
from core.sourced import sourced

DAYS_A_STEP = 7
NOTHING_BROKEN = (
    "No gate is broken by what was measured today. The veterinarian decides on the step."
)


@dataclass(frozen=True)
class Gate:
    """What must hold on the morning of a step.

    Attributes
    ----------
    tan_mg_l, nitrite_mg_l : float
        Total ammonia and nitrite, both as N, must read under these.
    food_gone_min : float
        The last meal must be eaten within these minutes.
    alkalinity_mg_l : float
        Alkalinity as CaCO3 must not read under this.
    source, how : str
        Key of the source and how the limits are known.
    """

    tan_mg_l: float = 0.25
    nitrite_mg_l: float = 0.1
    food_gone_min: float = 5.0
    alkalinity_mg_l: float = 50.0
    source: str = "FEED_GATE"
    how: str = "from memory"

    def __str__(self) -> str:
        return self.sentence

    @property
    def sentence(self) -> str:
        """Return the gate in words, with what to do when it is broken."""
        return (
            f"Only if ammonia is under {plain(float(self.tan_mg_l))} mg/L N, nitrite under "
            f"{plain(float(self.nitrite_mg_l))} mg/L N, food gone in "
            f"{plain(float(self.food_gone_min))} min and no new deaths; "
            "otherwise stay at this ration and ring."
        )


@dataclass(frozen=True)
class RampStep:
    """One step of a rise in feed.

    Attributes
    ----------
    week : int
        1 for the first step.
    day : int
        Days from the start of the rise to the morning of the step.
    grams : float
        Food a day from then on, in grams.
    gate : Gate
        What must hold that morning.
    sentence : str
        The gate in words.
    """

    week: int
    day: int
    grams: float
    gate: Gate
    sentence: str

    def __repr__(self) -> str:
        return f"week {self.week}: {figures(self.grams)} g"


@dataclass(frozen=True)
class Reading:
    """One reading of the day.

    Attributes
    ----------
    value : float or None
        In mg/L; None when not measured.
    less_than : bool
        True when the kit shows less than `value`, its lowest step.
    """

    value: float | None = None
    less_than: bool = False

    def __post_init__(self) -> None:
        if self.value is not None and not 0 <= self.value < float("inf"):
            raise BadInput("A reading is 0 mg/L or more; leave it empty when not measured.")


@dataclass(frozen=True)
class Measured:
    """What was found on the morning of a step; whatever is None was not looked at.

    Attributes
    ----------
    tan, nitrite, alkalinity : Reading
        Total ammonia and nitrite as N, alkalinity as CaCO3, in mg/L.
    food_gone_min : float or None
        Minutes until the last meal was eaten; infinity when food was left.
    new_deaths : int or None
        Deaths since the last step.
    """

    tan: Reading = Reading()
    nitrite: Reading = Reading()
    alkalinity: Reading = Reading()
    food_gone_min: float | None = None
    new_deaths: int | None = None


@dataclass(frozen=True)
class Answer:
    """Whether the ration may be raised by what was measured.

    Attributes
    ----------
    refused : bool
        True when a limit is broken, something was not measured, or a treatment runs.
    reasons : tuple of str
        Each names its limit; empty only when none is broken.
    sentence : str
        The whole for a person; never a recommendation to raise.
    source, how : str
        Of the limits.
    """

    refused: bool
    reasons: tuple[str, ...]
    sentence: str
    source: str
    how: str

    def __str__(self) -> str:
        return self.sentence


@sourced(equation="grams in week n = from + (to - from) x n / weeks", source="ARITHMETIC")
def step_g(from_g: float, to_g: float, week: int, weeks: int) -> float:
    """Return the grams a day of one of so many even weekly steps.

    Raises
    ------
    BadInput
        For a rise that is none, fewer than one week, or a week outside them.

    Examples
    --------
    >>> [step_g(45.0, 117.0, week, 4) for week in (1, 2, 3, 4)]
    [63.0, 81.0, 99.0, 117.0]
    """
    if not 0 <= from_g < to_g < float("inf"):
        raise BadInput("A rise goes from a ration to a larger one, for example from 45 g to 117 g.")
    if not 1 <= week <= weeks:
        raise BadInput("A rise takes at least one week, and a step lies in one of its weeks.")
    return from_g + (to_g - from_g) * week / weeks


@sourced(equation="even weekly steps, each behind its gate", source="ARITHMETIC", gives="")
def stepped_rise(from_g: float, to_g: float, weeks: int, gate: Gate) -> tuple[RampStep, ...]:
    """Return the steps of an even weekly rise, from a ration to a larger one in grams a day.

    Raises
    ------
    BadInput
        As `step_g`.
    """
    if weeks < 1:
        raise BadInput("A rise takes at least one week.")
    return tuple(
        RampStep(
            week,
            (week - 1) * DAYS_A_STEP,
            step_g.plain(from_g, to_g, week, weeks),
            gate,
            gate.sentence,
        )
        for week in range(1, weeks + 1)
    )


@sourced(equation="each thing measured against its gate", source="ARITHMETIC", gives="")
def may_raise(gate: Gate, measured: Measured, treatments: Sequence[str] = ()) -> Answer:
    """Say which limits of a gate are broken by what was measured today.

    Parameters
    ----------
    gate : Gate
        The limits.
    measured : Measured
        What was found; what was not measured refuses too.
    treatments : sequence of str
        Names of treatments that run in this water now; any one refuses.
    """
    reasons = (
        *_over("Ammonia", measured.tan, gate.tan_mg_l),
        *_over("Nitrite", measured.nitrite, gate.nitrite_mg_l),
        *_alkalinity(measured.alkalinity, gate.alkalinity_mg_l),
        *_food(measured.food_gone_min, gate.food_gone_min),
        *_deaths(measured.new_deaths),
        *(f"A treatment runs in this water: {name}." for name in treatments),
    )
    if not reasons:
        return Answer(False, (), NOTHING_BROKEN, gate.source, gate.how)
    said = "Stay at this ration and ring. " + " ".join(reasons)
    return Answer(True, reasons, said, gate.source, gate.how)


def _over(name: str, reading: Reading, limit: float) -> tuple[str, ...]:
    must = f"it must be under {plain(float(limit))} mg/L as N"
    if reading.value is None:
        return (f"{name} was not measured; {must}.",)
    value = figures(reading.value)
    if reading.less_than:
        if reading.value <= limit:
            return ()
        return (f"{name} reads only as less than {value} mg/L with this kit; {must}.",)
    if reading.value < limit:
        return ()
    return (f"{name} is {value} mg/L as N; {must}.",)


def _alkalinity(reading: Reading, limit: float) -> tuple[str, ...]:
    must = f"it must be at least {plain(float(limit))} mg/L as CaCO3"
    if reading.value is None:
        return (f"Alkalinity was not measured; {must}.",)
    if reading.value >= limit and not reading.less_than:
        return ()
    less = "less than " if reading.less_than else ""
    return (f"Alkalinity is {less}{figures(reading.value)} mg/L; {must}.",)


def _food(minutes: float | None, limit: float) -> tuple[str, ...]:
    must = f"it must be gone in {plain(float(limit))} min"
    if minutes is None:
        return (f"How fast the food is eaten was not watched; {must}.",)
    if minutes <= limit:
        return ()
    if minutes == float("inf"):
        return (f"Food was left over; {must}.",)
    return (f"Food took {figures(minutes)} min; {must}.",)


def _deaths(count: int | None) -> tuple[str, ...]:
    if count is None:
        return ("New deaths were not asked about; there must be none.",)
    return () if count == 0 else (f"New deaths: {count}; there must be none.",)
