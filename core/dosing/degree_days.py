"""Degree-days: the days that a sum of daily water temperatures takes, for withdrawal and intervals.

A withdrawal in degree-days is rounded up to whole days and an interval between treatments is
rounded down, because the cautious side is not the same. The sum says nothing about how fast a
fish clears a medicine: oxytetracycline in trout was given 60 days above 10 °C and 100 days from
7 to 10 °C (DD_NORWAY), which is not one number of degree-days. The veterinarian sets the number.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from itertools import accumulate
from math import isfinite
from typing import NewType

from core.dosing.limits import not_below_zero, over, whole_down, whole_up
from core.errors import BadInput, Refusal
from core.sourced import sourced

DegreeDays = NewType("DegreeDays", float)
"""A sum of daily mean temperatures; a type of its own, so that days never pass for it."""

CASCADE_DEGREE_DAYS = DegreeDays(500.0)
"""For fish meat, use outside the label: the least in LAW_UK_2006, the divisor rule of LAW_CH_TAMV.

The present rule of the European Union (LAW_EU_115) has further cases; read it there.
"""

_WARMEST_C = 35.0
_COLDEST_C = 1.0


@sourced(
    equation="degree-days = mean water temperature x days",
    source="ARITHMETIC",
    valid={"temperature_c": (0.0, _WARMEST_C)},
    gives="degree-days",
)
def degree_days(temperature_c: float, days: float) -> DegreeDays:
    """Return the degree-days gathered at one mean temperature.

    Parameters
    ----------
    temperature_c : float
        Mean water temperature over the time, above 0 °C as zero point.
    days : float
        Length of the time.

    Raises
    ------
    OutOfRange
        For a temperature below 0 or above 35 °C.
    BadInput
        For days below zero.

    Examples
    --------
    >>> degree_days(10.0, 50)
    500.0
    """
    not_below_zero("The days", days)
    return DegreeDays(temperature_c * days)


@sourced(
    equation="days = degree-days / mean water temperature, rounded up",
    source="ARITHMETIC",
    valid={"temperature_c": (_COLDEST_C, _WARMEST_C)},
    gives="d",
)
def days_needed(needed: DegreeDays, temperature_c: float) -> int:
    """Return the whole days until a number of degree-days is full: for a withdrawal.

    Parameters
    ----------
    needed : DegreeDays
        Set by the label, the law or the veterinarian.
    temperature_c : float
        Mean water temperature that is expected; take the lowest that can come.

    Raises
    ------
    OutOfRange
        Below 1 °C, where the sum hardly grows, and above 35 °C.
    BadInput
        When the degree-days are below zero.

    Examples
    --------
    >>> days_needed(DegreeDays(500), 12.0)
    42
    """
    not_below_zero("The degree-days", needed)
    return whole_up(needed / temperature_c)


@sourced(
    equation="days = degree-days / mean water temperature, rounded down",
    source="ARITHMETIC",
    valid={"temperature_c": (_COLDEST_C, _WARMEST_C)},
    gives="d",
)
def interval_days(needed: DegreeDays, temperature_c: float) -> int:
    """Return the longest whole days that do not pass a number of degree-days: for an interval.

    Parameters
    ----------
    needed : DegreeDays
        What a parasite takes to the stage that must be met.
    temperature_c : float
        Mean water temperature that is expected; take the highest that can come.

    Raises
    ------
    OutOfRange
        Below 1 or above 35 °C.
    BadInput
        When the degree-days are below zero.
    Refusal
        When not even one day fits.

    Examples
    --------
    >>> interval_days(DegreeDays(85), 20.0)
    4
    """
    not_below_zero("The degree-days", needed)
    days = whole_down(needed / temperature_c)
    if days < 1:
        raise Refusal(
            f"{needed:g} degree-days are gone in less than a day at {temperature_c:g} °C.",
            "Plan this course by the hour.",
        )
    return days


@sourced(
    equation="degree-days = sum of the daily means, a day below 0 °C counting 0",
    source="ARITHMETIC",
    gives="degree-days",
)
def gathered(daily_means_c: Sequence[float]) -> DegreeDays:
    """Return the degree-days of measured days.

    Raises
    ------
    BadInput
        For a daily mean that is unknown or above 35 °C.

    Examples
    --------
    >>> gathered([12.0, 11.5, -0.5])
    23.5
    """
    return DegreeDays(sum(_counted(mean) for mean in daily_means_c))


@sourced(equation="end = day of last treatment + days needed", source="ARITHMETIC", gives="a date")
def end_expected(last_given: date, needed: DegreeDays, temperature_c: float) -> date:
    """Return the first day on which a withdrawal in degree-days is expected to be over.

    It is a forecast; `end_measured` goes by what the thermometer said.

    Raises
    ------
    OutOfRange, BadInput
        As `days_needed`.

    Examples
    --------
    >>> end_expected(date(2026, 6, 1), DegreeDays(500), 20.0)
    datetime.date(2026, 6, 26)
    """
    return last_given + timedelta(days=days_needed(needed, temperature_c))


@sourced(
    equation="end = first day by whose close the sum of the daily means is full",
    source="ARITHMETIC",
    gives="a date",
)
def end_measured(
    last_given: date, needed: DegreeDays, daily_means_c: Sequence[float]
) -> date | None:
    """Return the day by whose close the measured degree-days are full, None while they are not.

    Parameters
    ----------
    last_given : date
        Day of the last treatment; that day itself counts nothing.
    needed : DegreeDays
    daily_means_c : sequence of float
        One for every day after the last treatment, none left out.

    Raises
    ------
    BadInput
        When the degree-days are below zero, or as `gathered`.
    """
    not_below_zero("The degree-days", needed)
    sums = accumulate(map(_counted, daily_means_c), initial=0.0)
    for day, full in enumerate(sums):
        if not over(needed, full):
            return last_given + timedelta(days=day)
    return None


def _counted(mean_c: float) -> float:
    if not (isfinite(mean_c) and mean_c <= _WARMEST_C):
        raise BadInput(
            f"A daily mean of {mean_c} °C can not be counted; type up to 35, for example 12.5."
        )
    return max(0.0, mean_c)
