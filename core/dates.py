"""Dates as people type them: ``12 oct``, ``12.10.``, ``-3``, ``+2w``, ``yesterday``."""

from __future__ import annotations

import re
from calendar import monthrange
from datetime import date, timedelta

from core.errors import BadInput

EXAMPLE = "12 oct, 2026-10-12, -3 (days ago), +2w, today"
EXPIRY_EXAMPLE = "2027-03, 03/2027 or 2027-03-31"
PAST_EXAMPLE = "25 mar, 2025-03-25, -3 (days ago), 8 months ago"

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
_AGO = re.compile(r"(an?|one|\d{1,4}) (day|week|month|year)s? ago\Z", re.ASCII)
_ISO = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})\Z", re.ASCII)
_DAY_FIRST = re.compile(r"(\d{1,2})\s*[. ]\s*([a-z]{3,9}|\d{1,2})[. ]*(\d{4})?\Z", re.ASCII)
_YEAR_MONTH = re.compile(r"(?P<year>\d{4})\s?[-/. ]\s?(?P<month>\d{1,2})\Z", re.ASCII)
_MONTH_YEAR = re.compile(r"(?P<month>\d{1,2}|[a-z]{3,9})\s?[-/. ]\s?(?P<year>\d{4})\Z", re.ASCII)


def expiry(text: str, today: date) -> date:
    """Return the day until which something can be used, as a pack prints it.

    A month means its last day.

    Raises
    ------
    BadInput
        As `understand` does.

    Examples
    --------
    >>> expiry("2027-02", date(2026, 11, 25)).isoformat()
    '2027-02-28'
    """
    return _whole_month(" ".join(text.lower().split())) or understand(text, today)


def _whole_month(bare: str) -> date | None:
    """Return the last day of a month typed with its year and no day."""
    found = _YEAR_MONTH.match(bare) or _MONTH_YEAR.match(bare)
    if not found:
        return None
    said, year = found["month"], int(found["year"])
    month = int(said) if said.isdigit() else _month(said)
    if not month or month > 12 or not year:
        return None
    return date(year, month, monthrange(year, month)[1])


def understand(text: str, today: date, *, past: bool = False) -> date:
    """Return the date a person typed; without a year, the one nearest to today.

    Parameters
    ----------
    past : bool
        It has happened: without a year the latest such day is meant, and none is after today.

    Raises
    ------
    BadInput
        When it can not be read as a date, or is still to come and should not be.

    Examples
    --------
    >>> understand("+2w", date(2026, 11, 25)).isoformat()
    '2026-12-09'
    """
    bare = " ".join(text.lower().split())
    found = _read(bare, today, past)
    if found is None:
        raise BadInput("This is not a date.", f"Type {PAST_EXAMPLE if past else EXAMPLE}.")
    if past and found > today:
        raise BadInput("That day is still to come.")
    return found


def _read(bare: str, today: date, past: bool) -> date | None:
    if bare in _WORDS:
        return today + timedelta(days=_WORDS[bare])
    return _shifted(bare, today) or _ago(bare, today) or _iso(bare) or _day_first(bare, today, past)


def _shifted(bare: str, today: date) -> date | None:
    found = _SHIFT.match(bare)
    if not found:
        return None
    sign, number, unit = found.groups()
    days = int(number) * {"": 1, "d": 1, "w": 7, "m": 30}[unit]
    return today + timedelta(days=-days if sign == "-" else days)


def _ago(bare: str, today: date) -> date | None:
    found = _AGO.match(bare)
    if not found:
        return None
    number, unit = found.groups()
    count = int(number) if number.isdigit() else 1
    if unit in ("day", "week"):
        return today - timedelta(days=count * (7 if unit == "week" else 1))
    return _months_before(today, count * (12 if unit == "year" else 1))


def _months_before(today: date, months: int) -> date | None:
    """Return the same day of an earlier month, or that month's last when it is shorter."""
    year, month = divmod(today.year * 12 + today.month - 1 - months, 12)
    if year < 1:
        return None
    return date(year, month + 1, min(today.day, monthrange(year, month + 1)[1]))


def _iso(bare: str) -> date | None:
    found = _ISO.match(bare)
    return _real(*(int(part) for part in found.groups())) if found else None


def _day_first(bare: str, today: date, past: bool) -> date | None:
    found = _DAY_FIRST.match(bare)
    if not found:
        return None
    day, month_text, year = found.groups()
    month = int(month_text) if month_text.isdigit() else _month(month_text)
    if month is None:
        return None
    if year:
        return _real(int(year), month, int(day))
    if past:
        return _latest(month, int(day), today)
    near = [_real(today.year + shift, month, int(day)) for shift in (-1, 0, 1)]
    return min((d for d in near if d), key=lambda d: abs(d - today), default=None)


def _latest(month: int, day: int, today: date) -> date | None:
    # Eight years, since so many can lie between two days of 29 February.
    back = (_real(today.year - shift, month, day) for shift in range(9))
    return next((d for d in back if d and d <= today), None)


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
