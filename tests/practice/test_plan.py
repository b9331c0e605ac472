"""The plan: the doses of the demonstration through the practice's own functions, and its stops."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from core.errors import BadInput, Refusal
from core.practice import (
    corrections,
    moves,
    plan,
    plan_rechecks,
    plan_steps,
    recipient,
    setup,
    treatment_said,
    treatments,
)
from core.practice.corrections import Correction
from core.practice.dose_parts import Ask
from core.practice.keep import figures
from core.practice.moves import Moved
from core.practice.problem_list import name_problem
from core.practice.treatments import Order, order_treatment, prepare
from core.records import read
from core.records.journal import edit
from core.records.keys import new_key
from core.records.tables import FeedStep, Handling, OwnerStep, Recheck, System, Treatment, Weighing
from core.scheduling.rechecks import Window
from tests.practice.plan_cases import MOMENT, Case, D, case, with_ask


def kept(treatment_id: str) -> Treatment:
    return read.one(Treatment, treatment_id)


# A3, the goldfish pond.


@pytest.fixture
def pond(records: Path) -> Case:
    made = case(volume_error_percent=10.0, plants="no")
    made.read(temperature=17.0, ph=8.0, nitrite=0.60, chloride=18.0, oxygen=8.0, ammonia=0.4)
    return made


def praziquantel(pond: Case, **more: Any) -> Order:
    order = pond.order(
        "praziquantel-prolonged",
        "2 mg/L",
        "prolonged bath",
        product="praziquantel-powder",
        repeats=2,
        interval_days=8,
        off_hours=48.0,
    )
    return replace(order, **more)


def test_praziquantel_for_the_pond_with_its_real_level_and_second_dose(pond: Case) -> None:
    ready = prepare(pond.visit, praziquantel(pond))
    assert ready.dosed is not None
    assert str(ready.dosed.amount) == "6.78 g"
    assert any("1.818 to 2.222 mg/L" in said for said in ready.dosed.said)
    assert ready.days == (D, D + timedelta(8))
    assert str(ready.total) == "13.56 g"
    row = kept(order_treatment(pond.act, pond.visit, praziquantel(pond)))
    assert (round(row.amount, 6), row.amount_unit) == (6.78, "g")
    working = figures(pond.visit, row.id)["amount"].working
    for part in ("concentration 2 mg/L", "water 3390 L", "3051 to 3729 L", "outside"):
        assert part in working


def test_salt_against_nitrite(pond: Case) -> None:
    wanted = Correction("advised", pond.system, "nitrite")
    row = kept(corrections.correct_water(pond.act, pond.visit, wanted))
    assert round(row.amount) == 458
    assert (round(row.dose), row.dose_unit) == (82, "mg/L chloride")
    assert row.act == "advised"


def test_owner_is_offered_what_goes_with_a_bath_and_when_it_is_over(pond: Case) -> None:
    order_treatment(pond.act, pond.visit, praziquantel(pond))
    offers = plan_steps.offers(pond.visit, pond.system)
    goes = [o for o in offers if o.origin.startswith("goes:")]
    assert [o.day for o in goes] == [D, D + timedelta(8)]
    assert "UV, ozone and skimmer off, carbon out, extra air on" in goes[0].words
    assert "as before after 48 h." in goes[0].words
    again = [o for o in offers if o.origin.startswith("again:")]
    assert [o.day for o in again] == [D + timedelta(2), D + timedelta(10)]
    assert again[0].words == (
        "UV, ozone and skimmer on again, fresh carbon in: 48 h after the praziquantel."
    )
    second = [o for o in offers if o.origin.startswith("dose:")]
    assert [o.day for o in second] == [D + timedelta(8)]
    assert "6.78 g of praziquantel powder" in second[0].words


def test_an_injection_is_diluted_under_five_marks(pond: Case) -> None:
    fish = setup.add_group(pond.act, pond.system, "goldfish", "Biscuit", single=True)
    with edit("fish", who=pond.act.by, at=MOMENT, visit=pond.visit) as doing:
        doing.add(
            Handling(
                id=new_key(),
                visit=pond.visit,
                system=pond.system,
                group=fish,
                number=1,
                label="Biscuit",
                weight_g=238.0,
                at=MOMENT,
            )
        )
    order = pond.order(
        "ceftazidime-injection",
        "20 mg/kg",
        "injection IM",
        product="ceftazidime-made-up",
        group=fish,
        repeats=3,
        interval_days=3,
    )
    undecided = prepare(pond.visit, order)
    assert undecided.dosed is None
    assert undecided.why_not.startswith("0.0476 mL is only 4.8 marks of the 1 mL syringe. Dilute")
    with pytest.raises(Refusal, match="Say how it is drawn"):
        order_treatment(pond.act, pond.visit, order)
    order = with_ask(order, diluted=True)
    ready = prepare(pond.visit, order)
    assert ready.dosed is not None
    assert ready.ask.weight == "238 g"
    assert str(ready.dosed.amount) == "0.19 mL"
    assert "wanted 0.1904 mL, error -0.2 %" in " ".join(ready.dosed.said)
    assert "25 mg/mL, made 1 in 4 from 100 mg/mL" in ready.dosed.strength
    assert ready.days == (D, D + timedelta(3), D + timedelta(6))
    order_treatment(pond.act, pond.visit, order)
    ours = plan.view(pond.visit, pond.system).recheck_offers
    again = [o.window.target for o in ours if o.origin.startswith("repeat:")]
    assert again == [D + timedelta(3), D + timedelta(6)]
    ends = [o.window.target for o in ours if ":course_end_fish:" in o.origin]
    assert ends == [D + timedelta(6 + 3), D + timedelta(6 + 17)]
    assert "Biscuit: dose 2" in ours[0].reason
    steps = plan_steps.offers(pond.visit, pond.system)
    assert not any(o.origin.startswith("dose:") for o in steps)


# A2, the soft-water tank with shrimp.


def test_no_salt_and_no_copper_with_shrimp(records: Path) -> None:
    tank = case("soft_water", 235.0, "neon_tetra", 30, invertebrates="yes", plants="yes")
    tank.read(temperature=26.0, ph=5.9, kh=9.0, ammonia=3.0, oxygen=7.2)
    with pytest.raises(Refusal, match="shrimp"):
        corrections.correct_water(
            tank.act, tank.visit, Correction("advised", tank.system, "salt", 1)
        )
    copper = tank.order("copper-fresh", "0.1 mg/L", "prolonged bath")
    ready = prepare(tank.visit, copper)
    assert {"invertebrates", "alkalinity"} <= set(ready.gone_past)
    with pytest.raises(Refusal):
        order_treatment(tank.act, tank.visit, copper)
    assert read.find(Treatment) == ()
    words = [o.words for o in plan_steps.offers(tank.visit, tank.system)]
    assert any(w.startswith("Change 15 % a day, not more") for w in words)
    assert any(w.startswith("Do NOT raise the pH") for w in words)
    kinds = {o.words: o.kind for o in plan_steps.offers(tank.visit, tank.system)}
    assert kinds[next(w for w in words if w.startswith("Do NOT"))] == "do not"


# B1, the raceway of food fish.


@pytest.fixture
def raceway(records: Path) -> Case:
    made = case(
        "trout_flowing",
        57_600.0,
        "rainbow_trout",
        3200,
        flow="flowing",
        flow_l_s=18.0,
        food_fish=True,
    )
    made.read("inlet", oxygen=10.1, ammonia=0.03)
    made.read("outlet", temperature=12.0, ph=7.3, oxygen=6.3, ammonia=0.42)
    return made


def chloramine(raceway: Case, **more: Any) -> Order:
    return raceway.order(
        "chloramine-t-salmonids",
        "15 mg/L",
        "bath",
        product="chloramine-t-powder",
        flow="18 L/s",
        minutes="60 min",
        repeats=3,
        interval_days=2,
        **more,
    )


def test_chloramine_t_is_reckoned_for_running_water(raceway: Case) -> None:
    ready = prepare(raceway.visit, chloramine(raceway))
    assert ready.dosed is not None
    assert ready.dosed.flow is not None
    assert str(ready.dosed.flow.fill) == "864 g"
    assert str(ready.dosed.flow.feed_in) == "972 g"
    assert str(ready.dosed.amount) == "1836 g"
    assert str(ready.total) == "5508 g"
    assert ready.days == (D, D + timedelta(2), D + timedelta(4))
    assert ready.refused == ()
    row = kept(order_treatment(raceway.act, raceway.visit, chloramine(raceway)))
    assert row.withdrawal_until == D + timedelta(4)  # Zero days after the last of the course.


def test_the_same_bath_standing_is_refused_by_the_fall_of_oxygen(raceway: Case) -> None:
    still = replace(chloramine(raceway), reason="the farmer wants it")
    still = with_ask(still, flow="")
    with pytest.raises(Refusal, match=r"fall by 4\.3 mg/L, from 6\.3 to under the limit of 5\.5"):
        order_treatment(raceway.act, raceway.visit, still)


def test_a_standing_bath_is_not_taken_on_trust_when_the_oxygen_is_not_known(records: Path) -> None:
    made = case("trout_flowing", 57_600.0, "rainbow_trout", 3200, flow="flowing", flow_l_s=18.0)
    order = with_ask(chloramine(made), flow="")
    with pytest.raises(Refusal, match="measure oxygen at inlet and outlet"):
        order_treatment(made.act, made.visit, order)


def test_enrofloxacin_is_refused_in_food_fish_whatever_the_reason(raceway: Case) -> None:
    for key, dose, route in (
        ("enrofloxacin-injection", "10 mg/kg", "injection IM"),
        ("enrofloxacin-feed", "10 mg/kg/day", "medicated feed"),
        ("enrofloxacin-bath", "5 mg/L", "bath"),
    ):
        order = raceway.order(key, dose, route, reason="asked for", withdrawal_days=60)
        with pytest.raises(Refusal, match=r"21 CFR 530\.41"):
            order_treatment(raceway.act, raceway.visit, order)


def test_sedation_in_hand_sets_a_withdrawal(raceway: Case) -> None:
    fish = Handling(
        id=new_key(),
        visit=raceway.visit,
        system=raceway.system,
        number=1,
        label="ten trout",
        count=10,
        agent="tricaine methanesulfonate (MS-222)",
        agent_mg_l=80.0,
        bath_l=40.0,
        at=MOMENT,
    )
    with edit("fish", who=raceway.act.by, at=MOMENT, visit=raceway.visit) as doing:
        doing.add(fish)
    view = plan.view(raceway.visit, raceway.system)
    assert view.withdrawal is not None
    assert view.withdrawal.ends == D + timedelta(21)
    assert view.withdrawal.sentence.startswith("ten trout: tricaine")


def test_an_unknown_withdrawal_stops_until_the_vet_sets_it(raceway: Case) -> None:
    order = raceway.order(
        "praziquantel-tapeworm", "1 mg/L", "bath", flow="18 L/s", minutes="60 min", reason="known"
    )
    with pytest.raises(Refusal, match="withdrawal"):
        order_treatment(raceway.act, raceway.visit, order)
    row = kept(order_treatment(raceway.act, raceway.visit, replace(order, withdrawal_days=30)))
    assert row.withdrawal_until == D + timedelta(30)
    assert "set by the veterinarian" in row.withdrawal


# B2 and B3, sea water.


def test_bicarbonate_for_the_net_volume_in_two_halves(records: Path) -> None:
    reef = case("marine_reef", 470.0, "yellow_tang", 1, invertebrates="yes")
    reef.read(temperature=25.6, ph=8.1, salinity=34.8, kh=6.4 * 17.848)
    wanted = Correction("advised", reef.system, "alkalinity", 8 * 17.848)
    row = kept(corrections.correct_water(reef.act, reef.visit, wanted))
    assert round(row.amount, 1) == 22.5
    assert row.steps == 2
    assert [d.day for d in treatment_said.days_of(row)] == [25, 26]
    hurried = replace(wanted, parts=1)
    with pytest.raises(Refusal, match="25 mg/L of alkalinity a day"):
        corrections.correct_water(reef.act, reef.visit, hurried)
    copper = reef.order("copper-marine", "0.18 mg/L", "prolonged bath")
    with pytest.raises(Refusal, match="corals"):
        order_treatment(reef.act, reef.visit, copper)


def test_a_dose_follows_the_fish_to_the_water_they_are_in(records: Path) -> None:
    display = case("marine_fish_only", 1150.0, "clownfish", 5)
    tank = setup.add_system(
        display.act,
        display.site,
        "hospital tank",
        "hospital_marine",
        volume_l=180.0,
        plants="no",
        invertebrates="no",
    )
    moved = Moved(display.group, display.system, tank, D, 5)
    moves.add_move(display.act, display.visit, moved)
    order = display.order(
        "copper-marine",
        "0.18 mg/L",
        "prolonged bath",
        product="copper-solution",
        steps=3,
        group=display.group,
        reason="kit test before each",
    )
    with pytest.raises(Refusal, match="not in the water any more, but in hospital tank"):
        order_treatment(display.act, display.visit, order)
    ready = prepare(display.visit, replace(order, system=tank))
    assert ready.dosed is not None
    assert str(ready.dosed.amount) == "32.4 mL"
    assert [str(p) for p in ready.dosed.parts] == ["10.8 mL"] * 3
    assert ready.days == (D, D + timedelta(1), D + timedelta(2))
    row = kept(order_treatment(display.act, display.visit, replace(order, system=tank)))
    assert "10.8 mL of copper solution" in treatment_said.each_words(row)


def test_copper_counted_as_copper_is_not_taken_for_copper_sulfate(records: Path) -> None:
    pond = case()
    pond.read(kh=120.0, oxygen=8.0)
    order = pond.order("copper-fresh", "1 mg/L", "prolonged bath", product="copper-solution")
    assert "counts copper" in prepare(pond.visit, order).why_not


# B4, the rack.


def test_levamisole_powder_and_its_repeat(records: Path) -> None:
    rack = case("tropical_fresh", 640.0, "platy", 129)
    order = rack.order(
        "levamisole-bath",
        "2 mg/L",
        "bath",
        product="levamisole-powder",
        repeats=2,
        interval_days=18,
        act="dispensed",
        directions="siphon the floor after 24 h",
    )
    row = kept(order_treatment(rack.act, rack.visit, order))
    assert (round(row.amount, 6), row.amount_unit) == (12.8, "g")
    assert treatment_said.days_of(row) == (D, D + timedelta(18))
    assert treatment_said.days_of(row)[1] == date(2026, 12, 13)
    doses = [o for o in plan_steps.offers(rack.visit, rack.system) if o.origin.startswith("dose:")]
    assert [o.day for o in doses] == [D, D + timedelta(18)]


# What holds for every order.


@pytest.mark.parametrize("bare", ["2", "2.0", "2 %", "2 ppm", "", "two mg/L"])
def test_a_bare_number_never_gives_a_dose(pond: Case, bare: str) -> None:
    order = with_ask(praziquantel(pond), dose=bare)
    assert prepare(pond.visit, order).dosed is None
    with pytest.raises(Refusal):
        order_treatment(pond.act, pond.visit, order)
    assert read.find(Treatment) == ()


@pytest.mark.parametrize(
    ("field", "bare"), [("volume", "3390"), ("strength", "100"), ("strength", "100 %")]
)
def test_bare_volumes_and_strengths_give_no_dose_either(pond: Case, field: str, bare: str) -> None:
    order = with_ask(praziquantel(pond), **{field: bare})
    with pytest.raises(Refusal):
        order_treatment(pond.act, pond.visit, order)


def test_only_a_veterinarian_orders_a_treatment(pond: Case) -> None:
    with pytest.raises(Refusal, match="Only a veterinarian"):
        order_treatment(pond.technician, pond.visit, praziquantel(pond))
    wanted = Correction("advised", pond.system, "nitrite")
    with pytest.raises(Refusal, match="Only a veterinarian"):
        corrections.correct_water(pond.technician, pond.visit, wanted)


def test_outside_the_range_needs_a_reason_that_is_kept(pond: Case) -> None:
    order = with_ask(praziquantel(pond), dose="4 mg/L")
    with pytest.raises(Refusal, match="over the highest of the source, 2 mg/L"):
        order_treatment(pond.act, pond.visit, order)
    row = kept(
        order_treatment(pond.act, pond.visit, replace(order, reason="flukes that lived through 2"))
    )
    assert row.override == "flukes that lived through 2 (gone past: dose)"


def test_days_run_on_across_a_month_end_and_a_leap_day(records: Path) -> None:
    made = case(day=date(2028, 2, 27))
    order = made.order(
        "praziquantel-prolonged", "2 mg/L", "prolonged bath", repeats=3, interval_days=2
    )
    row = kept(order_treatment(made.act, made.visit, order))
    assert treatment_said.days_of(row) == (date(2028, 2, 27), date(2028, 2, 29), date(2028, 3, 2))


def test_a_course_starts_on_the_day_that_is_said(pond: Case) -> None:
    order = replace(praziquantel(pond), starts=D + timedelta(1))
    row = kept(order_treatment(pond.act, pond.visit, order))
    assert treatment_said.days_of(row) == (D + timedelta(1), D + timedelta(9))


def test_repeats_without_an_interval_are_refused(pond: Case) -> None:
    with pytest.raises(BadInput, match="how many whole days"):
        order_treatment(pond.act, pond.visit, replace(praziquantel(pond), interval_days=None))


def test_medicated_feed_asks_for_the_ration(records: Path) -> None:
    made = case("trout_flowing", 1000.0, "rainbow_trout", 100)
    with edit("weighing", who=made.act.by, at=MOMENT, visit=made.visit) as doing:
        doing.add(
            Weighing(
                id=new_key(),
                visit=made.visit,
                system=made.system,
                group=made.group,
                count=100,
                weight_g=100.0,
                at=MOMENT,
            )
        )
    order = made.order(
        "florfenicol-feed", "10 mg/kg/day", "medicated feed", strength="500 g/kg", group=made.group
    )
    assert prepare(made.visit, order).dosed is None
    fed = with_ask(order, ration="1 %")
    dosed = prepare(made.visit, fed).dosed
    assert dosed is not None
    # 10 kg of fish, 100 mg a day in 100 g of food, of a premix half of which is active.
    assert str(dosed.amount) == "0.2 g"
    assert "1000 mg/kg in the food, 100 g of it a day." in dosed.said


def test_a_struck_treatment_stays_with_its_reason(pond: Case) -> None:
    row = order_treatment(pond.act, pond.visit, praziquantel(pond))
    treatments.strike_treatment(pond.act, row, "the owner will not treat")
    assert read.find(Treatment, visit=pond.visit) == ()
    assert kept(row).struck == "the owner will not treat"


# The owner's steps.


def test_a_stop_rule_is_offered_from_the_start_and_taken_once(pond: Case) -> None:
    offers = plan_steps.offers(pond.visit, pond.system)
    stop = next(o for o in offers if o.kind == "stop")
    assert "555 0199" in stop.words
    plan_steps.take_steps(pond.act, pond.visit, pond.system, (stop.origin,))
    assert plan.view(pond.visit, pond.system).has_stop_rule
    assert stop not in plan_steps.offers(pond.visit, pond.system)


def test_all_offers_are_taken_at_once_in_their_order(pond: Case) -> None:
    offers = plan_steps.offers(pond.visit, pond.system)
    plan_steps.take_steps(pond.act, pond.visit, pond.system)
    taken = read.find(OwnerStep, order="position", visit=pond.visit)
    assert [s.words for s in taken] == [o.words for o in offers]
    assert plan_steps.offers(pond.visit, pond.system) == ()


def test_a_feeding_step_keeps_its_gate(pond: Case) -> None:
    step = FeedStep(
        id=new_key(),
        visit=pond.visit,
        system=pond.system,
        position=1,
        day=D + timedelta(7),
        grams=81.0,
        gate="Only if ammonia is under 0.25 mg/L N; otherwise stay and ring.",
    )
    with edit("feeding", who=pond.act.by, at=MOMENT, visit=pond.visit) as doing:
        doing.add(step)
    offer = next(
        o for o in plan_steps.offers(pond.visit, pond.system) if o.origin.startswith("feeding:")
    )
    assert offer.day == D + timedelta(7)
    assert offer.words == (
        "Feed 81 g a day. Only if ammonia is under 0.25 mg/L N; otherwise stay and ring."
    )


def test_a_step_is_changed_and_struck_in_words(pond: Case) -> None:
    key = plan_steps.add_step(pond.act, pond.visit, "watch", "the sore on the flank")
    plan_steps.change_step(pond.act, key, kind="do", words="photograph the sore", day=D)
    assert (read.one(OwnerStep, key).kind, read.one(OwnerStep, key).day) == ("do", D)
    plan_steps.strike_step(pond.act, key, "not needed")
    assert read.find(OwnerStep, visit=pond.visit) == ()
    with pytest.raises(BadInput):
        plan_steps.add_step(pond.act, pond.visit, "perhaps", "this")


# Rechecks.


def test_rechecks_are_offered_for_the_problem_and_the_temperature(pond: Case) -> None:
    name_problem(pond.act, pond.visit, pond.system, problem="gill_flukes", state="confirmed")
    offers = plan.view(pond.visit, pond.system).recheck_offers
    assert offers  # 17 °C lies between two rows: both are offered and say so.
    assert any("Not made for this temperature" in o.note for o in offers)
    pond.read(temperature=20.0)
    exact = plan.view(pond.visit, pond.system).recheck_offers
    assert [o.window.target for o in exact] == [D + timedelta(n) for n in (7, 14, 28)]
    taken = plan_rechecks.take_recheck(pond.act, pond.visit, pond.system, exact[0])
    row = read.one(Recheck, taken)
    assert (row.earliest, row.target, row.latest) == (
        D + timedelta(7),
        D + timedelta(7),
        D + timedelta(8),
    )
    assert exact[0].origin not in {
        o.origin for o in plan.view(pond.visit, pond.system).recheck_offers
    }


def test_a_recheck_is_changed_within_its_window(pond: Case) -> None:
    window = Window(D + timedelta(2), D + timedelta(2), D + timedelta(3))
    key = plan_rechecks.plan_recheck(
        pond.act,
        pond.visit,
        pond.system,
        reason="ring for three numbers",
        window=window,
        kind="phone",
    )
    later = Window(D + timedelta(7), D + timedelta(8), D + timedelta(9))
    plan_rechecks.change_recheck(pond.act, key, reason="scrape", window=later, kind="visit")
    assert read.one(Recheck, key).target == D + timedelta(8)
    with pytest.raises(BadInput, match="from earliest over target"):
        Window(D + timedelta(9), D + timedelta(8), D + timedelta(9))
    early = Window(*(D - timedelta(n) for n in (3, 2, 1)))
    with pytest.raises(BadInput, match="before the visit"):
        plan_rechecks.change_recheck(pond.act, key, reason="x", window=early, kind="visit")


@pytest.mark.parametrize(
    ("volume", "dose", "percent"),
    [("3390", "2", "100"), ("941.7", "1.85", "98"), ("12.5", "1.999", "10"), ("60000", "2", "33")],
)
def test_grams_are_those_of_an_exact_sum(pond: Case, volume: str, dose: str, percent: str) -> None:
    order = pond.order(
        "praziquantel-prolonged",
        f"{dose} mg/L",
        "prolonged bath",
        volume=f"{volume} L",
        strength=f"{percent} % w/w",
    )
    dosed = prepare(pond.visit, order).dosed
    assert dosed is not None
    exact = Decimal(volume) * Decimal(dose) / 1000 / (Decimal(percent) / 100)
    assert dosed.amount.unit == "g"
    assert dosed.amount.magnitude == pytest.approx(float(exact), rel=1e-12)


def test_the_ask_has_no_field_that_takes_a_bare_number() -> None:
    texts = {k for k, v in Ask.__annotations__.items() if v == "str"}
    assert {"dose", "strength", "weight", "volume", "flow", "minutes", "ration"} <= texts


def test_titrated_alkalinity_stands_for_the_kit(pond: Case) -> None:
    system = read.one(System, pond.system)
    pond.read(alkalinity=64.0)
    assert recipient.of_fish(pond.visit, system, ()).alkalinity_mg_l == 64.0
    pond.read(kh=50.0)
    assert recipient.of_fish(pond.visit, system, ()).alkalinity_mg_l == 64.0
