"""Disinfectant dilutions: ten cases against arithmetic of their own, and kinds that do not mix."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from fractions import Fraction as F

import pytest

from core.dosing.disinfectant import WorkingSolution, age, level_of, working_solution
from core.dosing.quantities import concentration, density, product, strength, water
from core.dosing.quantity import WrongKind
from core.errors import BadInput, Refusal, UnitError
from core.practice.disinfect import Bucket, make_up

NOW = datetime(2026, 11, 25, 15, 30, tzinfo=UTC)

# stock, density, wanted, bucket, and what is measured, in exact fractions: mg wanted / mg in a mL.
CASES: list[tuple[str, str, str, str, F, str]] = [
    ("5 % w/v", "", "500 mg/L", "1 L", F(500, 50), "mL"),
    ("5 % w/v", "", "200 ppm", "10 L", F(200 * 10, 50), "mL"),
    ("12.5 % w/w", "1.2 g/mL", "200 mg/L", "10 L", F(200 * 10, 150), "mL"),
    ("50000 ppm", "", "500 ppm", "1 L", F(500, 50), "mL"),
    ("100 mg/mL", "", "1 g/L", "20 L", F(1000 * 20, 100), "mL"),
    ("10 % w/w", "", "1000 mg/L", "10 L", F(10_000, 100), "g"),
    ("100 % w/w", "", "2 % w/v", "5 L", F(20 * 5), "g"),
    ("3.5 % w/v", "", "0.5 % w/v", "7 L", F(5000 * 7, 35), "mL"),
    ("", "", "10 mL/L", "12 L", F(120), "mL"),
    ("35 % w/w", "1.13 g/mL", "250 ppm", "8 L", F(250 * 8 * 1000, 395_500), "mL"),
]


def solution(stock: str, heavy: str, wanted: str, bucket: str) -> WorkingSolution:
    found: list[WorkingSolution] = []

    def noted(*arguments: object) -> WorkingSolution:
        found.append(working_solution(*arguments))  # type: ignore[arg-type]
        return found[-1]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("core.practice.disinfect.working_solution", noted)
        said = make_up(Bucket(stock, heavy, wanted, bucket), NOW).said
    assert said[0] == f"Measure {found[0]}."
    return found[0]


@pytest.mark.parametrize(("stock", "heavy", "wanted", "bucket", "measured", "unit"), CASES)
def test_ten_cases_by_arithmetic_of_their_own(
    stock: str, heavy: str, wanted: str, bucket: str, measured: F, unit: str
) -> None:
    got = solution(stock, heavy, wanted, bucket)
    assert got.stock.m_as(unit) == pytest.approx(float(measured), rel=1e-12)
    finished = got.finished.m_as("mL")
    left = finished - float(measured) if unit == "mL" else finished
    assert got.water.m_as("mL") == pytest.approx(left, rel=1e-12)


def test_it_says_what_to_measure_and_to_fill_up_to() -> None:
    made = make_up(Bucket("5 % w/v", "", "200 ppm", "10 L", 3.0, 24.0), NOW)
    assert made.said[:3] == (
        "Measure 40 mL of stock, filled up with water to 10 L (9.96 L).",
        "It then holds 200 mg/L of what the stock counts (200 ppm as typed).",
        "3 h old, good for 21 h more.",
    )
    assert "never on fish" in made.said[-1]
    assert any("working solution" in line for line in made.working)


@pytest.mark.parametrize(
    ("stock", "heavy", "wanted", "bucket"),
    [
        ("5 % w/v", "", "10 mL/L", "10 L"),  # mL of product are not ppm of active substance
        ("10 % w/w", "", "10 mL/L", "10 L"),
        ("10 % w/w", "1.1 g/mL", "10 mL/L", "10 L"),
        ("", "", "200 ppm", "10 L"),
        ("", "1.1 g/mL", "10 mL/L", "10 L"),
        ("5 % w/v", "1.1 g/mL", "200 ppm", "10 L"),
        ("1000 IU/mL", "", "200 ppm", "10 L"),
    ],
)
def test_kinds_that_do_not_go_together_give_no_figure(
    stock: str, heavy: str, wanted: str, bucket: str
) -> None:
    with pytest.raises(WrongKind, match=r"^No figure"):
        make_up(Bucket(stock, heavy, wanted, bucket), NOW)


@pytest.mark.parametrize(
    ("stock", "wanted", "bucket"),
    [
        ("5 %", "200 ppm", "10 L"),
        ("5", "200 ppm", "10 L"),
        ("5 % w/v", "200", "10 L"),
        ("5 % w/v", "200 mL", "10 L"),
        ("5 % w/v", "0.5 %", "10 L"),
        ("5 % w/v", "200 ppm", "10"),
        ("5 % w/v", "200 ppm", "10 kg"),
        ("5 mL", "200 ppm", "10 L"),
        ("5 % w/v", "0 ppm", "10 L"),
    ],
)
def test_what_has_no_unit_or_the_wrong_one_is_refused(stock: str, wanted: str, bucket: str) -> None:
    with pytest.raises((UnitError, BadInput)):
        make_up(Bucket(stock, "", wanted, bucket), NOW)


def test_a_stock_too_weak_is_refused_and_one_just_strong_enough_is_not() -> None:
    with pytest.raises(Refusal, match="too weak"):
        make_up(Bucket("0.02 % w/v", "", "200 ppm", "10 L"), NOW)
    with pytest.raises(Refusal, match="too weak"):
        make_up(Bucket("0.01 % w/v", "", "200 ppm", "10 L"), NOW)
    assert solution("0.021 % w/v", "", "200 ppm", "10 L").water.m_as("mL") == pytest.approx(
        10_000 / 21
    )


@pytest.mark.parametrize(
    ("old", "life", "said"),
    [
        (None, 24.0, "Made now, it is good for 24 h."),
        (23.5, 24.0, "23.5 h old, good for 0.5 h more."),
        (24.0, 24.0, "TOO OLD: 24 h, its life is 24 h. Make it fresh."),
        (30.0, 24.0, "TOO OLD: 30 h, its life is 24 h. Make it fresh."),
    ],
)
def test_age_is_held_against_its_life(old: float | None, life: float, said: str) -> None:
    assert make_up(Bucket("5 % w/v", "", "200 ppm", "10 L", old, life), NOW).said[2] == said


def test_an_age_that_can_not_be_is_refused() -> None:
    for old, life in ((-1.0, 24.0), (float("nan"), 24.0), (1.0, 0.0), (1.0, float("inf"))):
        with pytest.raises(BadInput):
            make_up(Bucket("5 % w/v", "", "200 ppm", "10 L", old, life), NOW)
    later = NOW.replace(hour=16, minute=0)
    with pytest.raises(BadInput, match="later than now"):
        age(later, NOW, 24)
    for made, now in ((NOW.replace(tzinfo=None), NOW), (NOW, NOW.replace(tzinfo=None))):
        with pytest.raises(BadInput, match="time zone"):
            age(made, now, 24)
    assert age(NOW, later, 24).until == NOW.replace(day=26)
    assert age(NOW, later, 24).hours == 0.5


def test_the_level_of_what_was_measured_and_no_more_than_the_bucket_holds() -> None:
    bucket, stock = water(10, "L"), strength(5, "% w/v")
    assert level_of(product(40, "mL"), bucket, stock).m_as("mg/L") == pytest.approx(200)
    assert level_of(product(10, "L"), bucket, stock).m_as("g/L") == pytest.approx(50)
    for litres in (10.01, 10.0005):
        with pytest.raises(Refusal, match="does not go into"):
            level_of(product(litres, "L"), bucket, stock)
    assert level_of(product(0.1 * 3, "L"), water(0.3, "L"), stock).m_as("g/L") == pytest.approx(50)
    nearly = working_solution(concentration(49.9, "g/L"), water(0.1, "L"), stock)
    assert nearly.water.m_as("mL") == pytest.approx(0.2)


def test_a_liquid_by_weight_is_stronger_than_its_percent() -> None:
    """12.5 % by weight at 1.2 g/mL is 150 mg/mL; taken for 125 a fifth too much is poured."""
    level, bucket = concentration(200, "mg/L"), water(10, "L")
    by_weight = working_solution(level, bucket, strength(12.5, "% w/w"), density(1.2, "g/mL"))
    by_volume = working_solution(level, bucket, strength(12.5, "% w/v"))
    assert by_volume.stock.m_as("mL") == pytest.approx(1.2 * by_weight.stock.m_as("mL"))


def test_a_stock_a_drop_too_weak_is_refused_by_its_own_sentence() -> None:
    """50.001 g/L from 50 mg/mL would need 1000.02 mL in a bucket of a litre."""
    stock = strength(5, "% w/v")
    with pytest.raises(Refusal) as caught:
        working_solution(concentration(50.001, "g/L"), water(1, "L"), stock)
    assert str(caught.value) == "5 % w/v is too weak to give 50 g/L. Take a stronger stock."
    left = working_solution(concentration(49.99, "g/L"), water(1, "L"), stock).water
    assert left.m_as("mL") == pytest.approx(0.2)
    assert str(
        working_solution(concentration(1, "g/L"), water(10, "L"), strength(50, "% w/w"))
    ) == ("20 g of stock, filled up with water to 10 L (10 L)")


def test_the_age_of_a_solution_to_the_moment() -> None:
    new = age(NOW, NOW, 24)
    assert (new.hours, new.over) == (0, False)
    old = age(NOW - timedelta(hours=24), NOW, 24)
    assert (old.hours, old.over, old.until) == (24, True, NOW)
    assert not age(NOW - timedelta(hours=23.99), NOW, 24).over
    assert age(NOW, NOW, 0.5).until == NOW + timedelta(minutes=30)


def test_a_life_is_under_a_hundred_thousand_hours() -> None:
    """About eleven years: longer is a slip of the keys, and no calendar holds a thousandfold."""
    assert not age(NOW, NOW, 99_999.5).over
    for life in (100_000.0, 1e9, 0.0, -1.0, float("nan")):
        with pytest.raises(BadInput, match=r"A life of .* h can not be; type for example 24\."):
            age(NOW, NOW, life)
