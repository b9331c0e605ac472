"""The book: a visit is put in or moved only where it fits, or with a reason why all the same."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from core.catalogue import load
from core.errors import BadInput, Refusal
from core.practice import visits
from core.practice.door import edit
from core.practice.keep import Act
from core.practice.who import practice
from core.records import read
from core.records.engine import query
from core.records.fields import DayField
from core.records.tables import Person, Practice, Site, System, Visit
from core.scheduling.book import Booking, Hours, VisitType, clashes, free_slots


class DoesNotFit(Refusal):
    """The visit clashes with another or lies outside the hours, and no reason was given."""

    title = "Does not fit"


@dataclass(frozen=True)
class Wish:
    """Where and when a visit is wanted."""

    system: str
    vet: str
    day: date
    starts: str
    minutes: int
    visit: str = ""
    """The visit itself when it is to be moved."""


def wall_time(text: str) -> str:
    """Return a typed time of the day as ``HH:MM``.

    Raises
    ------
    BadInput
        When it can not be read as a time.

    Examples
    --------
    >>> wall_time("9"), wall_time("930"), wall_time("14.15")
    ('09:00', '09:30', '14:15')
    """
    bare = text.strip().replace(".", ":").replace(" ", ":")
    hours, _, minutes = bare.partition(":") if ":" in bare else _together(bare)
    good = all(part.isascii() and part.isdigit() for part in (hours, minutes or "0"))
    if not good or int(hours) > 23 or int(minutes or 0) > 59 or len(minutes) == 1:
        raise BadInput("This is not a time of the day.", "Type for example 10:30, 930 or 14.")
    return f"{int(hours):02d}:{int(minutes or 0):02d}"


def _together(bare: str) -> tuple[str, str, str]:
    return (bare[:-2], "", bare[-2:]) if len(bare) in (3, 4) else (bare, "", "")


def problems_with(wish: Wish) -> tuple[str, ...]:
    """Return a sentence for each thing wrong with a booking, naming the visit it clashes with."""
    house = practice()
    zone = ZoneInfo(house.zone) if house is not None else ZoneInfo("UTC")
    site = read.one(Site, read.one(System, wish.system).site)
    new = Booking(
        wish.visit or "new",
        "this visit",
        f"of {read.one(Person, wish.vet).name}",
        site.id,
        _moment(wish.day, wish.starts, zone),
        wish.minutes,
    )
    hours = None if house is None else _hours(house, wish.day, zone)
    booked, roads = _booked(wish.day, zone)
    roads[site.id] = site.travel_min
    found = clashes(new, booked, hours, _between(roads))
    return tuple(c.sentence[0].upper() + c.sentence[1:] for c in found)


def free_times(system_id: str, vet: str, day: date, minutes: int) -> tuple[str, ...]:
    """Return from when on a visit could start on a day, first of each gap, by quarter hours.

    Roads and cleaning are left on both sides; empty on a day that is closed or full.
    """
    house = practice()
    zone = ZoneInfo(house.zone) if house is not None else ZoneInfo("UTC")
    hours = None if house is None else _hours(house, day, zone)
    if hours is None:
        return ()
    site = read.one(Site, read.one(System, system_id).site)
    booked, roads = _booked(day, zone)
    roads[site.id] = site.travel_min
    truck = f"of {read.one(Person, vet).name}"
    mine = [b for b in booked if b.truck == truck]
    gaps = free_slots(site.id, minutes, mine, hours, _between(roads))
    starts = [_quarter(gap.first_start, gap.last_start).astimezone(zone) for gap in gaps]
    times = [f"{start:%H:%M}" for start in starts]
    # Visits that overlap with a reason can hide a gap's true end: the book has the last word.
    return tuple(t for t in times if not problems_with(Wish(system_id, vet, day, t, minutes)))


def _quarter(first: datetime, last: datetime) -> datetime:
    """Return the next quarter of an hour from a moment, if it is not past another."""
    late = first + timedelta(minutes=-first.minute % 15)
    return late if late <= last else first


def book(
    act: Act,
    system_id: str,
    day: date,
    starts: str,
    vet: str,
    reason: str,
    *,
    minutes: int = 90,
    although: str = "",
    **more: Any,
) -> str:
    """Book a visit where it fits; return its id.

    Parameters
    ----------
    although : str
        Why it stands although it does not fit; it is kept with the visit.

    Raises
    ------
    DoesNotFit
        Without such a reason; the sentences name the visits it clashes with.
    """
    starts = wall_time(starts)
    with edit("booking", who=act.by, at=act.at) as doing:
        why = _answered(Wish(system_id, vet, day, starts, minutes), although)
        made = visits.book(act, system_id, day, starts, vet, reason, minutes=minutes, **more)
        # Inside an open edit, as of a plan, it stays an edit of the visit that planned it.
        doing.visit = doing.visit or made
        if why:
            doing.change(Visit, made, booked_why=why)
    return made


def move(
    act: Act, visit_id: str, day: date, starts: str, *, vet: str = "", although: str = ""
) -> None:
    """Move a visit to another day, time or vet where it fits; see `book`."""
    starts = wall_time(starts)
    visit = read.one(Visit, visit_id)
    goes = vet or visit.vet
    with edit("booking", who=act.by, at=act.at, visit=visit_id) as doing:
        wish = Wish(visit.system, goes, day, starts, visit.minutes, visit_id)
        why = _answered(wish, although)
        visits.move(act, visit_id, day, starts)
        doing.change(Visit, visit_id, booked_why=why, vet=goes)


def book_again(act: Act, visit_id: str, *, although: str = "") -> None:
    """Take back *no access* or *cancelled* where the visit still fits; see `book`."""
    visit = read.one(Visit, visit_id)
    wish = Wish(visit.system, visit.vet, visit.day, visit.starts, visit.minutes, visit_id)
    with edit("booking", who=act.by, at=act.at, visit=visit_id) as doing:
        why = _answered(wish, although or visit.booked_why)
        visits.book_again(act, visit_id)
        doing.change(Visit, visit_id, booked_why=why)


def _answered(wish: Wish, although: str) -> str:
    """Return the reason to keep: "" when the visit fits."""
    wrong = problems_with(wish)
    if wrong and not although.strip():
        raise DoesNotFit(" ".join(wrong), "Choose another time, or say why it stands all the same.")
    return although.strip() if wrong else ""


def kinds() -> tuple[VisitType, ...]:
    """Return the kinds of visit, in the order of the catalogue."""
    rows = load.table("visit_types")["visit_type"]
    return tuple(VisitType.from_row(key, row) for key, row in rows.items())


def _moment(day: date, starts: str, zone: ZoneInfo) -> datetime:
    wall = datetime.combine(day, time.fromisoformat(starts), tzinfo=zone)
    return wall.astimezone(UTC)


def _hours(house: Practice, day: date, zone: ZoneInfo) -> Hours | None:
    if str(day.isoweekday()) not in house.open_days:
        return None
    opens, closes = (
        datetime.combine(day, time.fromisoformat(text), tzinfo=zone)
        for text in (house.opens, house.closes)
    )
    return Hours(opens, closes)


_BOOKED = """
SELECT v."id", c."name", p."name", v."site", v."starts", v."minutes", s."travel_min"
FROM "visit" v JOIN "client" c ON c."id" = v."client" JOIN "person" p ON p."id" = v."vet"
JOIN "site" s ON s."id" = v."site"
WHERE v."day" = ? AND v."struck" IS NULL AND v."state" NOT IN ('cancelled', 'no access')
"""


def _booked(day: date, zone: ZoneInfo) -> tuple[list[Booking], dict[str, int]]:
    """Return what stands in the book of a day, and the minutes of road to each place."""
    rows = query(_BOOKED, (DayField().db_value(day),))
    booked = [
        Booking(visit, client, f"of {vet}", site, _moment(day, starts, zone), minutes)
        for visit, client, vet, site, starts, minutes, _ in rows
    ]
    return booked, {row[3]: row[6] for row in rows}


def _between(roads: dict[str, int]) -> Callable[[str, str], int]:
    turnaround = int(load.table("visit_types")["between"]["turnaround_minutes"])

    def minutes(first: str, second: str) -> int:
        return 0 if first == second else roads[second] + turnaround

    return minutes
