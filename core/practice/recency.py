"""Whether this practice has been to the fish lately enough to prescribe or dispense for them.

A call is no visit. How far back a visit may lie is the practice's own limit; the law of the place
may be tighter, and goes first.
"""

from __future__ import annotations

from calendar import monthrange
from dataclasses import dataclass
from datetime import date

from core.practice import settings
from core.records import read
from core.records.tables import System, Visit

NEEDS_VISIT = ("prescribed", "dispensed")
KEY = "visit_months"
DEFAULT_MONTHS = 12
"""Months that a visit holds unless the practice has set another number."""
NO_VISIT = ("phone", "pick_up")
"""Kinds of visit at which nobody sees the animals where they live."""


@dataclass(frozen=True)
class Recency:
    """The last visit to a site and whether it is recent enough; `sentence` says so."""

    last: date | None
    months: int
    recent: bool
    sentence: str


def months() -> int:
    """Return the practice's limit in months."""
    typed = settings.get(KEY, str(DEFAULT_MONTHS))
    return int(typed) if typed.isascii() and typed.isdigit() else DEFAULT_MONTHS


def of(site: str, day: date, present: str = "") -> Recency:
    """Return how recent the last visit to a site is.

    Parameters
    ----------
    day : date
        On which something is prescribed.
    present : str
        The visit that is being written; it counts although it is not signed yet.
    """
    days = [v.day for v in read.find(Visit, site=site) if _counts(v, day, present)]
    last = max(days, default=None)
    limit = months()
    if last is None:
        return Recency(None, limit, False, _never(limit))
    recent = day <= _later(last, limit)
    return Recency(last, limit, recent, "" if recent else _too_old(last, limit))


def of_water(system: str, day: date) -> str:
    """Return what a call about a water can not do for want of a visit; a new water has none."""
    row = read.first(System, id=system)
    return of(row.site, day).sentence if row else _never(months())


def _later(day: date, count: int) -> date:
    """Return the same day so many months later, or the last of that month."""
    year, month = divmod(day.year * 12 + day.month - 1 + count, 12)
    return date(year, month + 1, min(day.day, monthrange(year, month + 1)[1]))


def _counts(visit: Visit, day: date, present: str) -> bool:
    seen = visit.state in ("open", "signed") or (visit.id == present and visit.state == "booked")
    return seen and visit.kind not in NO_VISIT and visit.day <= day


def _never(limit: int) -> str:
    return (
        f"No visit of this practice to these fish is on record, and the limit is {limit} months: "
        "see them before anything is prescribed or dispensed. A call is not a visit."
    )


def _too_old(last: date, limit: int) -> str:
    return (
        f"The last visit to these fish was on {last.isoformat()}, longer ago than the "
        f"{limit} months of this practice: see them before anything is prescribed or dispensed. "
        "A call is not a visit."
    )


def refusal(visit_id: str, act: str, day: date) -> str:
    """Return why an act is refused at a visit for want of a recent one; "" when it is not."""
    if act not in NEEDS_VISIT:
        return ""
    visit = read.one(Visit, visit_id)
    return of(visit.site, day, visit_id).sentence
