"""Degree-days: worked figures, the side on which each rounding errs, and refusals."""

from __future__ import annotations

from datetime import date, timedelta
from math import inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.dosing.degree_days import (
    CASCADE_DEGREE_DAYS,
    DegreeDays,
    days_needed,
    degree_days,
    end_expected,
    end_measured,
    gathered,
    interval_days,
)
from core.dosing.withdrawal import withdrawal_end
from core.errors import BadInput, OutOfRange, Refusal

LAST = date(2026, 6, 1)
sums = st.floats(0, 5000).map(DegreeDays)
warmth = st.floats(1, 35)


@given(sums, warmth)
def test_a_withdrawal_is_never_a_day_short_nor_a_whole_day_long(
    needed: DegreeDays, temperature_c: float
) -> None:
    days = days_needed(needed, temperature_c)
    assert degree_days(temperature_c, days) >= needed - 1e-6
    assert days == 0 or degree_days(temperature_c, days - 1) < needed


@given(st.floats(40, 5000).map(DegreeDays), warmth)
def test_an_interval_never_passes_the_sum(needed: DegreeDays, temperature_c: float) -> None:
    days = interval_days(needed, temperature_c)
    assert degree_days(temperature_c, days) <= needed + 1e-6
    assert days <= days_needed(needed, temperature_c) <= days + 1


@given(sums, warmth, warmth)
def test_colder_water_never_ends_a_withdrawal_sooner(
    needed: DegreeDays, one: float, other: float
) -> None:
    colder, warmer = sorted((one, other))
    assert days_needed(needed, colder) >= days_needed(needed, warmer)


@given(st.floats(1, 1000).map(DegreeDays), st.lists(st.floats(-2, 30), max_size=60))
def test_the_thermometer_ends_it_on_the_first_full_day(
    needed: DegreeDays, means: list[float]
) -> None:
    end = end_measured(LAST, needed, means)
    if end is None:
        assert gathered(means) < needed + 1e-6
        return
    days = (end - LAST) // timedelta(days=1)
    assert gathered(means[:days]) >= needed - 1e-6
    assert gathered(means[: days - 1]) < needed + 1e-6


def test_five_hundred_at_usual_temperatures() -> None:
    got = [days_needed(CASCADE_DEGREE_DAYS, t) for t in (5, 8, 10, 12, 15, 20, 25)]
    assert got == [100, 63, 50, 42, 34, 25, 20]


def test_the_last_bit_is_not_a_day() -> None:
    assert days_needed(DegreeDays(0.3), 1.0) == 1
    assert days_needed(degree_days(1.1, 3), 1.1) == 3
    assert interval_days(degree_days(1.1, 3), 1.1) == 3


def test_forecast_and_thermometer_agree_in_steady_water() -> None:
    steady = [20.0] * 40
    assert end_expected(LAST, CASCADE_DEGREE_DAYS, 20.0) == date(2026, 6, 26)
    assert end_measured(LAST, CASCADE_DEGREE_DAYS, steady) == date(2026, 6, 26)
    assert end_expected(LAST, CASCADE_DEGREE_DAYS, 20.0) == withdrawal_end(LAST, 25)
    assert end_measured(LAST, CASCADE_DEGREE_DAYS, steady[:24]) is None


def test_frost_counts_nothing_and_takes_nothing_away() -> None:
    assert gathered([4.0, -1.0, 4.0]) == DegreeDays(8)
    assert end_measured(LAST, DegreeDays(8), [4.0, -1.0, 4.0]) == date(2026, 6, 4)


def test_nothing_needed_is_over_at_once() -> None:
    assert end_measured(LAST, DegreeDays(0), []) == LAST
    assert end_expected(LAST, DegreeDays(0), 10.0) == LAST


@pytest.mark.parametrize("temperature", [-1, 0, 0.9, 35.1, nan])
def test_no_days_for_water_that_hardly_counts(temperature: float) -> None:
    for wanted in (days_needed, interval_days):
        with pytest.raises(OutOfRange, match="temperature"):
            wanted(DegreeDays(500), temperature)
    with pytest.raises(OutOfRange, match="temperature"):
        end_expected(LAST, DegreeDays(500), temperature)


@pytest.mark.parametrize("wrong", [-1, nan, inf])
def test_a_sum_that_can_not_be_is_refused(wrong: float) -> None:
    for call in (
        lambda: days_needed(DegreeDays(wrong), 10),
        lambda: interval_days(DegreeDays(wrong), 10),
        lambda: end_measured(LAST, DegreeDays(wrong), [10.0]),
        lambda: degree_days(10, wrong),
    ):
        with pytest.raises(BadInput, match="can not be"):
            call()


@pytest.mark.parametrize("mean", [nan, inf, -inf, 35.1])
def test_a_daily_mean_that_can_not_be_is_refused(mean: float) -> None:
    with pytest.raises(BadInput, match="daily mean"):
        gathered([12.0, mean])
    with pytest.raises(BadInput, match="daily mean"):
        end_measured(LAST, DegreeDays(500), [12.0, mean])


def test_an_interval_under_a_day_is_planned_by_the_hour() -> None:
    with pytest.raises(Refusal, match="by the hour"):
        interval_days(DegreeDays(10), 20)
