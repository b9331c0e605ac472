"""The same medicine twice on one day for the same fish or water: asked about before it is given."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from core import dates
from core.practice.names import name
from core.practice.treatment_said import days_of, each_amount
from core.records import read
from core.records.tables import FishGroup, Treatment


def already(
    medicine: str,
    system: str,
    group: str | None,
    handling: str | None,
    days: Iterable[date],
    today: date,
) -> tuple[str, ...]:
    """Return what the same fish or their water got, or are to get, of a medicine on these days.

    Medicines are the same when they have one name: two rows of it for two diseases are one.
    """
    found = had(system, group, handling, days, today)
    return found.get(name("medicine", medicine), ())


def had(
    system: str, group: str | None, handling: str | None, days: Iterable[date], today: date
) -> dict[str, tuple[str, ...]]:
    """Return the same of every medicine, by its name."""
    mine = set(days)
    rows = {r.id: r for r in read.find(Treatment, system=system)}
    rows |= {r.id: r for r in read.find(Treatment, group=group)} if group else {}
    found: dict[str, tuple[str, ...]] = {}
    for row in rows.values():
        day = next((day for day in days_of(row) if day in mine), None)
        if day is not None and _meets(row, group, handling):
            of = name("medicine", row.medicine)
            found[of] = (*found.get(of, ()), _said(row, day, today))
    return found


def _meets(row: Treatment, group: str | None, handling: str | None) -> bool:
    """Return whether a treatment is for some of the same fish; one in hand is one by itself."""
    if handling is not None and row.handling is not None:
        return handling == row.handling or (row.group == group and _is_one(group))
    return row.group is None or group is None or row.group == group


def _is_one(group: str | None) -> bool:
    return group is not None and read.one(FishGroup, group).single


def _said(row: Treatment, day: date, today: date) -> str:
    said = "today" if day == today else f"for {dates.said(day, today)}"
    return f"{name('medicine', row.medicine)} was already {row.act} {said}, {_amount(row)}."


def _amount(row: Treatment) -> str:
    return f"{each_amount(row)} {'each time' if row.repeats > 1 else ''}".strip()
