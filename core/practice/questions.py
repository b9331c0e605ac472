"""The questions of the history as a system is asked them: catalogue rows and the fish it holds."""

from __future__ import annotations

import functools
from collections.abc import Iterable
from dataclasses import dataclass

from core.assessment.history import Question, asked_for
from core.catalogue import load
from core.records.tables import FishGroup, System

GROUP = "group "
"""Begins the key of the question that asks for the number of a group of fish."""
TOLD_BY = "told_by"
COMPLAINTS = ("complaint", "complaint_2")
FIRST = ("why now", "losses", "tried")
"""Groups that are asked before anything else."""
STOCK_BEFORE = "stock_before"
"""How many fish there were before the losses; asked beside the list of losses."""


@dataclass(frozen=True)
class Asked:
    """A question with what the practice needs beside it.

    Attributes
    ----------
    question : Question
        As the catalogue has it.
    column : str
        Where a kept answer stands on the system or the group of fish; "" for nowhere.
    opens : str
        The list that belongs to it: losses, tried or complaints; "" for none.
    caution : str
        What is said at once after a yes.
    low, high : float or None
        What can be, in the canonical unit.
    """

    question: Question
    column: str = ""
    opens: str = ""
    caution: str = ""
    low: float | None = None
    high: float | None = None

    @property
    def key(self) -> str:
        """Key under which the answer is recorded."""
        return self.question.key


@functools.cache
def catalogue() -> dict[str, Asked]:
    """Return every question of the catalogue by key."""
    return {
        key: Asked(
            Question.from_row(key, row),
            row.get("column", ""),
            row.get("list", ""),
            row.get("caution", ""),
            row.get("low"),
            row.get("high"),
        )
        for key, row in load.table("questions")["question"].items()
    }


def family(system: System) -> str:
    """Return whose questions a system is asked: pond, tank, marine or farm."""
    return str(load.table("system_kinds")[system.kind]["asks"])


def asked_of(system: System, groups: Iterable[FishGroup]) -> tuple[Asked, ...]:
    """Return the questions of a system in order: why now, what is kept, then group by group.

    A pond or tank whose fish are eaten is asked the questions of a farm's sales too.
    """
    known = catalogue()
    kind = family(system)
    wanted = {q.key for q in asked_for((a.question for a in known.values()), kind)}
    if system.food_fish:
        wanted |= {k for k, a in known.items() if a.question.group == "farm"}
    fresh = [a for k, a in known.items() if k in wanted and not a.question.kept]
    kept = [a for k, a in known.items() if k in wanted and a.question.kept]
    fresh.append(STOCK)
    order = {a.question.group: n for n, a in reversed(list(enumerate(fresh)))}
    fresh.sort(key=lambda a: order[a.question.group])
    first = [a for group in FIRST for a in fresh if a.question.group == group]
    rest = [a for a in fresh if a.question.group not in FIRST]
    return (*first, *kept, *(of_group(g) for g in groups), *rest)


STOCK = Asked(
    Question(
        STOCK_BEFORE,
        "losses",
        "Fish before the losses",
        "How many fish were there before the first of them died?",
        "number",
        "count",
    ),
    low=1,
    high=10_000_000,
)


def of_group(group: FishGroup) -> Asked:
    """Return the question for the number of a group, or for a single fish still being there."""
    key = GROUP + group.id
    if group.single:
        prompt = f"Is {group.name} ({group.species}) still there?"
        return Asked(Question(key, "system", group.name, prompt, "yes_no", kept=True), "count")
    prompt = f"How many of {group.name} ({group.species}) are there?"
    question = Question(key, "system", f"{group.name}, number", prompt, "number", "count")
    return Asked(Question(**{**vars(question), "kept": True}), "count", low=0, high=10_000_000)
