"""Holding figures against limits: the last bit of a float is never what passes one."""

from __future__ import annotations

from math import ceil, floor, isfinite

from core.errors import BadInput

_LAST_BITS = 1e-9
"""What multiplying may add to 1 or take from it: far below what any instrument shows."""


def over(value: float, limit: float) -> bool:
    """Tell whether a value is over a limit by more than a billionth of it; what is no number is.

    Parameters
    ----------
    value, limit : float
        In the same unit; the limit above zero.

    Examples
    --------
    >>> 0.1 * 3 > 0.3, over(0.1 * 3, 0.3), over(0.3001, 0.3)
    (True, False, True)
    >>> over(float("nan"), 0.3), over(0.3, float("nan"))
    (True, True)
    """
    return not value <= limit * (1 + _LAST_BITS)


def whole_up(value: float) -> int:
    """Return a figure rounded up to a whole number, but not for its last bit.

    Examples
    --------
    >>> 0.1 * 3 / 0.1 > 3, whole_up(0.1 * 3 / 0.1), whole_up(3.0001)
    (True, 3, 4)
    """
    return ceil(value - _LAST_BITS)


def whole_down(value: float) -> int:
    """Return a figure rounded down to a whole number, but not for its last bit.

    Examples
    --------
    >>> 3.3 / 1.1 < 3, whole_down(3.3 / 1.1), whole_down(2.9999)
    (True, 3, 2)
    """
    return floor(value + _LAST_BITS)


def above_zero(what: str, value: float) -> None:
    """Refuse a figure that is not above zero, or not a figure at all.

    Raises
    ------
    BadInput
        With what it is and what was given.
    """
    if not isfinite(value) or value <= 0:
        raise BadInput(f"{what} must be above zero; {value} is not.")


def not_below_zero(what: str, value: float) -> None:
    """Refuse a figure below zero, or what is no figure at all.

    Raises
    ------
    BadInput
        With what it is and what was given.
    """
    if not isfinite(value) or value < 0:
        raise BadInput(f"{what} can not be {value}; type 0 or more.")
