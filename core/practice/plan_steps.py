"""The owner's steps: what the record offers, what was taken or typed, and how it is said."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from core import dates
from core.errors import BadInput
from core.practice import course_tests, goes_with, redose, water
from core.practice.door import edit
from core.practice.keep import Act, begin_stage, ever
from core.practice.medicines import catalogue
from core.practice.names import name
from core.practice.problem_list import kinds, lines_of
from core.practice.step_offer import StepOffer
from core.practice.treatment_said import days_of, dose_words, feed_words, whom
from core.records import read
from core.records.journal import OpenEdit
from core.records.keys import new_key
from core.records.tables import (
    FeedStep,
    OwnerStep,
    Practice,
    System,
    Treatment,
    Visit,
)

KINDS = ("do", "do not", "watch", "stop")
NOT_TO_DO = ("Do NOT", "No salt", "Raise the alkalinity only when")
"""How the water's lines begin that tell what to leave; no food is something to do."""


def offers(visit_id: str, system_id: str) -> tuple[StepOffer, ...]:
    """Return the lines that the record offers and that nobody has taken or struck yet."""
    taken = {s.origin for s in ever(OwnerStep, visit=visit_id) if s.origin}
    return tuple(o for o in every_offer(visit_id, system_id) if o.origin not in taken)


def every_offer(visit_id: str, system_id: str) -> tuple[StepOffer, ...]:
    """Return all lines that the record offers, those that were taken too."""
    system = read.one(System, system_id)
    found = (
        *_listed(visit_id, system),
        *_first(visit_id, system),
        *_feeding(visit_id, system),
        *_treated(visit_id, system),
        *_stops(),
    )
    return tuple({o.origin: o for o in found}.values())


def _listed(visit_id: str, system: System) -> Iterator[StepOffer]:
    for line in lines_of(visit_id, system.id):
        kind = kinds().get(line.row.problem)
        if kind is None or not line.problem.open:
            continue
        if kind.stops_movement:
            words = (
                "Move nothing off this site: no fish alive or dead, no water, plants, nets or "
                "tanks, until the authority says so."
            )
            yield StepOffer(f"movement:{kind.key}", "do not", words)
        if kind.zoonotic:
            yield StepOffer(f"people:{kind.key}", "do", kind.zoonotic)


def _first(visit_id: str, system: System) -> Iterator[StepOffer]:
    seen = water.view(visit_id, system.id)
    rows = seen.readings(seen.judged_place)
    day = seen.opened.visit.day
    if not rows:
        return
    planned = read.first(FeedStep, visit=visit_id, system=system.id) is not None
    for line in water.judged(seen, water.as_readings(rows)).first:
        if planned and "food" in line.action.lower():
            continue  # the ration of the feeding check is the later word
        no = line.action.startswith(NOT_TO_DO)
        words = f"{line.action}: {line.figure}" if line.figure else line.action
        if len(seen.opened.systems) > 1:
            words = f"{system.name}: {words}"
        kind = "do not" if no else "do"
        yield StepOffer(f"water:{system.id}:{line.action}", kind, words, day)


def _feeding(visit_id: str, system: System) -> Iterator[StepOffer]:
    for step in read.find(FeedStep, order="position", visit=visit_id, system=system.id):
        yield StepOffer(f"feeding:{step.id}", "do", feed_words(step), step.day)


def _treated(visit_id: str, system: System) -> Iterator[StepOffer]:
    for row in read.find(Treatment, visit=visit_id, system=system.id):
        found = catalogue().get(row.medicine)
        if found is not None:
            yield from goes_with.for_owner(row, found)
            yield from course_tests.for_owner(row, found)
            yield from redose.for_owner(row, found, system)
        own = row.act != "given here"
        by_us = not own and row.route.startswith("injection")
        for number, day in enumerate(days_of(row)):
            if own or (number and not by_us):
                yield StepOffer(f"dose:{row.id}:{number}", "do", dose_words(row, number), day)
        if row.withdrawal_until is not None:
            until = row.withdrawal_until
            words = f"Eat or sell none of {whom(row)} as food before {_said(until, row)}."
            yield StepOffer(f"withdrawal:{row.id}", "do not", words, until)
        if own:
            of = name("medicine", row.medicine)
            words = f"A forgotten dose of {of}: do not give two together; ring."
            yield StepOffer(f"missed:{row.id}", "stop", words)


def _stops() -> Iterator[StepOffer]:
    practice = read.first(Practice)
    ring = f"ring {practice.phone}" if practice and practice.phone else "ring us"
    words = (
        "Fish gasp, lie on their side or die, or anything gets worse: stop, give air, "
        f"{ring} at once."
    )
    yield StepOffer("stop:default", "stop", words)


def _said(day: date, row: Treatment) -> str:
    return dates.said(day, read.one(Visit, row.visit).day)


def take_steps(
    act: Act, visit_id: str, system_id: str, origins: tuple[str, ...] = ()
) -> tuple[str, ...]:
    """Take lines as they are offered: all, or those named. Return their ids."""
    wanted = [o for o in offers(visit_id, system_id) if not origins or o.origin in origins]
    with edit("owner's steps", who=act.by, at=act.at, visit=visit_id) as doing:
        begin_stage(doing, visit_id, "Plan")
        return tuple(add_line(doing, visit_id, o.kind, o.words, o.day, o.origin) for o in wanted)


def add_step(
    act: Act, visit_id: str, kind: str, words: str, day: date | None = None, origin: str = ""
) -> str:
    """Add a line for the owner in one's own words; return its id.

    Raises
    ------
    BadInput
        Without words, or for a kind that is none of the four.
    """
    _check(kind, words)
    with edit("owner's step", who=act.by, at=act.at, visit=visit_id) as doing:
        begin_stage(doing, visit_id, "Plan")
        return add_line(doing, visit_id, kind, words.strip(), day, origin)


def add_line(
    doing: OpenEdit, visit_id: str, kind: str, words: str, day: date | None, origin: str
) -> str:
    """Add a line for the owner within an open edit; return its id."""
    last = max((s.position for s in read.find(OwnerStep, visit=visit_id, struck=True)), default=0)
    row = OwnerStep(
        id=new_key(),
        visit=visit_id,
        position=last + 1,
        kind=kind,
        words=words,
        day=day,
        origin=origin,
    )
    doing.add(row)
    return row.id


def change_step(act: Act, step_id: str, *, kind: str, words: str, day: date | None) -> None:
    """Change a line for the owner; the journal keeps what stood."""
    _check(kind, words)
    row = read.one(OwnerStep, step_id)
    with edit("owner's step", who=act.by, at=act.at, visit=row.visit) as doing:
        doing.change(OwnerStep, step_id, kind=kind, words=words.strip(), day=day)


def strike_step(act: Act, step_id: str, why: str) -> None:
    """Strike a line for the owner, with the reason."""
    row = read.one(OwnerStep, step_id)
    with edit("owner's step struck", who=act.by, at=act.at, visit=row.visit) as doing:
        doing.strike(OwnerStep, step_id, why)


def _check(kind: str, words: str) -> None:
    if kind not in KINDS:
        raise BadInput(f"{kind} is no kind of step.", "Use do, do not, watch or stop.")
    if not words.strip():
        raise BadInput("A step needs its words.", "Type what the owner is to do.")
