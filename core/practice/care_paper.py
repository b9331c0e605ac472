"""The owner's care sheet: only what was decided, so that a changed plan makes another sheet."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import replace
from datetime import date, datetime, timedelta

from core.catalogue import load
from core.numbers import plain
from core.papers.care_sheet import CareSheet, Step
from core.practice import letterhead
from core.practice.names import name
from core.practice.record_rows import VisitRows
from core.records import read
from core.records.tables import (
    FeedStep,
    Finding,
    Handling,
    OwnerStep,
    Problem,
    ProblemState,
    Recheck,
    Treatment,
)
from core.units import show

HELD = ("suspected", "confirmed", "improving")
FOR_OWNER = ("dispensed", "prescribed", "advised")


def care_sheet(visit_id: str, number: str, version: int, at: datetime) -> CareSheet:
    """Return the care sheet of a visit as the paper takes it.

    Parameters
    ----------
    number, version : str, int
        Of this sheet.
    at : datetime
        Moment of issue, aware.
    """
    visit = VisitRows(visit_id)
    steps = read.find(OwnerStep, visit=visit_id, order="position, id")
    issued = letterhead.wall(at, visit.practice)

    def said(kind: str) -> tuple[str, ...]:
        return tuple(s.words for s in steps if s.kind == kind)

    standing = load.table("owner")
    system = visit.opened.system
    return CareSheet(
        number=number,
        version=version,
        practice=letterhead.head(visit.practice),
        client=letterhead.party(visit.opened.client),
        issued=issued,
        system=", ".join(
            filter(None, (system.name, show(system.volume_l, "volume") if system.volume_l else ""))
        ),
        fish=", ".join(g.name for g in visit.opened.groups if g.system == system.id),
        found=_found(visit),
        phone=visit.practice.phone,
        stop_rules=(*said("stop"), *(standing["stop"] if _treated(visit) else ())),
        emergency_signs=tuple(standing["emergency"]),
        today=tuple(s.words for s in steps if s.kind == "do" and s.day is None),
        steps=tuple(_dated(visit, steps)),
        avoid=said("do not"),
        watch=said("watch"),
        cautions=tuple(_cautions(visit)),
        withdrawal=tuple(_withdrawal(visit)),
        veterinarian=visit.opened.vet.name,
    )


def content_hash(sheet: CareSheet) -> str:
    """Return the hash of what a sheet says, whatever its number and moment."""
    bare = replace(
        sheet,
        number="",
        version=0,
        issued=sheet.issued.replace(hour=0, minute=0, second=0, microsecond=0),
    )
    return hashlib.sha256(repr(bare).encode()).hexdigest()


def _treated(visit: VisitRows) -> bool:
    return any(t.act in FOR_OWNER for t in read.find(Treatment, visit=visit.id))


def _found(visit: VisitRows) -> str:
    latest = {s.problem: s.state for s in read.find(ProblemState, visit=visit.id, order="at, id")}
    named = [
        f"{read.one(Problem, key).words} ({state})"
        for key, state in latest.items()
        if state in HELD
    ]
    return f"We found: {'; '.join(named)}." if named else "No problem was named at this visit."


def _dated(visit: VisitRows, steps: tuple[OwnerStep, ...]) -> Iterator[Step]:
    for row in steps:
        if row.kind == "do" and row.day is not None:
            yield Step(row.day, row.words)
    for feed in read.find(FeedStep, visit=visit.id):
        yield Step(feed.day, f"Feed {plain(round(feed.grams, 1))} g a day from today: {feed.gate}")
    told = " ".join(s.origin for s in steps)
    for given in read.find(Treatment, visit=visit.id):
        if given.act in FOR_OWNER and given.id not in told:
            yield from _courses(visit, given)
    for recheck in read.find(Recheck, visit=visit.id):
        verb = "We ring you" if recheck.kind == "phone" else "We come"
        yield Step(recheck.target, f"{verb}: {recheck.reason}", by_practice=True)


def _courses(visit: VisitRows, given: Treatment) -> Iterator[Step]:
    first = letterhead.wall(given.at, visit.practice).date()
    what = (
        f"{plain(round(given.amount, 2))} {given.amount_unit} of {name('medicine', given.medicine)}"
    )
    for n in range(given.repeats):
        day = first + timedelta(days=round(n * (given.interval_days or 0)))
        count = f" ({n + 1} of {given.repeats})" if given.repeats > 1 else ""
        yield Step(day, f"{what}{count}. {given.directions}".strip())


def _cautions(visit: VisitRows) -> Iterator[str]:
    words = load.table("owner")["caution"]
    yield words["always"]
    used = [t.medicine for t in read.find(Treatment, visit=visit.id)]
    used += [h.agent for h in read.find(Handling, visit=visit.id)]
    if any("formalin" in name("medicine", key) for key in used if key):
        yield words["formalin"]
    if any("tricaine" in name("medicine", key) for key in used if key):
        yield words["tricaine"]
    if visit.opened.system.food_fish:
        yield words["food"]
    yield from _flagged(visit)


def _flagged(visit: VisitRows) -> Iterator[str]:
    organisms, problems = load.table("organisms")["organism"], load.table("problems")["problem"]
    found = [organisms.get(f.finding, {}) for f in read.find(Finding, visit=visit.id)]
    states = read.find(ProblemState, visit=visit.id, order="at, id")
    latest = {s.problem: s.state for s in states}
    for key, state in latest.items():
        row = problems.get(read.one(Problem, key).problem, {})
        if state in HELD:
            found.append(row)
            if row.get("stops_movement"):
                yield load.table("owner")["caution"]["movement"]
    yield from dict.fromkeys(str(row["zoonotic"]) for row in found if row.get("zoonotic"))


def _withdrawal(visit: VisitRows) -> Iterator[tuple[str, date]]:
    for given in read.find(Treatment, visit=visit.id):
        if given.withdrawal_until is not None:
            whom = visit.whom(given.group, given.handling, given.system)
            yield f"{whom} ({name('medicine', given.medicine)})", given.withdrawal_until
