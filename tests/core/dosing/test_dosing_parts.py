"""Syringes, flowing water, anaesthesia, euthanasia, withdrawal, courses and labels."""

from __future__ import annotations

from dataclasses import fields, replace
from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest

from core.catalogue.load import table
from core.dosing.anaesthesia import (
    Depth,
    Euthanasia,
    FirstStep,
    SecondStep,
    close,
    minutes_to_stage,
    missing_before_closing,
    stages,
)
from core.dosing.course import dates, days_between, end, in_steps, moments, steps_no_larger_than
from core.dosing.flowing import minutes_of_oxygen, oxygen_fall_mg_l
from core.dosing.labels import ELEMENTS, Label, missing
from core.dosing.medicines import from_table
from core.dosing.quantities import active, body, concentration, dose, product, strength, water
from core.dosing.quantities import between as ranged
from core.dosing.syringe import (
    Syringe,
    choose,
    dilute,
    draw,
    over_route_limit,
    propose_dilution,
)
from core.dosing.syringe import (
    from_table as syringes,
)
from core.dosing.uncertain import dose_between, judge, level_between
from core.dosing.withdrawal import days_not_saleable, latest, withdrawal, withdrawal_end
from core.errors import BadInput, Refusal

ONE = Syringe("1 mL syringe", 1.0, 0.01)
MEDICINES = from_table(table("medicines"))
D = date(2026, 11, 25)
NOW = datetime(2026, 11, 25, 15, 30, tzinfo=UTC)


class TestSyringe:
    def test_worked_example(self) -> None:
        got = draw(product(0.163, "mL"), ONE)
        assert (got.drawn_ml, round(got.graduations, 1)) == (0.16, 16.3)
        assert got.error_percent == pytest.approx(-1.84, abs=0.01)
        assert str(got) == (
            "0.16 mL on 1 mL syringe, marks every 0.01 mL; wanted 0.163 mL, error -1.8 %"
        )

    def test_five_graduations_are_enough_and_less_are_not(self) -> None:
        assert not draw(product(0.05, "mL"), ONE).too_small
        assert draw(product(0.049, "mL"), ONE).too_small

    def test_too_much_for_the_syringe(self) -> None:
        assert draw(product(1, "mL"), ONE).drawn_ml == 1.0
        with pytest.raises(Refusal, match="does not go into 1 mL syringe"):
            draw(product(1.01, "mL"), ONE)

    def test_smallest_of_the_catalogue_that_holds_it(self) -> None:
        rack = syringes(table("syringes"))
        names = {ml: choose(product(ml, "mL"), rack).name for ml in (0.2, 0.4, 0.9, 2.5, 18)}
        assert names == {
            0.2: "0.3 mL insulin syringe, half units",
            0.4: "0.5 mL insulin syringe",
            0.9: "1 mL syringe",
            2.5: "3 mL syringe",
            18: "20 mL syringe",
        }
        with pytest.raises(Refusal, match="No syringe at hand holds 21 mL"):
            choose(product(21, "mL"), rack)

    def test_dilution_when_nothing_helps(self) -> None:
        with pytest.raises(Refusal, match="even diluted 1 in 100"):
            propose_dilution(product(0.0005, "mL"), strength(100, "mg/mL"), ONE)
        with pytest.raises(BadInput, match="1 in 1"):
            dilute(product(0.1, "mL"), strength(100, "mg/mL"), ONE, 1)
        with pytest.raises(Refusal, match="does not go into"):
            dilute(product(0.5, "mL"), strength(100, "mg/mL"), ONE, 4)

    def test_one_part_in_two_is_said_in_the_singular(self) -> None:
        got = dilute(product(0.1, "mL"), strength(100, "mg/mL"), ONE, 2)
        assert str(got).startswith("Dilute to 50 mg/mL (1 part product with 1 part diluent), ")

    def test_route_limits(self) -> None:
        routes: dict[str, Any] = table("routes")
        most = {k: row["most_ml_kg"] for k, row in routes.items() if "most_ml_kg" in row}
        koi = body(2, "kg")
        assert over_route_limit(product(2, "mL"), koi, "injection IM", most) is None
        said = over_route_limit(product(2.1, "mL"), koi, "injection IM", most)
        assert said is not None
        assert "at most 2 mL for 2 kg" in said
        assert over_route_limit(product(9, "mL"), koi, "injection ICe", most) is None
        said = over_route_limit(product(1, "mL"), koi, "injection IV", most)
        assert said == "No largest volume is on record for injection IV."

    def test_route_limits_take_a_volume_and_a_weight_only(self) -> None:
        litres: Any = water(2, "L")
        with pytest.raises(BadInput, match="a body weight"):
            over_route_limit(product(1, "mL"), litres, "injection IV", {})
        with pytest.raises(BadInput, match="a volume of product"):
            over_route_limit(litres, body(1, "kg"), "injection IV", {})

    @pytest.mark.parametrize(("capacity", "step"), [(1, 0), (1, 2), (0, 0), (1, -0.1)])
    def test_a_syringe_that_can_not_be(self, capacity: float, step: float) -> None:
        with pytest.raises(BadInput, match="marks"):
            Syringe("odd", capacity, step)


class TestFlowing:
    @pytest.mark.parametrize(
        ("used", "volume", "minutes"),
        [(246, 0, 60), (-1, 100, 60), (246, 100, -1), (float("nan"), 100, 60), (246, -5, 60)],
    )
    def test_fall_refuses_what_can_not_be(self, used: float, volume: float, minutes: float) -> None:
        with pytest.raises(BadInput):
            oxygen_fall_mg_l(used, volume, minutes)

    @pytest.mark.parametrize(
        "given", [(-1, 5, 10, 10), (8, -1, 10, 10), (8, 5, 0, 10), (8, 5, 10, 0)]
    )
    def test_minutes_refuse_what_can_not_be(self, given: tuple[float, ...]) -> None:
        with pytest.raises(BadInput):
            minutes_of_oxygen(*given)

    def test_worked_example(self) -> None:
        assert minutes_of_oxygen(8, 5, 60, 1000) == pytest.approx(3)


class TestUncertain:
    def test_both_ends_are_judged_in_words(self) -> None:
        said = {}
        for low, high in ((1, 3), (1.9, 3), (1, 2.1), (1.9, 2.1)):
            real = ranged(concentration(1.82, "mg/L"), concentration(2.22, "mg/L"))
            verdict = judge(real, concentration(low, "mg/L"), concentration(high, "mg/L"))
            said[low, high] = str(verdict).rsplit(": ", 1)[1]
        assert list(said.values()) == [
            "both ends are inside.",
            "the low end is outside.",
            "the high end is outside.",
            "both ends are outside.",
        ]

    def test_a_single_value_of_the_source_is_said_as_such(self) -> None:
        two = concentration(2, "mg/L")
        said = judge(ranged(two, two), two, concentration(2, "mg/L"))
        assert said.low_inside
        assert said.high_inside
        assert "the source gives 2 mg/L alone" in said.sentence

    def test_units_of_the_limits_may_differ(self) -> None:
        real = ranged(concentration(1, "g/L"), concentration(3, "g/L"))
        said = judge(real, concentration(1000, "mg/L"), concentration(2000, "mg/L"))
        assert (said.low_inside, said.high_inside) == (True, False)

    def test_a_range_is_wanted(self) -> None:
        not_a_range: Any = water(2, "L")
        with pytest.raises(BadInput, match="A range is wanted"):
            level_between(active(1, "g"), not_a_range)
        with pytest.raises(BadInput, match="A range is wanted"):
            dose_between(product(1, "mL"), strength(1, "mg/mL"), not_a_range)
        weights: Any = ranged(body(1, "kg"), body(2, "kg"))
        with pytest.raises(BadInput, match="No figure"):
            level_between(active(1, "g"), weights)
        with pytest.raises(BadInput, match="No figure"):
            judge(ranged(dose(1, "mg/kg"), dose(2, "mg/kg")), *weights)


class TestAnaesthesia:
    def test_stages_come_from_the_catalogue_with_the_name_of_their_scale(self) -> None:
        depth = table("anaesthesia")["depth"]
        got = stages(depth["stages"], depth["scale"], depth["source"])
        assert [stage.number for stage in got] == [1, 2, 3, 4, 5, 6]
        assert got[4].name == "full loss of balance and tone"
        assert {stage.scale for stage in got} == {"anaesthesia 1 to 6"}
        assert {source for stage in got for source in stage.sources} <= set(table("sources"))

    def test_minutes_to_a_stage(self) -> None:
        log = [Depth(NOW + timedelta(seconds=s), stage) for s, stage in ((60, 2), (150, 4))]
        assert minutes_to_stage(NOW, log, 3) == pytest.approx(2.5)
        assert minutes_to_stage(NOW, log, 2) == pytest.approx(1)
        assert minutes_to_stage(NOW, log, 5) is None
        with pytest.raises(BadInput, match="earlier"):
            minutes_to_stage(NOW + timedelta(minutes=5), log, 3)

    def test_sources_of_the_wait_are_all_there(self) -> None:
        rows = table("anaesthesia")["euthanasia"]
        assert [row["minutes"] for row in rows["waits"]] == [10, 30, 60, 240]
        assert rows["default_wait_minutes"] == 60
        assert {s for row in rows["waits"] for s in row["sources"]} <= set(table("sources"))


DONE = Euthanasia(
    patient="koi, white with red",
    consent_of="Casimir Dunnock",
    first=FirstStep("tricaine", "10 g in 25 L", NOW, NOW + timedelta(minutes=6)),
    second=SecondStep("pithing", NOW + timedelta(minutes=36), "Vet Marlo Tregg"),
    signs_of_death=frozenset({"no opercular movement"}),
    confirmed_by="Vet Marlo Tregg",
)


class TestEuthanasia:
    def test_a_full_record_closes(self) -> None:
        assert missing_before_closing(DONE, 30) == ()
        assert close(DONE, 30) is DONE

    @pytest.mark.parametrize(
        ("change", "named"),
        [
            ({"second": None}, "the second step"),
            (
                {"second": SecondStep("  ", NOW + timedelta(minutes=40), "x")},
                "the second step",
            ),
            (
                {"second": SecondStep("pithing", NOW + timedelta(minutes=40), "")},
                "who did the second step",
            ),
            ({"first": None}, "the first step"),
            ({"first": FirstStep("tricaine", "10 g", NOW)}, "the moment of the last opercular"),
            ({"consent_of": " "}, "whose consent"),
            ({"signs_of_death": frozenset()}, "the signs of death"),
            ({"confirmed_by": ""}, "who confirmed death"),
            (
                {"second": SecondStep("pithing", NOW + timedelta(minutes=35), "x")},
                "30 minutes from the last opercular beat",
            ),
            (
                {"first": FirstStep("tricaine", "10 g", NOW, NOW - timedelta(minutes=1))},
                "30 minutes from the last opercular beat",
            ),
        ],
    )
    def test_nothing_may_be_empty(self, change: dict[str, Any], named: str) -> None:
        record = replace(DONE, **change)
        assert any(named in lack for lack in missing_before_closing(record, 30))
        with pytest.raises(Refusal, match=named):
            close(record, 30)

    def test_the_wait_is_that_of_the_practice(self) -> None:
        assert close(DONE, 10) is DONE
        with pytest.raises(Refusal, match="60 minutes"):
            close(DONE, 60)
        for wait in (-1, float("nan")):
            with pytest.raises(BadInput, match="A wait of"):
                close(DONE, wait)


class TestWithdrawal:
    def test_worked_examples(self) -> None:
        """Ten days of treatment and 21 of withdrawal: 31 days not saleable (VM-70)."""
        assert days_not_saleable(10, 21) == 31
        assert withdrawal_end(date(2026, 12, 20), 21) == date(2027, 1, 10)
        assert withdrawal_end(D, 0) == D

    def test_approved_medicine(self) -> None:
        got = withdrawal(MEDICINES["florfenicol-feed"], D, True)
        assert got.ends == date(2026, 12, 10)
        assert "15 days of withdrawal (read), over on 2026-12-10" in got.sentence
        memory = withdrawal(MEDICINES["chloramine-t-salmonids"], D, True)
        assert "0 days of withdrawal (from memory)" in memory.sentence

    def test_not_known_for_food_fish_stops(self) -> None:
        for food_fish in (True, None):
            with pytest.raises(Refusal, match="not known for food fish"):
                withdrawal(MEDICINES["praziquantel-prolonged"], D, food_fish)
        assert withdrawal(MEDICINES["praziquantel-prolonged"], D, True, 30).ends == D + timedelta(
            30
        )

    def test_never_in_food_fish(self) -> None:
        for key in ("metronidazole-feed", "alfaxalone-anaesthesia", "levamisole-feed"):
            with pytest.raises(Refusal, match="Choose another"):
                withdrawal(MEDICINES[key], D, True, 365)

    def test_fish_that_are_not_food_have_none(self) -> None:
        got = withdrawal(MEDICINES["metronidazole-feed"], D, False)
        assert got.ends is None
        assert got.sentence == "Not food fish: never to be eaten or sold as food."

    def test_days_set_are_never_below_those_of_the_label(self) -> None:
        sedation = MEDICINES["tricaine-sedation"]
        assert withdrawal(sedation, D, True, 28).ends == D + timedelta(28)
        assert "set by the veterinarian" in withdrawal(sedation, D, True, 28).sentence
        with pytest.raises(BadInput, match="less than the 21"):
            withdrawal(sedation, D, True, 20)

    def test_the_latest_counts(self) -> None:
        sedated = withdrawal(MEDICINES["tricaine-sedation"], D, True)
        bathed = withdrawal(MEDICINES["chloramine-t-salmonids"], D + timedelta(4), True)
        none = withdrawal(MEDICINES["praziquantel-prolonged"], D, False)
        assert latest([bathed, sedated, none]) is sedated
        assert latest([none]) is None
        assert latest([]) is None

    def test_what_can_not_be(self) -> None:
        truth: Any = True
        for days in (-1, truth):
            with pytest.raises(BadInput):
                withdrawal_end(D, days)
        for given in ((0, 21), (10, -1)):
            with pytest.raises(BadInput):
                days_not_saleable(*given)


class TestCourse:
    def test_dates_across_a_month_end(self) -> None:
        assert dates(D, 3, 3) == (D, date(2026, 11, 28), date(2026, 12, 1))
        assert dates(D, 7, 1) == (D,)

    def test_by_the_hour_across_a_change_of_clocks(self) -> None:
        assert moments(NOW, 12, 3)[-1] == NOW + timedelta(hours=24)
        with pytest.raises(BadInput, match="time zone"):
            moments(NOW.replace(tzinfo=None), 12, 3)

    def test_hours_that_are_whole_days(self) -> None:
        assert [days_between(h) for h in (24, 72, 336)] == [1, 3, 14]
        for hours in (12, 0, 36, -24):
            with pytest.raises(BadInput, match="whole days"):
                days_between(hours)

    def test_what_can_not_be(self) -> None:
        for every, times in ((0, 3), (3, 0), (-1, 1)):
            with pytest.raises(BadInput):
                dates(D, every, times)
            with pytest.raises(BadInput):
                moments(NOW, every, times)
        with pytest.raises(BadInput):
            in_steps(active(1, "g"), 0)
        with pytest.raises(BadInput):
            end(D, -1)
        with pytest.raises(BadInput):
            steps_no_larger_than(active(1, "g"), water(1, "L"))

    def test_fewest_equal_steps(self) -> None:
        got = steps_no_larger_than(active(22.5, "g"), active(12_000, "mg"))
        assert [str(step) for step in got] == ["11.25 g", "11.25 g"]
        assert len(steps_no_larger_than(active(10, "g"), active(5, "g"))) == 2
        assert len(steps_no_larger_than(active(10, "g"), active(50, "g"))) == 1


FULL = Label(
    veterinarian="Vet Marlo Tregg",
    address="1 Weir Lane",
    telephone="555 0100",
    pharmacy_used=True,
    pharmacy="Bridge Pharmacy",
    pharmacy_address="2 Weir Lane",
    medicines=("levamisole hydrochloride",),
    strength="10 % by weight",
    quantity="25.6 g",
    client="Corner Aquatics",
    species="platy",
    animals="quarantine rack",
    dose="12.8 g in 640 L",
    frequency="once, again after 18 days",
    route="bath",
    duration="24 h",
    cautions=("gloves",),
    food_fish=False,
    withdrawal="",
    dispensed=D,
    batch="invented 1",
    expiry=date(2027, 5, 1),
    approved_by="Vet Marlo Tregg",
    number="D-0031",
)


class TestLabel:
    def test_a_full_label_lacks_nothing(self) -> None:
        assert missing(FULL) == ()

    @pytest.mark.parametrize("element", ELEMENTS, ids=lambda element: element.field)
    def test_removing_each_element_names_it(self, element: Any) -> None:
        label = replace(FULL, food_fish=True, withdrawal="21 days")
        assert missing(label) == ()
        empty = getattr(Label(), element.field)
        assert missing(replace(label, **{element.field: empty})) == (
            f"{element.words} ({element.rule})",
        )

    def test_blanks_do_not_count(self) -> None:
        assert missing(replace(FULL, client="  ")) == (
            "name of the client (Texas rule 573.40, as one State's example)",
        )
        for names in ((), ("",), ("levamisole", " ")):
            assert len(missing(replace(FULL, medicines=names))) == 1

    def test_withdrawal_unless_known_not_to_be_food(self) -> None:
        for food_fish in (True, None):
            assert missing(replace(FULL, food_fish=food_fish)) == (
                "withdrawal time (21 CFR 530.12 (text of 2026-04-05))",
            )

    def test_a_pharmacy_only_when_one_is_used(self) -> None:
        own = replace(FULL, pharmacy_used=False, pharmacy="", pharmacy_address="")
        assert missing(own) == ()

    def test_an_empty_label_lacks_everything(self) -> None:
        asked = [e for e in ELEMENTS if not e.field.startswith("pharmacy")]
        assert len(missing(Label())) == len(asked)
        assert {e.field for e in ELEMENTS} <= {f.name for f in fields(Label)}
        assert {e.source for e in ELEMENTS} <= set(table("sources"))
