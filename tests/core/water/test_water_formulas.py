"""Properties of the water formulas: direction, round trips, joints and refusals."""

from __future__ import annotations

from math import log10, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import BadInput, OutOfRange
from core.sourced import working
from core.water import (
    ammonia,
    carbonate,
    chlorine,
    exchange,
    flow,
    nitrogen,
    oxygen,
    salinity,
    volume,
)

warm = st.floats(0, 39)
mild = st.floats(10, 31)
acid = st.floats(5, 9.9)
salt = st.floats(0, 40)
amount = st.floats(0, 1000)
size = st.floats(1, 1e4)


def pka(fraction: float, ph: float) -> float:
    return ph + log10(1 / fraction - 1)


@given(st.floats(10, 32))
def test_fresh_and_sea_ammonia_meet_at_no_salt(temperature: float) -> None:
    fresh = pka(ammonia.unionised_fraction_fresh(temperature, 8.0), 8.0)
    sea = pka(ammonia.unionised_fraction_sea(temperature, 8.0, 0.0), 8.0)
    assert abs(fresh - sea) < 0.01


@given(warm, acid)
def test_toxic_share_rises_with_warmth_and_ph(temperature: float, ph: float) -> None:
    here = ammonia.unionised_fraction(temperature, ph)
    assert 0 < here < ammonia.unionised_fraction(temperature + 1, ph) < 1
    assert here < ammonia.unionised_fraction(temperature, ph + 0.1)


@given(mild, st.floats(6.5, 8.9), st.floats(0.6, 39))
def test_toxic_share_of_sea_water_falls_with_salt(t: float, ph: float, s: float) -> None:
    here = ammonia.unionised_fraction(t, ph, s)
    assert here > ammonia.unionised_fraction(t, ph, s + 1)
    assert here < ammonia.unionised_fraction(t + 1, ph, s)
    assert here < ammonia.unionised_fraction(t, ph + 0.1, s)


@pytest.mark.parametrize(
    ("practical_salinity", "name"),
    [(0.0, "unionised_fraction_fresh"), (34.0, "unionised_fraction_sea")],
)
def test_working_says_which_ammonia_formula(practical_salinity: float, name: str) -> None:
    with working() as steps:
        ammonia.unionised_ammonia_mg_l(1.0, 20.0, 8.0, practical_salinity)
    assert [step.formula.name for step in steps[0].within[0].within] == [name]


@given(amount, mild, st.floats(6.5, 9))
def test_toxic_part_is_never_over_the_total(tan: float, t: float, ph: float) -> None:
    toxic = ammonia.unionised_ammonia_mg_l(tan, t, ph)
    assert 0 <= toxic <= tan
    assert ammonia.unionised_ammonia_mg_l(tan / 2, t, ph) == pytest.approx(toxic / 2)


@given(st.floats(0, 30), st.floats(6.5, 9))
def test_criteria_are_milder_without_mussels_and_longer_is_stricter(t: float, ph: float) -> None:
    acute = ammonia.acute_criterion_mg_l(t, ph, mussels_present=True)
    assert acute <= ammonia.acute_criterion_mg_l(t, ph)
    assert ammonia.chronic_criterion_mg_l(t, ph, mussels_present=True) < acute


@given(st.floats(0, 39), st.floats(0, 39), st.floats(70, 104))
def test_water_holds_less_oxygen_warm_salt_and_high_up(t: float, s: float, p: float) -> None:
    here = oxygen.saturation_mg_l(t, s, p)
    assert here > oxygen.saturation_mg_l(t + 1, s, p)
    assert here > oxygen.saturation_mg_l(t, s + 1, p)
    assert here < oxygen.saturation_mg_l(t, s, p + 1)
    assert oxygen.percent_saturation(here, t, s, p) == pytest.approx(100)


def test_percent_saturation_worked_example() -> None:
    assert oxygen.percent_saturation(6.0, 25.0) == pytest.approx(72.61, abs=0.02)
    high = oxygen.pressure_at_elevation_kpa(1500.0)
    assert oxygen.percent_saturation(6.0, 25.0, 0.0, high) == pytest.approx(87.56, abs=0.03)


@given(st.floats(-100, 2900))
def test_pressure_falls_with_height(elevation: float) -> None:
    higher = oxygen.pressure_at_elevation_kpa(elevation + 50)
    assert higher < oxygen.pressure_at_elevation_kpa(elevation)


@given(st.floats(0, 34), st.floats(5.5, 8.4), st.floats(5, 390))
def test_fresh_carbon_dioxide_falls_with_ph(t: float, ph: float, alkalinity: float) -> None:
    here = carbonate.carbon_dioxide_mg_l(t, ph, alkalinity)
    assert here > carbonate.carbon_dioxide_mg_l(t, ph + 0.1, alkalinity) > 0
    assert here < carbonate.carbon_dioxide_mg_l(t, ph, alkalinity + 5)


@given(mild, st.floats(7, 8.5), st.floats(60, 240), st.floats(3, 40))
def test_sea_carbon_dioxide_falls_with_ph(t: float, ph: float, alk: float, s: float) -> None:
    here = carbonate.carbon_dioxide_mg_l(t, ph, alk, s)
    assert here > carbonate.carbon_dioxide_mg_l(t, ph + 0.1, alk, s)
    assert here < carbonate.carbon_dioxide_mg_l(t, ph, alk + 5, s)


def test_carbon_dioxide_between_fresh_and_brackish_is_refused() -> None:
    with pytest.raises(OutOfRange, match="holds from 3 to 40"):
        carbonate.carbon_dioxide_mg_l(20.0, 7.5, 100.0, 2.5)


@given(st.floats(0.01, 42), st.floats(0, 40))
def test_salinity_and_density_are_each_others_way_back(s: float, t: float) -> None:
    density = salinity.density_kg_m3(s, t)
    assert salinity.salinity_from_density(density, t) == pytest.approx(s, abs=1e-4)


@given(st.floats(0.01, 41.9), st.floats(0, 40), st.floats(3.9, 25))
def test_salinity_and_specific_gravity_are_each_others_way_back(
    s: float, t: float, reference: float
) -> None:
    gravity = salinity.specific_gravity(s, t, reference)
    back = salinity.salinity_from_specific_gravity(gravity, t, reference)
    assert back == pytest.approx(s, abs=1e-4)
    seen = salinity.salinity_from_hydrometer(gravity, t, 20.0, reference, 0.0)
    assert seen == pytest.approx(s, abs=1e-4)


@given(st.floats(0, 60), st.floats(5, 30))
def test_salinity_rises_with_conductivity(conductivity: float, t: float) -> None:
    try:
        higher = salinity.salinity_from_conductivity(conductivity + 1, t)
    except OutOfRange:
        return
    assert salinity.salinity_from_conductivity(conductivity, t) < higher


def test_conductivity_of_no_salt_and_of_too_much() -> None:
    assert salinity.salinity_from_conductivity(0.0, 25.0) == pytest.approx(0, abs=0.01)
    with pytest.raises(OutOfRange, match="over 42"):
        salinity.salinity_from_conductivity(80.0, 20.0)


def test_density_lighter_than_water_is_refused() -> None:
    with pytest.raises(OutOfRange, match="no salinity"):
        salinity.salinity_from_density(992.0, 10.0)


@given(amount, st.sampled_from(["NO2", "NO3", "NH3", "NH4"]))
def test_nitrogen_and_ion_are_each_others_way_back(value: float, ion: str) -> None:
    assert nitrogen.as_nitrogen(nitrogen.from_nitrogen(value, ion), ion) == pytest.approx(value)
    assert nitrogen.from_nitrogen(value, ion) >= value


def test_unknown_ion_is_refused() -> None:
    with pytest.raises(BadInput, match="NO2, NO3"):
        nitrogen.as_nitrogen(1.0, "NO")


@given(st.floats(0, 100), st.floats(0, 20))
def test_chloride_is_nitrite_by_ratio(nitrite: float, ratio: float) -> None:
    wanted = nitrogen.chloride_for_nitrite_mg_l(nitrite, ratio)
    assert wanted == pytest.approx(nitrite * ratio)


def test_salt_for_chloride_worked_examples() -> None:
    assert nitrogen.salt_for_chloride_g(1000.0, 80.0) == pytest.approx(131.9, abs=0.2)
    assert nitrogen.salt_for_chloride_g(378.541, 40.0) == pytest.approx(25.0, abs=0.2)


@given(size, st.floats(0, 20))
def test_thiosulfate_is_in_proportion(litres: float, free: float) -> None:
    grams = chlorine.thiosulfate_for_chlorine_g(litres, free)
    assert grams == pytest.approx(3.5 * chlorine.thiosulfate_for_chlorine_g(litres, free, 2.0))


def test_thiosulfate_worked_examples() -> None:
    assert chlorine.thiosulfate_for_chlorine_g(378.541, 2.0, 2.0) == pytest.approx(1.5, abs=0.05)
    assert chlorine.thiosulfate_for_chlorine_g(3785.41, 2.5) == pytest.approx(66.25, abs=0.02)


@given(st.floats(0, 10))
def test_chloramine_leaves_a_fifth_as_ammonia(free: float) -> None:
    left = chlorine.ammonia_from_chloramine_mg_l(free)
    assert left == pytest.approx(0.1975 * free, rel=1e-3)


@given(amount, amount, st.floats(0.01, 0.99), st.integers(1, 12))
def test_changes_in_turn_make_the_whole(c: float, new: float, share: float, n: int) -> None:
    in_turn = c
    for _ in range(n):
        in_turn = exchange.concentration_after(in_turn, new, share)
    at_once = exchange.concentration_after(c, new, share, n)
    assert in_turn == pytest.approx(at_once, abs=1e-6)
    assert min(c, new) - 1e-6 <= at_once <= max(c, new) + 1e-6


@given(st.floats(1, 1000), st.floats(0.001, 0.999))
def test_share_to_reach_is_the_way_back(start: float, share: float) -> None:
    target = exchange.concentration_after(start, 0.0, share)
    assert exchange.fraction_to_reach(start, 0.0, target) == pytest.approx(share, abs=1e-9)


@given(st.floats(1, 1000), st.floats(0.01, 0.9), st.floats(0.1, 30))
def test_changes_to_reach_is_the_way_back(start: float, share: float, times: float) -> None:
    target = exchange.concentration_after(start, 0.0, share, times)
    back = exchange.changes_to_reach(start, 0.0, share, target)
    assert back == pytest.approx(times, rel=1e-6)


@pytest.mark.parametrize("target", [5.0, 60.0])
def test_a_target_past_the_new_water_is_refused(target: float) -> None:
    with pytest.raises(BadInput, match="No change of water"):
        exchange.fraction_to_reach(50.0, 10.0, target)
    with pytest.raises(BadInput, match="No change of water"):
        exchange.changes_to_reach(50.0, 10.0, 0.2, target)


def test_the_new_water_itself_is_never_quite_reached() -> None:
    with pytest.raises(BadInput, match="never quite"):
        exchange.changes_to_reach(50.0, 10.0, 0.2, 10.0)
    assert exchange.changes_to_reach(50.0, 10.0, 0.2, 50.0) == 0.0


@given(size, st.floats(0.1, 100), st.floats(0, 1000))
def test_flowing_water_halves_each_half_life(litres: float, rate: float, minutes: float) -> None:
    once = exchange.concentration_flowing(8.0, 0.0, rate, minutes, litres)
    twice = exchange.concentration_flowing(8.0, 0.0, rate, 2 * minutes, litres)
    assert twice == pytest.approx(once**2 / 8.0, abs=1e-9)


@given(size, size, size)
def test_round_shapes_lie_inside_the_box(a: float, b: float, depth: float) -> None:
    box, ellipse = volume.box_l(a, b, depth), volume.ellipse_l(a, b, depth)
    assert ellipse <= volume.straight_oval_l(a, b, depth) * (1 + 1e-9) <= box * (1 + 2e-9)
    assert volume.ellipse_l(a, a, depth) == pytest.approx(volume.cylinder_l(a, depth))
    assert volume.straight_oval_l(a, a, depth) == pytest.approx(volume.cylinder_l(a, depth))


def test_volumes_worked_examples() -> None:
    foot, us_gallon, imperial = 30.48, 3.785411784, 4.54609
    assert volume.cylinder_l(12 * foot, 4.5 * foot) / 28.316847 == pytest.approx(508.94, abs=0.1)
    assert volume.box_l(10 * foot, 10 * foot, 4.5 * foot) / imperial == pytest.approx(2803, abs=1)
    oval = volume.straight_oval_l(16 * foot, 11 * foot, 2 * foot)
    assert oval / us_gallon == pytest.approx(2244.7, abs=0.3)


@given(size, st.floats(0.1, 5))
def test_volume_from_salt_is_the_way_back(litres: float, rise: float) -> None:
    grams = salinity.salt_for_rise_g(litres, rise)
    assert volume.from_salt_l(grams, rise) == pytest.approx(litres)
    error = volume.from_salt_error(0.05, rise)
    assert error == pytest.approx(2 * volume.from_salt_error(0.05, 2 * rise))


def test_volume_from_salt_worked_example() -> None:
    assert volume.from_salt_l(4535.92, 1.4) / 3.785411784 == pytest.approx(855.9, abs=0.2)


@given(st.floats(1, 1000), st.floats(0.1, 50), st.floats(6, 12), st.floats(0, 6))
def test_oxygen_of_a_flow_balances(fish: float, rate: float, inlet: float, outlet: float) -> None:
    used = flow.oxygen_used_g_h(rate, inlet, outlet)
    use = flow.oxygen_use_mg_kg_h(used, fish)
    assert use * fish / 1000 == pytest.approx(used)
    # In the time of one exchange, standing water loses what the flow loses from inlet to outlet.
    litres = 1000.0
    minutes = flow.exchange_minutes(litres, rate)
    if use <= 2000:
        fall = flow.oxygen_fall_mg_l(use, fish, litres, minutes)
        assert fall == pytest.approx(inlet - outlet)


@given(st.floats(2, 12), st.floats(1, 500), st.floats(1, 1000), size)
def test_a_bath_ends_when_the_oxygen_is_used(o2: float, use: float, fish: float, v: float) -> None:
    minutes = flow.static_bath_minutes(o2, 2.0, use, fish, v)
    if minutes < 1e6:
        assert o2 - flow.oxygen_fall_mg_l(use, fish, v, minutes) == pytest.approx(2.0)
    assert flow.static_bath_minutes(2.0, o2, use, fish, v) == 0.0


@given(st.floats(1, 1e4), size, st.floats(0.1, 100))
def test_loads_agree_through_the_exchange(fish: float, litres: float, rate: float) -> None:
    per_volume = flow.load_kg_m3(fish, litres) / 1000
    minutes = flow.exchange_minutes(litres, rate)
    assert flow.load_per_flow(fish, rate) == pytest.approx(per_volume * minutes)


@given(st.floats(0, 1e4), st.floats(0.1, 100))
def test_rise_in_flow_is_the_load_in_the_days_water(load: float, rate: float) -> None:
    rise = flow.rise_in_flow_mg_l(load, rate)
    assert rise * rate * 86.4 == pytest.approx(load)


def test_an_outlet_with_more_oxygen_is_refused() -> None:
    with pytest.raises(BadInput, match="air is added"):
        flow.oxygen_used_g_h(10.0, 6.0, 7.0)


@pytest.mark.parametrize("ph", [nan, -1.0, 14.5])
def test_a_ph_that_can_not_be_is_refused(ph: float) -> None:
    with pytest.raises(OutOfRange, match="pH"):
        ammonia.unionised_fraction(20.0, ph)
