from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.billing.money import half_up, money, read_money
from core.errors import BadInput


@pytest.mark.parametrize(
    ("text", "exponent", "minor"),
    [("1,5", 2, 150), ("1.50", 2, 150), ("60", 2, 6000), (".05", 2, 5), ("1500", 0, 1500)],
)
def test_typed_amounts(text: str, exponent: int, minor: int) -> None:
    assert read_money(text, exponent) == minor


@pytest.mark.parametrize("text", ["1.001", "1,001", "1,200", "", "abc", "1e3", "--1", "1.5.0", "٣"])
def test_what_is_no_amount_is_refused(text: str) -> None:
    with pytest.raises(BadInput):
        read_money(text)


def test_the_refusal_of_too_many_decimals_says_how_many() -> None:
    with pytest.raises(BadInput, match="at most 2"):
        read_money("1.001")


@pytest.mark.parametrize(
    ("minor", "currency", "exponent", "shown"),
    [
        (326201, "EUR", 2, "3 262.01 EUR"),
        (5, "", 2, "0.05"),
        (-244242, "", 2, "-2 442.42"),
        (1500, "JPY", 0, "1 500 JPY"),
        (1500, "KWD", 3, "1.500 KWD"),
    ],
)
def test_shown_amounts(minor: int, currency: str, exponent: int, shown: str) -> None:
    assert money(minor, currency, exponent) == shown


@given(st.integers(-(10**12), 10**12), st.sampled_from([0, 2, 3]))
def test_what_is_shown_reads_back(minor: int, exponent: int) -> None:
    shown = money(minor, "", exponent).replace(" ", "")
    assert read_money(shown, exponent) == minor


@given(st.decimals(-(10**9), 10**9, places=4))
def test_half_up_is_symmetrical_and_within_a_half(amount: Decimal) -> None:
    assert half_up(-amount) == -half_up(amount)
    assert abs(half_up(amount) - amount) <= Decimal("0.5")
