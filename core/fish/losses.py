"""Losses by date: how many a day, and what share of the stock.

A death whose day is not known stays a range of days; where the range crosses the edge of
the days asked about, the answer is a range too.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from core.errors import BadInput
from core.sourced import sourced


@dataclass(frozen=True)
class Loss:
    """Some fish found dead.

    Attributes
    ----------
    count : int
        How many.
    earliest, latest : date or None
        The first and last day on which they can have died; None when that side is open.
    """

    count: int
    earliest: date | None
    latest: date | None

    def __post_init__(self) -> None:
        if self.count < 0:
            raise BadInput("The number of dead fish can not be below 0.")
        if self.earliest and self.latest and self.latest < self.earliest:
            raise BadInput("The last day of a loss lies before its first.")


@dataclass(frozen=True)
class Losses:
    """What died from `first` to `last`, both days counted.

    Attributes
    ----------
    least, most : int
        Deaths that certainly fell in these days, and those that can have.
    per_day_least, per_day_most : float
        The same divided by the days.
    percent_least, percent_most : float or None
        Share of the stock at the start; None when the stock is not known.
    by_day : tuple of (date, int)
        Deaths whose day is known, every day of the span.
    undated : int
        Deaths in `most` whose day is not known.
    sentence : str
        The same for a person.
    """

    first: date
    last: date
    least: int
    most: int
    per_day_least: float
    per_day_most: float
    percent_least: float | None
    percent_most: float | None
    by_day: tuple[tuple[date, int], ...]
    undated: int
    sentence: str


@sourced(equation="loss = 100 x dead / stock at the start", source="ARITHMETIC")
def loss_percent(dead: int, stock: int) -> float:
    """Return the dead in percent of the stock before the losses.

    Raises
    ------
    BadInput
        When the stock is not above zero, or fewer than the dead.

    Examples
    --------
    >>> round(loss_percent(5, 22), 1)
    22.7
    """
    if stock <= 0 or not 0 <= dead <= stock:
        raise BadInput("Give the stock before the losses; it can not be below the number dead.")
    return 100 * dead / stock


@sourced(equation="losses a day = dead / days", source="ARITHMETIC")
def losses_per_day(dead: int, days: int) -> float:
    """Return deaths a day over a whole number of days.

    Raises
    ------
    BadInput
        When the days are fewer than one or the dead below zero.
    """
    if days < 1 or dead < 0:
        raise BadInput("Losses a day need at least one day and a count of 0 or more.")
    return dead / days


def losses_between(
    losses: Iterable[Loss], first: date, last: date, stock: int | None = None
) -> Losses:
    """Return the losses from the first to the last day, both counted.

    Parameters
    ----------
    losses : iterable of Loss
        Everything known, also outside these days.
    first, last : date
        The days asked about.
    stock : int, optional
        Number alive on the morning of `first`; None when not known.

    Raises
    ------
    BadInput
        When the span runs backward, or the stock is below the dead.
    """
    if last < first:
        raise BadInput("The last day lies before the first.")
    known = list(losses)
    least = sum(one.count for one in known if _inside(one, first, last))
    most = sum(one.count for one in known if _touches(one, first, last))
    days = (last - first).days + 1
    by_day = tuple(
        (day, sum(one.count for one in known if one.earliest == day == one.latest))
        for day in (first + timedelta(n) for n in range(days))
    )
    low, high = losses_per_day(least, days), losses_per_day(most, days)
    share_low = None if stock is None else loss_percent(least, stock)
    share_high = None if stock is None else loss_percent(most, stock)
    undated = most - sum(count for _, count in by_day)
    said = _sentence(least, most, days, stock, (share_low, share_high), undated)
    return Losses(first, last, least, most, low, high, share_low, share_high, by_day, undated, said)


def _inside(loss: Loss, first: date, last: date) -> bool:
    return (
        loss.earliest is not None
        and loss.latest is not None
        and first <= loss.earliest
        and loss.latest <= last
    )


def _touches(loss: Loss, first: date, last: date) -> bool:
    return (loss.earliest is None or loss.earliest <= last) and (
        loss.latest is None or loss.latest >= first
    )


def _sentence(
    least: int,
    most: int,
    days: int,
    stock: int | None,
    shares: tuple[float | None, float | None],
    undated: int,
) -> str:
    dead = f"{least}" if least == most else f"{least} to {most}"
    low, high = shares
    text = f"{dead} dead in {days} {'day' if days == 1 else 'days'}"
    if stock is not None and low is not None and high is not None:
        share = f"{low:.1f} %" if least == most else f"{low:.1f} to {high:.1f} %"
        text += f", of {stock}: {share}"
    else:
        text += "; the stock is not known"
    return text + (f"; the day of {undated} is not known." if undated else ".")
