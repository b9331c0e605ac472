"""What the owner must beware of: people, food fish, movement, and what not to add."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from core.catalogue import load
from core.practice import from_memory, plan
from core.practice.care_rows import CareRows
from core.practice.in_hand_clock import DEAD, RECOVERED, SECOND
from core.practice.medicines import catalogue
from core.practice.names import name
from core.practice.problem_list import movement_stop
from core.practice.treatment_said import sentence
from core.records import read
from core.records.tables import DepthMark, Finding, Problem, ProblemState

NOT_FOR_OWNER = ("culture and", "controlled", "low hazard")
"""How those words among the hazards of a row begin that are about no hazard of the owner's."""
HELD = ("suspected", "confirmed", "improving")


def avoid(rows: CareRows) -> Iterator[str]:
    """Give what not to do; what stands in a box of its own is not said twice."""
    boxed = ("movement", "withdrawal")
    for step in rows.steps:
        told = step.origin.split(":")[0] in boxed and rows.as_offered(step)
        if step.kind == "do not" and not told:
            yield sentence(step.words)
    if rows.in_water():
        yield from load.table("owner")["avoid"]
        yield from dict.fromkeys(_not_with(rows))


def _not_with(rows: CareRows) -> Iterator[str]:
    for given in rows.in_water():
        found = catalogue().get(given.medicine)
        if found is not None and found.not_with:
            yield f"With {found.name}: no {', no '.join(found.not_with)}."


def watch(rows: CareRows) -> Iterator[str]:
    """Give what every owner looks at, and fish that were put to sleep."""
    words = load.table("owner")
    yield from words["watch"]
    ends = {m.handling: m.event for m in read.find(DepthMark, visit=rows.visit.id, order="at, id")}
    if any(h.agent and ends.get(h.id) == RECOVERED for h in rows.handled):
        yield words["asleep"]


def movement(rows: CareRows) -> Iterator[str]:
    """Give the stop of all movement while a listed disease is held."""
    if movement_stop(rows.visit.id):
        yield load.table("owner")["caution"]["movement"]
        yield from (
            step.words
            for step in rows.steps
            if step.origin.startswith("movement:") and step.kind != "do not"
        )


def cautions(rows: CareRows) -> Iterator[str]:
    """Give the cautions for people, each once."""
    yield from dict.fromkeys((*_always(rows), *_medicines(rows), *_zoonoses(rows)))


def _always(rows: CareRows) -> Iterator[str]:
    words = load.table("owner")["caution"]
    yield words["always"]
    marks = read.find(DepthMark, visit=rows.visit.id)
    killed = {m.handling for m in marks if m.event in (SECOND, DEAD)}
    if any(h.agent and h.id in killed for h in rows.handled):
        yield words["killed"]


def _medicines(rows: CareRows) -> Iterator[str]:
    """Give what to beware of with what the owner handles, and with what we put fish to sleep."""
    told = load.table("owner")["medicine"]
    used = [name("medicine", t.medicine) for t in rows.own]
    used += [name("medicine", h.agent) for h in rows.handled if h.agent]
    used += [name("medicine", t.medicine) for t in rows.treatments if t.act == "given here"]
    for one in used:
        yield from (words for part, words in told.items() if part in one.lower())
    yield from _untold(rows, tuple(told))


def _untold(rows: CareRows, told: tuple[str, ...]) -> Iterator[str]:
    """Give the hazards of what the owner handles and no sentence of ours is about."""
    for given in rows.own:
        found = catalogue().get(given.medicine)
        if found is None or any(part in found.name.lower() for part in told):
            continue
        if hazards := [h for h in found.hazards if not h.startswith(NOT_FOR_OWNER)]:
            yield f"{sentence(found.name)[:-1]}: {'; '.join(hazards)}."


def unread(rows: CareRows) -> Iterator[str]:
    """Give the medicines of the plan whose dose was read in no source."""
    for one in rows.treatments:
        if known := from_memory.said(one.medicine):
            yield f"{sentence(name('medicine', one.medicine)).removesuffix('.')}: {known}."


def _zoonoses(rows: CareRows) -> Iterator[str]:
    yield from (s.words for s in rows.steps if s.origin.startswith("people:"))
    organisms, problems = load.table("organisms")["organism"], load.table("problems")["problem"]
    found = [organisms.get(f.finding, {}) for f in read.find(Finding, visit=rows.visit.id)]
    states = read.find(ProblemState, visit=rows.visit.id, order="at, id")
    latest = {s.problem: s.state for s in states}
    found += [
        problems.get(read.one(Problem, key).problem, {})
        for key, state in latest.items()
        if state in HELD
    ]
    yield from (str(row["zoonotic"]) for row in found if row.get("zoonotic"))


def withdrawal(rows: CareRows) -> Iterator[tuple[str, date]]:
    """Give which fish may not be eaten before which day, sedation in hand too."""
    visit = rows.visit
    for given in rows.treatments:
        if given.withdrawal_until is not None:
            whom = visit.whom(given.group, given.handling, given.system)
            yield f"{whom} ({name('medicine', given.medicine)})", given.withdrawal_until
    for system in visit.opened.systems:
        known, _ = plan.withdrawals(visit.id, system)
        of_rows = [t for t in rows.treatments if t.system == system.id and t.withdrawal_until]
        # The treatments come first among those that are known; the rest was sedated in hand.
        for held in known[len(of_rows) :]:
            if held.ends is not None:
                whom = held.sentence.partition(": ")[0]
                yield f"{whom} ({name('medicine', held.medicine)})", held.ends


def withheld(rows: CareRows) -> Iterator[str]:
    """Give what else is to be said of fish that may be eaten."""
    words = load.table("owner")["caution"]
    eaten = [s for s in rows.about() if s.food_fish]
    for system in eaten:
        _, unknown = plan.withdrawals(rows.visit.id, system)
        yield from (f"{why} {words['no_date']}" for why in unknown)
    if eaten:
        yield words["food"]
