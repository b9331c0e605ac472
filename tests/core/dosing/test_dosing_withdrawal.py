"""The end of withdrawal to the day, by the calendar, by degree-days, and set by the vet."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from core.dosing.degree_days import DegreeDays, days_needed, end_measured, interval_days
from core.dosing.medicines import from_row
from core.dosing.withdrawal import by_heat, days_not_saleable, latest, withdrawal, withdrawal_end
from core.errors import BadInput, OutOfRange, Refusal

BARE: dict[str, Any] = {
    "name": "balm",
    "form": "powder",
    "routes": ["medicated feed"],
    "indication": "itch",
    "dose_high": 2.0,
    "unit": "mg/kg",
    "us_food_fish": "approved",
    "systems": ["fresh"],
    "sources": ["WORK"],
    "known": {"dose": "read", "withdrawal": "read"},
}
BALM = from_row("balm", BARE)
D = date(2028, 2, 20)


def ends(set_days: int | None = None, celsius: float | None = None, **row: Any) -> date | None:
    return withdrawal(replace(BALM, **row), D, True, set_days, celsius).ends


def test_days_over_a_leap_day() -> None:
    assert withdrawal_end(D, 9) == date(2028, 2, 29)
    assert withdrawal_end(D, 10) == date(2028, 3, 1)
    assert withdrawal_end(date(2027, 2, 20), 10) == date(2027, 3, 2)
    with pytest.raises(BadInput) as caught:
        withdrawal_end(D, -1)
    assert str(caught.value) == (
        "A withdrawal of -1 days can not be; type 0 or more, for example 21."
    )


def test_days_not_saleable_count_both_spans() -> None:
    assert [days_not_saleable(1, 0), days_not_saleable(1, 1), days_not_saleable(10, 21)] == [
        *(1, 2, 31)
    ]
    for given in ((0, 0), (1, -1)):
        with pytest.raises(BadInput) as caught:
            days_not_saleable(*given)
        assert str(caught.value) == "Treatment is at least 1 day and withdrawal at least 0 days."


def test_days_of_the_label_and_days_set() -> None:
    assert ends(withdrawal_days=0) == D
    assert ends(withdrawal_days=10) == date(2028, 3, 1)
    assert ends(0) == D
    assert ends(10, withdrawal_days=10) == date(2028, 3, 1)
    assert ends(11, withdrawal_days=10) == date(2028, 3, 2)
    with pytest.raises(BadInput) as caught:
        ends(9, withdrawal_days=10)
    assert str(caught.value) == "balm: 9 days is less than the 10 on record; set as many or more."
    with pytest.raises(Refusal) as unknown:
        ends()
    assert str(unknown.value) == (
        "The withdrawal of balm (powder) is not known for food fish. "
        "The veterinarian sets the days, with the ground for them, before it is given."
    )


def test_what_a_withdrawal_says() -> None:
    ten = replace(BALM, withdrawal_days=10)
    assert withdrawal(ten, D, None).sentence == (
        "balm: 10 days of withdrawal (read), over on 2028-03-01."
    )
    assert withdrawal(ten, D, True, 10).sentence == (
        "balm: 10 days of withdrawal (set by the veterinarian), over on 2028-03-01."
    )
    unsaid = replace(ten, known={"dose": "read"})
    assert "(from memory)" in withdrawal(unsaid, D, True).sentence
    barred = replace(ten, us_food_fish="not for food fish")
    assert withdrawal(barred, D, False).ends is None
    for fish in (True, None):
        with pytest.raises(Refusal, match=r"^balm: listed as .* Choose another medicine\.$"):
            withdrawal(barred, D, fish, 99)


def test_degree_days_of_the_label_against_its_days_to_the_day() -> None:
    """150 degree-days at 15 °C are 10 days; at 14.9 they are 10.07 and so 11."""
    heat = {"withdrawal_degree_days": 150.0}
    assert ends(None, 15.0, **heat) == date(2028, 3, 1)
    assert ends(None, 14.9, **heat) == date(2028, 3, 2)
    assert ends(None, 15.0, withdrawal_days=11, **heat) == date(2028, 3, 2)
    assert ends(None, 15.0, withdrawal_days=9, **heat) == date(2028, 3, 1)
    assert ends(None, 15.0, withdrawal_degree_days=0.0) == D
    assert ends(12, 15.0, **heat) == date(2028, 3, 3)
    with pytest.raises(Refusal) as caught:
        ends(**heat)
    assert str(caught.value) == (
        "The withdrawal of balm is 150 degree-days, and the temperature of the water is not "
        "known. Measure it; take the lowest that can come."
    )
    with pytest.raises(OutOfRange):
        ends(None, 0.99, **heat)


def test_degree_days_in_words() -> None:
    row = replace(BALM, withdrawal_degree_days=150.0)
    said = "The label asks 150 degree-days; expected at 15 °C, longer when it is colder."
    assert by_heat(row, 15.0) == said
    assert by_heat(row, None) == by_heat(BALM, 15.0) == ""
    both = by_heat(replace(row, withdrawal_days=3), 14.9)
    assert both.endswith(
        "On record are both 3 days, and 11 days by the degree-days: the longer counts."
    )


def test_the_last_to_end_counts_whatever_the_order() -> None:
    short, long = (withdrawal(replace(BALM, withdrawal_days=n), D, True) for n in (1, 2))
    pet = withdrawal(BALM, D, False)
    for several in ((short, long, pet), (pet, long, short), (long, pet, short)):
        assert latest(several) is long
    assert latest([pet]) is None


def test_the_thermometer_to_the_day_and_to_the_degree() -> None:
    """Ten days at 15 °C fill 150; one of them a tenth colder and an eleventh day is needed."""
    steady, colder = [15.0] * 11, [14.9] + [15.0] * 10
    assert end_measured(D, DegreeDays(150), steady) == date(2028, 3, 1)
    assert end_measured(D, DegreeDays(150), colder) == date(2028, 3, 2)
    assert end_measured(D, DegreeDays(150), colder[:10]) is None
    assert end_measured(D, DegreeDays(0.3), [0.1, 0.1, 0.1]) == date(2028, 2, 23)
    assert end_measured(D, DegreeDays(0), [15.0]) == D
    assert days_needed(DegreeDays(0), 15.0) == 0
    assert days_needed(DegreeDays(0.1), 15.0) == 1
    assert interval_days(DegreeDays(15), 15.0) == 1
    with pytest.raises(Refusal) as caught:
        interval_days(DegreeDays(14.9), 15.0)
    assert str(caught.value) == (
        "14.9 degree-days are gone in less than a day at 15 °C. Plan this course by the hour."
    )
