"""Mass of the stock, from groups that were weighed or estimated, with its range."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite

from core.errors import BadInput
from core.numbers import plain
from core.sourced import sourced

ESTIMATE_ERROR_PERCENT = 20.0
"""Band round a weight that was estimated and not weighed: from memory."""


@dataclass(frozen=True)
class StockGroup:
    """Some animals of about one size.

    Attributes
    ----------
    count : int or None
        How many; None when not known, and then `count_low` and `count_high` say between what.
    mean_weight_g : float
        Mean weight of one, in grams.
    weighed : bool
        True when a scale gave it, False when it is estimated.
    count_low, count_high : int or None
        The range of a count that is not known.
    error_percent : float or None
        Error of the mean weight; None takes 0 for weighed and `ESTIMATE_ERROR_PERCENT` for
        estimated.
    name : str
        What a person calls the group.

    Raises
    ------
    BadInput
        For a weight not above zero, a negative count, or a count without any range.
    """

    count: int | None
    mean_weight_g: float
    weighed: bool = False
    count_low: int | None = None
    count_high: int | None = None
    error_percent: float | None = None
    name: str = ""

    def __post_init__(self) -> None:
        if not (self.mean_weight_g > 0 and isfinite(self.mean_weight_g)):
            raise BadInput("The mean weight must be above 0 g, for example 605 g.")
        low, high = self.counts
        if not 0 <= low <= high:
            raise BadInput("A count runs from 0 up, the lower end first, for example 10 to 14.")
        if self.error_percent is not None and not 0 <= self.error_percent < 100:
            raise BadInput("The error of a weight lies from 0 to under 100 %, for example 20 %.")

    def __repr__(self) -> str:
        low, high = self.counts
        count = f"{low}" if low == high else f"{low} to {high}"
        return f"{count} x {self.mean_weight_g:g} g {'weighed' if self.weighed else 'estimated'}"

    @property
    def counts(self) -> tuple[int, int]:
        """Return the least and the greatest number of animals."""
        if self.count is not None:
            return self.count, self.count
        if self.count_low is None or self.count_high is None:
            raise BadInput(
                f"How many are in the group {self.name}?".replace(" ?", "?"),
                "Give a number, or from how many to how many.",
            )
        return self.count_low, self.count_high

    @property
    def error_fraction(self) -> float:
        """Return the error of the mean weight as a fraction of it."""
        if self.error_percent is not None:
            return self.error_percent / 100
        return 0.0 if self.weighed else ESTIMATE_ERROR_PERCENT / 100


@dataclass(frozen=True)
class BiomassRange:
    """Mass of the stock in grams between its least and its greatest.

    Attributes
    ----------
    low_g, likely_g, high_g : float
        All errors taken the same way, so that the range is never too narrow.
    estimated : bool
        True when any weight was estimated or any count is not known.
    sentence : str
        The same for a person, with the word *estimated* where it is due.
    """

    low_g: float
    likely_g: float
    high_g: float
    estimated: bool
    sentence: str


@sourced(equation="biomass = sum of count x mean weight", source="ARITHMETIC")
def biomass_g(groups: Sequence[StockGroup]) -> float:
    """Return the mass of all groups in grams; a count between two numbers counts as their middle.

    Raises
    ------
    BadInput
        When a count and its range are both unknown.

    Examples
    --------
    >>> biomass_g([StockGroup(4, 605), StockGroup(6, 1002), StockGroup(4, 1539)])
    14588.0
    """
    return float(sum(sum(one.counts) / 2 * one.mean_weight_g for one in groups))


def biomass_range_g(groups: Sequence[StockGroup]) -> BiomassRange:
    """Return the mass of all groups in grams with its least and greatest.

    Raises
    ------
    BadInput
        As `biomass_g`.
    """
    kept = list(groups)
    low = sum(g.counts[0] * g.mean_weight_g * (1 - g.error_fraction) for g in kept)
    high = sum(g.counts[1] * g.mean_weight_g * (1 + g.error_fraction) for g in kept)
    likely = biomass_g(kept)
    guessed = any(not g.weighed or g.count is None for g in kept)
    said = f"{plain(round(likely))} g"
    if high > low:
        said += f", {plain(round(low))} to {plain(round(high))} g"
    return BiomassRange(low, likely, high, guessed, said + (", estimated." if guessed else "."))
