"""Round B finished: every figure that was worked out for the four visits beforehand."""

from __future__ import annotations

import pytest

from core.errors import Refusal
from core.feeding.ramp import ammonia_from_feed_g
from core.practice import feeding_view, stock, treatments, water
from core.practice.dose_parts import Ask
from core.practice.treatments import Order
from core.records import read
from core.records.tables import FeedStep, Finding, OwnerStep, Sample, Slide, Treatment
from core.water import flow
from core.water.volume import box_l
from fixtures.demo import b1
from fixtures.demo.work import Work
from tests.demo.conftest import NOW, Demo, plus
from tests.demo.test_demo_figures_a import rechecks, treatment

# B1, the trout


def test_b1_water_at_inlet_and_outlet(demo: Demo) -> None:
    assert box_l(3000, 240, 80) == 57600
    assert round(demo.value("b1", "toxic ammonia"), 4) == 0.0018
    assert round(demo.value("b1", "oxygen saturation")) == 60
    holds = demo.value("b1", "oxygen this water can hold")
    assert round(100 * 10.1 / holds) == 96


def test_b1_load_and_flow(demo: Demo) -> None:
    mass = demo.value("b1", "biomass") / 1000
    assert mass == pytest.approx(992.0)
    assert round(flow.load_kg_m3(mass, 57600), 1) == 17.2
    assert round(flow.load_per_flow(mass, 18.0), 2) == 0.92
    assert round(flow.exchange_minutes(57600, 18.0)) == 53
    used = flow.oxygen_used_g_h(18.0, 10.1, 6.3)
    assert round(used) == 246
    assert round(flow.oxygen_use_mg_kg_h(used, mass)) == 248


def test_b1_feed_and_the_ammonia_it_makes(demo: Demo) -> None:
    assert round(demo.value("b1", "ration"), 2) == 1.60
    made = ammonia_from_feed_g(15_900, 0.43)
    assert demo.value("b1", "ammonia from food") == pytest.approx(made)
    assert round(flow.rise_in_flow_mg_l(made, 18.0), 1) == 0.4
    [held] = read.find(FeedStep, visit=demo.visit("b1"))
    assert (held.kind, held.grams) == ("hold", 7950.0)
    assert "0.80 %" in held.gate


def test_b1_sedation_of_food_fish(demo: Demo) -> None:
    assert demo.value("b1", "bath, agent") == pytest.approx(3.2)
    assert demo.value("b1", "bath, buffer") == pytest.approx(6.4)
    sedation = treatment(demo, "b1", "tricaine-sedation", "given here")
    assert sedation.withdrawal_until == plus(21)
    assert "Keep them apart" in sedation.withdrawal
    assert "kill them" in sedation.withdrawal


def test_b1_gills(demo: Demo) -> None:
    visit = demo.visit("b1")
    assert len(read.find(Slide, visit=visit)) == 10
    assert len(read.find(Finding, visit=visit, finding="thin_rods_gill")) == 8
    assert len(read.find(Finding, visit=visit, finding="clubbing")) == 8


def test_b1_chloramine_in_running_water(demo: Demo) -> None:
    bath = treatment(demo, "b1", "chloramine-t-salmonids", "prescribed")
    assert bath.amount == pytest.approx(1836.0)
    assert (bath.repeats, bath.interval_days) == (3, 2.0)
    assert bath.amount * bath.repeats == pytest.approx(5508.0)
    assert "864 g at once and 972 g fed in" in demo.figure("b1", "amount").working
    days = [s.day for s in read.find(OwnerStep, visit=demo.visit("b1"), origin=f"dose:{bath.id}:0")]
    assert days == [plus(0)]


def test_b1_standing_water_is_refused(demo: Demo) -> None:
    work = Work(demo.house, "b1", "ines", NOW)
    ready = treatments.prepare(demo.visit("b1"), b1.chloramine(work, flowing=False))
    assert ready.dosed is not None
    assert ready.dosed.amount.m_as("g") == pytest.approx(864.0)
    assert "fall by 4.3 mg/L" in " ".join(ready.refused)


def test_b1_enrofloxacin_is_stopped_with_its_rule(demo: Demo) -> None:
    ask = Ask("10 mg/kg/day", "medicated feed", ration="1 %")
    order = Order("prescribed", "enrofloxacin-feed", ask, demo.house.waters["b1"], reason="asked")
    assert "21 CFR 530.41" in " ".join(treatments.prepare(demo.visit("b1"), order).refused)
    assert rechecks(demo, "b1") == {7: "visit"}


# B2, the reef


def test_b2_water(demo: Demo) -> None:
    assert round(demo.value("b2", "toxic ammonia"), 4) == 0.0027
    assert round(demo.value("b2", "oxygen saturation")) == 92
    seen = water.view(demo.visit("b2"), demo.house.waters["b2"])
    assert seen.readings("here")["kh"].typed == "6.4 dKH"
    assert seen.last["kh"].typed == "7.6 dKH"


def test_b2_stock_and_ration(demo: Demo) -> None:
    seen = feeding_view.view(demo.visit("b2"), demo.house.waters["b2"])
    assert [round(line.stock.mean_weight_g) for line in seen.inputs.stock[:2]] == [62, 41]
    assert round(demo.value("b2", "biomass")) == 126
    assert round(demo.value("b2", "ration"), 1) == 2.1
    assert seen.worked.verdict is not None
    assert seen.worked.verdict.place == "inside"


def test_b2_bicarbonate_in_two_halves(demo: Demo) -> None:
    given = treatment(demo, "b2", "bicarbonate-buffer", "advised")
    assert round(given.amount, 1) == 22.5
    assert given.steps == 2
    assert rechecks(demo, "b2") == {8: "visit"}


def test_b2_copper_is_stopped(demo: Demo) -> None:
    ask = Ask("0.18 mg/L", "prolonged bath", product="copper-solution")
    order = Order("advised", "copper-marine", ask, demo.house.waters["b2"])
    assert "invertebrates" in treatments.prepare(demo.visit("b2"), order).gone_past


# B3, the dental rooms


def test_b3_water(demo: Demo) -> None:
    assert round(demo.value("b3", "toxic ammonia", "b3"), 4) == 0.0083
    assert round(demo.value("b3", "oxygen saturation", "b3")) == 83


def test_b3_the_fish_moved_and_the_display_lies_fallow(demo: Demo) -> None:
    assert stock.fish_here(demo.house.waters["b3"]) == ()
    moved = stock.fish_here(demo.house.waters["b3h"])
    assert sum(here.alive or 0 for here in moved) == 5
    said = " ".join(s.words for s in read.find(OwnerStep, visit=demo.visit("b3"), kind="do not"))
    assert f"{plus(42):%-d %B %Y}" in said


def test_b3_copper_in_three_parts(demo: Demo) -> None:
    copper = treatment(demo, "b3", "copper-marine", "dispensed")
    assert copper.system == demo.house.waters["b3h"]
    assert (round(copper.amount, 1), copper.amount_unit) == (32.4, "mL")
    assert copper.steps == 3
    days = [
        s.day
        for n in range(3)
        for s in read.find(OwnerStep, visit=demo.visit("b3"), origin=f"dose:{copper.id}:{n}")
    ]
    assert days == [plus(0), plus(1), plus(2)]
    told = read.find(OwnerStep, visit=demo.visit("b3"), origin=f"dose:{copper.id}:0")[0]
    assert "10.8 mL" in told.words
    assert rechecks(demo, "b3") == {4: "visit", 11: "visit"}


def test_b3_copper_is_refused_where_the_fish_are_not(demo: Demo) -> None:
    ask = Ask("0.18 mg/L", "prolonged bath", product="copper-solution")
    group = demo.house.fish["b3.clowns"]
    order = Order("dispensed", "copper-marine", ask, demo.house.waters["b3"], group=group)
    with pytest.raises(Refusal, match="hospital tank"):
        treatments.prepare(demo.visit("b3"), order)


# B4, the shop


def test_b4_water_comes_first(demo: Demo) -> None:
    assert 6 * 95 + 70 == 640
    assert round(demo.value("b4", "toxic ammonia"), 3) == 0.027
    assert demo.figure("b4", "verdict toxic_ammonia").unit == "act"
    assert round(demo.value("b4", "oxygen saturation")) == 84
    assert round(demo.value("b4", "losses of the stock"), 1) == 7.9
    steps = read.find(OwnerStep, visit=demo.visit("b4"), order="position")
    places = {s.words[:11]: s.position for s in reversed(steps)}
    assert places["Change 30 %"] < places["levamisole:"]


def test_b4_levamisole_tomorrow(demo: Demo) -> None:
    worms = read.find(Finding, visit=demo.visit("b4"), finding="camallanus")
    assert len(worms) == 3
    [bath] = read.find(Treatment, visit=demo.visit("b4"))
    assert bath.dose * 640 / 1000 == pytest.approx(1.28)
    assert round(bath.amount, 1) == 12.8
    assert bath.strength == "10 % w/w"
    assert (bath.starts, bath.repeats, bath.interval_days) == (plus(1), 2, 18.0)
    assert bath.off_hours == 24.0


def test_b4_the_locked_tanks_are_kept_with_their_reason(demo: Demo) -> None:
    [missed] = read.find(Sample, visit=demo.visit("b4"), got=False)
    assert "locked room" in missed.why
