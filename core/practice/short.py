"""Amounts as they are told: to four figures, and never rounded above a whole one."""

from __future__ import annotations

from math import floor, log10

from core.numbers import plain


def short(value: float) -> str:
    """Return a figure to four figures without trailing zeros; whole numbers stand whole.

    Examples
    --------
    >>> short(6.78), short(5508.0), short(23783.4), short(0.0)
    ('6.78', '5508', '23783', '0')
    """
    places = max(0, 3 - floor(log10(abs(value)))) if value else 0
    return plain(float(round(value, places)))
