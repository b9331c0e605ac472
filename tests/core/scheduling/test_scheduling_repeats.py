"""Repeats by interval and temperature: every row against a calendar counted by hand."""

from __future__ import annotations

from datetime import date
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.catalogue.load import citations, table
from core.errors import BadInput
from core.scheduling.repeats import RepeatRule, rule_for

RULES = {key: RepeatRule.from_row(key, row) for key, row in table("repeats").items()}
BEGAN = date(2026, 11, 25)
HAND = {
    "ich_hot": ((11, 25), (11, 26), (11, 27), (11, 28), (11, 29), (11, 30), (12, 1), (12, 2)),
    "ich_warm": ((11, 25), (11, 27), (11, 29), (12, 1), (12, 3), (12, 5)),
    "ich_mild": ((11, 25), (11, 28), (12, 1), (12, 4), (12, 7), (12, 10)),
    "gill_flukes_mild": ((11, 25), (12, 2)),
    "gill_flukes_warm": ((11, 25), (11, 30), (12, 5)),
    "gill_flukes_cool": ((11, 25), (12, 16)),
    "skin_flukes": ((11, 25), (12, 2)),
    "capsalids_warm": ((11, 25), (12, 2), (12, 9)),
    "capsalids_cool": ((11, 25), (12, 9), (12, 23)),
    "trichodina": ((11, 25), (12, 2)),
    "small_parasites": ((11, 25), (11, 28)),
    "brooklynella": ((11, 25), (11, 27), (11, 29)),
    "deep_ciliates": ((11, 25), (11, 27), (11, 29)),
    "stalked_ciliates": ((11, 25), (12, 2)),
    "anchor_worm": ((11, 25), (12, 2), (12, 9), (12, 16)),
    "fish_louse_warm": ((11, 25), (12, 9), (12, 23)),
    "fish_louse_cool": ((11, 25), (12, 23)),
    "gill_copepods": ((11, 25), (12, 5), (12, 15)),
    "vent_worms": ((11, 25), (12, 9)),
    "hair_worms": ((11, 25), (12, 9)),
    "leeches": ((11, 25), (12, 16)),
    "tang_flatworm": ((11, 25), (12, 2), (12, 9)),
}
"""Month and day, counted on a wall calendar across the end of November 2026."""
HAND_LONG = {
    "ich_cool": (date(2026, 11, 25), date(2026, 11, 29), date(2026, 12, 3)),
    "ich_cold": (date(2026, 11, 25), date(2026, 12, 2), date(2026, 12, 9)),
}
"""The first three of those that go on for 35 days."""


@pytest.mark.parametrize("key", HAND)
def test_dates_match_the_hand_calendar_across_a_month_end(key: str) -> None:
    assert RULES[key].dates(BEGAN) == tuple(date(2026, *day) for day in HAND[key])


@pytest.mark.parametrize(
    ("key", "last"), [("ich_cool", (2026, 12, 31)), ("ich_cold", (2026, 12, 30))]
)
def test_a_cold_cycle_goes_on_for_all_of_its_days(key: str, last: tuple[int, int, int]) -> None:
    got = RULES[key].dates(BEGAN)
    assert got[:3] == HAND_LONG[key]
    assert got[-1] == date(*last)


def test_every_row_was_counted_by_hand_and_has_its_source() -> None:
    assert set(RULES) == set(HAND) | set(HAND_LONG)
    assert all(rule.source in citations() for rule in RULES.values())
    assert {rule.how for rule in RULES.values()} == {"read", "read in part", "from memory"}


def test_dates_run_across_a_leap_day() -> None:
    got = RULES["gill_flukes_mild"].dates(date(2028, 2, 25))
    assert got == (date(2028, 2, 25), date(2028, 3, 3))
    assert RULES["ich_hot"].dates(date(2028, 2, 27))[2] == date(2028, 2, 29)


@pytest.mark.parametrize(
    ("problem", "temperature", "key"),
    [
        ("ich", 26.0, "ich_hot"),
        ("ich", 24.0, "ich_hot"),
        ("ich", 23.9, "ich_warm"),
        ("ich", 20.0, "ich_warm"),
        ("ich", 15.0, "ich_mild"),
        ("ich", 10.0, "ich_cool"),
        ("ich", 9.9, "ich_cold"),
        ("ich", None, None),
        ("gill_flukes", 20.0, "gill_flukes_mild"),
        ("gill_flukes", 15.0, None),
        ("gill_flukes", 25.0, "gill_flukes_warm"),
        ("capsalids", 22.0, None),
        ("anchor_worm", 18.0, None),
        ("skin_flukes", None, "skin_flukes"),
        ("ulcer_bacteria", 20.0, None),
    ],
)
def test_the_row_of_the_temperature_or_none(
    problem: str, temperature: float | None, key: str | None
) -> None:
    got = rule_for(RULES.values(), problem, temperature)
    assert (got.key if got else None) == key


@given(st.sampled_from(sorted(RULES)), st.dates(date(2020, 1, 1), date(2100, 1, 1)))
def test_each_lies_the_shortest_interval_after_the_one_before(key: str, start: date) -> None:
    rule = RULES[key]
    got = rule.dates(start)
    assert len(got) == rule.count >= 2
    assert {(b - a).days for a, b in pairwise(got)} == {rule.every[0]}
    if rule.go_on is not None:
        assert rule.go_on <= (got[-1] - got[0]).days < rule.go_on + rule.every[0]


@given(st.floats(-2, 45), st.sampled_from(sorted({p for r in RULES.values() for p in r.problems})))
def test_no_two_rows_answer_for_one_temperature(temperature: float, problem: str) -> None:
    assert sum(rule.fits(problem, temperature) for rule in RULES.values()) <= 1


@pytest.mark.parametrize(
    ("days", "said"),
    [
        (2, "every 2 d is shorter than every 3 to 4 d"),
        (3, ""),
        (4, ""),
        (5, "every 5 d is longer than every 3 to 4 d"),
    ],
)
def test_an_interval_outside_the_row_is_said(days: int, said: str) -> None:
    assert RULES["ich_mild"].outside(days) == said


def test_an_interval_below_a_day_is_refused() -> None:
    with pytest.raises(BadInput, match="at least 1"):
        RULES["ich_mild"].outside(0)


@pytest.mark.parametrize("change", [{"every": [0, 2]}, {"every": [3, 2]}, {"times": 2}])
def test_a_row_that_says_too_little_or_too_much_is_refused(change: dict[str, object]) -> None:
    row = {**table("repeats")["ich_mild"], **change}
    with pytest.raises(ValueError, match="an interval"):
        RepeatRule.from_row("x", row)
