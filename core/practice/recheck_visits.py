"""The visit of a recheck: found free inside its window, booked, moved and cancelled with it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from core.dates import said
from core.practice import booking, bookings, visits
from core.practice.bookings import Asked
from core.practice.keep import Act
from core.practice.kept import local_day
from core.records import read
from core.records.tables import Recheck, Visit
from core.scheduling.rechecks import Window

KIND = "recheck"
"""Key of the kind of visit that a recheck is booked as."""


@dataclass(frozen=True)
class When:
    """When the visit of a recheck is wanted; what is not said is found.

    Attributes
    ----------
    although : str
        Why it stands although it clashes or lies outside the window.
    """

    day: date | None = None
    starts: str = ""
    vet: str = ""
    although: str = ""


@dataclass(frozen=True)
class Free:
    """The first free time for a recheck; without a day there is none inside its window."""

    day: date | None
    starts: str
    said: str
    """Said when it is not the target day; "" when it is."""


def minutes() -> int:
    """Return how long the visit of a recheck takes."""
    return next(k.minutes for k in booking.kinds() if k.key == KIND)


def free(
    visit_id: str, system_id: str, window: Window, vet: str = "", today: date | None = None
) -> Free:
    """Return the first free time on the target day, or on the day of the window nearest to it.

    Parameters
    ----------
    visit_id : str
        The visit that plans it; its vet goes unless another is named.
    today : date, optional
        No day before this one is looked at.
    """
    planned = read.one(Visit, visit_id)
    goes = vet or planned.vet
    earliest = max(planned.day, today or planned.day)
    for day in _nearest(window):
        times = booking.free_times(system_id, goes, day, minutes()) if day >= earliest else ()
        # On the day of the visit itself only what comes after it is a recheck.
        later = [t for t in times if day > planned.day or t > planned.starts]
        if later:
            return Free(day, later[0], _instead(window.target, day, planned.day))
    span = f"{said(window.earliest, planned.day)} to {said(window.latest, planned.day)}"
    return Free(None, "", f"No free time from {span}: it stays due for the desk.")


def _instead(target: date, day: date, today: date) -> str:
    if day == target:
        return ""
    return (
        f"No free time on {said(target, today)}; {said(day, today)} is the nearest in the window."
    )


def _nearest(window: Window) -> Iterator[date]:
    days = (window.latest - window.earliest).days + 1
    listed = [window.earliest + timedelta(days=n) for n in range(days)]
    yield from sorted(listed, key=lambda day: (abs(day - window.target), day))


def standing(row: Recheck) -> Visit | None:
    """Return the visit that a recheck is booked as, while somebody is to go there."""
    found = read.first(Visit, id=row.booked) if row.booked else None
    return found if found is not None and found.state == "booked" else None


def begun(row: Recheck) -> bool:
    """Whether the visit of a recheck was begun or made already."""
    found = read.first(Visit, id=row.booked) if row.booked else None
    return found is not None and found.state in ("open", "signed")


def put_in_book(act: Act, recheck_id: str, when: When) -> None:
    """Book a recheck's visit where it fits; where nothing is free it stays due.

    Raises
    ------
    DoesNotFit
        When a day and time are wanted that do not fit, and no reason is given.
    """
    row = read.one(Recheck, recheck_id)
    planned = read.one(Visit, row.visit)
    place = _place(act, row, when)
    if place is None:
        return
    day, starts = place
    asked = Asked(
        row.system,
        day,
        starts,
        when.vet or planned.vet,
        minutes(),
        KIND,
        row.reason,
        planned.rank,
        "as at the visit that planned it",
        although=when.although,
    )
    bookings.book(act, asked, recheck=recheck_id)


def _place(act: Act, row: Recheck, when: When) -> tuple[date, str] | None:
    if when.day is not None and when.starts:
        return when.day, when.starts
    window = Window(row.earliest, row.target, row.latest)
    if when.day is not None:
        window = Window(when.day, when.day, when.day)
    found = free(row.visit, row.system, window, when.vet, local_day(act.at))
    return None if found.day is None else (found.day, found.starts)


def follow(act: Act, recheck_id: str, when: When | None) -> None:
    """Let the booked visit follow a recheck that was changed.

    Parameters
    ----------
    when : When or None
        None when the desk is to book it, or it is a call: a booked visit is cancelled.
    """
    row = read.one(Recheck, recheck_id)
    if begun(row):
        return
    held = standing(row)
    if when is None:
        if held is not None:
            why = "a phone call instead" if row.kind == "phone" else "the desk books it anew"
            visits.cancel(act, held.id, why)
    elif held is None:
        put_in_book(act, recheck_id, when)
    else:
        _move(act, row, held, when)


def _move(act: Act, row: Recheck, held: Visit, when: When) -> None:
    bookings.reword(act, held.id, row.reason)
    wanted = (when.day or held.day, when.starts or held.starts, when.vet or held.vet)
    inside = row.earliest <= wanted[0] <= row.latest
    if when.day is None and not inside:
        place = _place(act, row, When(vet=wanted[2]))
        if place is None:
            visits.cancel(act, held.id, "no free time inside the new window")
            return
        wanted = (*place, wanted[2])
    if wanted != (held.day, held.starts, held.vet):
        day, starts, vet = wanted
        bookings.move(act, held.id, day, starts, vet=vet, although=when.although)


def cancel(act: Act, row: Recheck, why: str) -> None:
    """Cancel the visit of a recheck that is struck, with the same reason."""
    held = standing(row)
    if held is not None:
        visits.cancel(act, held.id, why)


def outcome(recheck_id: str, today: date) -> str:
    """Return in a sentence whether a recheck is booked, and when."""
    row = read.one(Recheck, recheck_id)
    if row.kind == "phone":
        return "A call: it stays due for the desk."
    held = standing(row)
    if held is None:
        window = Window(row.earliest, row.target, row.latest)
        found = free(row.visit, row.system, window, today=today)
        return found.said if found.day is None else "It stays due for the desk to book."
    where = f"Booked for {said(held.day, today)} {held.starts}."
    full = not booking.free_times(row.system, held.vet, row.target, held.minutes)
    if held.day == row.target or not full:
        return where
    return f"{_instead(row.target, held.day, today)} {where}"
