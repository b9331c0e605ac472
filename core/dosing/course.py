"""A course of treatment: its dates, its totals, its steps and its end."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from math import ceil

from core.dosing.arithmetic import AnyConcentration, bath_mass
from core.dosing.kinds import ActiveMass, Water
from core.dosing.quantity import Kind, expect
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
    if every_hours < 24 or every_hours % 24:
        raise BadInput(f"{every_hours} hours are not whole days; plan this course by the hour.")
    return every_hours // 24


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
    _counted(1, times)
    return one.scaled(times)


@sourced(equation="step = whole / steps", source="ARITHMETIC", gives="")
def in_steps(whole: Kind, steps: int) -> tuple[Kind, ...]:
    """Return a whole divided into equal steps, one after another.

    Raises
    ------
    BadInput
        For fewer than one step.
    """
    _counted(1, steps)
    return (whole.scaled(1 / steps),) * steps


@sourced(equation="steps = whole / largest step, rounded up", source="ARITHMETIC", gives="")
def steps_no_larger_than(whole: Kind, largest: Kind) -> tuple[Kind, ...]:
    """Return a whole in the fewest equal steps of which none is over the largest allowed.

    Raises
    ------
    WrongKind
        When the two are not of one kind.
    """
    expect(largest, type(whole))
    ratio = whole.magnitude / largest.m_as(whole.unit)
    return in_steps(whole, max(1, ceil(ratio - 1e-9)))


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


def _counted(every: int, times: int) -> None:
    if every < 1 or times < 1:
        raise BadInput("A course needs at least one treatment and an interval of at least 1.")
