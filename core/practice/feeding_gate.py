"""Whether anything that was measured today speaks against a rise in feed, and what."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from core import dates
from core.feeding import gates
from core.feeding.gates import Answer, Gate
from core.practice import water
from core.practice.feeding_work import Inputs
from core.practice.kept import local_day
from core.practice.names import name
from core.practice.treatment_said import days_of
from core.records import read
from core.records.tables import Answer as Told
from core.records.tables import Loss, Treatment
from core.water.readings import WaterReadings, is_below, value_of
from core.water.verdict import Verdict

RECENT_DAYS = 7
"""Deaths within so many days are new: the length of one step."""
STILL_RUNS_DAYS = 2
"""A treatment counts as running so long after its last dose: our choice, for 48-hour baths."""
IN_GATE = {"ammonia", "nitrite", "alkalinity"}
WATER_ROUTES = ("bath", "feed", "oral")
NO_COURSE = ("anaesthetic bath", "sedation bath", "maintenance bath", "egg bath", "euthanasia bath")


@dataclass(frozen=True)
class Today:
    """What this visit found that a rise is held against.

    Attributes
    ----------
    readings : WaterReadings
        Of the place that is judged.
    over : tuple of Verdict
        Readings outside their limit for this kind of system.
    treatments : tuple of str
        What runs in this water, with its end.
    deaths : int or None
        New deaths by the history; None when it was not asked.
    """

    readings: WaterReadings
    over: tuple[Verdict, ...]
    treatments: tuple[str, ...]
    deaths: int | None


def today_of(visit_id: str, system_id: str) -> Today:
    """Return what a visit found in a water."""
    found = water.view(visit_id, system_id)
    readings = water.as_readings(found.readings(found.judged_place))
    verdicts = water.judged(found, readings).verdicts.values()
    day = found.opened.visit.day
    return Today(
        readings,
        tuple(v for v in verdicts if v.word == "act"),
        tuple(_running(system_id, day)),
        _deaths(visit_id, system_id, day),
    )


def _deaths(visit_id: str, system_id: str, day: date) -> int | None:
    losses = read.find(Loss, visit=visit_id, system=system_id)
    if losses:
        since = day - timedelta(days=RECENT_DAYS)
        return sum(one.number for one in losses if (one.day_to or one.day or day) >= since)
    said = read.first(Told, visit=visit_id, system=system_id, question="deaths")
    return 0 if said is not None and said.state == "no" else None


def _running(system_id: str, day: date) -> Iterator[str]:
    for row in read.find(Treatment, system=system_id):
        until = _until(row)
        if _of_the_water(row) and local_day(row.at) <= day <= until:
            yield f"{name('medicine', row.medicine)}, until {dates.said(until, day)}"


def _of_the_water(row: Treatment) -> bool:
    if row.act == "advised" or row.route in NO_COURSE:
        return False
    return row.repeats > 1 or any(word in row.route for word in WATER_ROUTES)


def _until(row: Treatment) -> date:
    """Return the last day on which a treatment still counts as running."""
    return days_of(row)[-1] + timedelta(days=STILL_RUNS_DAYS)


def measured(given: Inputs, today: Today) -> gates.Measured:
    """Return what the gate of a step looks at."""
    told = [n for n in (given.new_deaths, today.deaths) if n is not None]
    return gates.Measured(
        _reading(today, "ammonia"),
        _reading(today, "nitrite"),
        _reading(today, "alkalinity"),
        float("inf") if given.left_over else given.gone_min,
        max(told, default=None),
    )


def _reading(today: Today, analyte: str) -> gates.Reading:
    value = value_of(today.readings, analyte)
    return gates.Reading(value, value is not None and is_below(today.readings, analyte))


def answer(gate: Gate, given: Inputs, today: Today) -> Answer:
    """Return which limits stand against a rise; none named is no recommendation to raise."""
    found = gates.may_raise(gate, measured(given, today), today.treatments)
    named = {r.split()[0].lower() for r in found.reasons}
    more = tuple(v.sentence for v in today.over if v.reading not in IN_GATE & named)
    if not more:
        return found
    reasons = found.reasons + more
    said = "Stay at this ration and ring. " + " ".join(reasons)
    return Answer(True, reasons, said, found.source, found.how)


UNKNOWN = ("was not measured", "was not watched", "were not asked")


def broken_of(found: Answer) -> tuple[str, ...]:
    """Return the reasons that were measured or seen, without those that nobody looked at."""
    return tuple(r for r in found.reasons if not any(word in r for word in UNKNOWN))
