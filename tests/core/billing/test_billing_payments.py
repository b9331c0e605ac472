from __future__ import annotations

from datetime import UTC, datetime
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.billing.charges import ChargeLine
from core.billing.payments import (
    Balance,
    Entry,
    Payment,
    balance,
    check_credit_note,
    check_refund,
)
from core.errors import BadInput, Refusal

NOW = datetime(2026, 11, 25, 13, tzinfo=UTC)


def pay(entry: Entry, minor: int) -> Payment:
    return Payment(entry, minor, NOW)


SAMPLE = [pay(Entry.DEPOSIT, 10000), pay(Entry.PAYMENT, 25000)]


def test_deposit_and_payment_of_the_sample() -> None:
    assert balance(61392, SAMPLE) == Balance(61392, 35000, 0, 26392, 0)


def test_then_a_credit_note_then_an_overpayment() -> None:
    noted = [*SAMPLE, pay(Entry.CREDIT_NOTE, 2250)]
    assert balance(61392, noted).owed == 24142
    over = balance(61392, [*noted, pay(Entry.PAYMENT, 50000)])
    assert (over.owed, over.credit) == (0, 25858)
    assert over.said == "paid, client in credit"


@pytest.mark.parametrize(
    ("entries", "said"),
    [
        ([], "unpaid"),
        ([pay(Entry.PAYMENT, 20000)], "part paid"),
        ([pay(Entry.PAYMENT, 44442)], "paid"),
        ([pay(Entry.WRITE_OFF, 44442)], "paid"),
    ],
)
def test_states_in_words(entries: list[Payment], said: str) -> None:
    assert balance(44442, entries).said == said


def test_a_refund_raises_what_is_owed_and_never_goes_below_nothing_paid() -> None:
    got = balance(10000, [pay(Entry.PAYMENT, 12000), pay(Entry.REFUND, 2000)])
    assert (got.owed, got.credit) == (0, 0)
    with pytest.raises(Refusal, match=r"20\.00 more"):
        balance(10000, [pay(Entry.CREDIT_NOTE, 10000), pay(Entry.REFUND, 2000)])


def test_a_refund_is_at_most_the_credit() -> None:
    standing = balance(10000, [pay(Entry.PAYMENT, 12000)])
    check_refund(standing, 2000)
    with pytest.raises(Refusal, match=r"20\.00 in credit"):
        check_refund(standing, 2001)


def test_a_credit_note_is_at_most_what_is_left_of_its_line() -> None:
    check_credit_note(2250, 250, 2000)
    with pytest.raises(Refusal, match=r"20\.00"):
        check_credit_note(2250, 250, 2001)


@pytest.mark.parametrize("minor", [0, -1])
def test_an_entry_is_above_zero(minor: int) -> None:
    with pytest.raises(BadInput):
        pay(Entry.PAYMENT, minor)


@given(
    st.integers(0, 10**7),
    st.lists(
        st.builds(
            pay,
            st.sampled_from([e for e in Entry if e is not Entry.REFUND]),
            st.integers(1, 10**6),
        ),
        max_size=10,
    ),
)
def test_owed_and_credit_are_never_negative_and_never_both(
    gross: int, entries: list[Payment]
) -> None:
    got = balance(gross, entries)
    assert got.owed >= 0
    assert got.credit >= 0
    assert got.owed == 0 or got.credit == 0
    assert got.owed - got.credit == gross - sum(p.minor for p in entries)


@pytest.mark.parametrize("quantity", ["0", "-1", "NaN", "Infinity"])
def test_a_quantity_is_above_zero(quantity: str) -> None:
    with pytest.raises(BadInput):
        ChargeLine("", "salt", Decimal(quantity), 600, "goods")


def test_a_line_needs_words_and_rounds_half_up() -> None:
    with pytest.raises(BadInput):
        ChargeLine("", "  ", Decimal(1), 600, "goods")
    by_hand = ChargeLine("", "a little salt", Decimal("0.5"), 601, "goods")
    assert (by_hand.amount, by_hand.manual) == (301, True)
