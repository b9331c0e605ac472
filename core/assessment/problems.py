"""The problem list of a visit: the vet names, the app keeps the history and the evidence."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from enum import Enum

from core.assessment.catalogue import URGENCIES, Clue, ProblemKind, Test
from core.errors import BadInput, Refusal


class State(Enum):
    """What the vet has called a problem."""

    SUSPECTED = "suspected"
    CONFIRMED = "confirmed"
    RULED_OUT = "ruled out"
    IMPROVING = "improving"
    RESOLVED = "resolved"


OPEN = frozenset({State.SUSPECTED, State.CONFIRMED, State.IMPROVING})
"""States in which a problem still wants something done."""

_CARRIED_ONLY = frozenset({State.IMPROVING, State.RESOLVED})


@dataclass(frozen=True)
class StatusChange:
    """Who called a problem what, when (aware), and why."""

    state: State
    when: datetime
    who: str
    why: str = ""


@dataclass(frozen=True)
class Problem:
    """A problem named by the vet, with every state it has had.

    Parameters
    ----------
    kind : str
        Key of the kind; empty for one named in the vet's own words.
    name : str
        As it stands in the record.
    history : tuple of StatusChange
        Oldest first; the last one holds.
    carried : bool
        Brought over from an earlier visit.
    """

    kind: str
    name: str
    history: tuple[StatusChange, ...]
    carried: bool = False

    def __post_init__(self) -> None:
        if not self.history:
            raise BadInput(f"{self.name} has no state.", "The vet names it, for example suspected.")

    @property
    def state(self) -> State:
        """Return the state that holds."""
        return self.history[-1].state

    @property
    def open(self) -> bool:
        """Return whether it still wants something done."""
        return self.state in OPEN


def name_problem(kind: ProblemKind, change: StatusChange) -> Problem:
    """Return a problem the vet has named.

    Raises
    ------
    Refusal
        For improving or resolved, which a new problem can not be.
    """
    if change.state in _CARRIED_ONLY:
        raise Refusal(f"A new problem can not be {change.state.value}.", "Name it suspected first.")
    return Problem(kind.key, kind.name, (change,))


def change_state(problem: Problem, change: StatusChange) -> Problem:
    """Return the problem with one more change; nothing before it is lost.

    Raises
    ------
    Refusal
        When it is in that state already; when one from this visit is called improving or
        resolved; when it is ruled out or taken up again without a reason.
    """
    if change.state is problem.state:
        raise Refusal(f"{problem.name} is {problem.state.value} already.")
    if change.state in _CARRIED_ONLY and not problem.carried:
        raise Refusal(
            f"{problem.name} was named at this visit; only one carried over from an earlier "
            f"visit can be {change.state.value}."
        )
    closing = change.state is State.RULED_OUT or not problem.open
    if closing and not change.why.strip():
        raise Refusal(f"Say why {problem.name} is now {change.state.value}.")
    if change.when < problem.history[-1].when:
        raise Refusal(f"{problem.name} was last changed later than that.", "Give a later time.")
    return replace(problem, history=(*problem.history, change))


@dataclass(frozen=True)
class Fact:
    """Something recorded: its key, its state or value, its words, and the row it stands in."""

    key: str
    state: str = ""
    value: float | None = None
    words: str = ""
    record: str = ""


@dataclass(frozen=True)
class Line:
    """One line of evidence: the clue and the fact it rests on, None when it is missing."""

    clue: Clue
    fact: Fact | None


@dataclass(frozen=True)
class Evidence:
    """What the record holds for and against a problem, and what it does not hold.

    It counts nothing and concludes nothing: the vet does.
    """

    problem: str
    lines_for: tuple[Line, ...]
    lines_against: tuple[Line, ...]
    missing: tuple[Line, ...]


_NOT_KNOWN = frozenset({"", "unknown", "not asked", "not measured"})


def _known(fact: Fact) -> bool:
    return fact.value is not None or fact.state not in _NOT_KNOWN


def _counts(clue: Clue, fact: Fact) -> bool:
    if clue.is_:
        return fact.state == clue.is_
    if fact.value is None:
        return False
    above = clue.low is None or fact.value >= clue.low
    return above and (clue.high is None or fact.value <= clue.high)


def evidence(problem: ProblemKind, recorded: Iterable[Fact]) -> Evidence:
    """Return what speaks for and against a problem, only from what was recorded.

    Parameters
    ----------
    problem : ProblemKind
        Row of the catalogue.
    recorded : iterable of Fact
        The record of the visit. Several facts may share a key (three fish): each that
        counts is a line. *Unknown* and *not asked* are missing, not against.
    """
    facts: dict[str, list[Fact]] = {}
    for fact in recorded:
        if _known(fact):
            facts.setdefault(fact.key, []).append(fact)

    def lines(clues: tuple[Clue, ...]) -> tuple[Line, ...]:
        return tuple(
            Line(clue, fact)
            for clue in clues
            for fact in facts.get(clue.fact, ())
            if _counts(clue, fact)
        )

    unseen = {
        clue.fact: Line(clue, None)
        for clue in (*problem.clues_against, *problem.clues_for)
        if not any(_answers(clue, fact) for fact in facts.get(clue.fact, ()))
    }
    return Evidence(
        problem.key,
        lines(problem.clues_for),
        lines(problem.clues_against),
        tuple(unseen.values()),
    )


def _answers(clue: Clue, fact: Fact) -> bool:
    # A reading answers a range, a state answers a state; one does not stand for the other.
    return bool(fact.state) if clue.is_ else fact.value is not None


@dataclass(frozen=True)
class NextTest:
    """A test not done yet and the problems it bears on."""

    test: Test
    problems: tuple[str, ...]


def next_tests(
    kinds: Iterable[ProblemKind], recorded: Iterable[Fact], tests: Mapping[str, Test]
) -> tuple[NextTest, ...]:
    """Return the tests worth doing next, the one bearing on most problems first.

    Among equals the more urgent problem comes first, then the sooner result.

    Parameters
    ----------
    kinds : iterable of ProblemKind
        Those on the list or in question.
    recorded : iterable of Fact
        A test whose facts are all recorded is done.
    tests : mapping
        Rows of the catalogue by key.
    """
    done = {fact.key for fact in recorded if _known(fact)}
    bears: dict[str, list[ProblemKind]] = {}
    for kind in kinds:
        for key in kind.tests:
            if not done.issuperset(tests[key].answers):
                bears.setdefault(key, []).append(kind)

    def rank(key: str) -> tuple[int, int, int]:
        soonest = min(URGENCIES.index(kind.urgency) for kind in bears[key])
        return (-len(bears[key]), soonest, tests[key].days)

    return tuple(
        NextTest(tests[key], tuple(kind.key for kind in bears[key]))
        for key in sorted(bears, key=rank)
    )


def movement_stop(problems: Iterable[Problem], kinds: Mapping[str, ProblemKind]) -> tuple[str, ...]:
    """Return the sentences that stop movement; empty when no open problem is a listed disease."""
    return tuple(
        dict.fromkeys(
            kinds[p.kind].notifiable
            for p in problems
            if p.open and p.kind in kinds and kinds[p.kind].stops_movement
        )
    )
