"""What must hold for any dose: linear, of the right order, and the way back leads home."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import pairwise
from math import isclose

from hypothesis import given
from hypothesis import strategies as st

from core.dosing import arithmetic as a
from core.dosing.anaesthesia import anaesthetic_bath, buffer_mass
from core.dosing.course import dates, in_steps, salt_for_rise, steps_no_larger_than, total
from core.dosing.flowing import bath_in_flow, minutes_of_oxygen, oxygen_fall_mg_l
from core.dosing.quantities import (
    active,
    body,
    concentration,
    density,
    dose,
    feed_level,
    flow,
    food,
    give_or_take,
    minutes,
    product,
    purity,
    ration,
    strength,
    water,
)
from core.dosing.syringe import Syringe, choose, dilute, draw, over_route_limit, propose_dilution
from core.dosing.uncertain import dose_between, judge, level_between
from core.dosing.withdrawal import withdrawal_end

some = st.floats(0.01, 100)
much = st.floats(0.1, 10_000)
share = st.floats(1, 100)


def near(one: float, other: float) -> bool:
    return isclose(one, other, rel_tol=1e-9)


@given(some, some, some)
def test_dose_is_linear_in_dose_and_weight(mg_kg: float, kg: float, times: float) -> None:
    once = a.dose_mass(dose(mg_kg, "mg/kg"), body(kg, "kg")).m_as("mg")
    assert near(once, mg_kg * kg)
    more = a.dose_mass(dose(mg_kg, "mg/kg"), body(kg * times, "kg")).m_as("mg")
    assert near(more, once * times)


@given(some, some, some)
def test_draw_up_and_the_dose_it_gives_are_inverse(mg_kg: float, kg: float, mg_ml: float) -> None:
    vial = strength(mg_ml, "mg/mL")
    drawn = a.draw_up_volume(dose(mg_kg, "mg/kg"), body(kg, "kg"), vial)
    assert near(drawn.m_as("mL"), mg_kg * kg / mg_ml)
    assert near(a.dose_given(drawn, vial, body(kg, "kg")).m_as("mg/kg"), mg_kg)


@given(some, some, some)
def test_ten_times_the_unit_is_ten_times_the_dose(mg_kg: float, kg: float, mg_ml: float) -> None:
    """Grams, kilograms and micrograms differ by a thousand, not by ten or nothing."""
    right = a.draw_up_volume(dose(mg_kg, "mg/kg"), body(kg, "kg"), strength(mg_ml, "mg/mL"))
    grams = a.draw_up_volume(dose(mg_kg, "mg/kg"), body(kg, "g"), strength(mg_ml, "mg/mL"))
    micro = a.draw_up_volume(dose(mg_kg, "ug/kg"), body(kg, "kg"), strength(mg_ml, "ug/mL"))
    assert near(right.m_as("mL") / grams.m_as("mL"), 1000)
    assert near(right.m_as("mL"), micro.m_as("mL"))


@given(some, much, share)
def test_bath_mass_and_level_are_inverse(mg_l: float, litres: float, percent: float) -> None:
    wanted, tank = concentration(mg_l, "mg/L"), water(litres, "L")
    pure = a.bath_mass(wanted, tank)
    assert near(pure.m_as("mg"), mg_l * litres)
    assert near(a.bath_level(pure, tank).m_as("mg/L"), mg_l)
    powder = a.bath_mass(wanted, tank, purity(percent, "%"))
    assert near(powder.m_as("mg") * percent / 100, pure.m_as("mg"))


@given(some, much, some)
def test_bath_volume_and_level_are_inverse(mg_l: float, litres: float, mg_ml: float) -> None:
    stock, tank = strength(mg_ml, "mg/mL"), water(litres, "L")
    poured = a.bath_volume(concentration(mg_l, "mg/L"), tank, stock)
    assert near(a.level_made_up_to(poured, stock, tank).m_as("mg/L"), mg_l)
    assert a.level_added_to(poured, stock, tank).m_as("mg/L") < mg_l * (1 + 1e-9)


@given(some, much)
def test_volume_in_volume_is_its_own_kind(ul_l: float, litres: float) -> None:
    poured = a.bath_volume(concentration(ul_l, "uL/L"), water(litres, "L"))
    assert near(poured.m_as("uL"), ul_l * litres)
    assert near(a.level_by_volume(poured, water(litres, "L")).m_as("uL/L"), ul_l)


@given(some, st.floats(0.1, 10), some, share)
def test_feed_and_the_dose_it_gives_are_inverse(
    mg_kg: float, percent: float, kg: float, pure: float
) -> None:
    level = a.medicated_feed(dose(mg_kg, "mg/kg"), ration(percent, "%"))
    assert near(level.m_as("mg/kg"), mg_kg / percent * 100)
    assert near(a.dose_in_feed(level, ration(percent, "%")).m_as("mg/kg/day"), mg_kg)
    eaten = a.daily_food(ration(percent, "%"), body(kg, "kg"))
    premix = a.premix_mass(level, eaten, purity(pure, "%"))
    wanted = a.dose_mass(dose(mg_kg, "mg/kg"), body(kg, "kg"))
    assert near(premix.m_as("mg") * pure / 100, wanted.m_as("mg"))


@given(share, st.floats(0.7, 2))
def test_strength_of_a_liquid_is_percent_by_volume_times_density(w_w: float, g_ml: float) -> None:
    got = a.strength_of_liquid(purity(w_w, "%"), density(g_ml, "g/mL"))
    assert near(got.m_as("% w/v"), w_w * g_ml)


@given(much, some)
def test_the_cap_is_reached_at_the_weight_it_says(units: float, iu_kg: float) -> None:
    heaviest = a.body_at_cap(active(units, "IU"), dose(iu_kg, "IU/kg"))
    assert near(a.dose_mass(dose(iu_kg, "IU/kg"), heaviest).m_as("IU"), units)


@given(some, much, st.floats(1, 50))
def test_uncertain_water_brackets_the_wish(mg_l: float, litres: float, percent: float) -> None:
    mass = a.bath_mass(concentration(mg_l, "mg/L"), water(litres, "L"))
    real = level_between(mass, give_or_take(water(litres, "L"), percent))
    assert near(real.low.m_as("mg/L"), mg_l / (1 + percent / 100))
    assert near(real.high.m_as("mg/L"), mg_l / (1 - percent / 100))
    said = judge(real, concentration(mg_l / 2, "mg/L"), concentration(mg_l, "mg/L"))
    assert said.low_inside
    assert not said.high_inside


@given(st.floats(0.01, 1), st.floats(0.1, 100), st.floats(1, 50))
def test_uncertain_weight_brackets_the_dose(ml: float, kg: float, percent: float) -> None:
    real = dose_between(
        product(ml, "mL"), strength(10, "mg/mL"), give_or_take(body(kg, "kg"), percent)
    )
    assert real.low.m_as("mg/kg") < ml * 10 / kg < real.high.m_as("mg/kg")


@given(st.floats(0.001, 1))
def test_drawn_volume_is_a_mark_and_never_more_than_half_a_mark_off(ml: float) -> None:
    syringe = Syringe("1 mL", 1.0, 0.01)
    got = draw(product(ml, "mL"), syringe)
    assert abs(got.drawn_ml - ml) <= 0.005 + 1e-9
    assert abs(got.drawn_ml / 0.01 - round(got.drawn_ml / 0.01)) < 1e-6
    off = got.wanted.m_as("mL") * got.error_percent / 100
    assert isclose(got.wanted.m_as("mL") + off, got.drawn_ml, abs_tol=1e-12)


@given(st.floats(0.0012, 1))
def test_a_dilution_keeps_the_dose_and_is_proposed_only_when_needed(ml: float) -> None:
    syringe, stock = Syringe("1 mL", 1.0, 0.01), strength(100, "mg/mL")
    proposal = propose_dilution(product(ml, "mL"), stock, syringe)
    assert (proposal is None) is (ml >= 0.05 - 1e-9)
    if proposal is not None:
        in_it = proposal.strength.m_as("mg/mL") * proposal.drawn.wanted.m_as("mL")
        assert near(in_it, ml * 100)
        assert proposal.drawn.graduations >= 10 - 1e-6


@given(st.floats(0.001, 0.2), st.integers(2, 5))
def test_dilution_weakens_and_enlarges_alike(ml: float, factor: int) -> None:
    got = dilute(product(ml, "mL"), strength(100, "mg/mL"), Syringe("1 mL", 1.0, 0.01), factor)
    assert near(got.strength.m_as("mg/mL"), 100 / factor)
    assert near(got.drawn.wanted.m_as("mL"), ml * factor)


@given(st.floats(0.001, 20))
def test_the_smallest_syringe_that_holds_it(ml: float) -> None:
    rack = [Syringe(f"{c} mL", c, c / 50) for c in (20.0, 0.3, 5.0, 1.0)]
    got = choose(product(ml, "mL"), rack)
    assert got.capacity_ml >= ml - 1e-6
    assert not [s for s in rack if ml < s.capacity_ml < got.capacity_ml]


@given(some, much, some, st.floats(1, 240), share)
def test_a_bath_in_flow_holds_its_concentration(
    mg_l: float, litres: float, l_min: float, length: float, pure: float
) -> None:
    got = bath_in_flow(
        concentration(mg_l, "mg/L"),
        water(litres, "L"),
        flow(l_min, "L/min"),
        minutes(length),
        purity(pure, "%"),
    )
    assert near(got.total.m_as("mg") * pure / 100, mg_l * (litres + l_min * length))
    assert near(got.per_minute.m_as("mg") * length, got.feed_in.m_as("mg"))


@given(some, much, st.floats(1, 240), st.floats(0, 5))
def test_oxygen_falls_to_the_lowest_in_the_minutes_said(
    g_h: float, litres: float, length: float, lowest: float
) -> None:
    fall = oxygen_fall_mg_l(g_h, litres, length)
    assert near(minutes_of_oxygen(lowest + fall, lowest, g_h, litres), length) or fall < 1e-6
    assert minutes_of_oxygen(lowest, lowest, g_h, litres) == 0
    assert near(oxygen_fall_mg_l(2 * g_h, litres, length), 2 * fall)


@given(some, much, st.floats(0.1, 5))
def test_anaesthetic_bath_adds_up(mg_l: float, litres: float, ratio: float) -> None:
    stock = strength(10, "g/L")
    got = anaesthetic_bath(concentration(mg_l, "mg/L"), water(litres, "L"), stock, ratio)
    assert got.stock is not None
    assert got.buffer is not None
    assert near(got.stock.m_as("mL") * 10, got.agent.m_as("mg"))
    assert near(got.buffer.m_as("mg"), ratio * got.agent.m_as("mg"))
    assert near(buffer_mass(got.agent, ratio).m_as("g"), got.buffer.m_as("g"))


@given(some, st.integers(1, 30), some)
def test_steps_add_up_to_the_whole_and_none_is_too_large(
    grams: float, steps: int, largest: float
) -> None:
    whole = active(grams, "g")
    assert near(sum(step.m_as("g") for step in in_steps(whole, steps)), grams)
    assert near(total(whole, steps).m_as("g"), steps * grams)
    ramp = steps_no_larger_than(whole, active(largest, "g"))
    assert all(step.m_as("g") <= largest * (1 + 1e-8) for step in ramp)
    assert near(sum(step.m_as("g") for step in ramp), grams)
    assert len(ramp) == 1 or grams / (len(ramp) - 1) > largest


@given(some, much)
def test_salt_is_rise_times_water(g_l: float, litres: float) -> None:
    assert near(
        salt_for_rise(concentration(g_l, "g/L"), water(litres, "L")).m_as("g"), g_l * litres
    )


@given(st.dates(date(2000, 1, 1), date(2090, 1, 1)), st.integers(1, 60), st.integers(1, 20))
def test_days_of_a_course_are_evenly_apart(start: date, every: int, times: int) -> None:
    days = dates(start, every, times)
    assert len(days) == times
    assert days[0] == start
    assert all(b - x == timedelta(days=every) for x, b in pairwise(days))
    assert withdrawal_end(days[-1], every) == days[-1] + timedelta(days=every)


@given(some, some, share)
def test_premix_is_level_times_food(mg_kg: float, kg: float, pure: float) -> None:
    got = a.premix_mass(feed_level(mg_kg, "mg/kg"), food(kg, "kg"), purity(pure, "%"))
    assert near(got.m_as("mg"), mg_kg * kg * 100 / pure)


@given(st.floats(0.001, 50), some, st.floats(0.1, 10))
def test_route_limit_is_per_kilogram(ml: float, kg: float, most: float) -> None:
    said = over_route_limit(
        product(ml, "mL"), body(kg, "kg"), "injection IM", {"injection IM": most}
    )
    assert (said is None) is (ml <= most * kg * (1 + 1e-9))
