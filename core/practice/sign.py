"""Signing: what is missing, said plainly; then the record is closed and later words are addenda."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from core.assessment.problems import movement_stop
from core.clock import local
from core.errors import Refusal
from core.practice import in_hand_clock
from core.practice.assessment import AUTHORITY_CALL
from core.practice.day import STAGES
from core.practice.door import edit
from core.practice.keep import Act, put
from core.practice.names import name
from core.practice.problem_list import kinds, lines_of
from core.practice.signatures import next_link
from core.practice.who import must_be_vet
from core.records import read
from core.records.keys import new_key
from core.records.signed import record_hash, schema_of
from core.records.tables import (
    Addendum,
    Answer,
    Charge,
    Client,
    FishGroup,
    Handling,
    Invoice,
    OwnerStep,
    Person,
    Practice,
    Problem,
    Recheck,
    SentTest,
    Site,
    StageMark,
    System,
    TestResult,
    Treatment,
    Visit,
)

WALKED = STAGES[:-2]
"""The stages that must be done or passed over before a record is signed."""


@dataclass(frozen=True)
class Missing:
    """One thing that is missing.

    Attributes
    ----------
    blocks : bool
        True when the record can not be signed without it; otherwise it is only said.
    """

    what: str
    stage: str
    blocks: bool


def missing(visit_id: str) -> tuple[Missing, ...]:
    """Return what is missing in a visit, what blocks the signature first."""
    visit = read.one(Visit, visit_id)
    must = [
        *_identity(visit),
        *_stages(visit),
        *_euthanasia(visit),
        *_asleep(visit),
        *_authority(visit),
    ]
    found = [*must, *_cautions(visit), *_worth_saying(visit)]
    return tuple(sorted(found, key=lambda m: not m.blocks))


def _identity(visit: Visit) -> list[Missing]:
    client, site = read.one(Client, visit.client), read.one(Site, visit.site)
    system = read.one(System, visit.system)
    found = []
    if not (client.address or site.address):
        found.append(Missing("the client's address", "History", blocks=True))
    if not client.phone:
        found.append(Missing("the client's phone number", "History", blocks=False))
    if not read.find(FishGroup, system=system.id):
        found.append(Missing("which fish: species and number", "History", blocks=True))
    if system.volume_l is None:
        found.append(Missing("the volume of the water", "History", blocks=False))
    return found


def _stages(visit: Visit) -> list[Missing]:
    marks = {m.stage: m for m in read.find(StageMark, visit=visit.id)}
    found = []
    for stage in WALKED:
        mark = marks.get(stage)
        if mark is None:
            found.append(Missing(f"{stage}: not begun and not passed over", stage, blocks=True))
        elif mark.state == "begun":
            found.append(Missing(f"{stage}: begun and not marked done", stage, blocks=True))
    return found


def _euthanasia(visit: Visit) -> list[Missing]:
    """Everything that the record of a euthanasia lacks, above all its second step."""
    return [
        Missing(f"{fish.label}: {what} of the euthanasia", "In hand", blocks=True)
        for fish in read.find(Handling, visit=visit.id)
        for what in in_hand_clock.of(fish).lacking
    ]


def _asleep(visit: Visit) -> list[Missing]:
    """What a fish was put to sleep with; food fish have a withdrawal that hangs on it."""
    return [
        Missing(
            f"{fish.label}: what it was put to sleep with, and at which level",
            "In hand",
            blocks=read.one(System, fish.system).food_fish is not False,
        )
        for fish in read.find(Handling, visit=visit.id)
        if not (fish.agent and fish.agent_mg_l)
        and in_hand_clock.of(fish).at(in_hand_clock.INTO) is not None
    ]


def _authority(visit: Visit) -> list[Missing]:
    """A listed disease that is suspected is told to the authority, and that is written down."""
    systems = read.find(System, site=visit.site)
    calls = [a for s in systems for a in read.find(Answer, system=s.id, question=AUTHORITY_CALL)]
    for line in (line for s in systems for line in lines_of(visit.id, s.id)):
        stops = movement_stop([line.problem], kinds())
        # A call made when it was first suspected, at an earlier visit, stands.
        rung = any(c.visit == visit.id or c.at >= line.states[0].at for c in calls)
        if stops and not rung:
            what = "the authority was not rung about a suspected listed disease"
            return [Missing(what, "Assessment", blocks=True)]
    return []


def _cautions(visit: Visit) -> list[Missing]:
    """What can hurt people or others' fish is said once more before the record closes."""
    said = [
        caution
        for system in read.find(System, site=visit.site)
        for line in lines_of(visit.id, system.id)
        for caution in line.cautions
    ]
    return [Missing(f"caution: {c}", "Assessment", blocks=False) for c in dict.fromkeys(said)]


def _worth_saying(visit: Visit) -> list[Missing]:
    found = []
    if not read.find(Problem, visit=visit.id):
        found.append(Missing("no problem was named at this visit", "Assessment", blocks=False))
    if not read.find(Recheck, visit=visit.id):
        found.append(Missing("no recheck is planned", "Plan", blocks=False))
    steps = {s.kind for s in read.find(OwnerStep, visit=visit.id)}
    if steps and "stop" not in steps:
        found.append(Missing("the owner has no stop rule", "Plan", blocks=False))
    for given in read.find(Treatment, visit=visit.id, act="given here"):
        if not given.lot:
            found.append(
                Missing(f"the lot of {name('medicine', given.medicine)}", "Plan", blocks=False)
            )
    answered = {r.test for r in read.find(TestResult, visit=visit.id)}
    for test in read.find(SentTest, visit=visit.id):
        if test.id not in answered:
            found.append(Missing(f"awaited: {test.name}", "Biopsy", blocks=False))
    if not read.find(Charge, visit=visit.id):
        found.append(Missing("nothing is charged", "Charges", blocks=False))
    elif read.first(Invoice, visit=visit.id) is None:
        found.append(Missing("the invoice is not issued", "Charges", blocks=False))
    return found


def finish_begun(act: Act, visit_id: str) -> None:
    """Mark every stage that was begun as done: one act when the vet has read them over."""
    in_hand_clock.close_all(visit_id)
    with edit("stages done", who=act.by, at=act.at, visit=visit_id) as doing:
        for mark in read.find(StageMark, visit=visit_id, state="begun"):
            doing.change(StageMark, mark.id, state="done")


def sign(act: Act, visit_id: str) -> str:
    """Sign a visit: the record is closed by the database itself. Return its hash.

    Raises
    ------
    Refusal
        When somebody other than a veterinarian signs, it is signed already, or something
        that must be there is missing: each thing is named.
    """
    must_be_vet(act.by, "signs a record")
    if read.one(Visit, visit_id).signed_at is not None:
        raise Refusal("This visit is signed already.", "Write an addendum.")
    blocking = [m.what for m in missing(visit_id) if m.blocks]
    if blocking:
        raise Refusal("It can not be signed yet. Missing: " + "; ".join(blocking) + ".")
    with edit("sign", who=act.by, at=act.at, visit=visit_id) as doing:
        put(doing, StageMark, {"visit": visit_id, "stage": "Sign"}, {"state": "done", "why": ""})
        signed = record_hash(visit_id)
        doing.change(
            Visit, visit_id, state="signed", signed_at=act.at, signed_by=act.by, sign_hash=signed
        )
        doing.add(next_link(act, visit_id, signed))
    return signed


def verify(visit_id: str) -> bool:
    """Say whether a signed record still is what was signed."""
    visit = read.one(Visit, visit_id)
    return visit.sign_hash is not None and (
        record_hash(visit_id, schema_of(visit_id)) == visit.sign_hash
    )


@dataclass(frozen=True)
class Added:
    """One addendum: its words and reason, who wrote it, and when on the practice's wall."""

    id: str
    words: str
    why: str
    by: str
    at: datetime


def addenda(visit_id: str) -> tuple[Added, ...]:
    """Return what was said after the signature, the oldest first."""
    rows = read.find(Addendum, visit=visit_id, order="at, id")
    if not rows:
        return ()
    people = {p.id: p.name for p in read.find(Person, struck=True)}
    zone = read.find(Practice)[0].zone
    return tuple(Added(a.id, a.words, a.why, people.get(a.by, ""), local(a.at, zone)) for a in rows)


def add_addendum(act: Act, visit_id: str, words: str, why: str) -> str:
    """Add what is said after the signature, with its author, time and reason.

    Raises
    ------
    Refusal
        When the visit is not signed yet, or words or reason are missing.
    """
    if read.one(Visit, visit_id).signed_at is None:
        raise Refusal("This visit is not signed yet.", "Write it into the record itself.")
    if not words.strip() or not why.strip():
        raise Refusal("An addendum needs its words and a reason.", "Type both.")
    row = Addendum(id=new_key(), visit=visit_id, words=words, why=why, by=act.by, at=act.at)
    with edit("addendum", who=act.by, at=act.at, visit=visit_id) as doing:
        doing.add(row)
    return row.id
