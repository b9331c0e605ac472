"""When the parts of a dose fall due, and how that is said."""

from __future__ import annotations

from datetime import date, timedelta

from core.errors import BadInput

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
