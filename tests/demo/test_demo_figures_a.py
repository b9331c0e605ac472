"""Round A finished: every figure that was worked out for the four visits beforehand."""

from __future__ import annotations

import pytest

from core.errors import Refusal
from core.practice import (
    antimicrobial,
    assessment,
    feeding_plan,
    feeding_view,
    in_hand,
    problem_list,
    treatments,
    water,
)
from core.practice.dose_parts import Ask
from core.practice.in_hand_clock import FIRST, SECOND
from core.practice.treatments import Order
from core.records import read
from core.records.tables import (
    DepthMark,
    FeedStep,
    Figure,
    Finding,
    Food,
    Handling,
    OwnerStep,
    Recheck,
    Sample,
    SentTest,
    Treatment,
    Visit,
)
from core.water.ammonia import unionised_ammonia_mg_l
from core.water.exchange import concentration_after
from core.water.nitrogen import from_nitrogen
from core.water.volume import box_l, ellipse_l
from tests.demo.conftest import D, Demo, plus


def rechecks(demo: Demo, key: str) -> dict[int, str]:
    """Return the kinds of the planned rechecks by the days until them."""
    rows = read.find(Recheck, visit=demo.visit(key))
    return {(r.target - D).days: r.kind for r in rows}


def treatment(demo: Demo, key: str, medicine: str, act: str) -> Treatment:
    [found] = read.find(Treatment, visit=demo.visit(key), medicine=medicine, act=act)
    return found


# A1, the hotel


def test_a1_water(demo: Demo) -> None:
    assert round(box_l(520, 240, 75)) == 9360
    # The reading is kept as under the step; at the step itself the toxic part would be this.
    assert round(demo.value("a1", "toxic ammonia"), 4) == 0.0045
    assert round(demo.value("a1", "oxygen saturation")) == 93
    # The reference says 5.7; its own formula gives 5.4 at 22.0 degrees, pH 7.6, alkalinity 110.
    assert round(demo.value("a1", "carbon dioxide"), 1) == 5.4
    seen = water.view(demo.visit("a1"), demo.house.waters["a1"])
    assert seen.readings("here")["ammonia"].below


def test_a1_lengths_give_the_biomass_and_the_ration(demo: Demo) -> None:
    seen = feeding_view.view(demo.visit("a1"), demo.house.waters["a1"])
    weights = [round(line.stock.mean_weight_g) for line in seen.inputs.stock]
    assert weights == [605, 1002, 1539]
    assert {line.how for line in seen.inputs.stock} == {"from length"}
    assert round(demo.value("a1", "biomass") / 1000, 2) == 14.59
    assert round(demo.value("a1", "ration"), 2) == 0.31
    assert demo.value("a1", "to feed") == 117.0


def test_a1_the_rise_has_four_gated_steps(demo: Demo) -> None:
    steps = read.find(FeedStep, visit=demo.visit("a1"), order="position")
    assert [s.grams for s in steps] == [63.0, 81.0, 99.0, 117.0]
    assert [s.day for s in steps] == [plus(7 * n) for n in range(4)]
    for step in steps:
        for part in ("ammonia is under 0.25", "nitrite under 0.1", "5 min", "no new deaths"):
            assert part in step.gate
    made = [round(demo.value("a1", f"ammonia, step {n}"), 2) for n in (1, 2, 3, 4)]
    assert made == [2.20, 2.83, 3.46, 4.09]
    assert round(demo.value("a1", "alkalinity, step 4")) == 29


def test_a1_the_old_bag_and_the_recheck(demo: Demo) -> None:
    [food] = read.find(Food, visit=demo.visit("a1"))
    assert food.opened == plus(-243)
    seen = feeding_view.view(demo.visit("a1"), demo.house.waters["a1"])
    assert "open" in seen.foods[0].sentence
    assert seen.foods[0].age is not None
    assert rechecks(demo, "a1") == {28: "visit"}


# A2, the soft water


def test_a2_water(demo: Demo) -> None:
    assert box_l(120, 45, 50) - 35 == 235
    assert round(demo.value("a2", "toxic ammonia"), 4) == 0.0014
    assert round(demo.value("a2", "oxygen saturation")) == 89
    assert round(demo.value("a2", "carbon dioxide")) == 22
    assert round(from_nitrogen(4.5, "NO3"), 1) == 19.9


def test_a2_a_higher_ph_would_make_it_toxic() -> None:
    assert round(unionised_ammonia_mg_l(3.0, 26.0, 7.2), 3) == 0.029
    assert round(unionised_ammonia_mg_l(3.0, 26.0, 7.6), 3) == 0.071
    assert round(unionised_ammonia_mg_l(1.5, 26.0, 7.2), 3) == 0.014


def test_a2_small_changes_day_by_day(demo: Demo) -> None:
    days = range(1, 5)
    tan = [round(concentration_after(3.0, 0.0, 0.15, n), 2) for n in days]
    alkalinity = [round(concentration_after(9.0, 42.0, 0.15, n)) for n in days]
    assert tan == [2.55, 2.17, 1.84, 1.57]
    assert alkalinity == [14, 18, 22, 25]
    [line] = [
        s.words
        for s in read.find(OwnerStep, visit=demo.visit("a2"))
        if s.words.startswith("Change 15 %")
    ]
    assert "2.55, 2.17, 1.84, 1.57" in line
    assert "14, 18, 22, 25" in line
    assert "6.5" in line


def test_a2_the_trap_is_told_to_the_owner(demo: Demo) -> None:
    steps = read.find(OwnerStep, visit=demo.visit("a2"), kind="do not")
    [line] = [s.words for s in steps if "raise the pH" in s.words]
    assert "0.029 at pH 7.2" in line
    assert "0.071 at pH 7.6" in line


@pytest.mark.parametrize(
    ("medicine", "dose"), [("copper-fresh", "0.1 mg/L"), ("salt-prolonged", "1 g/L")]
)
def test_a2_shrimp_stop_copper_and_salt(demo: Demo, medicine: str, dose: str) -> None:
    order = Order("advised", medicine, Ask(dose, "prolonged bath"), demo.house.waters["a2"])
    assert "invertebrates" in treatments.prepare(demo.visit("a2"), order).gone_past


def test_a2_faeces_were_not_got_and_two_rechecks_stand(demo: Demo) -> None:
    [missed] = read.find(Sample, visit=demo.visit("a2"), got=False)
    assert (missed.tissue, missed.number) == ("faeces", "")
    assert "feed and wait" in missed.why
    assert rechecks(demo, "a2") == {2: "phone", 7: "visit"}


# A3, the children's pond


def test_a3_water_and_salt(demo: Demo) -> None:
    # 3,393 L by the formula, written down as 3,390.
    assert round(ellipse_l(360, 200, 60), -1) == 3390
    assert round(demo.value("a3", "toxic ammonia"), 3) == 0.012
    assert round(demo.value("a3", "oxygen saturation")) == 83
    assert round(from_nitrogen(0.60, "NO2"), 2) == 1.97
    salt = treatment(demo, "a3", "salt-nitrite", "advised")
    assert (round(salt.amount), salt.amount_unit) == (458, "g")
    assert round(salt.amount / 3390, 3) == 0.135
    assert "plants" in salt.override


def test_a3_flukes_and_praziquantel(demo: Demo) -> None:
    flukes = read.find(Finding, visit=demo.visit("a3"), finding="gill_fluke")
    assert [f.counts for f in flukes] == ["4", "3", "0"]
    assert [f.grade.split()[0] for f in flukes] == ["2+", "2+", "0"]
    bath = treatment(demo, "a3", "praziquantel-prolonged", "dispensed")
    assert round(bath.amount, 2) == 6.78
    assert (bath.repeats, bath.interval_days, bath.off_hours) == (2, 8.0, 48.0)
    [figure] = [f for f in _figures(demo, bath.id) if f.name == "amount"]
    # 1.82 to 2.22 mg/L for a volume known to 10 %.
    assert "1.818 to 2.222 mg/L" in figure.working


def _figures(demo: Demo, subject: str) -> tuple[Figure, ...]:
    return read.find(Figure, visit=demo.visit("a3"), subject=subject)


def test_a3_biscuit_on_the_scale_and_by_length(demo: Demo) -> None:
    [biscuit] = read.find(Handling, visit=demo.visit("a3"), label="Biscuit")
    fish = in_hand.one(biscuit.id)
    assert fish.weight_each_g == 238.0
    assert "186" in fish.by_length
    assert (fish.lesions[0].size_mm, fish.lesions[0].place) == (9.0, "flank_left")


def test_a3_the_injection_is_diluted(demo: Demo) -> None:
    given = treatment(demo, "a3", "ceftazidime-injection", "given here")
    assert (given.dose, given.dose_unit) == (20.0, "mg/kg")
    assert given.amount == 0.19
    assert given.strength.startswith("25 mg/mL")
    assert given.lot
    [figure] = _figures(demo, given.id)
    assert "4.76" in figure.working
    assert "0.0476" in figure.working
    rest = treatment(demo, "a3", "ceftazidime-injection", "prescribed")
    assert (rest.starts, rest.repeats, rest.interval_days) == (plus(3), 2, 3.0)
    assert round(rest.amount, 2) == 0.19


def test_a3_the_ration_is_held_and_a_rise_refused(demo: Demo) -> None:
    assert demo.value("a3", "biomass") == 1918.0
    assert round(demo.value("a3", "ration"), 2) == 0.63
    [held] = read.find(FeedStep, visit=demo.visit("a3"))
    assert (held.kind, held.grams) == ("hold", 5.8)
    assert "0.30 %" in held.gate
    assert "nitrite under 0.1" in held.gate
    seen = feeding_view.view(demo.visit("a3"), demo.house.waters["a3"])
    rise = feeding_plan.usual_rise(seen)
    with pytest.raises(Refusal, match=r"Nitrite is 0\.600"):
        feeding_plan.must_not_be_broken(seen, rise.gate)


def test_a3_rechecks_and_the_awaited_culture(demo: Demo) -> None:
    assert rechecks(demo, "a3") == {3: "visit", 8: "visit", 21: "visit"}
    [culture] = read.find(SentTest, visit=demo.visit("a3"))
    assert culture.name.startswith("culture")


# A4, the garden koi pond


def test_a4_water_and_losses(demo: Demo) -> None:
    assert box_l(600, 250, 120) == 18000
    assert round(demo.value("a4", "toxic ammonia"), 4) == 0.0072
    assert round(demo.value("a4", "oxygen saturation")) == 91
    assert round(demo.value("a4", "losses of the stock"), 1) == 22.7


def test_a4_euthanasia_in_two_steps(demo: Demo) -> None:
    assert demo.value("a4", "overdose, agent") == pytest.approx(10.0)
    assert demo.value("a4", "overdose, buffer") == pytest.approx(20.0)
    marks = {m.event: m for m in read.find(DepthMark, visit=demo.visit("a4"))}
    assert "consent of Casimir Dunnock" in marks[FIRST].note
    assert marks[SECOND].note == "decapitation"
    assert marks[FIRST].at < marks[SECOND].at
    [fish] = [f for f in read.find(Handling, visit=demo.visit("a4")) if f.agent]
    # 1,000 mL of the 10 g/L stock in the 25 L.
    assert in_hand.one(fish.id).bath.stock_ml == pytest.approx(1000.0)


def test_a4_a_listed_disease_stops_movement(demo: Demo) -> None:
    visit, system = demo.visit("a4"), demo.house.waters["a4"]
    assert problem_list.movement_stop(visit)
    call = assessment.view(visit, system).call
    assert call is not None
    assert "state veterinarian" in call.told_by
    assert not read.find(Treatment, visit=visit)


def test_a4_is_signed_with_a_test_waiting(demo: Demo) -> None:
    [pcr] = read.find(SentTest, visit=demo.visit("a4"))
    assert pcr.name.startswith("PCR")
    assert pcr.due == plus(5)
    assert read.one(Visit, demo.visit("a4")).signed_at is not None
    assert rechecks(demo, "a4") == {5: "phone"}


def test_a_diluted_injection_of_a_fish_in_hand_counts_among_the_antimicrobials(demo: Demo) -> None:
    given = [t for t in read.find(Treatment) if t.medicine == "ceftazidime-injection"]
    assert given
    # 0.19 mL of 25 mg/mL, whichever way the dilution is told.
    assert {round(antimicrobial.active_mg(t) or 0.0, 2) for t in given} == {4.75}
