from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.billing.charges import ChargeLine
from core.billing.invoice import Rounding, TaxRules, totals
from core.errors import BadInput

RULES = {"service": Decimal(0), "goods": Decimal("7.5"), "food": Decimal("19.6")}


def line(minor: int, tax_class: str = "goods", quantity: str = "1") -> ChargeLine:
    return ChargeLine("", "something", Decimal(quantity), minor, tax_class)


@pytest.mark.parametrize(("rounding", "tax"), [("line", 33), ("once", 34)])
def test_three_times_one_fifty_at_seven_and_a_half(rounding: Rounding, tax: int) -> None:
    got = totals([line(150)] * 3, TaxRules(RULES, rounding))
    assert (got.net, got.tax, got.gross) == (450, tax, 450 + tax)


def test_the_sample_invoice() -> None:
    rules = TaxRules({"service": Decimal(0), "goods": Decimal("7.75")}, "once")
    got = totals([line(49875, "service"), line(10689)], rules)
    assert (got.net, got.tax, got.gross) == (60564, 828, 61392)
    assert [(t.percent, t.taxable, t.tax) for t in got.tax_by_rate] == [
        (Decimal("7.75"), 10689, 828)
    ]


def test_exempt_service_and_taxed_goods_on_one_invoice_are_kept_apart() -> None:
    got = totals([line(10000, "service"), line(1000), line(1000, "food")], TaxRules(RULES))
    assert [(t.percent, t.tax) for t in got.tax_by_rate] == [
        (Decimal("7.5"), 75),
        (Decimal("19.6"), 196),
    ]


def test_a_class_without_a_rate_is_refused_not_untaxed() -> None:
    with pytest.raises(BadInput, match="jewels"):
        totals([line(100, "jewels")], TaxRules(RULES))


def test_nothing_comes_to_nothing() -> None:
    got = totals([], TaxRules(RULES))
    assert (got.net, got.tax, got.gross, got.tax_by_rate) == (0, 0, 0, ())


def test_an_unknown_rounding_is_refused() -> None:
    with pytest.raises(BadInput):
        TaxRules.from_row({"percent": {"goods": "7"}, "rounding": "never", "source": "X"})


LINES = st.lists(
    st.builds(
        line,
        st.integers(-100_000, 1_000_000),
        st.sampled_from(sorted(RULES)),
        st.decimals("0.01", "99", places=2).map(str),
    ),
    max_size=20,
)


@given(LINES, st.sampled_from(["line", "once"]))
def test_the_total_is_the_sum_of_its_lines_and_no_tax_is_lost(
    lines: list[ChargeLine], rounding: Rounding
) -> None:
    got = totals(lines, TaxRules(RULES, rounding))
    assert got.net == sum(one.amount for one in lines)
    assert got.gross == got.net + got.tax
    assert got.tax == sum(t.tax for t in got.tax_by_rate)
    assert got.net == sum(t.taxable for t in got.tax_by_rate) + sum(
        one.amount for one in lines if one.tax_class == "service"
    )
    exact = sum((one.amount * RULES[one.tax_class] / 100 for one in lines), Decimal(0))
    steps = len(lines) if rounding == "line" else 2
    assert abs(got.tax - exact) <= Decimal("0.5") * steps


@given(LINES)
def test_the_order_of_lines_changes_nothing(lines: list[ChargeLine]) -> None:
    assert totals(lines, TaxRules(RULES)) == totals(lines[::-1], TaxRules(RULES))
