"""The problem list: who named what, when, and every state since, carried from visit to visit."""

from __future__ import annotations

import functools
from collections.abc import Mapping
from dataclasses import dataclass

from core.assessment import problems as listed
from core.assessment.catalogue import ProblemKind, Test
from core.assessment.problems import Evidence, NextTest, Problem, State, StatusChange
from core.catalogue import load
from core.errors import BadInput, Refusal
from core.practice.door import edit
from core.practice.keep import Act, begin_stage
from core.practice.stock import fish_here
from core.practice.visits import opened
from core.practice.who import must_be_vet
from core.records import read, tables
from core.records.keys import new_key
from core.records.tables import FishGroup, Person, ProblemState, System, Visit


@functools.cache
def kinds() -> Mapping[str, ProblemKind]:
    """Return every kind of problem by key."""
    rows = load.table("problems")["problem"]
    return {key: ProblemKind.from_row(key, row) for key, row in rows.items()}


@functools.cache
def tests() -> Mapping[str, Test]:
    """Return every test by key."""
    return {key: Test.from_row(key, row) for key, row in load.table("problems")["test"].items()}


@dataclass(frozen=True)
class ProblemLine:
    """A problem with its history, what the record holds for and against it, and what decides.

    Attributes
    ----------
    states : tuple of ProblemState
        Oldest first, with who and when; those of this visit are `now`.
    evidence : Evidence or None
        None for a problem in the vet's own words.
    """

    row: tables.Problem
    problem: Problem
    whom: str
    states: tuple[ProblemState, ...]
    now: tuple[ProblemState, ...]
    people: Mapping[str, str]
    evidence: Evidence | None = None
    next_test: NextTest | None = None

    @property
    def cautions(self) -> tuple[str, ...]:
        """What must be said while it is open: listed disease, zoonosis."""
        kind = kinds().get(self.row.problem)
        return kind.cautions if kind and self.problem.open else ()


def lines_of(visit_id: str, system_id: str) -> tuple[ProblemLine, ...]:
    """Return the problems of a water and its fish as they stood at this visit, open ones first.

    Those carried over keep every state of the visits before; later visits are not shown.
    """
    visit = read.one(Visit, visit_id)
    here = {h.group.id for h in fish_here(system_id)}
    rows = [
        p
        for p in read.find(tables.Problem, client=visit.client)
        if p.system == system_id or (p.group is not None and p.group in here)
    ]
    people = {p.id: p.name for p in read.find(Person)}
    found = [line for row in rows if (line := _line(row, visit, people)) is not None]
    return tuple(sorted(found, key=lambda x: (not x.problem.open, x.row.id)))


def _line(row: tables.Problem, visit: Visit, people: Mapping[str, str]) -> ProblemLine | None:
    states = tuple(
        s
        for s in read.find(ProblemState, order="at, id", problem=row.id)
        if s.visit == visit.id or _before(read.one(Visit, s.visit), visit)
    )
    if not states:
        return None
    history = tuple(
        StatusChange(State(s.state), s.at, people.get(s.by, s.by), s.why) for s in states
    )
    problem = Problem(row.problem, row.words, history, carried=row.visit != visit.id)
    now = tuple(s for s in states if s.visit == visit.id)
    return ProblemLine(row, problem, _whom(row), states, now, people)


def _before(other: Visit, visit: Visit) -> bool:
    return (other.day, other.starts) < (visit.day, visit.starts)


def _whom(row: tables.Problem) -> str:
    if row.group is not None:
        return read.one(FishGroup, row.group).name
    return read.one(System, row.system).name


def movement_stop(visit_id: str) -> tuple[str, ...]:
    """Return the sentences that stop movement, over all waters of the site; empty for none."""
    found = opened(visit_id)
    held = [line.problem for s in found.systems for line in lines_of(visit_id, s.id)]
    return listed.movement_stop(held, kinds())


def name_problem(
    act: Act,
    visit_id: str,
    system_id: str,
    *,
    problem: str = "",
    words: str = "",
    state: str = "suspected",
    why: str = "",
    group: str | None = None,
) -> str:
    """Name a problem, as the vet does; return its id.

    Parameters
    ----------
    problem : str
        Key of the catalogue; "" when only the words say it.
    state : str
        ``suspected``, ``confirmed`` or ``ruled out``.
    group : str, optional
        Id of the group or the fish that has it; the whole water without.

    Raises
    ------
    Refusal
        For anybody but a veterinarian, or when it is on the list already.
    """
    must_be_vet(act.by, "names a problem")
    kind = kinds().get(problem)
    if problem and kind is None:
        raise Refusal("That problem is not in the list.", "Name it in your own words.")
    said = kind.name if kind else words.strip()
    if not said:
        raise BadInput("A problem needs a name.", "Choose one, or type your own words.")
    _not_twice(visit_id, system_id, problem, said, group)
    _new(said, state, why)
    row = tables.Problem(
        id=new_key(),
        visit=visit_id,
        client=read.one(Visit, visit_id).client,
        system=system_id,
        group=group,
        problem=problem,
        words=said,
    )
    with edit("problem named", who=act.by, at=act.at, visit=visit_id) as doing:
        begin_stage(doing, visit_id, "Assessment")
        doing.add(row)
        doing.add(_state(act, visit_id, row.id, state, why))
    return row.id


def _new(words: str, state: str, why: str) -> None:
    if state not in ("suspected", "confirmed", "ruled out"):
        raise Refusal(f"A new problem can not be {state}.", "Name it suspected first.")
    if state == "ruled out" and not why.strip():
        raise Refusal(f"Say why {words} is ruled out.", "For example: gill and skin clear.")


def _not_twice(visit_id: str, system_id: str, problem: str, words: str, group: str | None) -> None:
    for line in lines_of(visit_id, system_id):
        same = line.row.problem == problem if problem else line.row.words == words
        if same and line.row.group == group:
            raise Refusal(
                f"{words} is on the list already: {line.problem.state.value}.",
                "Change its state there.",
            )


def _state(act: Act, visit_id: str, problem_id: str, state: str, why: str) -> ProblemState:
    return ProblemState(
        id=new_key(),
        visit=visit_id,
        problem=problem_id,
        state=state,
        why=why.strip(),
        by=act.by,
        at=act.at,
    )


def needs_reason(line: ProblemLine, state: str) -> bool:
    """Whether this change asks why: ruled out, or taken up again after it was closed."""
    return state == "ruled out" or not line.problem.open


def set_state(act: Act, visit_id: str, problem_id: str, state: str, why: str = "") -> str:
    """Say what the vet now holds of a problem; what was held before stays in its history.

    Raises
    ------
    Refusal
        For anybody but a veterinarian, a state it is in already, one that only a carried
        problem can have, or a closing without a reason.
    """
    must_be_vet(act.by, "says what a problem is")
    row = read.one(tables.Problem, problem_id)
    people = {p.id: p.name for p in read.find(Person)}
    line = _line(row, read.one(Visit, visit_id), people)
    if line is None:
        raise Refusal("That problem is not on the list of this visit.", "Open the visit again.")
    change = StatusChange(State(state), act.at, people.get(act.by, act.by), why)
    listed.change_state(line.problem, change)
    added = _state(act, visit_id, problem_id, state, why)
    with edit(f"problem {state}", who=act.by, at=act.at, visit=visit_id) as doing:
        begin_stage(doing, visit_id, "Assessment")
        doing.add(added)
    return added.id


def say_why(act: Act, visit_id: str, problem_id: str, why: str) -> None:
    """Put words to the state that this visit gave a problem; the journal keeps what stood.

    Raises
    ------
    Refusal
        For anybody but a veterinarian, or when this visit gave it no state.
    """
    must_be_vet(act.by, "says why")
    rows = read.find(ProblemState, order="at, id", visit=visit_id, problem=problem_id)
    if not rows:
        raise Refusal("This visit has not judged that problem.", "Give it a state first.")
    with edit("problem, why", who=act.by, at=act.at, visit=visit_id) as doing:
        doing.change(ProblemState, rows[-1].id, why=why.strip())


def strike_problem(act: Act, visit_id: str, problem_id: str, why: str) -> None:
    """Strike a problem that was named by mistake at this visit, with its states.

    Raises
    ------
    Refusal
        For anybody but a veterinarian, or for one carried over: rule it out instead.
    """
    must_be_vet(act.by, "strikes a problem")
    row = read.one(tables.Problem, problem_id)
    if row.visit != visit_id:
        raise Refusal(
            "This problem was named at an earlier visit.", "Call it ruled out or resolved."
        )
    with edit("problem struck", who=act.by, at=act.at, visit=visit_id) as doing:
        for state in read.find(ProblemState, problem=problem_id):
            doing.strike(ProblemState, state.id, why)
        doing.strike(tables.Problem, problem_id, why)
