"""Bookings: kinds of visit, clashes and free slots."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import Enum
from typing import Any

from core.errors import BadInput

Minutes = Callable[[str, str], int]
"""Minutes from leaving one place to being able to start at the next, cleaning included."""


@dataclass(frozen=True)
class VisitType:
    """A kind of visit: its default minutes, the fee it offers and the kit it needs."""

    key: str
    name: str
    letter: str
    minutes: int
    fee: str
    kit: tuple[str, ...]
    source: str

    @classmethod
    def from_row(cls, key: str, row: Mapping[str, Any]) -> VisitType:
        """Make a visit type from its catalogue row."""
        return cls(
            key,
            row["name"],
            row["letter"],
            row["minutes"],
            row["fee"],
            tuple(row["kit"]),
            row["source"],
        )


@dataclass(frozen=True)
class Booking:
    """A visit in the book.

    Parameters
    ----------
    key, who : str
        Identity and the words by which a person knows it.
    truck : str
        Which truck comes.
    place : str
        Key of the place, for travel.
    starts : datetime
        Aware.
    minutes : int
        How long it takes, above zero.
    """

    key: str
    who: str
    truck: str
    place: str
    starts: datetime
    minutes: int

    def __post_init__(self) -> None:
        if self.starts.tzinfo is None:
            raise ValueError("a booking needs an aware time")
        if self.minutes <= 0:
            raise BadInput("A visit takes some minutes.", "For example 60.")

    @property
    def ends(self) -> datetime:
        """Return the moment it ends."""
        return self.starts + timedelta(minutes=self.minutes)


class ClashKind(Enum):
    """What is wrong with a booking; each needs a typed reason to stand."""

    DOUBLE = "double booking"
    HOURS = "outside hours"
    TRAVEL = "no time to travel"


@dataclass(frozen=True)
class Clash:
    """One thing wrong with a booking, as a sentence that names the other visit."""

    kind: ClashKind
    sentence: str
    other: str = ""


@dataclass(frozen=True)
class Hours:
    """When the practice is open on the day of a booking; aware, in the practice's own zone."""

    opens: datetime
    closes: datetime


def clashes(
    new: Booking, others: Iterable[Booking], hours: Hours | None, travel: Minutes
) -> tuple[Clash, ...]:
    """Return everything wrong with a booking; empty when it fits.

    Parameters
    ----------
    new : Booking
        To be put in; one of the same key among the others is itself and is ignored.
    others : iterable of Booking
        The book of that day and its neighbours, all trucks.
    hours : Hours or None
        None on a day the practice is closed.
    travel : callable
        Minutes between two places, cleaning included.
    """
    found = list(_hours(new, hours))
    for other in sorted(others, key=lambda b: b.starts):
        if other.truck == new.truck and other.key != new.key:
            clash = _between(new, other, hours, travel)
            if clash:
                found.append(clash)
    return tuple(found)


def _hours(new: Booking, hours: Hours | None) -> Iterable[Clash]:
    if hours is None:
        yield Clash(ClashKind.HOURS, "The practice is closed on that day.")
    elif new.starts < hours.opens or new.ends > hours.closes:
        yield Clash(
            ClashKind.HOURS,
            f"{new.who} from {_clock(new.starts, hours)} to {_clock(new.ends, hours)} lies outside "
            f"the hours {_clock(hours.opens, hours)} to {_clock(hours.closes, hours)}.",
        )


def _between(new: Booking, other: Booking, hours: Hours | None, travel: Minutes) -> Clash | None:
    held = f"{other.who} from {_clock(other.starts, hours)} to {_clock(other.ends, hours)}"
    if new.starts < other.ends and other.starts < new.ends:
        return Clash(ClashKind.DOUBLE, f"Truck {new.truck} is already with {held}.", other.key)
    first, second = (other, new) if other.ends <= new.starts else (new, other)
    gap = int((second.starts - first.ends).total_seconds() // 60)
    needed = travel(first.place, second.place)
    if gap >= needed:
        return None
    return Clash(
        ClashKind.TRAVEL,
        f"Only {gap} min between {first.who} and {second.who}; travel and cleaning take "
        f"{needed} min ({held}).",
        other.key,
    )


def _clock(moment: datetime, hours: Hours | None) -> str:
    zone = hours.opens.tzinfo if hours else moment.tzinfo
    return moment.astimezone(zone).strftime("%H:%M")


@dataclass(frozen=True)
class Slot:
    """A stretch in which a visit may start."""

    first_start: datetime
    last_start: datetime


def free_slots(
    place: str,
    minutes: int,
    booked: Iterable[Booking],
    hours: Hours,
    travel: Minutes,
) -> tuple[Slot, ...]:
    """Return when a visit could start on one truck, travel and cleaning left on both sides.

    Parameters
    ----------
    place : str
        Where the visit would be.
    minutes : int
        How long it would take.
    booked : iterable of Booking
        The truck's own bookings of that day.
    hours : Hours
        When the practice is open.
    travel : callable
        Minutes between two places, cleaning included.
    """
    day = sorted(booked, key=lambda b: b.starts)
    slots = []
    for before, after in zip([None, *day], [*day, None], strict=True):
        first = hours.opens
        if before:
            first = max(first, before.ends + timedelta(minutes=travel(before.place, place)))
        end = hours.closes
        if after:
            end = min(end, after.starts - timedelta(minutes=travel(place, after.place)))
        last = end - timedelta(minutes=minutes)
        if first <= last:
            slots.append(Slot(first, last))
    return tuple(slots)
