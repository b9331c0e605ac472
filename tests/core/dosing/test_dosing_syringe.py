"""Syringes at their limits: what is held, marks, dilutions that are easily made, sites."""

from __future__ import annotations

import pytest

from core.dosing.quantities import body, product, strength
from core.dosing.syringe import Syringe, choose, dilute, draw, over_route_limit, propose_dilution
from core.errors import BadInput, Refusal

ONE = Syringe("1 mL syringe", 1.0, 0.01)
INSULIN = Syringe("0.3 mL insulin syringe", 0.3, 0.01)
VIAL = strength(100, "mg/mL")
THREE_TENTHS = product(0.1 * 3, "mL")
"""0.3 mL as multiplying gives it: by a last bit more than the syringe is said to hold."""


def test_a_cup_with_one_mark_is_a_syringe_and_one_with_less_is_not() -> None:
    assert draw(product(2, "mL"), Syringe("cup", 2.0, 2.0)).drawn_ml == 2
    for step in (0.0, 2.1):
        with pytest.raises(BadInput) as caught:
            Syringe("cup", 2.0, step)
        assert str(caught.value) == (
            "cup: the step between marks must be above 0 and within the 2 mL it holds."
        )


def test_a_syringe_holds_what_it_says_to_the_last_bit_and_no_more() -> None:
    assert draw(THREE_TENTHS, INSULIN).drawn_ml == 0.3
    assert choose(THREE_TENTHS, (ONE, INSULIN)) is INSULIN
    assert choose(product(0.30001, "mL"), (ONE, INSULIN)) is ONE
    with pytest.raises(Refusal) as caught:
        draw(product(0.31, "mL"), INSULIN)
    assert str(caught.value) == (
        "0.31 mL does not go into 0.3 mL insulin syringe. Take a larger one or split it."
    )


def test_the_finer_of_two_that_hold_the_same_is_taken() -> None:
    half_units = Syringe("half units", 0.3, 0.005)
    for rack in ((INSULIN, half_units), (half_units, INSULIN)):
        assert choose(product(0.1, "mL"), rack) is half_units


def test_marks_of_a_microsyringe_are_not_rounded_away() -> None:
    """0.5 uL with marks every 0.005 uL: 0.123 uL lies nearest the 25th mark, 0.125 uL."""
    micro = Syringe("0.5 uL syringe", 0.0005, 0.000005)
    assert draw(product(0.123, "uL"), micro).drawn_ml == 0.000125


@pytest.mark.parametrize(
    ("ml", "factor"),
    [
        (0.049, 4),  # 4.9 marks, 9.8 when halved: not yet ten
        (0.025, 4),  # 2.5 marks, exactly ten
        (0.02, 5),
        (0.0249, 5),
        (0.01, 10),
        (0.005, 20),
        (0.002, 50),
        (0.001, 100),
    ],
)
def test_the_first_easy_dilution_that_gives_ten_marks(ml: float, factor: int) -> None:
    got = propose_dilution(product(ml, "mL"), VIAL, ONE)
    assert got is not None
    assert got.factor == factor
    assert got.drawn.graduations == pytest.approx(100 * ml * factor)


def test_ten_marks_but_for_the_last_bit_are_ten_and_five_are_enough() -> None:
    """0.3 - 0.225 mL is 2.5 marks of 0.03 mL, and 0.3 - 0.15 mL five, each less a last bit."""
    coarse = Syringe("coarse", 3.0, 0.03)
    assert 0.3 - 0.225 < 0.075
    got = propose_dilution(product(0.3 - 0.225, "mL"), VIAL, coarse)
    assert got is not None
    assert got.factor == 4
    assert propose_dilution(product(0.3 - 0.15, "mL"), VIAL, coarse) is None


def test_recipes_in_words() -> None:
    said = [str(dilute(product(0.1, "mL"), VIAL, ONE, n)).split(", then")[0] for n in (2, 3, 10)]
    assert said == [
        "Dilute to 50 mg/mL (1 part product with 1 part diluent)",
        "Dilute to 33.33 mg/mL (1 part product with 2 parts diluent)",
        "Dilute to 10 mg/mL (1 part product with 9 parts diluent)",
    ]


def test_what_a_site_takes_is_said_to_a_tenth_of_a_microlitre() -> None:
    """1 mL/kg for 12.34567 g is 0.01234567 mL."""
    most = {"injection IM": 1.0}
    said = over_route_limit(product(0.02, "mL"), body(12.34567, "g"), "injection IM", most)
    assert said == (
        "0.02 mL is more than the 1 mL/kg taken for injection IM: at most 0.0123 mL for "
        "12.35 g; split it over several sites."
    )
    assert over_route_limit(THREE_TENTHS, body(0.3, "kg"), "injection IM", most) is None
    assert over_route_limit(THREE_TENTHS, body(0.2999, "kg"), "injection IM", most) is not None
