"""Losses by date and breaths by tapping."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import BadInput
from core.fish.breathing import breaths_from_taps, breaths_per_minute
from core.fish.losses import Loss, loss_percent, losses_between, losses_per_day

DAY = date(2026, 11, 25)


def on(count: int, back: int) -> Loss:
    day = DAY - timedelta(back)
    return Loss(count, day, day)


def test_garden_pond_of_the_demo() -> None:
    found = losses_between([on(1, 2), on(2, 1), on(2, 0)], DAY - timedelta(2), DAY, 22)
    assert (found.least, found.most) == (5, 5)
    assert found.percent_least == pytest.approx(22.7, abs=0.05)
    assert found.per_day_least == pytest.approx(5 / 3)
    assert found.sentence == "5 dead in 3 days, of 22: 22.7 %."


def test_farm_and_shop_of_the_demo() -> None:
    farm = losses_between([on(14, 2), on(22, 1), on(31, 0)], DAY - timedelta(2), DAY, 3267)
    assert [count for _, count in farm.by_day] == [14, 22, 31]
    assert loss_percent(11, 140) == pytest.approx(7.9, abs=0.05)
    assert losses_per_day(11, 5) == pytest.approx(2.2)


def test_unknown_days_stay_a_range_and_are_never_placed() -> None:
    week = Loss(3, DAY - timedelta(9), DAY - timedelta(5))
    someday = Loss(2, None, None)
    found = losses_between([on(1, 0), week, someday], DAY - timedelta(6), DAY, 40)
    assert (found.least, found.most, found.undated) == (1, 6, 5)
    assert sum(count for _, count in found.by_day) == 1
    assert (
        found.sentence == "1 to 6 dead in 7 days, of 40: 2.5 to 15.0 %; the day of 5 is not known."
    )


def test_range_inside_the_span_is_certain_though_its_day_is_not() -> None:
    found = losses_between([Loss(3, DAY - timedelta(2), DAY)], DAY - timedelta(6), DAY)
    assert (found.least, found.most, found.undated) == (3, 3, 3)
    assert found.percent_least is None
    assert "the stock is not known" in found.sentence


def test_losses_that_can_not_be_are_refused() -> None:
    with pytest.raises(BadInput):
        Loss(-1, DAY, DAY)
    with pytest.raises(BadInput):
        Loss(1, DAY, DAY - timedelta(1))
    with pytest.raises(BadInput):
        losses_between([on(5, 0)], DAY, DAY, 4)
    with pytest.raises(BadInput):
        losses_between([], DAY, DAY - timedelta(1))
    with pytest.raises(BadInput):
        losses_per_day(3, 0)


dated = st.builds(on, st.integers(0, 20), st.integers(0, 30))
ranged = st.builds(
    lambda count, back, wide: Loss(count, DAY - timedelta(back + wide), DAY - timedelta(back)),
    st.integers(0, 20),
    st.integers(0, 30),
    st.integers(0, 10),
)


@given(st.lists(dated | ranged), st.integers(0, 20), st.integers(0, 20))
def test_least_never_passes_most_and_a_wider_span_never_holds_fewer(
    losses: list[Loss], back: int, more: int
) -> None:
    narrow = losses_between(losses, DAY - timedelta(back), DAY)
    wide = losses_between(losses, DAY - timedelta(back + more), DAY)
    assert narrow.least <= narrow.most <= sum(one.count for one in losses)
    assert wide.least >= narrow.least
    assert wide.most >= narrow.most
    assert narrow.per_day_most * (back + 1) == pytest.approx(narrow.most)


@given(st.integers(1, 5000), st.data())
def test_loss_percent_lies_from_0_to_100(stock: int, data: st.DataObject) -> None:
    dead = data.draw(st.integers(0, stock))
    assert loss_percent(dead, stock) + loss_percent(stock - dead, stock) == pytest.approx(100)


def test_thirty_taps_in_twenty_seconds_are_ninety_breaths() -> None:
    assert breaths_per_minute(30, 20) == 90
    assert breaths_from_taps([100 + n * 20 / 30 for n in range(31)]) == pytest.approx(90)


def test_breaths_that_can_not_be_are_refused() -> None:
    for moments in ([], [1.0], [1.0, 1.0], [2.0, 1.0]):
        with pytest.raises(BadInput):
            breaths_from_taps(moments)
    for taps, seconds in ((-1, 10.0), (5, 0.0), (5, float("nan"))):
        with pytest.raises(BadInput):
            breaths_per_minute(taps, seconds)


@given(st.integers(1, 300), st.floats(1, 120))
def test_twice_the_time_is_half_the_rate(taps: int, seconds: float) -> None:
    once, twice = breaths_per_minute(taps, seconds), breaths_per_minute(taps, 2 * seconds)
    assert twice == pytest.approx(once / 2)
