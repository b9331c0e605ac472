"""Courses at their limits: whole days, single treatments, spans of parts, days by the calendar."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest

from core.dosing.course import (
    dates,
    days_between,
    end,
    in_steps,
    level_ramp,
    moments,
    parts_within,
    ramp,
    salt_for_rise,
    steps_no_larger_than,
    total,
)
from core.dosing.quantities import active, concentration, product, water
from core.errors import BadInput

LEAP = date(2028, 2, 27)
NOON = datetime(2028, 2, 28, 12, 0, tzinfo=UTC)
TOO_FEW = "A course needs at least one treatment and an interval of at least 1."


def test_days_over_a_leap_day_by_the_calendar() -> None:
    assert dates(LEAP, 1, 4) == (LEAP, date(2028, 2, 28), date(2028, 2, 29), date(2028, 3, 1))
    assert dates(date(2027, 2, 27), 2, 2)[1] == date(2027, 3, 1)
    assert end(LEAP, 0) == LEAP
    assert end(LEAP, 1) == date(2028, 2, 28)
    assert end(LEAP, 21) == date(2028, 3, 19)
    with pytest.raises(BadInput) as caught:
        end(LEAP, -1)
    assert str(caught.value) == "-1 days can not be; type 0 or more, for example 21."


def test_moments_every_hour_and_every_twelve() -> None:
    assert moments(NOON, 1, 2) == (NOON, NOON + timedelta(hours=1))
    assert moments(NOON, 12, 4)[-1] == datetime(2028, 3, 1, 0, 0, tzinfo=UTC)


@pytest.mark.parametrize(("hours", "days"), [(24, 1), (48, 2), (552, 23), (576, 24), (600, 25)])
def test_hours_that_are_whole_days(hours: int, days: int) -> None:
    got = days_between(hours)
    assert got == days
    assert isinstance(got, int)


@pytest.mark.parametrize("hours", [-24, 0, 1, 23, 25, 47])
def test_hours_that_are_not_say_so(hours: int) -> None:
    with pytest.raises(BadInput) as caught:
        days_between(hours)
    assert str(caught.value) == f"{hours} hours are not whole days; plan this course by the hour."


def test_one_treatment_is_a_course_and_none_is_not() -> None:
    one = product(3, "mL")
    assert total(one, 1) == one
    assert total(one, 2) == product(6, "mL")
    assert in_steps(one, 1) == (one,)
    assert in_steps(one, 3) == (product(1, "mL"),) * 3
    for few in (
        lambda: total(one, 0),
        lambda: in_steps(one, 0),
        lambda: dates(LEAP, 1, 0),
        lambda: dates(LEAP, 0, 1),
        lambda: moments(NOON, 0, 1),
        lambda: parts_within(0, 0, 0),
    ):
        with pytest.raises(BadInput) as caught:
            few()
        assert str(caught.value) == TOO_FEW


def test_steps_at_the_largest_and_a_little_over_it() -> None:
    assert len(steps_no_larger_than(active(10, "g"), active(10, "g"))) == 1
    assert len(steps_no_larger_than(active(10.01, "g"), active(10, "g"))) == 2
    assert len(steps_no_larger_than(active(0.1 * 3, "g"), active(0.1, "g"))) == 3
    assert len(steps_no_larger_than(active(1, "mg"), active(1, "kg"))) == 1


def test_a_ramp_of_one_part_and_of_more() -> None:
    [only] = ramp(active(5, "g"), active(5, "g"), NOON, 24)
    assert (only.at, only.part, only.reached) == (NOON, active(5, "g"), active(5, "g"))
    three = ramp(active(6, "g"), active(5, "g"), NOON, 12, fewest=3)
    assert [str(one.reached) for one in three] == ["2 g", "4 g", "6 g"]
    assert [(one.at.day, one.at.hour) for one in three] == [(28, 12), (29, 0), (29, 12)]


def test_parts_whose_last_falls_within_a_span() -> None:
    """By the day: a part now and one after 24 h are two; odd and even numbers of days alike."""
    assert parts_within(24, 24) == (2, 2)
    assert parts_within(0, 72) == (1, 4)
    assert parts_within(1, 72) == (2, 4)
    assert parts_within(48, 71) == (3, 3)
    assert parts_within(3, 9, 3) == (2, 4)
    for least, most in ((25, 47), (-1, 24), (49, 48)):
        with pytest.raises(BadInput) as caught:
            parts_within(least, most)
        assert str(caught.value) == f"No part every 24 h ends within {least} to {most} h."


def test_a_level_by_the_day() -> None:
    """28 to 22 degrees by two a day is three days; by three it is two; by ten it is one."""
    for most, levels in ((2.0, [26, 24, 22]), (3.0, [25, 22]), (6.0, [22]), (10.0, [22])):
        got = level_ramp(28.0, 22.0, most, LEAP)
        assert list(got.values()) == levels
        assert list(got) == list(dates(LEAP, 1, len(levels)))
    assert list(level_ramp(0.0, 0.5, 0.25, LEAP).values()) == [0.25, 0.5]


def test_salt_for_a_rise_takes_a_level_by_weight_only() -> None:
    assert salt_for_rise(concentration(500, "mg/L"), water(2, "m3")).m_as("kg") == pytest.approx(1)
    by_volume: Any = concentration(5, "uL/L")
    with pytest.raises(BadInput, match="No figure"):
        salt_for_rise(by_volume, water(2, "m3"))
