"""Text to number and back: what is read, what is refused, and that nothing reads two ways."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import BadInput
from core.numbers import decimal, figures, grouped, number, plain

READ = {
    "7": "7",
    "7.4": "7.4",
    "7,4": "7.4",
    ".5": "0.5",
    ",5": "0.5",
    "0.5": "0.5",
    "5.": "5",
    "-3": "-3",
    "+2": "2",
    " 12 ": "12",
    "007": "7",
    "0,125": "0.125",
    "1.200": "1.200",
    "1200": "1200",
    "12,34": "12.34",
    "1234,567": "1234.567",
    "0.000001": "0.000001",
}
REFUSED = [
    "",
    " ",
    ".",
    ",",
    "-",
    "+",
    "abc",
    "1e5",
    "1E5",
    "0x10",
    "1_000",
    "1 000",
    "1.2.3",
    "1,2,3",
    "1,200.5",
    "1.200,5",
    "--5",
    "5-",
    "nan",
    "inf",
    "-Infinity",
    "٣",
    "５",
    "²",
    "½",
    "−3",
    "[b]5[/b]",
    "<5>",
    "\x1b[31m5\x1b[0m",
    "5\x00",
    "5\n6",
    "five",
    "x" * 10_000,
]
TWO_WAYS = ["1,200", "12,345", "123,456", "-1,200", "+9,999"]


@pytest.mark.parametrize(("text", "wanted"), READ.items())
def test_is_read_exactly(text: str, wanted: str) -> None:
    assert decimal(text) == Decimal(wanted)
    assert number(text) == float(wanted)


@pytest.mark.parametrize("text", REFUSED, ids=lambda t: repr(t)[:12])
def test_is_refused_with_a_sentence(text: str) -> None:
    with pytest.raises(BadInput) as refused:
        number(text)
    assert refused.value.sentence.endswith(".")
    assert len(str(refused.value)) < 120


@pytest.mark.parametrize("text", TWO_WAYS)
def test_what_reads_two_ways_is_refused_naming_both(text: str) -> None:
    with pytest.raises(BadInput, match="two ways") as refused:
        decimal(text)
    assert text.replace(",", "") in refused.value.todo
    assert text.replace(",", ".") in refused.value.todo


@pytest.mark.parametrize("text", ["9" * 400, "1" + "0" * 9_999, "-" + "9" * 1000], ids=len)
def test_what_no_float_holds_is_refused(text: str) -> None:
    with pytest.raises(BadInput) as refused:
        number(text)
    assert len(str(refused.value)) < 120


@given(st.decimals(allow_nan=False, allow_infinity=False, places=6))
def test_an_exact_number_comes_back_with_comma_or_point(value: Decimal) -> None:
    text = format(value, "f")
    assert decimal(text) == value
    assert decimal(text.replace(".", ",")) == value


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_a_shown_number_can_be_typed_again(value: float) -> None:
    text = plain(value)
    assert "e" not in text.lower()
    assert number(text) == value


SHOWN = [
    (0.0123456, "0.0123"),
    (9360.0, "9360"),
    (0.0, "0"),
    (-0.04444, "-0.0444"),
    (1234567.0, "1230000"),
    (7.4, "7.40"),
    (0.000012345, "0.0000123"),
    (0.99999, "1.00"),
    (99.96, "100"),
    (-9.996, "-10.0"),
]


@pytest.mark.parametrize(("value", "text"), SHOWN)
def test_a_figure_is_shown_with_three_figures(value: float, text: str) -> None:
    assert figures(value) == text


@given(st.floats(1e-9, 1e12), st.integers(1, 6))
def test_figures_lose_no_more_than_half_a_step(value: float, significant: int) -> None:
    text = figures(value, significant)
    assert "e" not in text.lower()
    assert abs(float(text) - value) <= value * 0.5000001 * 10.0 ** (1 - significant)


@given(st.integers(-(10**12), 10**12))
def test_grouping_only_adds_gaps(value: int) -> None:
    text = grouped(float(value))
    assert "".join(c for c in text if not c.isspace()) == f"{value}"
    assert all(len(part) == 3 for part in text.lstrip("-").split()[1:])
