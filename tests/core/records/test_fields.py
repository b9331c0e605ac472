"""The stored form of each kind of value: exact on the way back, and in order as text."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta, timezone
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.records.fields import DayField, ExactField, FlagField, RealField, UtcField

ZONES = st.integers(-14 * 60, 14 * 60).map(lambda n: timezone(timedelta(minutes=n)))
MOMENTS = st.builds(
    lambda n, zone: datetime.fromtimestamp(n // 10**6, zone) + timedelta(microseconds=n % 10**6),
    st.integers(-(2**51), 2**52),
    ZONES,
)


def test_a_moment_without_a_zone_is_refused() -> None:
    with pytest.raises(ValueError, match="zone"):
        UtcField().db_value(datetime(2026, 11, 25, 8, 30))  # noqa: DTZ001


def test_a_moment_elsewhere_is_kept_as_utc() -> None:
    there = datetime(2026, 11, 25, 8, 30, tzinfo=timezone(timedelta(hours=-5)))
    assert UtcField().db_value(there) == "2026-11-25T13:30:00.000000Z"


@given(MOMENTS)
def test_a_moment_comes_back(moment: datetime) -> None:
    field = UtcField()
    assert field.python_value(field.db_value(moment)) == moment.astimezone(UTC)


@given(MOMENTS, MOMENTS)
def test_moments_sort_as_text(one: datetime, other: datetime) -> None:
    store = UtcField().db_value
    as_text = (store(one) or "") < (store(other) or "")
    assert as_text == (one.astimezone(UTC) < other.astimezone(UTC))


@given(st.dates(date(1000, 1, 1)), st.dates(date(1000, 1, 1)))
def test_dates_come_back_and_sort_as_text(one: date, other: date) -> None:
    field = DayField()
    assert field.python_value(field.db_value(one)) == one
    assert ((field.db_value(one) or "") < (field.db_value(other) or "")) == (one < other)


@given(st.decimals(allow_nan=False, allow_infinity=False))
def test_an_exact_amount_comes_back_without_exponent(value: Decimal) -> None:
    field = ExactField()
    stored = field.db_value(value)
    assert stored is not None
    assert "E" not in stored
    assert field.python_value(stored) == value


def test_an_exact_amount_is_no_float() -> None:
    assert ExactField().db_value(Decimal("0.10")) == "0.10"
    assert ExactField().db_value(Decimal("1E+3")) == "1000"


@given(st.floats(allow_nan=False))
def test_a_measured_value_comes_back(value: float) -> None:
    assert RealField().db_value(value) == value


def test_a_whole_number_is_stored_as_it_comes_back() -> None:
    assert repr(RealField().db_value(3)) == "3.0"


@pytest.mark.parametrize("value", [True, False])
def test_yes_and_no_come_back(value: bool) -> None:
    stored = FlagField().db_value(value)
    assert repr(stored) in ("0", "1")
    assert FlagField().python_value(stored) is value


@pytest.mark.parametrize("field", [UtcField(), DayField(), ExactField(), FlagField(), RealField()])
def test_empty_stays_empty(field: UtcField | DayField | ExactField | FlagField | RealField) -> None:
    assert field.db_value(None) is None
    assert field.python_value(None) is None
