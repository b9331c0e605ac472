"""The order of the round: clean sites before dirty ones, then the shortest road."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise

from core.scheduling.roads import Leg, RoundVisit, Start, Travel, length, shortest


@dataclass(frozen=True)
class Stop:
    """A visit in its place: when the truck arrives, begins and leaves, and why here."""

    visit: RoundVisit
    arrives: datetime
    begins: datetime
    leaves: datetime
    distance: float
    why: str
    late: str = ""


@dataclass(frozen=True)
class Round:
    """The day in order.

    Parameters
    ----------
    stops : tuple of Stop
        In order.
    distance : float
        Whole road.
    shortest : float
        Road if only distance counted.
    dirty_to_clean : int
        Steps from a dirtier to a cleaner site that the shortest road would make.
    warnings : tuple of str
        Steps of this order that go from dirty to clean, and promises it can not keep.
    unit : str
        Unit of the distances.
    """

    stops: tuple[Stop, ...]
    distance: float
    shortest: float
    dirty_to_clean: int
    warnings: tuple[str, ...]
    unit: str

    @property
    def said(self) -> str:
        """Return in one sentence what the order costs and spares."""
        extra = self.distance - self.shortest
        return (
            f"{self.distance:g} {self.unit}, {extra:g} more than the shortest road, which would go "
            f"from a dirtier to a cleaner site {self.dirty_to_clean} times."
        )


def order(visits: Iterable[RoundVisit], start: Start, travel: Travel) -> Round:
    """Put the visits of one truck in order: farms, then clean to dirty, then the shortest road.

    The shortest road is exact, over all orders that keep the ranks.

    Parameters
    ----------
    visits : iterable of RoundVisit
        At most 12.
    start : Start
        Where and when the truck sets out.
    travel : Travel
        Roads between all places.

    Raises
    ------
    BadInput
        For more than 12 visits, or a road that is not known.
    """
    held = tuple(visits)
    tiers: dict[int, list[RoundVisit]] = {}
    for visit in held:
        tiers.setdefault(visit.tier, []).append(visit)
    ranked = shortest([tiers[tier] for tier in sorted(tiers)], start, travel)
    return _round(ranked, shortest([list(held)], start, travel), start, travel)


def as_given(visits: Sequence[RoundVisit], start: Start, travel: Travel) -> Round:
    """Return the round in the order a person chose, warning of each dirty-to-clean step."""
    return _round(tuple(visits), shortest([list(visits)], start, travel), start, travel)


def _round(
    visits: tuple[RoundVisit, ...],
    unranked: tuple[RoundVisit, ...],
    start: Start,
    travel: Travel,
) -> Round:
    stops = _stops(visits, start, travel)
    late = tuple(stop.late for stop in stops if stop.late)
    return Round(
        stops,
        length(visits, start, travel),
        length(unranked, start, travel),
        len(_backward(unranked)),
        (*_backward(visits), *late),
        travel.unit,
    )


def _backward(visits: Sequence[RoundVisit]) -> tuple[str, ...]:
    found = []
    for a, b in pairwise(visits):
        if b.first and not a.first:
            found.append(f"{b.who} is a farm and comes after {a.who}: no stock before a farm.")
        elif b.rank < a.rank:
            found.append(
                f"{b.who} (rank {b.rank}) comes after {a.who} (rank {a.rank}): from dirty to "
                "clean; change all gear between, or take another day."
            )
    return tuple(found)


def _stops(visits: Sequence[RoundVisit], start: Start, travel: Travel) -> tuple[Stop, ...]:
    stops: list[Stop] = []
    place, free = start.place, start.leaves
    for visit in visits:
        leg = travel.leg(place, visit.place)
        arrives = free + timedelta(minutes=leg.minutes)
        begins = max(arrives, visit.not_before) if visit.not_before else arrives
        leaves = begins + timedelta(minutes=visit.minutes)
        why = _why(visit, stops[-1].visit if stops else None, leg, travel.unit)
        stops.append(Stop(visit, arrives, begins, leaves, leg.distance, why, _late(visit, arrives)))
        # Cleaning happens where the fish were, before the truck moves on.
        place, free = visit.place, leaves + timedelta(minutes=travel.turnaround_minutes)
    return tuple(stops)


def _why(visit: RoundVisit, before: RoundVisit | None, leg: Leg, unit: str) -> str:
    road = f"{leg.distance:g} {unit}"
    if visit.first:
        return f"farm: before any other stock; {road}"
    if before and before.first and before.rank > visit.rank:
        return f"rank {visit.rank}: after the farm, with all gear changed; {road}"
    if before is None:
        return f"rank {visit.rank}: the cleanest of the day; {road}"
    if before.tier < visit.tier:
        return f"rank {visit.rank}: cleaner sites are behind; {road}"
    if before.tier > visit.tier:
        return f"rank {visit.rank}: out of order, after rank {before.rank}; {road}"
    return f"rank {visit.rank}, as the one before; shortest road, {road}"


def _late(visit: RoundVisit, arrives: datetime) -> str:
    if visit.not_after is None or arrives <= visit.not_after:
        return ""
    minutes = int((arrives - visit.not_after).total_seconds() // 60)
    return f"{visit.who} would be reached {minutes} min after the time promised."
