"""When eggs begin to hatch, between the temperatures at which it was watched."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from math import exp, log
from typing import Any

from core.errors import OutOfRange
from core.numbers import plain
from core.sourced import sourced


@dataclass(frozen=True)
class Hatching:
    """Days to the first hatching of one parasite, at the temperatures it was watched at.

    Parameters
    ----------
    key : str
        Key of the organism.
    points : tuple
        (temperature in degrees C, days), coldest first.
    note, source : str
        What else is known, and the key of the source.
    """

    key: str
    points: tuple[tuple[float, float], ...]
    note: str
    source: str

    @classmethod
    def from_row(cls, key: str, row: Mapping[str, Any]) -> Hatching:
        """Make the points from their catalogue row."""
        points = tuple((float(c), float(d)) for c, d in row["points"])
        return cls(key, points, row["note"], row["source"])


@sourced(
    equation="ln(days) runs straight between the two watched temperatures",
    source="ARITHMETIC",
)
def first_hatch_days(temperature_c: float, points: tuple[tuple[float, float], ...]) -> float:
    """Return the days until the first eggs hatch.

    Parameters
    ----------
    temperature_c : float
        Water temperature in degrees C.
    points : tuple
        (temperature in degrees C, days), coldest first; see `Hatching`.

    Raises
    ------
    OutOfRange
        Outside the temperatures at which it was watched.

    Examples
    --------
    >>> round(first_hatch_days(17.0, ((10.0, 19.0), (20.0, 3.0))), 1)
    5.2
    """
    for (cold, slow), (warm, fast) in pairwise(points):
        if cold <= temperature_c <= warm:
            part = (temperature_c - cold) / (warm - cold)
            return exp(log(slow) + part * (log(fast) - log(slow)))
    raise OutOfRange(
        f"No figure: hatching was watched from {plain(points[0][0])} to {plain(points[-1][0])} °C, "
        f"not at {temperature_c:g} °C."
    )
