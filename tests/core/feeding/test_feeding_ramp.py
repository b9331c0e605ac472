"""The ramp, its gates and the filter model behind it.

The model was never validated against a real system: these tests check that it is solved
rightly and behaves as such models are known to, not that it is true.
"""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.errors import BadInput, OutOfRange, Refusal
from core.feeding.biofilter import FilterSystem, filter_area_m2, settled
from core.feeding.filter_run import NOT_VALIDATED, FeedingPlan, even_rise
from core.feeding.gates import (
    NOTHING_BROKEN,
    Gate,
    Measured,
    Reading,
    may_raise,
    step_g,
    stepped_rise,
)
from core.feeding.nitrifiers import ammonia_oxidiser_factor, nitrite_oxidiser_factor
from core.feeding.ramp import RampBounds, RampLimits, ammonia_from_feed_g, fastest_ramp, run_filter
from core.sourced import lines as lines_of
from core.sourced import working

GOOD = Measured(Reading(0.25, less_than=True), Reading(0.05, less_than=True), Reading(110), 3.0, 0)


def base(temperature_c: float = 20.0, exchange: float = 0.1, dose: float = 60.0) -> FilterSystem:
    return FilterSystem(
        10_000, 100, temperature_c, 0.38, exchange, 180, 5, alkalinity_dose_g_d=dose
    )


def test_steps_of_the_hotel_pool() -> None:
    steps = stepped_rise(45, 117, 4, Gate())
    assert [step.grams for step in steps] == [63, 81, 99, 117]
    assert [step.day for step in steps] == [0, 7, 14, 21]
    assert [step.week for step in steps] == [1, 2, 3, 4]
    for step in steps:
        assert step.sentence == (
            "Only if ammonia is under 0.25 mg/L N, nitrite under 0.1 mg/L N, food gone in 5 min "
            "and no new deaths; otherwise stay at this ration and ring."
        )


@given(st.floats(0, 1e4), st.floats(1, 1e4), st.integers(1, 40))
def test_every_rise_is_even_gated_and_ends_at_its_target(
    start: float, rise: float, weeks: int
) -> None:
    gate = Gate(tan_mg_l=0.4)
    steps = stepped_rise(start, start + rise, weeks, gate)
    grams = [start, *(step.grams for step in steps)]
    assert grams[-1] == pytest.approx(start + rise)
    assert all(b - a == pytest.approx(rise / weeks) for a, b in pairwise(grams))
    assert all(step.gate is gate and "otherwise stay" in step.sentence for step in steps)


def test_a_rise_that_is_none_is_refused() -> None:
    for start, end, weeks in ((50.0, 50.0, 4), (50.0, 40.0, 4), (50.0, 60.0, 0), (-1.0, 60.0, 4)):
        with pytest.raises(BadInput):
            stepped_rise(start, end, weeks, Gate())
    with pytest.raises(BadInput):
        step_g(45, 117, 5, 4)


def test_nothing_broken_is_no_green_light() -> None:
    found = may_raise(Gate(), GOOD)
    assert not found.refused
    assert found.sentence == NOTHING_BROKEN
    for word in ("safe", "may be raised", "go ahead", "fine"):
        assert word not in found.sentence


def test_goldfish_pond_of_the_demo_is_refused_with_both_reasons() -> None:
    found = may_raise(
        Gate(), Measured(Reading(0.40), Reading(0.60), Reading(120), 4, 0), ["praziquantel bath"]
    )
    assert found.refused
    assert found.reasons == (
        "Ammonia is 0.400 mg/L as N; it must be under 0.25 mg/L as N.",
        "Nitrite is 0.600 mg/L as N; it must be under 0.1 mg/L as N.",
        "A treatment runs in this water: praziquantel bath.",
    )
    assert found.sentence.startswith("Stay at this ration and ring. Ammonia is 0.400")


@pytest.mark.parametrize(
    ("measured", "reason"),
    [
        (Measured(Reading(), GOOD.nitrite, GOOD.alkalinity, 3, 0), "Ammonia was not measured"),
        (Measured(Reading(0.25), GOOD.nitrite, GOOD.alkalinity, 3, 0), "Ammonia is 0.250"),
        (
            Measured(Reading(0.5, less_than=True), GOOD.nitrite, GOOD.alkalinity, 3, 0),
            "reads only as less than 0.500",
        ),
        (Measured(GOOD.tan, Reading(), GOOD.alkalinity, 3, 0), "Nitrite was not measured"),
        (Measured(GOOD.tan, Reading(0.1), GOOD.alkalinity, 3, 0), "Nitrite is 0.100"),
        (Measured(GOOD.tan, GOOD.nitrite, Reading(), 3, 0), "Alkalinity was not measured"),
        (Measured(GOOD.tan, GOOD.nitrite, Reading(49), 3, 0), "at least 50 mg/L as CaCO3"),
        (Measured(GOOD.tan, GOOD.nitrite, GOOD.alkalinity, None, 0), "was not watched"),
        (Measured(GOOD.tan, GOOD.nitrite, GOOD.alkalinity, 6, 0), "Food took 6.00 min"),
        (Measured(GOOD.tan, GOOD.nitrite, GOOD.alkalinity, float("inf"), 0), "Food was left over"),
        (Measured(GOOD.tan, GOOD.nitrite, GOOD.alkalinity, 3, None), "not asked about"),
        (Measured(GOOD.tan, GOOD.nitrite, GOOD.alkalinity, 3, 1), "New deaths: 1"),
    ],
)
def test_each_gate_refuses_alone_and_says_why(measured: Measured, reason: str) -> None:
    found = may_raise(Gate(), measured)
    assert found.refused
    assert len(found.reasons) == 1
    assert reason in found.reasons[0]


def test_a_reading_that_can_not_be_is_refused() -> None:
    for bad in (-0.1, float("nan"), float("inf")):
        with pytest.raises(BadInput):
            Reading(bad)


def test_the_filter_starts_where_an_outside_solver_starts() -> None:
    state = settled(base(), ammonia_from_feed_g(120, 0.38))
    assert state[0] == pytest.approx(0.14422745, rel=1e-6)
    assert state[4] == pytest.approx(18.094668, rel=1e-6)


@pytest.mark.parametrize(("days", "tan"), [(0, 1.1722822), (14, 0.52895966), (28, 0.31363936)])
def test_ammonia_on_day_7_as_an_outside_solver_has_it(days: float, tan: float) -> None:
    run = run_filter(base(), even_rise(120, 600, days), 70)
    assert run.on(7)[0] == pytest.approx(tan, rel=0.001)


def test_nitrogen_of_the_four_week_rise_balances() -> None:
    run = run_filter(base(), even_rise(120, 600, 28), 70)
    assert run.nitrogen_gain_g == pytest.approx(166.9639, abs=0.001)
    assert run.nitrogen_in_g - run.nitrogen_out_g == pytest.approx(166.9639, abs=0.001)


@settings(max_examples=25, deadline=None)
@given(
    st.floats(10, 30),
    st.floats(0.02, 3),
    st.floats(50, 50_000),
    st.floats(0.005, 0.05),
    st.floats(0.5, 4),
    st.floats(0, 40),
)
def test_nitrogen_is_conserved(
    temperature: float, exchange: float, volume: float, area: float, rise: float, days: float
) -> None:
    system = FilterSystem(
        volume, area * volume, temperature, 0.4, exchange, 200, 3, alkalinity_mg_l=2000
    )
    start = 0.04 * area * volume
    run = run_filter(system, even_rise(start, start * (1 + rise), days), 30)
    moved = run.nitrogen_in_g - run.nitrogen_out_g
    assert run.nitrogen_gain_g == pytest.approx(moved, abs=1e-6 * max(1.0, run.nitrogen_in_g))
    assert min(run.tan_mg_l + run.nitrite_mg_l) >= 0


def peaks(temperature_c: float, rise_days: float) -> tuple[float, float]:
    """Return ammonia and nitrite peak over the level at which each ends."""
    run = run_filter(base(temperature_c), even_rise(120, 600, rise_days), 200)
    return run.tan_peak[1] / run.tan_mg_l[-1], run.nitrite_peak[1] / run.nitrite_mg_l[-1]


def test_a_jump_peaks_and_a_ramp_of_weeks_does_not_in_warm_water() -> None:
    assert min(peaks(20, 0)) > 2.5
    assert max(peaks(20, 21)) < 1.35
    assert max(peaks(20, 28)) < 1.25


def test_the_same_ramp_is_too_fast_in_cold_water() -> None:
    assert min(peaks(10, 28)) > 2.5
    assert min(peaks(10, 28)) > 2 * max(peaks(20, 28))


@given(st.floats(10, 29), st.floats(0.01, 1))
def test_nitrifiers_grow_faster_in_warmer_water(cool: float, by: float) -> None:
    for factor in (ammonia_oxidiser_factor, nitrite_oxidiser_factor):
        assert factor(cool + by) > factor(cool)


def test_nitrifier_factors_worked() -> None:
    assert ammonia_oxidiser_factor(20) == nitrite_oxidiser_factor(20) == 1
    assert ammonia_oxidiser_factor(10) == pytest.approx(0.37330693, rel=1e-4)
    assert ammonia_oxidiser_factor(30) == pytest.approx(2.5101603, rel=1e-4)


def test_an_unripe_filter_peaks_in_the_order_seen_in_new_systems() -> None:
    """Published start: ammonia about 3, nitrite 11.7 to 20.9 mg/L N between day 9 and 20.

    Volume, temperature and feed of that system are not known, so only the order of size is
    asked for: single to tens of mg/L within weeks, nitrite after ammonia.
    """
    system = FilterSystem(10_000, 100, 25, 0.38, 0.1, 300, 5, alkalinity_dose_g_d=150)
    run = run_filter(system, FeedingPlan(3, ((0, 600),)), 60)
    (tan_day, tan), (nitrite_day, nitrite) = run.tan_peak, run.nitrite_peak
    assert not run.stopped
    assert 1 < tan < 30
    assert 1 < nitrite < 40
    assert 3 < tan_day < nitrite_day < 40
    assert run.note == NOT_VALIDATED


def test_the_run_stops_where_alkalinity_runs_out() -> None:
    run = run_filter(base(exchange=0.02, dose=0), even_rise(120, 600, 28), 70)
    assert run.stopped.startswith("Alkalinity falls under 50 mg/L")
    assert run.ended_day < 70
    assert min(run.alkalinity_mg_l[:-1], default=50) >= 50
    with pytest.raises(BadInput):
        run.on(70)


def test_soft_water_stops_at_the_start() -> None:
    soft = FilterSystem(235, 5, 26, 0.45, 0.02, 42, alkalinity_mg_l=9)
    run = run_filter(soft, even_rise(1, 2, 7), 14)
    assert run.ended_day == 0
    assert "at the start" in run.stopped


def test_a_held_ration_stays_where_it_is() -> None:
    run = run_filter(base(), FeedingPlan(300), 30)
    assert run.tan_mg_l[-1] == pytest.approx(run.tan_mg_l[0], rel=1e-5)
    assert run.nitrite_mg_l[-1] == pytest.approx(run.nitrite_mg_l[0], rel=1e-5)


def test_stepped_plan_is_followed_step_by_step() -> None:
    pieces = list(FeedingPlan(45, ((0, 63), (7, 81), (14, 99))).pieces(16))
    assert pieces == [(0, 7, 63, 63), (7, 14, 81, 81), (14, 16, 99, 99)]
    climb = list(FeedingPlan(100, ((20, 300),), straight=True).pieces(10))
    assert climb == [(0, 10, 100, 200)]
    late = list(FeedingPlan(50, ((5, 80),)).pieces(8))
    assert late == [(0, 5, 50, 50), (5, 8, 80, 80)]


def test_fastest_ramp_is_the_shortest_that_passes_and_carries_its_gates() -> None:
    limits, bounds = RampLimits(0.75, 0.85, gate=Gate(0.8, 0.9)), RampBounds(1, 12)
    ramp = fastest_ramp(base(), 120, 600, limits, bounds)
    assert 3 <= ramp.weeks <= 8
    assert ramp.run.tan_peak[1] < 0.75
    assert ramp.run.nitrite_peak[1] < 0.85
    assert len(ramp.steps) == ramp.weeks
    assert all(step.gate is limits.gate for step in ramp.steps)
    assert {3, 7} <= set(ramp.test_days)
    assert ramp.steps[-1].day + 7 in ramp.test_days
    assert "expect it to hold" not in ramp.sentence
    assert "never checked against a real system" in ramp.sentence
    shorter = stepped_rise(120, 600, ramp.weeks - 1, limits.gate)
    plan = FeedingPlan(120, tuple((float(s.day), s.grams) for s in shorter))
    run = run_filter(base(), plan, 60)
    assert run.tan_peak[1] >= 0.75 or run.nitrite_peak[1] >= 0.85


def test_cold_water_needs_the_longer_ramp() -> None:
    limits, bounds = RampLimits(2.0, 2.5), RampBounds(1, 26)
    warm = fastest_ramp(base(20), 120, 600, limits, bounds)
    cold = fastest_ramp(base(10), 120, 600, limits, bounds)
    assert cold.weeks > warm.weeks + 4
    assert "over the gate: expect it to hold" in cold.sentence


def test_hotel_pool_ramp_is_computed_against_a_filter() -> None:
    area = filter_area_m2(ammonia_from_feed_g(117, 0.38), 0.2)
    pool = FilterSystem(9360, area, 22, 0.38, 0.05, 110, alkalinity_mg_l=110)
    ramp = fastest_ramp(pool, 45, 117, RampLimits(0.6, 0.6), RampBounds())
    assert ramp.weeks <= 4
    assert ramp.steps[-1].grams == 117
    assert min(ramp.run.alkalinity_mg_l) > 50


@pytest.mark.parametrize(
    ("limits", "words"),
    [
        (RampLimits(0.25, 5), "ammonia reaches"),
        (RampLimits(5, 0.1), "nitrite reaches"),
        (RampLimits(5, 5, alkalinity_mg_l=150), "alkalinity falls to"),
    ],
)
def test_no_ramp_within_bounds_names_the_limit_that_breaks(limits: RampLimits, words: str) -> None:
    with pytest.raises(Refusal, match=words):
        fastest_ramp(base(), 120, 600, limits, RampBounds(1, 3))


def test_a_filter_too_small_for_today_is_refused() -> None:
    small = FilterSystem(10_000, 5, 20, 0.38, 0.0, 180, alkalinity_mg_l=180)
    with pytest.raises(Refusal, match="can not carry"):
        run_filter(small, FeedingPlan(600), 10)


def test_outside_what_the_rates_cover_there_is_no_run() -> None:
    with pytest.raises(OutOfRange):
        run_filter(base(8), FeedingPlan(120), 10)
    with pytest.raises(OutOfRange):
        run_filter(FilterSystem(1000, 10, 20, 0.6, 0.1, 180), FeedingPlan(10), 10)
    with pytest.raises(BadInput):
        run_filter(base(), FeedingPlan(120), 0)
    with pytest.raises(BadInput):
        FilterSystem(1000, 10, 20, 0.4, 0.0, 180)
    with pytest.raises(BadInput):
        FilterSystem(0, 10, 20, 0.4, 0.1, 180)
    with pytest.raises(BadInput):
        FeedingPlan(10, ((5, 20), (5, 30)))
    with pytest.raises(BadInput):
        FeedingPlan(10, ((5, -20),))


def test_a_simulation_is_one_line_of_working() -> None:
    with working() as lines:
        run_filter(base(), FeedingPlan(120), 2)
    assert [line.formula.name for line in lines] == ["run_filter"]
    assert lines[0].within == []
    shown_lines = "\n".join(lines_of(lines))
    assert "10000 L, filter 100 m², 20 °C, 10 % changed a day" in shown_lines
    assert "never checked against a real system" in shown_lines


@given(st.floats(0.01, 100), st.floats(0.05, 1))
def test_filter_area_carries_its_load(load: float, rate: float) -> None:
    assert filter_area_m2(load, rate) * rate == pytest.approx(load)


def test_filter_area_worked() -> None:
    assert filter_area_m2(4.0, 0.2) == pytest.approx(20)
    with pytest.raises(BadInput):
        filter_area_m2(4.0, 0.0)
