"""The repeats that a visit's parasites ask for, with their dates."""

from __future__ import annotations

import functools
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from core import dates
from core.catalogue import load
from core.errors import OutOfRange
from core.microscopy.lifecycle import Hatching, first_hatch_days
from core.numbers import figures, plain
from core.practice.problem_list import lines_of
from core.scheduling.repeats import RepeatRule, rule_for


@dataclass(frozen=True)
class Repeat:
    """What the life cycle of a named parasite asks for in this water."""

    problem: str
    words: str
    """The problem as it is called."""
    rule: RepeatRule | None
    """None where no row is for this temperature."""
    temperature_c: float | None
    days: tuple[date, ...]
    hatch: str
    """When eggs begin to hatch, "" where it was not watched."""

    def sentence(self, day: date) -> str:
        """Return interval, dates and how they are known."""
        at = "" if self.temperature_c is None else f" at {plain(self.temperature_c)} °C"
        if self.rule is None:
            text = f"{self.words}{at}: no interval is on record, the vet sets the days."
            return f"{text} {self.hatch}".strip()
        long = (
            f"{self.rule.times} times in all"
            if self.rule.times is not None
            else f"until {self.rule.go_on} d after the last sign"
        )
        on = ", ".join(dates.said(d, day) for d in self.days)
        text = f"{self.words}{at}: {self.rule.every_words}, {long}: {on} ({self.rule.how})."
        return " ".join(filter(None, (text, self.rule.note, self.hatch)))


@functools.cache
def rules() -> tuple[RepeatRule, ...]:
    """Return every row of the repeats."""
    return tuple(RepeatRule.from_row(key, row) for key, row in load.table("repeats").items())


@functools.cache
def hatching() -> dict[str, Hatching]:
    """Return the hatching figures by parasite."""
    rows = load.table("organisms")["hatch"]
    return {key: Hatching.from_row(key, row) for key, row in rows.items()}


def of_visit(
    visit_id: str, system_id: str, temperature_c: float | None, day: date
) -> tuple[Repeat, ...]:
    """Return what each open problem with a life cycle asks for, from a day on."""
    return tuple(_found(visit_id, system_id, temperature_c, day))


def _found(
    visit_id: str, system_id: str, temperature_c: float | None, day: date
) -> Iterator[Repeat]:
    known = {problem for rule in rules() for problem in rule.problems}
    for line in lines_of(visit_id, system_id):
        problem = line.row.problem
        if line.problem.open and problem in known:
            rule = rule_for(rules(), problem, temperature_c)
            days = rule.dates(day) if rule else ()
            hatch = _hatch(problem, temperature_c)
            yield Repeat(problem, line.row.words, rule, temperature_c, days, hatch)


def _hatch(problem: str, temperature_c: float | None) -> str:
    key = next((r.hatch for r in rules() if problem in r.problems and r.hatch), "")
    if not key or temperature_c is None:
        return ""
    try:
        days = first_hatch_days(temperature_c, hatching()[key].points)
    except OutOfRange as error:
        return error.sentence
    return f"Eggs begin to hatch after {figures(days, 2)} d."
