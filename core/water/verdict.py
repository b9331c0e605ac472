"""One reading against the limit of its kind of system: good, watch or act, and why."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from core.numbers import figures, plain
from core.sourced import sourced
from core.water.derived import Derived, derive
from core.water.readings import FIELDS, WaterReadings, is_below, value_of
from core.water.targets import NAMES, UNITS, Limit, Side, SystemKind

Word = Literal["good", "watch", "act", "no limit"]
GRAVITY: Mapping[Word, int] = MappingProxyType({"no limit": 0, "good": 1, "watch": 2, "act": 3})

ROWS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {"ammonia": ("toxic_ammonia", "ammonia"), "oxygen": ("oxygen", "oxygen_percent")}
)
"""Readings that are judged in more than one way."""


@dataclass(frozen=True)
class Verdict:
    """What a limit says to one reading."""

    word: Word
    sentence: str
    limit: Limit | None
    reading: str
    value: float
    below: bool = False


@dataclass(frozen=True)
class _Break:
    word: Word
    side: Side
    relation: str
    bound: float
    unknown: bool = False


@sourced(
    equation="act outside low to high, watch outside the aim, else good",
    source="ARITHMETIC",
    gives="",
)
def judge(reading: str, value: float, limit: Limit | None, below: bool = False) -> Verdict:
    """Judge one reading against a limit.

    Parameters
    ----------
    reading : str
        A key of `core.water.targets.NAMES`.
    value : float
        The reading in the unit of the limit; with `below`, the kit's lowest step.
    limit : Limit or None
        The limit of this kind of system; None when it has none.
    below : bool
        The result was under the lowest step: the step is taken as the most it can be. Where
        the step does not settle it, the word is *watch* and the sentence says so.

    Returns
    -------
    Verdict
        Names the limit that is broken, with its number and source.

    Examples
    --------
    >>> limit = Limit("ph", 6.5, 9.0, 7.0, 8.5, "", "X", "read")
    >>> judge("ph", 9.2, limit).sentence
    'pH 9.2 is over the limit of 9 (X).'
    """
    ends = () if limit is None else (limit.low, limit.high, limit.aim_low, limit.aim_high)
    if limit is None or all(end is None for end in ends):
        unit = UNITS.get(reading, "mg/L")
        shown = _shown(value, None, unit, below)
        return Verdict(
            "no limit", f"{NAMES[reading]} {shown}: no limit is set.", None, reading, value, below
        )
    broken = _under_step(value, limit) if below else _measured(value, limit)
    word: Word = broken.word if broken else "good"
    return Verdict(
        word, _sentence(reading, value, limit, below, broken), limit, reading, value, below
    )


def _measured(value: float, limit: Limit) -> _Break | None:
    if limit.low is not None and value < limit.low:
        return _Break("act", "limit", "under the limit of", limit.low)
    if limit.high is not None and value > limit.high:
        return _Break("act", "limit", "over the limit of", limit.high)
    if limit.aim_low is not None and value < limit.aim_low:
        return _Break("watch", "aim", "under the aim of", limit.aim_low)
    if limit.aim_high is not None and value > limit.aim_high:
        return _Break("watch", "aim", "over the aim of", limit.aim_high)
    return None


def _under_step(step: float, limit: Limit) -> _Break | None:
    """The true value lies from nothing up to the step, and the step itself is not reached."""
    if limit.low is not None and step <= limit.low:
        return _Break("act", "limit", "under the limit of", limit.low)
    if limit.aim_low is not None and step <= limit.aim_low:
        return _Break("watch", "aim", "under the aim of", limit.aim_low)
    return _unsettled(step, limit)


def _unsettled(step: float, limit: Limit) -> _Break | None:
    lows: tuple[tuple[Side, float | None], ...] = (("aim", limit.aim_low), ("limit", limit.low))
    highs: tuple[tuple[Side, float | None], ...] = (("aim", limit.aim_high), ("limit", limit.high))
    for side, bound in lows:
        if bound is not None and bound > 0:
            return _Break("watch", side, "the lowest it should be is", bound, unknown=True)
    for side, bound in highs:
        if bound is not None and step > bound:
            return _Break("watch", side, "the most it should be is", bound, unknown=True)
    return None


def _sentence(reading: str, value: float, limit: Limit, below: bool, broken: _Break | None) -> str:
    shown = _shown(value, broken.bound if broken else None, limit.unit, below)
    name = NAMES[reading]
    if broken is None:
        return f"{name} {shown}{_judged(below)} is within {_range(limit)}."
    against = f"{_with_unit(broken.bound, limit.unit)} ({limit.origin(broken.side)})"
    if broken.unknown:
        return (
            f"{name} {shown}: the test's lowest step does not settle it; "
            f"{broken.relation} {against}."
        )
    return f"{name} {shown}{_judged(below)} is {broken.relation} {against}."


def _judged(below: bool) -> str:
    return ", the test's lowest step and so judged as that," if below else ""


def _range(limit: Limit) -> str:
    aimed = limit.aim_low is not None or limit.aim_high is not None
    low, high = (limit.aim_low, limit.aim_high) if aimed else (limit.low, limit.high)
    side: Side = "aim" if aimed else "limit"
    origin = f"({limit.origin(side)})"
    if low is None:
        return f"its {side} of at most {_with_unit(high or 0.0, limit.unit)} {origin}"
    if high is None:
        return f"its {side} of at least {_with_unit(low, limit.unit)} {origin}"
    return f"its {side} of {plain(low)} to {_with_unit(high, limit.unit)} {origin}"


def _with_unit(value: float, unit: str) -> str:
    return f"{plain(value)} {unit}".rstrip()


def _shown(value: float, bound: float | None, unit: str, below: bool) -> str:
    """Show a reading with enough figures that it does not look like the bound it breaks."""
    text = plain(value)
    for digits in (3, 4, 5, 6):
        short = figures(value, digits)
        if len(short) < len(text) and (bound is None or float(short) != bound):
            text = short
            break
    sign = "under " if below else ""
    return f"{sign}{text} {unit}".rstrip()


def judge_all(
    readings: WaterReadings, kind: SystemKind, elevation_m: float = 0.0
) -> dict[str, Verdict]:
    """Judge everything that was measured, and what follows from it.

    Ammonia is judged by its toxic part, and by its total where the kind has a limit for that;
    oxygen in mg/L, and against what water of its own temperature, salinity and elevation holds.

    Parameters
    ----------
    readings : WaterReadings
        What was measured.
    kind : SystemKind
        Carries the limits.
    elevation_m : float
        Elevation of the water in m.

    Returns
    -------
    dict
        Reading to verdict, in the order they are shown.
    """
    found = derive(readings, kind, elevation_m)
    verdicts = {}
    for reading in NAMES:
        value, below = _value(reading, readings, found)
        if value is not None:
            verdicts[reading] = judge(reading, value, kind.limits.get(reading), below)
    return verdicts


def _value(reading: str, readings: WaterReadings, found: Derived) -> tuple[float | None, bool]:
    if reading in FIELDS:
        return value_of(readings, reading), is_below(readings, reading)
    figure = {
        "toxic_ammonia": found.toxic_ammonia,
        "oxygen_percent": found.oxygen_percent,
        "carbon_dioxide": found.carbon_dioxide,
    }[reading]
    return figure.value, figure.at_most


def worst(verdicts: Iterable[Verdict]) -> Verdict | None:
    """Return the gravest verdict, the first one of equals; None when there is none."""
    return max(verdicts, key=lambda verdict: GRAVITY[verdict.word], default=None)


def for_row(verdicts: Mapping[str, Verdict], reading: str) -> Verdict | None:
    """Return the verdict to show beside one reading: the gravest of the ways it is judged."""
    names = ROWS.get(reading, (reading,))
    return worst(verdicts[name] for name in names if name in verdicts)
