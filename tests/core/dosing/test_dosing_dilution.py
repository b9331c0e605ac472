"""Dilution of disinfectants and its neutralizing: worked figures, laws and refusals."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from math import inf, isclose, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.dosing import dilution as d
from core.dosing.arithmetic import bath_volume
from core.dosing.quantities import concentration, strength
from core.dosing.quantities import water as tank
from core.errors import BadInput, OutOfRange, Refusal

stocks = st.floats(0.5, 60)
shares = st.floats(0.001, 1)
litres = st.floats(0.1, 10_000)


@given(stocks, shares, litres)
def test_what_is_measured_gives_what_was_wanted(percent: float, share: float, final: float) -> None:
    wanted = percent * 10_000 * share
    volume = d.stock_ml(wanted, final, percent)
    assert isclose(d.made_up_mg_l(percent, min(volume, final * 1000), final), wanted, rel_tol=1e-9)


@given(stocks, shares, litres)
def test_it_is_the_same_sum_as_a_bath(percent: float, share: float, final: float) -> None:
    wanted = percent * 5_000 * share
    if wanted > 300_000:
        return
    poured = bath_volume(
        concentration(wanted, "mg/L"), tank(final, "L"), strength(percent, "% w/v")
    )
    assert isclose(d.stock_ml(wanted, final, percent), poured.m_as("mL"), rel_tol=1e-9)


@given(stocks, shares)
def test_parts_lead_to_the_wanted_strength(percent: float, share: float) -> None:
    parts = d.water_parts(percent, percent * share)
    assert parts >= -1e-9
    assert isclose(d.after_parts_percent(percent, max(0.0, parts)), percent * share, rel_tol=1e-9)


@given(stocks, st.floats(1, 1000), litres)
def test_added_to_is_always_weaker_than_made_up_to(percent: float, ml: float, water: float) -> None:
    if ml <= water * 1000:
        assert d.added_mg_l(percent, ml, water) < d.made_up_mg_l(percent, ml, water)


@given(st.floats(0.01, 200), litres)
def test_the_default_takes_the_more_cautious_ratio(chlorine: float, water: float) -> None:
    assert d.thiosulfate_g(chlorine, water) >= d.thiosulfate_g(chlorine, water, 7.0)
    assert isclose(d.thiosulfate_g(chlorine, 2 * water), 2 * d.thiosulfate_g(chlorine, water))


@given(st.floats(0.2, 15))
def test_chlorine_is_less_than_the_hypochlorite_that_carries_it(percent: float) -> None:
    assert d.available_chlorine_percent(percent) < percent


def test_liquid_sold_by_weight_is_stronger_by_volume() -> None:
    assert d.by_volume_percent(12.5, 1.2) == pytest.approx(15)
    for percent, gravity in ((0, 1.1), (101, 1.1), (5, 0.4), (5, 3.1), (nan, 1.1), (5, nan)):
        with pytest.raises(BadInput):
            d.by_volume_percent(percent, gravity)


def test_a_stock_can_not_give_more_than_it_holds() -> None:
    with pytest.raises(Refusal, match="can not give"):
        d.stock_ml(60_000, 1, 5)
    with pytest.raises(Refusal, match="can not give"):
        d.water_parts(0.5, 5)
    with pytest.raises(Refusal, match="do not fit"):
        d.made_up_mg_l(5, 1001, 1)
    assert d.stock_ml(50_000, 1, 5) == pytest.approx(1000)


@pytest.mark.parametrize("wrong", [0, -1, nan, inf])
def test_nothing_is_worked_out_from_a_figure_that_can_not_be(wrong: float) -> None:
    calls: list[Callable[[], float]] = [
        lambda: d.stock_ml(wrong, 1, 5),
        lambda: d.stock_ml(100, wrong, 5),
        lambda: d.made_up_mg_l(5, wrong, 1),
        lambda: d.made_up_mg_l(5, 1, wrong),
        lambda: d.added_mg_l(5, 1, wrong),
        lambda: d.water_parts(5, wrong),
        lambda: d.thiosulfate_g(2, wrong),
    ]
    for call in calls:
        with pytest.raises(BadInput, match="above zero"):
            call()


def test_parts_of_water_are_not_below_zero() -> None:
    assert d.after_parts_percent(5, 0) == 5
    for wrong in (-1, nan, inf):
        with pytest.raises(BadInput, match="parts of water"):
            d.after_parts_percent(5, wrong)


def test_ranges_are_refused_and_not_stretched() -> None:
    calls: list[Callable[[], float]] = [
        lambda: d.stock_ml(1, 1, 0.001),
        lambda: d.made_up_mg_l(101, 1, 1),
        lambda: d.available_chlorine_percent(65),
        lambda: d.thiosulfate_g(201, 1),
        lambda: d.thiosulfate_g(2, 1, 1.9),
    ]
    for call in calls:
        with pytest.raises(OutOfRange, match="No figure"):
            call()


def test_ranges_hold_at_their_edges_and_not_beside_them() -> None:
    """Stock 0.01 to 100 %, bleach 0.2 to 15 %, chlorine up to 200 mg/L, ratio 7.0 to 7.4."""
    assert d.made_up_mg_l(100, 10, 1) == 10_000
    assert d.stock_ml(1, 1, 0.01) == pytest.approx(10)
    assert d.added_mg_l(0.01, 1000, 1) == pytest.approx(50)
    assert d.water_parts(100, 50) == 1
    assert d.after_parts_percent(0.01, 1) == 0.005
    assert d.thiosulfate_g(0, 1) == 0
    assert d.thiosulfate_g(200, 1, 7.0) == pytest.approx(1.4)
    outside: list[Callable[[], float]] = [
        *(partial(d.made_up_mg_l, stock, 1, 1) for stock in (0.009, 100.5)),
        *(partial(d.available_chlorine_percent, bleach) for bleach in (0.19, 0, 15.1)),
        *(partial(d.thiosulfate_g, chlorine, 1) for chlorine in (-0.1, 200.5)),
        *(partial(d.thiosulfate_g, 100, 1, ratio) for ratio in (6.9, 7.5)),
    ]
    for call in outside:
        with pytest.raises(OutOfRange, match="No figure"):
            call()


def test_a_vessel_full_of_stock_is_the_stock_itself() -> None:
    assert d.made_up_mg_l(5, 1000, 1) == 50_000
    for more in (1000.5, 1001):
        with pytest.raises(Refusal, match="do not fit"):
            d.made_up_mg_l(5, more, 1)


def test_a_stock_just_strong_enough_and_one_a_little_too_weak() -> None:
    assert d.water_parts(0.3, 0.1 * 3) == pytest.approx(0)
    for call in (partial(d.water_parts, 0.3, 0.3003), partial(d.stock_ml, 3003.0, 1.0, 0.3)):
        with pytest.raises(Refusal) as caught:
            call()
        assert (
            str(caught.value) == "A stock of 0.300 % can not give 0.300 %. Take a stronger stock."
        )


def test_percent_by_weight_at_its_edges() -> None:
    """Pure acetic acid at 1.05 is 105 g in 100 mL; half a per cent of a light solvent is 0.25."""
    assert d.by_volume_percent(100, 1.05) == pytest.approx(105)
    assert d.by_volume_percent(0.5, 0.5) == 0.25
    assert d.by_volume_percent(10, 3) == 30
    for percent in (-1, 0, 100.5):
        with pytest.raises(BadInput, match="above 0 and up to 100"):
            d.by_volume_percent(percent, 1.1)
    for gravity in (0.49, 3.01):
        with pytest.raises(BadInput, match=r"type 0\.5 to 3"):
            d.by_volume_percent(5, gravity)


def test_chlorine_of_bleach_and_what_takes_it_away() -> None:
    """Atomic masses give Cl2 70.906 and NaOCl 74.442; 100 L at 2 mg/L hold 0.2 g of chlorine."""
    for percent in (0.2, 5.25, 15):
        assert d.available_chlorine_percent(percent) == pytest.approx(percent * 0.9525)
    assert abs(d.CHLORINE_IN_HYPOCHLORITE - 70.906 / 74.442) < 1e-4
    assert d.thiosulfate_g(2, 100) == pytest.approx(0.2 * 7.4)
    assert d.thiosulfate_g(50, 10, 7.0) == pytest.approx(3.5)
