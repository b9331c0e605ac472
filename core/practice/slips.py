"""Figures so far over what is on record that the decimal may stand in the wrong place."""

from __future__ import annotations

from core.dosing.limits import over
from core.practice.short import short

SLIP = 5.0
"""Times the highest on record from which a figure is a stop: common practice, no source."""


def is_slip(value: float, highest: float) -> bool:
    """Return whether a figure is `SLIP` times the highest on record, or more.

    Examples
    --------
    >>> is_slip(500.0, 100.0), is_slip(499.0, 100.0)
    (True, False)
    """
    return not over(SLIP * highest, value)


def said(value: float, highest: float, limit: str) -> str:
    """Return in words how far a figure is over a limit, and what to look at.

    Examples
    --------
    >>> said(1000.0, 100.0, "the highest on record, 100 mg/L")
    '10 times the highest on record, 100 mg/L: look where the decimal stands'
    """
    return f"{short(value / highest)} times {limit}: look where the decimal stands"
