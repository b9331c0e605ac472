"""The problem list of a visit: the vet names, the record says who and when, evidence beside it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from core.assessment import problems as listed
from core.assessment.catalogue import URGENCIES, Clue, ProblemKind
from core.assessment.problems import Evidence, Fact, NextTest
from core.catalogue import load
from core.errors import BadInput
from core.practice.door import edit
from core.practice.facts import answers_of, facts
from core.practice.keep import Act, begin_stage, put
from core.practice.names import name
from core.practice.problem_list import ProblemLine, kinds, lines_of, movement_stop, tests
from core.practice.stock import fish_here
from core.practice.visits import Opened, opened
from core.records import read, tables
from core.records.tables import Answer, FishGroup, SentTest, System, TestResult

AUTHORITY_CALL = "authority rung"
"""The answer under which a call to the authority is kept; papers print it as it is."""
WORTH_SHOWN = 8
ASKED_IN = {
    "sign": "sign",
    "found": "finding",
    "history": "question",
    "walk": "walk",
    "lesion": "lesion",
}


@dataclass(frozen=True)
class Worth:
    """A problem for which recorded facts speak; nobody has named it."""

    kind: ProblemKind
    evidence: Evidence


@dataclass(frozen=True)
class AssessmentView:
    """Everything the assessment of one water shows."""

    opened: Opened
    system: System
    groups: tuple[FishGroup, ...]
    lines: tuple[ProblemLine, ...]
    worth: tuple[Worth, ...]
    next_tests: tuple[NextTest, ...]
    awaited: tuple[SentTest, ...]
    movement: tuple[str, ...]
    zoonoses: tuple[str, ...]
    authority: str
    call: Answer | None
    """The call to the authority, when it was made."""


def view(visit_id: str, system_id: str) -> AssessmentView:
    """Return the assessment of a water as this visit has it."""
    found = opened(visit_id)
    recorded = facts(visit_id, system_id)
    lines = tuple(_with_evidence(line, recorded) for line in lines_of(visit_id, system_id))
    practice = read.first(tables.Practice)
    awaited = _awaited(visit_id)
    worth = _worth(recorded, {line.row.problem for line in lines})
    named = [kinds()[x.row.problem] for x in lines if x.problem.open and x.row.problem]
    return AssessmentView(
        found,
        read.one(System, system_id),
        tuple(h.group for h in fish_here(system_id)),
        lines,
        worth,
        _without(listed.next_tests(named, recorded, tests()), awaited),
        awaited,
        movement_stop(visit_id),
        tuple(dict.fromkeys(z for x in lines if x.problem.open for z in _zoonosis(x.row.problem))),
        practice.authority if practice else "",
        read.first(Answer, visit=visit_id, question=AUTHORITY_CALL),
    )


def _zoonosis(key: str) -> tuple[str, ...]:
    kind = kinds().get(key)
    return (kind.zoonotic,) if kind and kind.zoonotic else ()


def _awaited(visit_id: str) -> tuple[SentTest, ...]:
    answered = {r.test for r in read.find(TestResult, visit=visit_id)}
    return tuple(t for t in read.find(SentTest, visit=visit_id) if t.id not in answered)


def _without(found: Sequence[NextTest], awaited: Sequence[SentTest]) -> tuple[NextTest, ...]:
    sent = {answers_of(t.name) for t in awaited}
    return tuple(n for n in found if n.test.answers not in sent)


def _with_evidence(line: ProblemLine, recorded: tuple[Fact, ...]) -> ProblemLine:
    kind = kinds().get(line.row.problem)
    if kind is None:
        return line
    best = listed.next_tests([kind], recorded, tests())
    held = listed.evidence(kind, recorded)
    return replace(line, evidence=held, next_test=best[0] if best else None)


def _other_fish(kind: ProblemKind, recorded: tuple[Fact, ...]) -> bool:
    """Return whether a problem of one kind of fish is looked at where there is none of them."""
    known = {f.key: False for f in recorded}
    known |= {f.key: True for f in recorded if f.state == "yes"}
    only = (c.fact for c in kind.clues_for if c.fact.startswith("fish."))
    return any(not known.get(fact, True) for fact in only)


def _of_fish(line: listed.Line) -> bool:
    """Return whether a line is about what kind of fish or water this is."""
    return line.clue.fact.startswith("fish.")


def _worth(recorded: tuple[Fact, ...], named: set[str]) -> tuple[Worth, ...]:
    """Return the kinds for which something was recorded, most of it first; none of it is named."""
    found = []
    for kind in kinds().values():
        held = listed.evidence(kind, recorded)
        speaks = {x.clue.fact for x in held.lines_for if not _of_fish(x)}
        other = any(map(_of_fish, held.lines_against)) or _other_fish(kind, recorded)
        if kind.key not in named and speaks and not other:
            found.append((-len(speaks), URGENCIES.index(kind.urgency), Worth(kind, held)))
    found.sort(key=lambda row: row[:2])
    return tuple(worth for _, _, worth in found[:WORTH_SHOWN])


def record_authority_call(act: Act, visit_id: str, system_id: str, whom: str, words: str) -> None:
    """Record that the authority was rung about a listed disease: whom, when, what was said.

    Raises
    ------
    BadInput
        When it is not said who was rung.
    """
    if not whom.strip():
        raise BadInput("Say who was rung.", "For example: the state veterinarian's office.")
    where = {"visit": visit_id, "system": system_id, "question": AUTHORITY_CALL}
    values = {
        "state": "value",
        "value": words.strip() or "rung",
        "told_by": whom.strip(),
        "at": act.at,
    }
    with edit("authority rung", who=act.by, at=act.at, visit=visit_id) as doing:
        begin_stage(doing, visit_id, "Assessment")
        put(doing, Answer, where, values)


def for_words(found: Evidence) -> tuple[str, ...]:
    """Return what speaks for a problem, as the record says it, each once."""
    return _said(found.lines_for)


def against_words(found: Evidence) -> tuple[str, ...]:
    """Return what speaks against a problem, as the record says it, each once."""
    return _said(found.lines_against)


def missing_words(found: Evidence) -> tuple[str, ...]:
    """Return what nobody asked, saw or measured and a problem could be told by, each once."""
    return tuple(dict.fromkeys(asked(x.clue.fact) for x in found.missing))


def _said(lines: Iterable[listed.Line]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(x.fact.words.rstrip(".") for x in lines if x.fact is not None))


def asked(fact: str) -> str:
    """Return what a fact is called, in words: what to ask, look at or measure.

    Examples
    --------
    >>> asked("water.oxygen"), asked("sign.gasping")
    ('oxygen', 'gasping at the surface')
    """
    family, _, key = fact.partition(".")
    if family in ASKED_IN:
        return name(ASKED_IN[family], key)
    if family == "slide":
        return f"{name('tissue', key)} on a slide"
    row = load.table("problems")["subject"].get(family, {}).get(key, {})
    return str(row.get("words", fact))


def cited(clue: Clue) -> str:
    """Return the work a clue is taken from, as it is cited."""
    return load.citations().get(clue.source, clue.source)
