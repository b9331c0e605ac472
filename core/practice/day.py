"""The day's visits in order: how far each has come, what is waited for, and who has paid."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from core.practice import arrival
from core.practice.arrival import Arrival
from core.records.engine import query
from core.records.fields import DayField

STAGES = (
    "History",
    "Watching",
    "Water",
    "In hand",
    "Biopsy",
    "Feeding",
    "Assessment",
    "Plan",
    "Charges",
    "Sign",
)
"""The stages of a visit, in the order in which they are usually walked."""
OFF = ("no access", "cancelled")
"""States in which nobody drives there."""


@dataclass(frozen=True)
class DayLine:
    """One visit of the day, as the list shows it."""

    visit: str
    starts: str
    minutes: int
    client: str
    site: str
    system: str
    volume_l: float | None
    reason: str
    vet: str
    """Id of the vet who goes."""
    vet_name: str
    rank: int
    state: str
    stage: str
    """The stage reached, in words."""
    resume: str
    """The stage in which to go on; "" when none was begun."""
    waiting: str
    """What is waited for; "" for nothing."""
    billed_minor: int
    paid_minor: int

    @property
    def owed_minor(self) -> int:
        """What is still to be paid."""
        return self.billed_minor - self.paid_minor

    @property
    def off(self) -> bool:
        """Whether nobody goes there today."""
        return self.state in OFF

    @property
    def payment(self) -> str:
        """Whether it is paid, in a word; "" before there is an invoice."""
        if not self.billed_minor:
            return ""
        if self.owed_minor <= 0:
            return "paid"
        return "part" if self.paid_minor else "unpaid"


@dataclass(frozen=True)
class DayView:
    """A day with all its visits and what is to be known before each."""

    day: date
    lines: tuple[DayLine, ...]
    arrivals: Mapping[str, Arrival]
    """By visit."""

    def of(self, vet: str | None) -> tuple[DayLine, ...]:
        """Return the visits of one vet, or of all."""
        return tuple(line for line in self.lines if vet in (None, line.vet))


_DAY = """
SELECT v."id", v."starts", v."minutes", c."name", s."name", y."name", y."volume_l",
       v."reason", v."vet", p."name", v."rank", v."state", v."why",
       (SELECT coalesce(sum(i."gross_minor"), 0) FROM "invoice" i WHERE i."visit" = v."id"),
       (SELECT coalesce(sum(b."amount_minor"), 0) FROM "payment" b WHERE b."visit" = v."id")
FROM "visit" v
JOIN "client" c ON c."id" = v."client"
JOIN "site" s ON s."id" = v."site"
JOIN "system" y ON y."id" = v."system"
JOIN "person" p ON p."id" = v."vet"
WHERE v."day" = ? AND v."struck" IS NULL
ORDER BY v."starts", v."id"
"""
_MARKS = """
SELECT m."visit", m."stage", m."state", m."why" FROM "stage_mark" m
JOIN "visit" v ON v."id" = m."visit"
WHERE v."day" = ? AND m."struck" IS NULL ORDER BY m."id"
"""
_AWAITED = """
SELECT t."visit", t."name" FROM "sent_test" t JOIN "visit" v ON v."id" = t."visit"
WHERE v."day" = ? AND t."struck" IS NULL
  AND NOT EXISTS (SELECT 1 FROM "test_result" r WHERE r."test" = t."id")
ORDER BY t."id"
"""


def view(day: date) -> DayView:
    """Return a day with everything its screen shows; the same few queries for any number."""
    found = lines(day)
    return DayView(day, found, arrival.before(day))


def lines(day: date) -> tuple[DayLine, ...]:
    """Return the visits of a day in order of time."""
    value = (DayField().db_value(day),)
    marks: dict[str, list[Mark]] = {}
    for visit, *mark in query(_MARKS, value):
        marks.setdefault(visit, []).append(Mark(*mark))
    awaited: dict[str, list[str]] = {}
    for visit, name in query(_AWAITED, value):
        awaited.setdefault(visit, []).append(name)
    return tuple(
        _line(row, marks.get(row[0], []), awaited.get(row[0], [])) for row in query(_DAY, value)
    )


@dataclass(frozen=True)
class Mark:
    """How far one stage has come, as its row says."""

    stage: str
    state: str
    why: str


def _line(row: tuple[Any, ...], marks: list[Mark], awaited: list[str]) -> DayLine:
    state, why, billed, paid = row[11:]
    waits = [m.why or m.stage for m in marks if m.state == "waiting"]
    waiting = ", ".join(dict.fromkeys([*waits, *awaited]))
    stage, go_on = reached(state, why, marks), resume(marks)
    values: tuple[Any, ...] = (*row[:12], stage, go_on, waiting, billed, paid)
    return DayLine(*values)


def reached(state: str, why: str, marks: list[Mark]) -> str:
    """Return how far a visit has come, in words, from its state and its stage marks."""
    if state in OFF:
        return f"{state}: {why}"
    if state == "signed":
        return "signed"
    known = {mark.stage: mark.state for mark in marks}
    begun = [stage for stage in STAGES if stage in known]
    if not begun:
        return "not begun"
    last = begun[-1]
    return f"{last} {known[last]}"


def resume(marks: list[Mark]) -> str:
    """Return the stage to open: the one begun last, or the next when that one is done."""
    if not marks:
        return ""
    last = marks[-1]
    if last.state != "done" or last.stage not in STAGES:
        return last.stage
    return STAGES[min(STAGES.index(last.stage) + 1, len(STAGES) - 1)]
