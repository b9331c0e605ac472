"""The history of a visit: answers, what is kept about the water, and what was told beside."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from core.assessment.history import Said
from core.billing.money import money
from core.errors import BadInput, Refusal
from core.practice import complaints, losses, moves
from core.practice.door import edit
from core.practice.keep import Act, begin_stage, figures, put
from core.practice.kept import Standing, local_day, standing, to_column
from core.practice.questions import COMPLAINTS, STOCK_BEFORE, TOLD_BY, Asked, asked_of
from core.practice.visits import Opened, opened
from core.records import read
from core.records.journal import OpenEdit
from core.records.keys import new_key
from core.records.tables import Answer, Figure, FishGroup, Practice, System, Tried, Visit

FOOD_UNKNOWN = "Handled as food fish until somebody knows."


@dataclass(frozen=True)
class Line:
    """One question with its answer at this visit and what stood before.

    Attributes
    ----------
    asked : Asked
        The question.
    answer : Answer or None
        The answer recorded at this visit; None is *not asked*.
    stood : Standing or None
        For a kept question, what stood before this visit.
    """

    asked: Asked
    answer: Answer | None
    stood: Standing | None = None

    @property
    def said(self) -> Said:
        """Which of the four things the answer is."""
        return Said.NOT_ASKED if self.answer is None else Said(self.answer.state)

    @property
    def words(self) -> str:
        """The answer in words: value, no, unknown or not asked."""
        if self.answer is not None and self.said is Said.VALUE:
            return worded(self.asked, self.answer.value)
        return self.said.value

    @property
    def stood_words(self) -> str:
        """What stood before this visit, in words; "" for nothing."""
        if self.stood is None:
            return ""
        value = self.stood.value if self.stood.state == "value" else self.stood.state
        return worded(self.asked, value)

    @property
    def waits(self) -> bool:
        """Whether something kept is still to be confirmed at this visit."""
        return self.answer is None and self.stood is not None

    @property
    def changed(self) -> bool:
        """Whether this visit says something other than what stood."""
        stood = self.stood
        return stood is not None and self.answer is not None and self.words != self.stood_words

    @property
    def caution(self) -> str:
        """What must be said at once because of this answer; "" for nothing."""
        said, value = self.said.value, self.answer.value if self.answer else ""
        if self.answer is None and self.stood is not None:
            said, value = self.stood.state, self.stood.value
        if self.asked.key == "food_fish" and said == "unknown":
            return f"{FOOD_UNKNOWN} {self.asked.caution}"
        return self.asked.caution if said == "value" and value == "yes" else ""


def worded(asked: Asked, value: str) -> str:
    """Return a recorded value in words; a complaint is recorded by its key."""
    if asked.opens == "complaints" and value in complaints.catalogue():
        return complaints.catalogue()[value].label
    return value


@dataclass(frozen=True)
class HistoryView:
    """Everything that the history of one water shows."""

    opened: Opened
    system: System
    lines: tuple[Line, ...]
    losses: losses.Summary
    moves: tuple[moves.MoveLine, ...]
    tried: tuple[Tried, ...]
    worth: complaints.WorthDoing | None
    figures: dict[str, Figure]
    estimate: Estimate
    today: date
    """The day of the visit."""

    def count(self, said: Said) -> int:
        """Return how many questions are answered so."""
        return sum(line.said is said for line in self.lines)

    @property
    def cautions(self) -> tuple[str, ...]:
        """Return what must be said at once, each once."""
        return tuple(dict.fromkeys(line.caution for line in self.lines if line.caution))


@dataclass(frozen=True)
class Estimate:
    """What the owner was told it may cost, and who accepted it when."""

    low: str
    high: str
    by: str
    day: date | None


def view(visit_id: str, system_id: str) -> HistoryView:
    """Return the history of a system as this visit has it."""
    found = opened(visit_id)
    system = next(s for s in found.systems if s.id == system_id)
    groups = tuple(g for g in found.groups if g.system == system_id)
    asked = asked_of(system, groups)
    said = answers(visit_id, system_id)
    stood = standing(found.visit, system, asked)
    named = [said[key].value for key in COMPLAINTS if key in said]
    return HistoryView(
        found,
        system,
        tuple(Line(a, said.get(a.key), stood.get(a.key)) for a in asked),
        losses.loss_summary(found.visit, system),
        moves.lines(visit_id),
        read.find(Tried, visit=visit_id, system=system_id),
        complaints.worth_doing(named),
        figures(visit_id, f"{system_id} losses"),
        _estimate(found.visit),
        found.visit.day,
    )


def answers(visit_id: str, system_id: str) -> dict[str, Answer]:
    """Return the answers recorded at a visit by question; what is missing was not asked."""
    return {a.question: a for a in read.find(Answer, visit=visit_id, system=system_id)}


def answer(
    act: Act,
    visit_id: str,
    system_id: str,
    asked: Asked,
    state: str,
    value: str = "",
    amount: float | None = None,
) -> None:
    """Record an answer, or correct the one that stands; a kept one changes the system too.

    Parameters
    ----------
    asked : Asked
        The question, as the view has it.
    state : str
        ``value``, ``no`` or ``unknown``.
    value : str
        The value in words, for state ``value``.
    amount : float, optional
        A number in its canonical unit.

    Raises
    ------
    BadInput
        When a value is missing, or given beside *no* or *unknown*.
    """
    if (state == "value") != bool(value.strip()):
        raise BadInput("An answer is a value, or no, or unknown.", "Give one of the three.")
    with edit("answer", who=act.by, at=act.at, visit=visit_id) as doing:
        begin_stage(doing, visit_id, "History")
        where = {"visit": visit_id, "system": system_id, "question": asked.key}
        _put_answer(doing, act, where, state, value)
        if asked.column:
            to_column(doing, system_id, asked, state, value, amount)
        if asked.key == STOCK_BEFORE:
            losses.keep_rates(doing, act, visit_id, system_id)


def confirm(act: Act, visit_id: str, system_id: str, line: Line) -> None:
    """Say that what stood before this visit is still true.

    Raises
    ------
    Refusal
        When nothing stood before, or the question was answered at this visit already.
    """
    if line.stood is None:
        raise Refusal(f"{line.asked.question.label}: nothing is kept from before.", "Answer it.")
    if line.answer is not None:
        raise Refusal(f"{line.asked.question.label} was answered at this visit already.")
    state, value = line.stood.state, line.stood.value
    with edit("still true", who=act.by, at=act.at, visit=visit_id) as doing:
        begin_stage(doing, visit_id, "History")
        where = {"visit": visit_id, "system": system_id, "question": line.asked.key}
        _put_answer(doing, act, where, state, value)


def _put_answer(doing: OpenEdit, act: Act, where: dict[str, str], state: str, value: str) -> None:
    teller = read.first(Answer, **{**where, "question": TOLD_BY})
    told_by = teller.value if teller else ""
    values = {"state": state, "value": value, "told_by": told_by, "at": act.at}
    put(doing, Answer, where, values)


def strike_answer(act: Act, answer_id: str, why: str) -> None:
    """Strike an answer, with the reason: the question then counts as not asked."""
    row = read.one(Answer, answer_id)
    with edit("answer", who=act.by, at=act.at, visit=row.visit) as doing:
        doing.strike(Answer, answer_id, why)
        if row.question == STOCK_BEFORE:
            losses.keep_rates(doing, act, row.visit, row.system)


def estimate_amounts(
    act: Act, visit_id: str, *, low_minor: int | None = None, high_minor: int | None = None
) -> None:
    """Note an end of the estimate; an acceptance of other amounts does not stand any more.

    Raises
    ------
    BadInput
        When the upper end lies below the lower.
    """
    visit = read.one(Visit, visit_id)
    low = visit.estimate_low_minor if low_minor is None else low_minor
    high = visit.estimate_high_minor if high_minor is None else high_minor
    if low is not None and high is not None and high < low:
        raise BadInput("The upper end of the estimate lies below the lower.", "Mend one of them.")
    with edit("estimate", who=act.by, at=act.at, visit=visit_id) as doing:
        begin_stage(doing, visit_id, "History")
        if doing.change(Visit, visit_id, estimate_low_minor=low, estimate_high_minor=high):
            doing.change(Visit, visit_id, estimate_by="", estimate_at=None)


def estimate_accepted(act: Act, visit_id: str, by: str) -> None:
    """Note who accepted the estimate; the moment is that of the act.

    Raises
    ------
    Refusal
        When there is no amount to accept yet.
    """
    visit = read.one(Visit, visit_id)
    if visit.estimate_low_minor is None and visit.estimate_high_minor is None:
        raise Refusal("There is no estimate to accept yet.", "Type its amount first.")
    with edit("estimate", who=act.by, at=act.at, visit=visit_id) as doing:
        doing.change(
            Visit, visit_id, estimate_by=by.strip(), estimate_at=act.at if by.strip() else None
        )


def _estimate(visit: Visit) -> Estimate:
    practice = read.first(Practice)
    exponent = practice.currency_exponent if practice else 2

    def shown(minor: int | None) -> str:
        return "" if minor is None else money(minor, "", exponent)

    at = visit.estimate_at
    return Estimate(
        shown(visit.estimate_low_minor),
        shown(visit.estimate_high_minor),
        visit.estimate_by,
        local_day(at) if at else None,
    )


@dataclass(frozen=True)
class NewFish:
    """Fish that live in a water and are not in the records yet; no count means not known."""

    species: str
    name: str
    count: int | None
    stage: str = "adult"
    tag: str = ""


def add_fish(act: Act, visit_id: str, system_id: str, fish: NewFish) -> str:
    """Add a group to a water; one fish is a single fish of that name."""
    row = FishGroup(
        id=new_key(),
        system=system_id,
        species=fish.species,
        name=fish.name,
        single=fish.count == 1,
        count=fish.count,
        stage=fish.stage,
        tag=fish.tag,
    )
    with edit("fish", who=act.by, at=act.at, visit=visit_id) as doing:
        begin_stage(doing, visit_id, "History")
        doing.add(row)
    return row.id
