from __future__ import annotations

from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.catalogue.load import table
from core.errors import BadInput
from core.scheduling.rechecks import (
    Recheck,
    RecheckRule,
    RecheckState,
    Window,
    rules_for,
    to_ring,
    window,
    windows,
)

RULES = {k: RecheckRule.from_row(k, r) for k, r in table("rechecks")["recheck"].items()}


def test_windows_run_across_the_end_of_a_month_and_a_leap_day() -> None:
    got = windows(RULES["skin_flukes"], date(2028, 2, 22))
    assert got[0] == Window(date(2028, 2, 29), date(2028, 2, 29), date(2028, 3, 1))
    assert got[1] == Window(date(2028, 3, 14), date(2028, 3, 14), date(2028, 3, 16))
    assert window(date(2026, 11, 25), (7, 8, 10)).latest == date(2026, 12, 5)
    assert window(date(2026, 12, 25), (7, 8, 10)).earliest == date(2027, 1, 1)


def test_a_day_outside_the_window_is_warned_of() -> None:
    due = window(date(2026, 11, 25), (7, 8, 10))
    inside = [d for d in range(20) if not due.warning(date(2026, 11, 25) + timedelta(days=d))]
    assert inside == [7, 8, 9, 10]
    assert due.warning(date(2026, 12, 1)) == "1 d before the window opens on 2026-12-02."
    assert due.warning(date(2026, 12, 7)) == "2 d after the window closed on 2026-12-05."


@pytest.mark.parametrize(
    ("problem", "temperature", "keys", "exact"),
    [
        ("ich", 26.0, ["ich_warm"], True),
        ("ich", 24.0, ["ich_warm"], True),
        ("ich", 22.5, ["ich_warm", "ich_mild"], False),
        ("ich", 13.0, ["ich_cold", "ich_mild"], False),
        ("ich", 8.0, ["ich_cold"], True),
        ("gill_flukes", 17.0, ["gill_flukes_mild", "gill_flukes_cool"], False),
        ("gill_flukes", 20.0, ["gill_flukes_mild"], True),
        ("skin_flukes", 17.0, ["skin_flukes"], True),
        ("skin_flukes", None, ["skin_flukes"], True),
        ("ich", None, ["ich_warm", "ich_mild", "ich_cold"], False),
        ("breed_trait", 20.0, [], False),
    ],
)
def test_the_row_made_for_a_temperature_or_both_neighbours(
    problem: str, temperature: float | None, keys: list[str], exact: bool
) -> None:
    got = rules_for(RULES.values(), problem, temperature)
    assert ([rule.key for rule in got.rules], got.exact) == (keys, exact)


def test_the_most_overdue_is_rung_first_and_the_settled_not_at_all() -> None:
    today = date(2026, 12, 10)

    def due(key: str, began: date, state: RecheckState = RecheckState.DUE) -> Recheck:
        return Recheck(key, "flukes", window(began, (7, 8, 10)), state)

    rows = [
        due("later", date(2026, 12, 5)),
        due("sooner", date(2026, 12, 1), RecheckState.OFFERED),
        due("late 2", date(2026, 11, 28)),
        due("late 5", date(2026, 11, 25)),
        due("booked", date(2026, 11, 1), RecheckState.BOOKED),
        due("declined", date(2026, 11, 1), RecheckState.DECLINED),
    ]
    assert [r.key for r in to_ring(rows, today)] == ["late 5", "late 2", "sooner", "later"]


def test_a_window_out_of_order_is_refused() -> None:
    with pytest.raises(BadInput):
        Window(date(2026, 1, 2), date(2026, 1, 1), date(2026, 1, 3))


@given(st.dates(date(2000, 1, 1), date(2100, 1, 1)), st.sampled_from(sorted(RULES)))
def test_every_window_is_in_order_and_keeps_its_days(began: date, key: str) -> None:
    for got, days in zip(windows(RULES[key], began), RULES[key].steps, strict=True):
        assert ((got.earliest - began).days, (got.latest - began).days) == (days[0], days[2])


def test_the_rows_are_in_order_and_name_problems() -> None:
    problems = table("problems")["problem"]
    for rule in RULES.values():
        assert set(rule.problems) <= set(problems), rule.key
        assert rule.steps
        assert all(e <= t <= n for e, t, n in rule.steps), rule.key
        assert all(a[1] < b[1] for a, b in pairwise(rule.steps)), rule.key


def test_no_two_rows_of_a_problem_hold_at_one_temperature() -> None:
    for problem in {p for rule in RULES.values() for p in rule.problems}:
        for tenth in range(0, 400):
            mine = rules_for(RULES.values(), problem, tenth / 10)
            assert not mine.exact or len(mine.rules) == 1, f"{problem} at {tenth / 10}"
