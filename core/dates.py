"""Dates as people type them: ``12 oct``, ``12.10.``, ``-3``, ``+2w``, ``yesterday``."""

from __future__ import annotations

import re
from datetime import date, timedelta

from core.errors import BadInput

EXAMPLE = "12 oct, 2026-10-12, -3 (days ago), +2w, today"

_MONTHS = (
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
)
_WORDS = {"today": 0, "t": 0, "yesterday": -1, "y": -1, "tomorrow": 1}
_SHIFT = re.compile(r"([+-])(\d{1,4})\s*([dwm]?)\Z", re.ASCII)
_ISO = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})\Z", re.ASCII)
_DAY_FIRST = re.compile(r"(\d{1,2})\s*[. ]\s*([a-z]{3,9}|\d{1,2})[. ]*(\d{4})?\Z", re.ASCII)


def understand(text: str, today: date) -> date:
    """Return the date a person typed; without a year, the one nearest to today.

    Raises
    ------
    BadInput
        When it can not be read as a date.

    Examples
    --------
    >>> understand("+2w", date(2026, 11, 25)).isoformat()
    '2026-12-09'
    """
    bare = " ".join(text.lower().split())
    if bare in _WORDS:
        return today + timedelta(days=_WORDS[bare])
    found = _shifted(bare, today) or _iso(bare) or _day_first(bare, today)
    if found is None:
        raise BadInput("This is not a date.", f"Type {EXAMPLE}.")
    return found


def _shifted(bare: str, today: date) -> date | None:
    found = _SHIFT.match(bare)
    if not found:
        return None
    sign, number, unit = found.groups()
    days = int(number) * {"": 1, "d": 1, "w": 7, "m": 30}[unit]
    return today + timedelta(days=-days if sign == "-" else days)


def _iso(bare: str) -> date | None:
    found = _ISO.match(bare)
    return _real(*(int(part) for part in found.groups())) if found else None


def _day_first(bare: str, today: date) -> date | None:
    found = _DAY_FIRST.match(bare)
    if not found:
        return None
    day, month_text, year = found.groups()
    month = int(month_text) if month_text.isdigit() else _month(month_text)
    if month is None:
        return None
    if year:
        return _real(int(year), month, int(day))
    near = [_real(today.year + shift, month, int(day)) for shift in (-1, 0, 1)]
    return min((d for d in near if d), key=lambda d: abs(d - today), default=None)


def _month(word: str) -> int | None:
    return next((n for n, name in enumerate(_MONTHS, 1) if name.startswith(word)), None)


def _real(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None


def said(day: date, today: date) -> str:
    """Return a date as it is shown: ``25 Nov``, with the year when it is not this one."""
    text = f"{day.day} {_MONTHS[day.month - 1][:3].title()}"
    return text if day.year == today.year else f"{text} {day.year}"


def span(first: date, last: date, today: date) -> str:
    """Return two dates as they are shown: ``9 to 12 Dec``, ``30 Nov to 2 Dec``, ``9 Dec``.

    Examples
    --------
    >>> span(date(2026, 12, 9), date(2026, 12, 12), date(2026, 11, 25))
    '9 to 12 Dec'
    """
    if first == last:
        return said(first, today)
    month = (first.year, first.month) == (last.year, last.month)
    return f"{first.day if month else said(first, today)} to {said(last, today)}"
