"""Breaths a minute, from taps on a key while a fish is watched."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from core.errors import BadInput
from core.sourced import sourced


@sourced(equation="breaths a minute = taps x 60 / seconds", source="ARITHMETIC")
def breaths_per_minute(taps: int, counted_s: float) -> float:
    """Return breaths a minute from taps counted over a time in seconds.

    Raises
    ------
    BadInput
        For a negative count, or a time not above zero.

    Examples
    --------
    >>> breaths_per_minute(30, 20.0)
    90.0
    """
    if taps < 0 or not counted_s > 0:
        raise BadInput("Count taps over some seconds, for example 30 taps in 20 s.")
    return taps * 60 / counted_s


def breaths_from_taps(moments_s: Sequence[float]) -> float:
    """Return breaths a minute from the moments of the taps, in seconds on any clock.

    The first tap starts the time and is not a breath: thirty-one taps over twenty
    seconds are thirty breaths.

    Raises
    ------
    BadInput
        For fewer than two taps, or moments that do not run forward.
    """
    if len(moments_s) < 2 or any(b <= a for a, b in pairwise(moments_s)):
        raise BadInput("Tap at least twice, once for each breath.")
    return breaths_per_minute(len(moments_s) - 1, moments_s[-1] - moments_s[0])
