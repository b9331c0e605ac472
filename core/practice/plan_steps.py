"""The owner's steps: what the record offers, what was taken or typed, and how it is said."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from core import dates
from core.dosing import course
from core.dosing.medicines import Medicine
from core.errors import BadInput
from core.numbers import plain
from core.practice import water
from core.practice.door import edit
from core.practice.keep import Act, begin_stage, ever
from core.practice.medicines import catalogue
from core.practice.names import name
from core.practice.problem_list import kinds, lines_of
from core.practice.treatment_said import days_of, dose_words, feed_words, sentence, whom
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
OUT = ("carbon", "zeolite")
"""What is taken out; the rest is switched off."""


@dataclass(frozen=True)
class StepOffer:
    """A line for the owner that the record offers; nothing is told until it is taken."""

    origin: str
    kind: str
    words: str
    day: date | None = None


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
        if found is not None and found.in_water and not _own_bath(row):
            yield from _goes_with(row, found)
            yield from _beside(row, found)
        own = row.act != "given here"
        by_us = not own and row.route.startswith("injection")
        for number, day in enumerate(days_of(row)):
            if own or (number and not by_us):
                yield StepOffer(f"dose:{row.id}:{number}", "do", dose_words(row), day)
        if row.withdrawal_until is not None:
            until = row.withdrawal_until
            words = f"Eat or sell none of {whom(row)} as food before {_said(until, row)}."
            yield StepOffer(f"withdrawal:{row.id}", "do not", words, until)
        if own:
            of = name("medicine", row.medicine)
            words = f"A forgotten dose of {of}: do not give two together; ring."
            yield StepOffer(f"missed:{row.id}", "stop", words)


def _own_bath(row: Treatment) -> bool:
    return row.handling is not None or "sedation" in row.route or "anaesthetic" in row.route


def _goes_with(row: Treatment, found: Medicine) -> Iterator[StepOffer]:
    off = [s for s in found.switch_off if s not in OUT]
    out = [s for s in found.switch_off if s in OUT]
    parts = [f"{_and(off)} off" if off else "", f"{_and(out)} out" if out else ""]
    parts += ["extra air on" if found.extra_air else ""]
    words = ", ".join(p for p in parts if p)
    if not words:
        return
    # What is given in parts is one bath: it goes off before the first part and stays off.
    for number, day in enumerate(days_of(row)[: row.repeats]):
        text = f"{sentence(words)[:-1]} before the {found.name}; {_until(row, found)}."
        yield StepOffer(f"goes:{row.id}:{number}", "do", text, day)
        if row.off_hours is not None:
            over = course.end(day, int(row.off_hours // 24)) if row.off_hours >= 24 else day
            text = f"{_on_again(off, out)}: {plain(row.off_hours)} h after the {found.name}."
            yield StepOffer(f"again:{row.id}:{number}", "do", text, over)


def _beside(row: Treatment, found: Medicine) -> Iterator[StepOffer]:
    """Give what the owner must know of a bath besides: who gives it stays by and stops it."""
    own = row.act != "given here"
    lines = (
        ("stay", "do", found.stay if own else ""),
        ("trial", "do", _trial(found) if own else ""),
        ("ends", "stop", found.stop_at if own else ""),
        ("drain", "do", found.water_goes),
        ("kit", "watch", found.kit),
    )
    for origin, kind, words in lines:
        if words:
            yield StepOffer(f"{origin}:{row.id}", kind, f"{sentence(found.name)[:-1]}: {words}")


def _trial(found: Medicine) -> str:
    return found.trial and f"try it on a few fish first; {found.trial}"


def _until(row: Treatment, found: Medicine) -> str:
    if row.off_hours is None:
        return f"as before only when the bath is over ({found.duration or 'as told'})"
    return f"as before after {plain(row.off_hours)} h"


def _on_again(off: list[str], out: list[str]) -> str:
    parts = (f"{_and(off)} on again" if off else "", f"fresh {_and(out)} in" if out else "")
    return sentence(", ".join(p for p in parts if p) or "air as before")[:-1]


def _and(words: list[str]) -> str:
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


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
        return tuple(_add(doing, visit_id, o.kind, o.words, o.day, o.origin) for o in wanted)


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
        return _add(doing, visit_id, kind, words.strip(), day, origin)


def _add(
    doing: OpenEdit, visit_id: str, kind: str, words: str, day: date | None, origin: str
) -> str:
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
