"""When the doses of a course or the parts of one fall due, and how that is said."""

from __future__ import annotations

from datetime import date, timedelta

from core.errors import BadInput
from core.numbers import plain

DAY_H = 24


def part_days(start: date, parts: int, apart_h: int = DAY_H) -> tuple[date, ...]:
    """Return the day of each part, the first in the morning of its day.

    Raises
    ------
    BadInput
        For no part, or less than an hour between two.

    Examples
    --------
    >>> [d.day for d in part_days(date(2026, 11, 30), 4, 12)]
    [30, 30, 1, 1]
    """
    if parts < 1 or apart_h < 1:
        raise BadInput("Parts need at least one hour between two.", "Type for example 12.")
    return tuple(start + timedelta(days=n * apart_h // DAY_H) for n in range(parts))


def apart(hours: float) -> str:
    """Return how far parts lie apart, in words.

    Examples
    --------
    >>> apart(24), apart(12)
    ('a day apart', '12 h apart')
    """
    return "a day apart" if hours == DAY_H else f"{hours:g} h apart"


def often(hours: float) -> str:
    """Return how far two doses lie apart, as an owner is told; never a count of doses.

    Examples
    --------
    >>> often(24), often(168), often(12), often(36), often(1)
    ('once a day', 'every 7 days', 'every 12 hours', 'every 36 hours', 'every hour')
    """
    if hours == DAY_H:
        return "once a day"
    if hours > DAY_H and hours % DAY_H == 0:
        return f"every {plain(hours / DAY_H)} days"
    return "every hour" if hours == 1 else f"every {plain(hours)} hours"


def frequency(repeats: int, steps: int, hours: float) -> str:
    """Return how often something is given: how far apart first, then how many times in all.

    "10 times every day" would be read as ten doses in a day: the two are never put together.

    Parameters
    ----------
    repeats, steps : int
        How often in all, and in how many parts when it is given once.
    hours : float
        From one dose to the next, or from one part to the next.

    Examples
    --------
    >>> frequency(10, 1, 24), frequency(2, 1, 168)
    ('once a day, 10 times in all', 'every 7 days, 2 times in all')
    >>> frequency(1, 1, 24), frequency(1, 3, 24)
    ('once', 'in 3 parts, 24 hours apart')
    """
    if repeats == 1 and steps == 1:
        return "once"
    if repeats == 1:
        hour = "hour" if hours == 1 else "hours"
        return f"in {steps} parts, {plain(hours)} {hour} apart"
    return f"{often(hours)}, {repeats} times in all"
