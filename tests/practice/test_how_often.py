"""How often something is given, in words that can not be read as more doses than were ordered."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.practice import course_words, record_plan, treatment_said
from core.practice.label_paper import label_of
from core.practice.record_rows import VisitRows
from core.records.journal import edit
from tests.practice.plan_cases import Case, D, case
from tests.practice.test_logs_and_use import treatment

IN_WORDS = {
    (1, 1, None): "once",
    (10, 1, 1.0): "once a day, 10 times in all",
    (2, 1, 7.0): "every 7 days, 2 times in all",
    (3, 1, None): "once a day, 3 times in all",
    (4, 1, 0.5): "every 12 hours, 4 times in all",
    (3, 1, 1 / 3): "every 8 hours, 3 times in all",
    (2, 1, 1.5): "every 36 hours, 2 times in all",
    (2, 1, 1 / 24): "every hour, 2 times in all",
    (1, 3, None): "in 3 parts, 24 hours apart",
    (1, 4, 0.5): "in 4 parts, 12 hours apart",
    (1, 2, 1 / 24): "in 2 parts, 1 hour apart",
}
DOUBTFUL = re.compile(r"times (every|a|per|each)\b|times \d")
"""A count right before a span of time reads as that many in the span."""


@pytest.fixture
def pond(records: Path) -> Case:
    return case()


@pytest.mark.parametrize(("repeats", "steps", "every"), IN_WORDS)
def test_label_record_and_plan_say_how_often_in_the_same_words(
    pond: Case, repeats: int, steps: int, every: float | None
) -> None:
    course = {"repeats": repeats, "steps": steps, "interval_days": every}
    row = treatment(pond, "praziquantel-bath", act="dispensed", route="bath", **course)
    wanted = IN_WORDS[repeats, steps, every]
    assert label_of(pond.act, row).frequency == wanted
    if repeats > 1:
        assert wanted in treatment_said.amount_words(row)
    with edit("planted", who=pond.act.by, at=pond.act.at, visit=pond.visit) as doing:
        doing.add(row)
    [line] = record_plan.treatments(VisitRows(pond.visit))
    assert dict(line.details).get("How often", "once") == wanted


@given(st.integers(1, 60), st.integers(1, 30), st.integers(1, 365 * 24))
def test_no_course_reads_as_several_doses_at_a_time(repeats: int, steps: int, hours: int) -> None:
    said = course_words.frequency(repeats, 1 if repeats > 1 else steps, hours)
    assert not DOUBTFUL.search(said)
    if repeats > 1:
        apart, count = said.split(", ")
        assert count == f"{repeats} times in all"
        span = re.fullmatch(r"once a day|every hour|every (\d+) (days|hours)", apart)
        assert span is not None
        told = {"once a day": 24, "every hour": 1}.get(apart)
        if told is None:
            told = int(span[1]) * (24 if span[2] == "days" else 1)
        assert told == hours


@pytest.mark.parametrize(
    ("repeats", "every", "last"), [(10, 1.0, 9), (2, 7.0, 7), (4, 0.5, 1), (3, 1.5, 3)]
)
def test_the_days_are_those_that_the_words_say(
    pond: Case, repeats: int, every: float, last: int
) -> None:
    row = treatment(pond, "praziquantel-bath", route="bath")
    days = treatment_said.days_of(replace(row, repeats=repeats, interval_days=every))
    assert (len(days), days[0], days[-1]) == (repeats, D, D + timedelta(last))
