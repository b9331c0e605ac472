"""Roads between places, and the shortest of them through the visits of a day."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise
from operator import itemgetter

from core.errors import BadInput


@dataclass(frozen=True)
class Leg:
    """Road between two places; the distance in the unit the practice drives in."""

    distance: float
    minutes: int


@dataclass(frozen=True)
class Travel:
    """Roads between places, the same both ways unless both are given.

    Parameters
    ----------
    legs : mapping
        (from, to) to the leg.
    turnaround_minutes : int
        Cleaning, disinfecting and loading after each site.
    unit : str
        Unit of the distances, for the sentences.
    """

    legs: Mapping[tuple[str, str], Leg]
    turnaround_minutes: int = 15
    unit: str = "mi"

    def leg(self, start: str, end: str) -> Leg:
        """Return the road between two places.

        Raises
        ------
        BadInput
            When it is not known.
        """
        if start == end:
            return Leg(0.0, 0)
        found = self.legs.get((start, end)) or self.legs.get((end, start))
        if found is None:
            raise BadInput(
                f"The road from {start} to {end} is not known.", "Enter its distance and minutes."
            )
        return found


@dataclass(frozen=True)
class Start:
    """Where and when (aware) the truck sets out; `returns` counts the road back too."""

    place: str
    leaves: datetime
    returns: bool = False


@dataclass(frozen=True)
class RoundVisit:
    """A visit to be put in order.

    Parameters
    ----------
    key, who, place : str
        Identity, the words a person knows it by, and the key of its place.
    rank : int
        Infection risk, 1 clean to 4 dirty.
    minutes : int
        How long it takes.
    first : bool
        A farm: nothing may come before it but another farm.
    not_before, not_after : datetime or None
        Arrival window promised to the owner, aware.
    """

    key: str
    who: str
    place: str
    rank: int
    minutes: int
    first: bool = False
    not_before: datetime | None = None
    not_after: datetime | None = None

    @property
    def tier(self) -> int:
        """Return its place in the order before the road counts: farms 0, else the rank."""
        return 0 if self.first else self.rank


def shortest(
    groups: Sequence[list[RoundVisit]], start: Start, travel: Travel
) -> tuple[RoundVisit, ...]:
    """Return the shortest road through groups of visits, each group done before the next.

    Exact, over all orders that keep the groups.

    Raises
    ------
    BadInput
        For more than 12 visits, or a road that is not known.
    """
    # Held and Karp, a group at a time: the best road to each last stop, given what is behind.
    if sum(map(len, groups)) > 12:
        raise BadInput("More than 12 visits on one truck.", "Split the round.")
    best: dict[str, tuple[float, tuple[RoundVisit, ...]]] = {start.place: (0.0, ())}
    for group in filter(None, groups):
        best = _through(group, best, travel)

    def whole(entry: tuple[float, tuple[RoundVisit, ...]]) -> float:
        home = bool(start.returns and entry[1])
        back = travel.leg(entry[1][-1].place, start.place).distance if home else 0.0
        return entry[0] + back

    return min(best.values(), key=whole)[1]


def _through(
    group: list[RoundVisit],
    before: Mapping[str, tuple[float, tuple[RoundVisit, ...]]],
    travel: Travel,
) -> dict[str, tuple[float, tuple[RoundVisit, ...]]]:
    # State: which visits of the group are behind (bits) and which was last.
    roads: dict[tuple[int, int], tuple[float, tuple[RoundVisit, ...]]] = {}
    for i, visit in enumerate(group):
        reached = [
            (cost + travel.leg(place, visit.place).distance, (*path, visit))
            for place, (cost, path) in before.items()
        ]
        roads[1 << i, i] = min(reached, key=itemgetter(0))
    for bits in range(1, 1 << len(group)):
        for last in range(len(group)):
            if (bits, last) in roads:
                _extend(roads, group, bits, last, travel)
    full = (1 << len(group)) - 1
    ends: dict[str, tuple[float, tuple[RoundVisit, ...]]] = {}
    for i, visit in enumerate(group):
        got = roads[full, i]
        if visit.place not in ends or got[0] < ends[visit.place][0]:
            ends[visit.place] = got
    return ends


def _extend(
    roads: dict[tuple[int, int], tuple[float, tuple[RoundVisit, ...]]],
    group: list[RoundVisit],
    bits: int,
    last: int,
    travel: Travel,
) -> None:
    cost, path = roads[bits, last]
    for i, visit in enumerate(group):
        if bits >> i & 1:
            continue
        longer = cost + travel.leg(group[last].place, visit.place).distance
        key = (bits | 1 << i, i)
        if key not in roads or longer < roads[key][0]:
            roads[key] = (longer, (*path, visit))


def length(visits: Sequence[RoundVisit], start: Start, travel: Travel) -> float:
    """Return the distance of a road through visits in this order."""
    if not visits:
        return 0.0
    places = [start.place, *(v.place for v in visits), *([start.place] if start.returns else [])]
    return sum(travel.leg(a, b).distance for a, b in pairwise(places))
