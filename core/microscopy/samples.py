"""Samples: their numbers, whether they were got, and how far those sent out have come."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from enum import IntEnum

from core.errors import BadInput, Refusal

_NUMBER = re.compile(r"([A-Z]{1,2})([1-9]\d?)-([1-9]\d{0,2})\Z", re.ASCII)


@dataclass(frozen=True, order=True)
class SampleNumber:
    """Number of a sample, unique in the practice on its day: truck, visit of the day, count.

    Examples
    --------
    >>> str(SampleNumber("A", 3, 2))
    'A3-2'
    """

    truck: str
    visit: int
    count: int

    def __str__(self) -> str:
        return f"{self.truck}{self.visit}-{self.count}"

    def slide(self, mounts: int) -> str:
        """Return the name of the next mount of this sample, after so many: ``A3-2a``.

        Raises
        ------
        BadInput
            After 26 mounts of one sample.
        """
        if not 0 <= mounts < 26:
            raise BadInput(f"Sample {self} has {mounts} mounts.", "Take a new sample.")
        return f"{self}{chr(ord('a') + mounts)}"


def read_number(text: str) -> SampleNumber:
    """Read a sample number as written on a tube.

    Raises
    ------
    BadInput
        When it is not truck letter, visit, dash, count.

    Examples
    --------
    >>> read_number("a3-2").count
    2
    """
    got = _NUMBER.match(text.strip().upper())
    if not got:
        raise BadInput(
            "This is not a sample number.", "Type truck, visit, dash and count, such as A3-2."
        )
    return SampleNumber(got[1], int(got[2]), int(got[3]))


def next_number(truck: str, visit: int, taken: Iterable[SampleNumber]) -> SampleNumber:
    """Return the next free number of one visit; a struck sample keeps its number.

    Parameters
    ----------
    truck : str
        Letter of the truck.
    visit : int
        Which visit of that truck's day, from 1.
    taken : iterable of SampleNumber
        Every number given out that day, struck ones too.

    Raises
    ------
    BadInput
        When truck or visit do not make a number that can be read back.
    """
    used = [n.count for n in taken if (n.truck, n.visit) == (truck, visit)]
    return read_number(f"{truck}{visit}-{max(used, default=0) + 1}")


@dataclass(frozen=True)
class Sample:
    """One sample of one fish or system, got or not got.

    Parameters
    ----------
    number : SampleNumber
        What stands on the tube or slide.
    fish : str
        Which fish, in the words of the record; empty for the system.
    tissue : str
        Key of the tissue.
    place : str
        Where on the fish.
    taken : datetime or None
        Aware moment; None when it was not got.
    why_not : str
        Reason when it was not got.

    Raises
    ------
    BadInput
        When it is neither got nor explained, or both.
    """

    number: SampleNumber
    fish: str
    tissue: str
    place: str = ""
    taken: datetime | None = None
    why_not: str = ""

    def __post_init__(self) -> None:
        if (self.taken is None) != bool(self.why_not.strip()):
            raise BadInput(
                f"Sample {self.number} is either got, with its time, or not got, with a reason.",
                "Give one of the two.",
            )

    @property
    def got(self) -> bool:
        """Return whether there is something to look at."""
        return self.taken is not None


class Sent(IntEnum):
    """How far a sample for a laboratory has come; it never goes back."""

    TAKEN = 0
    SENT = 1
    RECEIVED = 2
    PARTIAL = 3
    FINAL = 4
    OWNER_TOLD = 5

    @property
    def said(self) -> str:
        """Return the state in words."""
        return self.name.lower().replace("_", " ")


def advance(now: Sent, to: Sent) -> Sent:
    """Return the new state of a sample sent out.

    Steps may be left out (a result can come without word of receipt), except that the
    owner is told only of a result.

    Raises
    ------
    Refusal
        When it would go back, or tell the owner before there is a result.
    """
    if to <= now:
        raise Refusal(f"This sample is already {now.said}; it does not go back to {to.said}.")
    if to is Sent.OWNER_TOLD and now < Sent.PARTIAL:
        raise Refusal("There is no result yet to tell the owner.", "Enter the result first.")
    return to
