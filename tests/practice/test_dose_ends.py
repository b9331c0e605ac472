"""Doses in an order: liquids in running water, parts with their days, scoops, and both ends."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from core.errors import BadInput, Refusal
from core.practice import doses, plan_steps, treatment_words
from core.practice.dose_parts import Ask
from core.practice.doses import Dosed, work_out
from core.practice.medicines import catalogue, medicine
from core.practice.treatments import order_treatment, prepare
from core.records import read
from core.records.tables import Figure, Treatment
from tests.practice.plan_cases import D, case

BY_VOLUME = next(k for k, r in catalogue().items() if r.unit == "uL/L" and r.routes[0] == "bath")
DOSED = (
    "mg/L",
    "g/L",
    "uL/L",
    "mg/kg",
    "mg/kg/day",
    "ug/kg/day",
    "IU/kg",
    "mL/kg",
    "mg/kg feed",
    "g/kg feed",
)
"""Units of rows whose dose is worked out from water, fish or food."""
RUNNING = {"volume": "1000 L", "flow": "100 L/min", "minutes": "60 min"}


def worked(key: str, dose: str, **more: Any) -> Dosed:
    return work_out(medicine(key), Ask(dose, more.pop("route", medicine(key).routes[0]), **more))


class TestRunningWater:
    def test_a_liquid_by_volume_is_dripped(self) -> None:
        got = worked(BY_VOLUME, "170 uL/L", **RUNNING)
        assert str(got.amount) == "1190 mL"
        assert got.flow is not None
        assert [str(one) for one in (got.flow.fill, got.flow.feed_in)] == ["170 mL", "1020 mL"]
        assert "170 mL at once and 1020 mL fed in (17 mL a minute): 1190 mL." in got.said

    def test_microlitres_and_milligrams_stay_apart(self) -> None:
        with pytest.raises((BadInput, Refusal)):
            worked("chloramine-t-salmonids", "15 mg/L", strength="", **{**RUNNING, "flow": "15"})
        powder = worked("chloramine-t-salmonids", "15 mg/L", strength="100 % w/w", **RUNNING)
        assert str(powder.amount) == "105 g"
        liquid = worked("chloramine-t-salmonids", "15 mg/L", strength="10 % w/v", **RUNNING)
        assert str(liquid.amount) == "1050 mL"
        by_volume = worked(BY_VOLUME, "170 uL/L", strength="37 % w/w", **RUNNING)
        assert str(by_volume.amount) == "1190 mL"

    def test_both_ends_of_a_rough_volume_are_judged(self) -> None:
        for key, dose in ((BY_VOLUME, "170 uL/L"), ("chloramine-t-salmonids", "15 mg/L")):
            got = worked(key, dose, error_percent=10.0, **RUNNING)
            [said] = [line for line in got.said if "It may really be" in line]
            value, unit = dose.split()
            low, high = (float(value) / share for share in (1.1, 0.9))
            assert f"{low:.4g} to {high:.4g} {unit}" in said


class TestBothEnds:
    @pytest.mark.parametrize(
        ("key", "dose", "more"),
        [
            ("praziquantel-prolonged", "2 mg/L", {"volume": "1000 L"}),
            (BY_VOLUME, "170 uL/L", {"volume": "1000 L"}),
            ("enrofloxacin-injection", "10 mg/kg", {"weight": "2 kg", "strength": "25 mg/mL"}),
            ("enrofloxacin-injection", "10 mg/kg", {"weight": "2 kg"}),
            ("enrofloxacin-feed", "10 mg/kg/day", {"weight": "20 kg", "ration": "1 %"}),
        ],
    )
    def test_known_to_ten_per_cent_shows_both_and_judges_both(
        self, key: str, dose: str, more: dict[str, str]
    ) -> None:
        assert not any("may really be" in s for s in worked(key, dose, **more).said)
        said = [s for s in worked(key, dose, error_percent=10.0, **more).said if "really be" in s]
        value, unit = dose.split()
        assert len(said) == 1
        assert f"{float(value) / 1.1:.4g} to {float(value) / 0.9:.4g} {unit}" in said[0]
        assert any(word in said[0] for word in ("inside", "outside", "over it"))


class TestTheDecimalPoint:
    @pytest.mark.parametrize("key", [k for k, r in catalogue().items() if r.unit in DOSED])
    def test_ten_times_the_highest_of_any_row_is_a_slip(self, key: str) -> None:
        row = medicine(key)
        for times, far in ((10.0, True), (5.0, True), (4.9, False), (1.0, False)):
            asked = row.highest().scaled(times)
            if asked.magnitude <= asked.most:
                said, slip = doses._outside(row, asked, None)
                assert slip is far
                assert ("look where the decimal stands" in said) is far
                assert bool(said) is (times > 1)

    @pytest.mark.parametrize(
        ("dose", "where", "too_short"),
        [("20 mg/L", "past_stops", "yes"), ("4 mg/L", "past_cautions", "")],
    )
    def test_it_is_a_stop_and_twice_the_highest_a_caution(
        self, dose: str, where: str, too_short: str, records: Path
    ) -> None:
        pond = case()
        order = pond.order("praziquantel-prolonged", dose, "prolonged bath")
        assert "dose" in getattr(prepare(pond.visit, order), where)
        with pytest.raises(Refusal, match="eeds a reason"):
            order_treatment(pond.act, pond.visit, replace(order, reason=too_short))


class TestTheStrength:
    @pytest.mark.parametrize(
        ("strength", "far"),
        [("22.7 mg/mL", False), ("100 mg/mL", False), ("227 mg/mL", True), ("4 g/L", True)],
    )
    def test_one_far_from_all_on_record_is_a_stop(
        self, strength: str, far: bool, records: Path
    ) -> None:
        pond = case()
        asked = {"weight": "2 kg", "strength": strength}
        order = pond.order("enrofloxacin-injection", "10 mg/kg", "injection IM", **asked)
        ready = prepare(pond.visit, replace(order, group=pond.group))
        assert ("strength" in ready.past_stops) is far
        assert any("Read the bottle again" in said for said in ready.stops) is far

    def test_what_is_injected_counts_with_its_diluent(self) -> None:
        asked = {"weight": "6 g", "strength": "22.7 mg/mL", "route": "injection IM"}
        got = worked("enrofloxacin-injection", "5 mg/kg", **asked, diluted=True)
        ml_kg = got.amount.m_as("mL") / 0.006
        assert ml_kg > 1
        assert f"{got.amount} is more than the 1 mL/kg taken for injection IM" in got.too_small


class TestParts:
    SALT = "salt-prolonged"

    def test_the_row_puts_its_parts_forward(self) -> None:
        assert treatment_words.usual(self.SALT).ask.steps == 3
        assert treatment_words.usual("praziquantel-prolonged").ask.steps == 1

    def test_three_parts_add_up_and_say_what_is_reached(self) -> None:
        got = worked(self.SALT, "3 g/L", volume="1200 L", steps=3)
        assert [str(part) for part in got.parts] == ["1200 g"] * 3
        assert sum(part.m_as("g") for part in got.parts) == pytest.approx(got.amount.m_as("g"))
        assert "Reached after each: 1 g/L, 2 g/L, 3 g/L." in got.said
        assert got.stepped == ""

    @pytest.mark.parametrize(
        ("dose", "steps", "said"),
        [
            ("1 g/L", 1, "2 to 3 parts a day apart, not 1"),
            ("1 g/L", 4, "2 to 3 parts a day apart, not 4"),
            ("3.3 g/L", 2, "One part of 1.65 g/L is over 1.5 g/L"),
        ],
    )
    def test_other_parts_than_those_of_the_row_are_said(
        self, dose: str, steps: int, said: str
    ) -> None:
        assert said in worked(self.SALT, dose, volume="1200 L", steps=steps).stepped
        assert worked("praziquantel-prolonged", "2 mg/L", volume="1200 L", steps=4).stepped == ""

    def test_they_stand_in_the_plan_and_on_the_owners_days(self, records: Path) -> None:
        pond = case()
        order = pond.order(self.SALT, "3 g/L", "prolonged bath", act="dispensed", steps=3)
        order = replace(order, reason="worked out with the owner on the day of the visit")
        ready = prepare(pond.visit, order)
        assert ready.days == (D, D + timedelta(1), D + timedelta(2))
        assert not any("parts a day apart, not" in said for said in ready.reasons)
        at_once = prepare(pond.visit, replace(order, ask=replace(order.ask, steps=1)))
        assert any("parts a day apart, not 1" in said for said in at_once.reasons)
        key = order_treatment(pond.act, pond.visit, order)
        assert read.one(Treatment, key).steps == 3
        offers = plan_steps.offers(pond.visit, pond.system)
        days = [o.day for o in offers if o.origin.startswith(f"dose:{key}:")]
        assert days == [D, D + timedelta(1), D + timedelta(2)]


class TestScoops:
    def test_counted_for_what_is_given_at_one_time(self) -> None:
        got = worked(
            "salt-prolonged", "3 g/L", volume="1200 L", steps=3, strength="100 % w/w", scoop="250 g"
        )
        said = "Measure 4.75 x scoop of 250 g, level; wanted 1200 g, error -1.0 %."
        assert said in got.said
        assert got.too_small == ""

    def test_more_than_ten_per_cent_off_needs_a_reason(self) -> None:
        got = worked("salt-prolonged", "1 g/L", volume="100 L", strength="100 % w/w", scoop="1 kg")
        assert "more than 10 %" in got.too_small
        assert any("Measure 0 x scoop of 1 kg" in said for said in got.said)
        assert "Rounded by -100.0 %" in got.too_small

    def test_a_scoop_holds_product_of_its_own_kind(self) -> None:
        with pytest.raises(Refusal, match="A scoop holds product"):
            worked("salt-prolonged", "3 g/L", volume="1200 L", scoop="250 g")
        for scoop in ("5 mL", "5", "5 L/min"):
            with pytest.raises(BadInput):
                worked("salt-prolonged", "3 g/L", volume="1 m3", strength="100 % w/w", scoop=scoop)


def test_what_was_said_at_the_order_is_kept_with_it(records: Path) -> None:
    pond = case()
    pond.read(oxygen=8.0, temperature=15.0)
    order = pond.order("praziquantel-prolonged", "2 mg/L", "prolonged bath")
    order = replace(order, reason="flukes seen on the gill of every fish")
    ready = prepare(pond.visit, order)
    assert any("If air and flow stop" in note for note in ready.notes)
    key = order_treatment(pond.act, pond.visit, order)
    kept = read.one(Treatment, key)
    [amount] = read.find(Figure, subject=kept.id, name="amount")
    assert set(ready.notes) <= set(amount.working.splitlines())
