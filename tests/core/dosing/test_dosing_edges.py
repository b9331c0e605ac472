"""The edges of dosing: what one digit, one sign or one mark more or less would change."""

from __future__ import annotations

from dataclasses import is_dataclass, replace
from datetime import UTC, date, datetime, timedelta
from importlib import import_module
from itertools import pairwise
from math import inf, nan
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core import dosing
from core.catalogue.load import table
from core.dosing import medicines, quantities, syringe
from core.dosing.course import level_ramp, parts_within, ramp, steps_no_larger_than
from core.dosing.degree_days import (
    CASCADE_DEGREE_DAYS,
    DegreeDays,
    days_needed,
    degree_days,
    gathered,
    interval_days,
)
from core.dosing.flowing import (
    bath_in_flow,
    liquid_in_flow,
    minutes_of_oxygen,
    oxygen_fall_mg_l,
    passing_water,
)
from core.dosing.medicines import Medicine
from core.dosing.quantities import active, body, concentration, give_or_take, product, water
from core.dosing.quantities import between as ranged
from core.dosing.quantity import WrongKind
from core.dosing.recipient import line
from core.dosing.scoops import Scoop, powder_in, scooped, too_rough
from core.dosing.uncertain import judge, really_between
from core.dosing.withdrawal import days_not_saleable, withdrawal
from core.errors import BadInput, OutOfRange, Refusal
from core.sourced import FORMULAS, Sourced

NAMES = sorted(p.stem for p in Path(str(dosing.__path__[0])).glob("*.py") if p.stem != "__init__")
MODULES = {name: import_module(f"core.dosing.{name}") for name in NAMES}
MEDICINES = medicines.from_table(table("medicines"))
NOW = datetime(2026, 11, 29, 8, 30, tzinfo=UTC)
D = date(2026, 11, 29)

DECLARED = {
    "anaesthesia": "anaesthetic_bath buffer_mass",
    "arithmetic": "bath_level bath_mass bath_volume body_at_cap daily_food dose_given dose_in_feed "
    "dose_mass draw_up_volume level_added_to level_by_volume level_made_up_to medicated_feed "
    "premix_mass strength_of_liquid",
    "copper": "copper_sulfate_mg_l",
    "course": "in_steps ramp salt_for_rise steps_no_larger_than total",
    "degree_days": "days_needed degree_days end_expected end_measured gathered interval_days",
    "dilution": "added_mg_l after_parts_percent available_chlorine_percent by_volume_percent "
    "made_up_mg_l stock_ml thiosulfate_g water_parts",
    "disinfectant": "level_of working_solution",
    "flowing": "bath_in_flow liquid_in_flow minutes_of_oxygen oxygen_fall_mg_l passing_water",
    "scoops": "powder_in scooped",
    "syringe": "choose dilute draw over_route_limit propose_dilution",
    "uncertain": "dose_between judge level_between really_between",
}


def test_every_sum_of_dosing_is_declared_with_its_equation() -> None:
    """Without its declaration a sum would neither check its range nor show its working."""
    for name, functions in DECLARED.items():
        for function in functions.split():
            assert isinstance(getattr(MODULES[name], function), Sourced), (name, function)
            assert f"core.dosing.{name}.{function}" in FORMULAS


def test_nothing_of_dosing_can_be_changed_after_it_was_judged() -> None:
    found = [
        kind
        for module in MODULES.values()
        for kind in vars(module).values()
        if isinstance(kind, type) and is_dataclass(kind) and kind.__module__ == module.__name__
    ]
    assert len(found) > 20
    for kind in found:
        assert kind.__dataclass_params__.frozen, kind  # type: ignore[attr-defined]


def test_baths_in_flow_hold_their_figures() -> None:
    tank, inflow, hour = water(100, "L"), quantities.flow(1, "L/s"), quantities.minutes(1, "h")
    weak, pure = concentration(2, "mg/L"), quantities.purity(80, "%")
    by_weight = bath_in_flow(weak, tank, inflow, hour, pure)
    drip = liquid_in_flow(concentration(25, "uL/L"), tank, inflow, hour)
    stock = liquid_in_flow(weak, tank, inflow, hour, quantities.strength(100, "mg/mL"))
    found = {
        one: [str(part) for part in (one.fill, one.feed_in, one.total, one.per_minute)]
        for one in (by_weight, drip, stock)
    }
    assert list(found.values()) == [
        ["0.25 g", "9 g", "9.25 g", "0.15 g"],
        ["2.5 mL", "90 mL", "92.5 mL", "1.5 mL"],
        ["2 mL", "72 mL", "74 mL", "1.2 mL"],
    ]
    assert passing_water(inflow, hour).m_as("L") == 3600


def test_oxygen_of_a_standing_bath() -> None:
    assert oxygen_fall_mg_l(60.0, 1000.0, 10.0) == 10
    assert oxygen_fall_mg_l(0.0, 1000.0, 10.0) == oxygen_fall_mg_l(60.0, 1000.0, 0.0) == 0
    assert oxygen_fall_mg_l(0.5, 0.5, 6.0) == 100
    assert minutes_of_oxygen(8.0, 5.0, 60.0, 1000.0) == 3
    assert minutes_of_oxygen(5.0, 5.0, 60.0, 1000.0) == 0
    assert minutes_of_oxygen(4.0, 5.0, 60.0, 1000.0) == 0
    assert minutes_of_oxygen(0.5, 0.0, 0.5, 0.5) == pytest.approx(0.03)
    assert minutes_of_oxygen(0.0, 0.0, 60.0, 1000.0) == 0
    for wrong in (inf, -inf, nan):
        for place in range(3):
            right = [60.0, 1000.0, 10.0]
            right[place] = wrong
            with pytest.raises(BadInput):
                oxygen_fall_mg_l(*right)


class TestUncertain:
    def test_a_volume_known_to_ten_per_cent_shows_both_ends_and_both_verdicts(self) -> None:
        tank = water(1000, "L")
        real = really_between(concentration(2, "mg/L"), tank, give_or_take(tank, 10))
        assert str(real) == "1.818 to 2.222 mg/L"
        verdicts = {}
        for low, high in ((1, 3), (1.9, 3), (1, 2.1), (1.9, 2.1)):
            got = judge(real, concentration(low, "mg/L"), concentration(high, "mg/L"))
            verdicts[low, high] = (got.low_inside, got.high_inside)
            assert f"1.818 to 2.222 mg/L; the range is {low} mg/L to {high} mg/L" in got.sentence
        assert list(verdicts.values()) == [
            (True, True),
            (False, True),
            (True, False),
            (False, False),
        ]

    def test_a_weight_known_to_ten_per_cent_the_same(self) -> None:
        fish = body(238, "g")
        for asked in (
            quantities.dose(20, "mg/kg"),
            quantities.dose(20, "mg/kg/day"),
            quantities.dose(20, "IU/kg"),
            quantities.dose(20, "mL/kg"),
        ):
            real = really_between(asked, fish, give_or_take(body(0.238, "kg"), 10))
            assert real.low.magnitude == pytest.approx(20 / 1.1)
            assert real.high.magnitude == pytest.approx(20 / 0.9)
            assert type(real.low) is type(asked)

    @given(st.floats(0.001, 1000), st.floats(0.1, 1e5), st.floats(0.1, 99))
    def test_ends_lie_around_what_was_wanted(self, mg: float, litres: float, off: float) -> None:
        tank = water(litres, "L")
        real = really_between(concentration(mg, "mg/L"), tank, give_or_take(tank, off))
        assert real.low.magnitude < mg < real.high.magnitude
        assert 1 / real.low.magnitude + 1 / real.high.magnitude == pytest.approx(2 / mg)

    def test_the_slack_of_a_bound_is_a_last_bit_and_no_more(self) -> None:
        least, most = concentration(0.0005, "g/L"), concentration(0.001, "g/L")
        over, under = concentration(0.0010000005, "g/L"), concentration(0.0004999995, "g/L")
        assert not judge(ranged(least, over), least, most).high_inside
        assert not judge(ranged(under, most), least, most).low_inside
        point, three = concentration(0.3, "g/L"), concentration(0.1 * 3, "g/L")
        assert judge(ranged(least, three), least, point).high_inside

    def test_only_one_value_of_the_source_is_said_to_stand_alone(self) -> None:
        tank = ranged(water(1, "L"), water(2, "L"))
        assert "the range is 1 L to 2 L" in judge(tank, water(1, "L"), water(2, "L")).sentence

    def test_known_to_so_many_per_cent_ends_below_a_hundred(self) -> None:
        assert give_or_take(water(100, "L"), 99.5).low.m_as("L") == pytest.approx(0.5)
        for percent in (0.0, -1.0, 100.0, 150.0, nan, inf):
            with pytest.raises(BadInput, match="Known to"):
                give_or_take(water(100, "L"), percent)


class TestScoops:
    SPOON = Scoop("teaspoon", product(5, "mL"), 2)
    SCOOP = Scoop("scoop", product(15, "g"))

    def test_worked_example(self) -> None:
        got = scooped(product(70, "g"), self.SCOOP)
        assert (got.count, got.caution) == (4.75, "")
        assert got.error_percent == pytest.approx(100 * (71.25 - 70) / 70)
        assert str(got) == "4.75 x scoop of 15 g, level; wanted 70 g, error +1.8 %."

    def test_a_unit_of_its_own_kind_is_turned(self) -> None:
        assert scooped(product(0.07, "kg"), self.SCOOP).count == 4.75
        assert scooped(product(0.0125, "L"), self.SPOON).count == 2.5

    @pytest.mark.parametrize(("grams", "rough"), [(10, False), (9, True), (13.2, True), (1, True)])
    def test_more_than_ten_per_cent_off_is_said(self, grams: float, rough: bool) -> None:
        whole = Scoop("scoop", product(11, "g"), 1)
        got = scooped(product(grams, "g"), whole)
        assert bool(got.caution) is rough
        assert (abs(got.error_percent) > 10 * (1 + 1e-9)) is rough
        assert (got.caution in str(got)) is True

    def test_ten_per_cent_itself_is_not_more(self) -> None:
        assert too_rough(10.0) == too_rough(-10.0) == too_rough(0.0) == ""
        for off in (10.01, -10.01, 100.0, -100.0):
            assert "more than 10 %" in too_rough(off)

    @given(st.floats(0.1, 10_000), st.floats(0.1, 100), st.sampled_from((1, 2, 4)))
    def test_rounding_is_half_a_part_at_most_and_never_hidden(
        self, grams: float, holds: float, parts: int
    ) -> None:
        got = scooped(product(grams, "g"), Scoop("scoop", product(holds, "g"), parts))
        assert abs(got.count * holds - grams) <= holds / parts / 2 * (1 + 1e-9)
        assert got.count * holds == pytest.approx(grams * (1 + got.error_percent / 100), abs=1e-6)
        assert bool(got.caution) is (abs(got.error_percent) > 10 * (1 + 1e-9))

    def test_powder_by_its_bulk_density(self) -> None:
        assert powder_in(product(5, "mL"), quantities.density(1.2, "g/mL")).m_as("g") == 6

    def test_a_scoop_that_can_not_be(self) -> None:
        for parts in (0, 3, 5, -1):
            with pytest.raises(BadInput, match="by quarters"):
                Scoop("odd", product(5, "g"), parts)
        litres: Any = water(1, "L")
        with pytest.raises(WrongKind):
            Scoop("odd", litres)
        with pytest.raises(WrongKind):
            scooped(product(5, "g"), self.SPOON)


def test_dilutions_are_those_that_the_marks_of_a_syringe_make() -> None:
    assert syringe.FACTORS == (2, 4, 5, 10, 20, 50, 100)
    assert (syringe.LEAST_GRADUATIONS, syringe.WANTED_GRADUATIONS) == (5, 10)


class TestRamp:
    def test_salt_in_three_parts_over_a_month_end(self) -> None:
        got = ramp(active(3, "kg"), active(1.5, "kg"), NOW, 24, fewest=3)
        assert [str(one.part) for one in got] == ["1 kg"] * 3
        assert [str(one.reached) for one in got] == ["1 kg", "2 kg", "3 kg"]
        assert [(one.at.month, one.at.day) for one in got] == [(11, 29), (11, 30), (12, 1)]

    @given(st.floats(0.1, 1e4), st.floats(0.5, 1e4), st.integers(1, 9), st.integers(1, 72))
    def test_sums_equal_the_target_and_no_part_is_over_the_limit(
        self, grams: float, largest: float, fewest: int, hours: int
    ) -> None:
        got = ramp(active(grams, "g"), active(largest, "g"), NOW, hours, fewest)
        assert len(got) >= fewest
        assert sum(one.part.m_as("g") for one in got) == pytest.approx(grams)
        assert got[-1].reached == active(grams, "g")
        assert all(one.part.m_as("g") <= largest * (1 + 1e-9) for one in got)
        assert got[-1].at - got[0].at == timedelta(hours=hours * (len(got) - 1))
        for before, after in pairwise(got):
            step = after.reached.m_as("g") - before.reached.m_as("g")
            assert step == pytest.approx(after.part.m_as("g"))

    def test_what_fits_at_once_is_one_part(self) -> None:
        assert len(ramp(active(1, "g"), active(5, "g"), NOW, 24)) == 1
        assert len(steps_no_larger_than(active(1e-9, "g"), active(10, "g"))) == 1

    def test_a_ramp_that_can_not_be(self) -> None:
        with pytest.raises(BadInput, match="time zone"):
            ramp(active(3, "g"), active(1, "g"), NOW.replace(tzinfo=None), 24)
        with pytest.raises(BadInput, match="interval"):
            ramp(active(3, "g"), active(1, "g"), NOW, 0)

    def test_parts_within_a_span(self) -> None:
        assert parts_within(24, 48) == (2, 3)
        assert parts_within(24, 48, 12) == (3, 5)
        assert parts_within(0, 0) == (1, 1)
        assert parts_within(25, 48) == (3, 3)
        for least, most, every in ((25, 47, 24), (48, 24, 24), (-1, 24, 24), (24, 48, 0)):
            with pytest.raises(BadInput):
                parts_within(least, most, every)

    def test_a_level_by_the_day_down_and_up(self) -> None:
        down = level_ramp(28.0, 22.0, 2.0, D)
        assert list(down.values()) == [26.0, 24.0, 22.0]
        assert [one.day for one in down] == [29, 30, 1]
        assert level_ramp(7.0, 7.0, 0.3, D) == {D: 7.0}
        assert list(level_ramp(7.0, 7.6, 0.3, D).values()) == pytest.approx([7.3, 7.6])

    @given(st.floats(0, 40), st.floats(0, 40), st.floats(0.1, 50))
    def test_no_day_changes_more_than_its_limit(
        self, now: float, target: float, most: float
    ) -> None:
        levels = [now, *level_ramp(now, target, most, D).values()]
        assert levels[-1] == target
        for before, after in pairwise(levels):
            assert abs(after - before) <= most * (1 + 1e-6)

    def test_a_level_that_can_not_be(self) -> None:
        wrong = ((nan, 1, 1), (1, inf, 1), (1, 2, 0), (1, 2, -1), (1, 2, nan), (1, 2, inf))
        for now, target, most in wrong:
            with pytest.raises(BadInput, match="ramp"):
                level_ramp(now, target, most, D)


def labelled(**more: Any) -> Medicine:
    return replace(next(m for m in MEDICINES.values() if m.withdrawal_days), **more)


class TestWithdrawal:
    def test_degree_days_of_a_label_become_days_at_the_temperature(self) -> None:
        row = labelled(withdrawal_days=None, withdrawal_degree_days=500.0)
        for celsius, days in ((10.0, 50), (12.0, 42), (20.0, 25)):
            got = withdrawal(row, D, True, None, celsius)
            assert got.ends == D + timedelta(days)
            assert f"{days} days of withdrawal" in got.sentence
            assert f"asks 500 degree-days; expected at {celsius:g} °C" in got.sentence
        assert withdrawal(row, D, True, 60, 10.0).ends == D + timedelta(60)
        with pytest.raises(BadInput, match="49 days is less than the 50"):
            withdrawal(row, D, True, 49, 10.0)
        assert withdrawal(row, D, True, 50, 10.0).ends == D + timedelta(50)

    def test_the_longer_of_days_and_degree_days_counts(self) -> None:
        row = labelled(withdrawal_days=30, withdrawal_degree_days=500.0)
        assert withdrawal(row, D, True, None, 20.0).ends == D + timedelta(30)
        assert withdrawal(row, D, True, None, 10.0).ends == D + timedelta(50)

    def test_without_a_temperature_there_are_no_days(self) -> None:
        row = labelled(withdrawal_days=None, withdrawal_degree_days=500.0)
        with pytest.raises(Refusal, match="500 degree-days, and the temperature"):
            withdrawal(row, D, True)
        with pytest.raises(OutOfRange):
            withdrawal(row, D, True, None, 0.5)
        assert withdrawal(row, D, False).ends is None

    def test_days_of_a_label_say_nothing_of_heat(self) -> None:
        said = withdrawal(labelled(withdrawal_days=21), D, True, None, 12.0).sentence
        assert "degree-days" not in said

    def test_edges(self) -> None:
        assert days_not_saleable(1, 0) == 1
        assert days_not_saleable(2, 2) == 4
        assert days_not_saleable(3, 1) == 4
        for treatment, days in ((0, 5), (-1, 5), (1, -1)):
            with pytest.raises(BadInput):
                days_not_saleable(treatment, days)
        row = labelled(withdrawal_days=21)
        assert withdrawal(row, D, True, 21).ends == D + timedelta(21)


class TestDegreeDays:
    def test_edges_of_temperature(self) -> None:
        assert float(degree_days(0.0, 10)) == 0
        assert float(degree_days(35.0, 1)) == 35
        assert float(degree_days(10.0, 0)) == 0
        assert days_needed(DegreeDays(70), 1.0) == 70
        assert interval_days(DegreeDays(70), 35.0) == 2
        assert interval_days(DegreeDays(3.3), 1.1) == 3  # 3 but for the last bit
        assert DegreeDays(500.0) == CASCADE_DEGREE_DAYS
        assert float(gathered([35.0, 0.0])) == 35
        for celsius in (-0.1, 35.1):
            with pytest.raises(OutOfRange):
                degree_days(celsius, 1)
        for celsius in (0.9, 35.1):
            with pytest.raises(OutOfRange):
                days_needed(DegreeDays(70), celsius)
            with pytest.raises(OutOfRange):
                interval_days(DegreeDays(70), celsius)
        for days in (-1.0, inf, nan):
            with pytest.raises(BadInput):
                degree_days(10.0, days)


def test_messages_list_only_the_spellings_that_are_taken() -> None:
    with pytest.raises(BadInput) as caught:
        quantities.strength(5, "%")
    assert "IU/mL, % w/w, mg/g, g/kg; not in %" in str(caught.value)


def test_a_line_from_memory_names_no_work() -> None:
    row = labelled()
    known = {"dose": "from memory", "system": "read", "avoid": "computed"}
    row = replace(row, known=known, sources=("A",))
    found = {f: line(row, "note", f, "said", f) for f in (*known, "none")}
    assert [one.sources for one in found.values()] == [(), ("A",), ("A",), ()]
    assert [one.rule for one in found.values()] == [*known.values(), "from memory"]
    built = replace(row, known={"dose": "".join(["from", " memory"])})
    assert line(built, "note", "dose", "said", "dose").sources == ()


def test_a_bath_in_flow_reads_as_one_line() -> None:
    """2 mg/L in 100 L is 0.2 g; 60 L/min for half an hour is 1800 L and 3.6 g, 0.12 g a minute."""
    tank, inflow = water(100, "L"), quantities.flow(1, "L/s")
    got = bath_in_flow(concentration(2, "mg/L"), tank, inflow, quantities.minutes(0.5, "h"))
    assert str(got) == "0.2 g at once and 3.6 g fed in (0.12 g a minute): 3.8 g"


def test_figures_that_can_not_be_are_named() -> None:
    for call, said in (
        (lambda: oxygen_fall_mg_l(60, 0, 10), "The volume must be above zero; 0 is not."),
        (lambda: oxygen_fall_mg_l(-1, 9, 10), "The oxygen used can not be -1; type 0 or more."),
        (lambda: minutes_of_oxygen(8, 5, 0, 9), "The oxygen used must be above zero; 0 is not."),
        (lambda: minutes_of_oxygen(-1, 5, 1, 9), "The oxygen can not be -1; type 0 or more."),
    ):
        with pytest.raises(BadInput) as caught:
            call()
        assert str(caught.value) == said
