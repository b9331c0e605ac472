"""A course of treatment: its dates, its totals, its steps and its end."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from math import ceil, isfinite
from typing import Generic

from core.dosing.arithmetic import AnyConcentration, bath_mass
from core.dosing.kinds import ActiveMass, Water
from core.dosing.limits import whole_up
from core.dosing.quantity import Kind, Quantity, expect
from core.errors import BadInput
from core.sourced import sourced


def dates(start: date, every_days: int, times: int) -> tuple[date, ...]:
    """Return the days of a course.

    Parameters
    ----------
    start : date
        Day of the first treatment.
    every_days : int
        Days from one treatment to the next.
    times : int
        How many treatments, the first included.

    Raises
    ------
    BadInput
        For fewer than one treatment or less than one day between two.

    Examples
    --------
    >>> [d.day for d in dates(date(2026, 11, 25), 3, 3)]
    [25, 28, 1]
    """
    _counted(every_days, times)
    return tuple(start + timedelta(days=every_days * n) for n in range(times))


def moments(start: datetime, every_hours: int, times: int) -> tuple[datetime, ...]:
    """Return the moments of a course given by the hour; `start` must know its time zone.

    Raises
    ------
    BadInput
        For a start without a time zone, or an interval or number below one.
    """
    if start.tzinfo is None:
        raise BadInput("The start of a course needs a time zone.")
    _counted(every_hours, times)
    return tuple(start + timedelta(hours=every_hours * n) for n in range(times))


def days_between(every_hours: int) -> int:
    """Return an interval of whole days, as 72 hours are 3 days.

    Raises
    ------
    BadInput
        When the hours are not whole days.
    """
    days, hours = divmod(every_hours, 24)
    if hours or days < 1:
        raise BadInput(f"{every_hours} hours are not whole days; plan this course by the hour.")
    return days


def end(start: date, lasting_days: int) -> date:
    """Return the day on which something that lasts so many days is over.

    Raises
    ------
    BadInput
        For days below zero.
    """
    if lasting_days < 0:
        raise BadInput(f"{lasting_days} days can not be; type 0 or more, for example 21.")
    return start + timedelta(days=lasting_days)


@sourced(equation="total = one treatment x times", source="ARITHMETIC", gives="")
def total(one: Kind, times: int) -> Kind:
    """Return what a whole course needs of what one treatment needs.

    Raises
    ------
    BadInput
        For fewer than one treatment.
    """
    expect(one, Quantity)
    _counted(times)
    return one.scaled(times)


@sourced(equation="step = whole / steps", source="ARITHMETIC", gives="")
def in_steps(whole: Kind, steps: int) -> tuple[Kind, ...]:
    """Return a whole divided into equal steps, one after another.

    Raises
    ------
    BadInput
        For fewer than one step.
    """
    expect(whole, Quantity)
    _counted(steps)
    return (whole.scaled(1 / steps),) * steps


@sourced(equation="steps = whole / largest step, rounded up", source="ARITHMETIC", gives="")
def steps_no_larger_than(whole: Kind, largest: Kind) -> tuple[Kind, ...]:
    """Return a whole in the fewest equal steps of which none is over the largest allowed.

    Raises
    ------
    WrongKind
        When the two are not of one kind.
    """
    expect(whole, Quantity)
    expect(largest, type(whole))
    ratio = whole.magnitude / largest.m_as(whole.unit)
    return in_steps(whole, max(1, whole_up(ratio)))


@dataclass(frozen=True)
class Part(Generic[Kind]):
    """One step of a ramp: when, how much, and how much it is with all that went before."""

    at: datetime
    part: Kind
    reached: Kind


@sourced(
    equation="equal parts, none over the largest, one interval apart", source="ARITHMETIC", gives=""
)
def ramp(
    whole: Kind, largest: Kind, start: datetime, every_hours: int, fewest: int = 1
) -> tuple[Part[Kind], ...]:
    """Return a whole stepped up in equal parts, each with its moment.

    Parameters
    ----------
    whole : Quantity
        What is reached with the last part.
    largest : Quantity
        The most that one part may be; of the same kind.
    start : datetime
        Of the first part; it must know its time zone.
    every_hours : int
        From one part to the next.
    fewest : int
        So many parts at least.

    Raises
    ------
    WrongKind
        When the two are not of one kind.
    BadInput
        For a start without a time zone, or an interval or number below one.
    """
    least = steps_no_larger_than(whole, largest)
    times = max(len(least), fewest)
    parts = in_steps(whole, times)
    ends = [whole.scaled(n / times) for n in range(1, times)] + [whole]
    return tuple(map(Part, moments(start, every_hours, times), parts, ends))


def parts_within(least_hours: int, most_hours: int, every_hours: int = 24) -> tuple[int, int]:
    """Return the fewest and the most parts whose last falls due within a span of hours.

    Raises
    ------
    BadInput
        For an interval below one, or a span that no part falls into.

    Examples
    --------
    >>> parts_within(24, 48)
    (2, 3)
    """
    _counted(every_hours)
    fewest, most = ceil(least_hours / every_hours) + 1, most_hours // every_hours + 1
    if not 0 <= least_hours <= most_hours or most < fewest:
        raise BadInput(
            f"No part every {every_hours} h ends within {least_hours} to {most_hours} h."
        )
    return fewest, most


def level_ramp(now: float, target: float, most_a_day: float, first: date) -> dict[date, float]:
    """Return the level to be reached on each day of a change: temperature, pH, salt content.

    Parameters
    ----------
    now, target : float
        In the unit of the level; up or down.
    most_a_day : float
        The most it may change in a day, above zero.
    first : date
        Day of the first step.

    Raises
    ------
    BadInput
        For a figure that is unknown or a limit that is not above zero.

    Examples
    --------
    >>> [level for level in level_ramp(18.0, 25.0, 3.0, date(2026, 11, 29)).values()]
    [20.333333333333332, 22.666666666666668, 25.0]
    """
    if not (isfinite(now) and isfinite(target) and isfinite(most_a_day) and most_a_day > 0):
        raise BadInput("A ramp needs two known levels and a limit above zero, for example 2.")
    change = target - now
    days = max(1, whole_up(abs(change) / most_a_day))
    levels = [now + change * n / days for n in range(1, days)] + [target]
    return dict(zip(dates(first, 1, days), levels, strict=True))


@sourced(equation="salt = rise x water volume", source="ARITHMETIC", gives="")
def salt_for_rise(rise: AnyConcentration, water: Water) -> ActiveMass:
    """Return the salt for a rise of the salt content, in g.

    Raises
    ------
    WrongKind
        For anything but a concentration by weight and a water volume.
    """
    salt = bath_mass(rise, water)
    expect(salt, ActiveMass)
    return ActiveMass(salt.m_as("g"), "g")


def _counted(*numbers: int) -> None:
    if min(numbers) < 1:
        raise BadInput("A course needs at least one treatment and an interval of at least 1.")
