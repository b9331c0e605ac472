"""In hand: fish kept apart, bath amounts, clock by injected time, samples, doses behind stops."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given as drawn
from hypothesis import settings
from hypothesis import strategies as st

from core.dosing.recipient import Recipient
from core.errors import BadInput, Refusal
from core.practice import (
    given,
    giving,
    giving_context,
    in_hand,
    in_hand_bath,
    in_hand_baths,
    in_hand_clock,
    plan_rechecks,
    plan_steps,
    samples,
    setup,
    sign,
    visits,
)
from core.practice.giving_context import Wanted
from core.practice.in_hand import Sore
from core.practice.in_hand_agents import ENDS
from core.practice.in_hand_baths import First
from core.practice.in_hand_clock import BEAT, DEAD, FIRST, INTO, OUT, RECOVERED, SECOND
from core.practice.keep import Act
from core.practice.water import Measured, record_reading
from core.records import read
from core.records.tables import (
    DepthMark,
    Figure,
    Handling,
    Lesion,
    Recheck,
    Sample,
    Treatment,
    Visit,
)
from tests.conftest import MOMENT
from tests.read_rows import all_read
from tests.small import Small

TRICAINE = "tricaine methanesulfonate (MS-222)"


@pytest.fixture
def vet(practice: Small) -> Act:
    act = Act(practice.vet, MOMENT)
    all_read(act)
    return act


@pytest.fixture
def pond(practice: Small, vet: Act) -> str:
    """Give a goldfish pond with one named fish; its visit is the third of the vet's day."""
    system = setup.add_system(vet, practice.site, "pond", "goldfish_pond", volume_l=3390.0)
    setup.add_group(vet, system, "goldfish", "Biscuit", single=True)
    visits.book(vet, system, MOMENT.date(), "08:00", practice.vet, "earlier")
    return visits.book(vet, system, MOMENT.date(), "13:00", practice.vet, "rubbing, one sore")


@pytest.fixture
def raceway(practice: Small, vet: Act) -> str:
    system = setup.add_system(
        vet, practice.site, "raceway", "trout_flowing", flow="flowing", food_fish=True
    )
    setup.add_group(vet, system, "rainbow_trout", "raceway 2", count=3200)
    return visits.book(vet, system, MOMENT.date(), "07:00", practice.vet, "deaths")


def take(act: Act, visit: str, label: str = "fish 1", count: int = 1) -> str:
    opened = visits.opened(visit)
    groups = [g for g in opened.groups if g.system == opened.system.id]
    return in_hand.add_fish(act, visit, opened.system.id, label, count, groups[0].id)


def later(act: Act, minutes: float) -> Act:
    return Act(act.by, act.at + timedelta(minutes=minutes))


CEFTAZIDIME = Wanted(
    "ceftazidime-injection",
    dose=20.0,
    product="ceftazidime-made-up",
    place="left epaxial muscle",
    lot="C-77",
)


def biscuit(vet: Act, pond: str) -> str:
    fish = take(vet, pond, "Biscuit")
    in_hand.set_weight(vet, fish, 238.0, "238 g")
    return fish


def test_a3_a_small_volume_is_diluted_and_given_here_with_its_lot(vet: Act, pond: str) -> None:
    fish = biscuit(vet, pond)
    at = giving_context.context(in_hand.one(fish), MOMENT.date())
    found = giving.worked(at, CEFTAZIDIME)
    assert (found.mass, found.volume) == ("4.76 mg", "0.048 mL")
    assert found.dilution is not None
    assert "25 mg/mL" in found.dilution.sentence
    assert "0.005 mL" in found.finer
    with pytest.raises(Refusal, match=r"under five marks.*25 mg/mL"):
        given.give(vet, fish, CEFTAZIDIME)
    chosen = Wanted(**{**vars(CEFTAZIDIME), "diluted": True})
    row = read.one(Treatment, given.give(vet, fish, chosen))
    assert (row.act, row.amount, row.amount_unit) == ("given here", 0.19, "mL")
    assert row.strength.startswith("25 mg/mL (1 part of 100 mg/mL with 3 parts")
    assert (row.lot, row.place, row.handling) == ("C-77", "left epaxial muscle", fish)
    kept = read.find(Figure, subject=row.id)[0]
    assert (kept.value, kept.unit) == (0.19, "mL")
    assert "draw up volume" in kept.working


def test_a3_the_doses_to_come_are_offered_as_visits_in_the_plan(vet: Act, pond: str) -> None:
    fish = biscuit(vet, pond)
    thrice = Wanted(**{**vars(CEFTAZIDIME), "diluted": True, "repeats": 3})
    with pytest.raises(BadInput, match="how far apart"):
        given.give(vet, fish, thrice)
    course = Wanted(**{**vars(thrice), "interval_days": 3})
    row = read.one(Treatment, given.give(vet, fish, course))
    assert (row.act, row.amount, row.repeats, row.interval_days) == ("given here", 0.19, 3, 3.0)
    day = MOMENT.date()
    offers = plan_rechecks.offers(row.visit, row.system, None)
    assert [o.window.target for o in offers] == [day + timedelta(3), day + timedelta(6)]
    assert offers[0].reason.startswith("ceftazidime for Biscuit: dose 2")
    # The owner gives none of it: only what goes with it is offered to them.
    steps = plan_steps.offers(row.visit, row.system)
    assert not [s for s in steps if s.origin.startswith((f"dose:{row.id}", f"missed:{row.id}"))]
    taken = plan_rechecks.take_recheck(vet, row.visit, row.system, offers[0])
    booked = read.one(Recheck, taken).booked
    assert booked is not None
    assert read.one(Visit, booked).day == day + timedelta(3)


def test_the_withdrawal_counts_from_the_last_dose_of_a_course() -> None:
    assert CEFTAZIDIME.days(MOMENT.date()) == (MOMENT.date(),)
    course = Wanted(**{**vars(CEFTAZIDIME), "repeats": 3, "interval_days": 3})
    at = giving_context.Context(Recipient(food_fish=True), 238.0, "weighed", MOMENT.date(), 1)
    once = Wanted(**{**vars(CEFTAZIDIME), "withdrawal_days": 30})
    last = Wanted(**{**vars(course), "withdrawal_days": 30})
    ends = giving.worked(at, once).withdrawal_until, giving.worked(at, last).withdrawal_until
    assert ends[0] is not None
    assert ends[1] == ends[0] + timedelta(days=6)


def test_an_undiluted_small_volume_needs_a_reason_that_is_kept(vet: Act, pond: str) -> None:
    fish = biscuit(vet, pond)
    bare = Wanted(**{**vars(CEFTAZIDIME), "diluted": False})
    with pytest.raises(Refusal, match=r"4\.8 marks"):
        given.give(vet, fish, bare)
    reasoned = Wanted(**{**vars(bare), "reason": "no diluent in the truck"})
    row = read.one(Treatment, given.give(vet, fish, reasoned))
    assert row.amount == 0.05
    assert "no diluent in the truck" in row.override


def test_a_finer_syringe_needs_no_dilution(vet: Act, pond: str) -> None:
    fish = biscuit(vet, pond)
    fine = Wanted(**{**vars(CEFTAZIDIME), "syringe": "0.3 mL insulin syringe, half units"})
    at = giving_context.context(in_hand.one(fish), MOMENT.date())
    found = giving.worked(at, fine)
    assert found.dilution is None
    assert found.amount_ml == 0.05


def test_a3_the_length_says_less_than_the_scale(vet: Act, pond: str) -> None:
    fish = biscuit(vet, pond)
    in_hand.set_value(vet, fish, length_cm=24.0, length_typed="24 cm")
    said = in_hand.one(fish).by_length
    assert "186 g" in said
    assert "238 g" in said
    assert "estimated" in said


def test_a_dose_by_length_alone_is_a_caution(vet: Act, pond: str) -> None:
    fish = take(vet, pond, "Biscuit")
    in_hand.set_value(vet, fish, length_cm=24.0, length_typed="24 cm")
    chosen = Wanted(**{**vars(CEFTAZIDIME), "diluted": True})
    with pytest.raises(Refusal, match="estimated from the length"):
        given.give(vet, fish, chosen)


def test_without_a_weight_no_dose(vet: Act, pond: str) -> None:
    fish = take(vet, pond)
    with pytest.raises(BadInput, match="weight of the fish"):
        given.give(vet, fish, CEFTAZIDIME)


def test_a_dose_off_the_record_needs_a_reason(vet: Act, pond: str) -> None:
    fish = biscuit(vet, pond)
    high = Wanted(**{**vars(CEFTAZIDIME), "dose": 200.0})
    with pytest.raises(Refusal, match="is not the 20 mg/kg on record"):
        given.give(vet, fish, high)


@drawn(
    weight=st.integers(5, 20000),
    dose=st.sampled_from([5.0, 20.0, 33.0]),
    strength=st.sampled_from([10.0, 25.0, 100.0]),
)
@settings(max_examples=40)
def test_volume_times_strength_is_dose_times_weight(
    weight: int, dose: float, strength: float
) -> None:
    at = giving_context.Context(
        Recipient(food_fish=False), float(weight), "weighed", MOMENT.date(), 1
    )
    wanted = Wanted("ceftazidime-injection", dose=dose, strength=strength, syringe="20 mL syringe")
    wished = dose * weight / 1000 / strength
    if not 20.0 >= wished >= 5.0:
        return
    found = giving.worked(at, wanted)
    assert found.amount_ml is not None
    assert found.amount_ml == pytest.approx(wished, abs=0.5000001)
    assert found.amount_ml == pytest.approx(round(found.amount_ml))


def test_enrofloxacin_in_food_fish_is_refused_with_its_rule(vet: Act, raceway: str) -> None:
    fish = take(vet, raceway)
    in_hand.set_weight(vet, fish, 310.0, "310 g")
    wanted = Wanted(
        "enrofloxacin-injection", dose=10.0, strength=22.7, reason="farmer asks", diluted=True
    )
    with pytest.raises(Refusal, match=r"21 CFR 530\.41.*fluoroquinolones"):
        given.give(vet, fish, wanted)
    assert read.find(Treatment, visit=raceway) == ()
    at = giving_context.context(in_hand.one(fish), MOMENT.date())
    assert giving.worked(at, wanted).volume == ""


def test_days_set_by_the_vet_answer_an_unknown_withdrawal(vet: Act, raceway: str) -> None:
    fish = take(vet, raceway)
    in_hand.set_weight(vet, fish, 310.0, "310 g")
    wanted = Wanted(**{**vars(CEFTAZIDIME), "diluted": True, "reason": "breeding fish"})
    with pytest.raises(Refusal, match="withdrawal"):
        given.give(vet, fish, wanted)
    days = Wanted(**{**vars(wanted), "withdrawal_days": 180})
    row = read.one(Treatment, given.give(vet, fish, days))
    assert row.withdrawal_until == MOMENT.date() + timedelta(days=180)
    assert "extra-label" in row.override


def test_only_a_vet_gives_but_anybody_measures(practice: Small, pond: str) -> None:
    technician = Act(practice.technician, MOMENT)
    fish = take(technician, pond)
    in_hand.set_weight(technician, fish, 238.0, "238 g")
    samples.got(technician, fish, "gill")
    with pytest.raises(Refusal, match="Only a veterinarian"):
        given.give(technician, fish, CEFTAZIDIME)


def test_a4_euthanasia_bath(vet: Act, practice: Small) -> None:
    fish = take(vet, practice.visit)
    in_hand_baths.first_step(vet, fish, First("Casimir Dunnock", TRICAINE, 400.0, 25.0))
    bath = in_hand.one(fish).bath
    assert (bath.agent_g, bath.buffer_g, bath.stock_ml) == pytest.approx((10.0, 20.0, 1000.0))
    assert "weigh 10.0 g" in bath.text
    assert "20.0 g bicarbonate" in bath.text
    assert any("second step" in c for c in bath.cautions)
    kept = {f.name: f.value for f in read.find(Figure, subject=fish)}
    kept = {name.rpartition(", ")[2]: value for name, value in kept.items()}
    assert kept == pytest.approx({"agent": 10.0, "buffer": 20.0})


@pytest.mark.parametrize("level", [250.0, 400.0, 4000.0])
def test_a_level_that_kills_is_no_sleep(level: float, vet: Act, practice: Small) -> None:
    fish = take(vet, practice.visit)
    in_hand.set_bath(vet, fish, agent=TRICAINE, bath_l=25.0)
    with pytest.raises(Refusal, match=rf"{level:g} mg/L kills\. On record: .* mark the first step"):
        in_hand.set_bath(vet, fish, agent_mg_l=level)
    assert in_hand.one(fish).handling.agent_mg_l is None
    row = replace(in_hand.one(fish).handling, agent_mg_l=level)
    assert "kills" in in_hand_bath.live_text(row)
    assert "weigh" not in in_hand_bath.live_text(row)


def test_ten_times_the_level_of_an_agent_that_only_sedates_is_a_slip(
    vet: Act, practice: Small
) -> None:
    fish = take(vet, practice.visit)
    known = in_hand_bath.agents()
    agent = next(a for a, rows in known.items() if ENDS not in {r.routes[0] for r in rows})
    most = max(row.dose_high for row in known[agent])
    in_hand.set_bath(vet, fish, agent=agent, bath_l=25.0)
    with pytest.raises(Refusal, match=r"10 times the highest on record.*look where the decimal"):
        in_hand.set_bath(vet, fish, agent_mg_l=10 * most)


def test_a4_without_its_second_step_it_can_not_be_closed(vet: Act, practice: Small) -> None:
    fish = take(vet, practice.visit)
    first = First("Casimir Dunnock", TRICAINE, 400.0, 25.0)
    in_hand_baths.first_step(vet, fish, first)
    in_hand_clock.mark(later(vet, 8), fish, BEAT)
    with pytest.raises(Refusal, match="second step"):
        in_hand.finish(vet, practice.visit)
    assert any("second step" in m.what for m in sign.missing(practice.visit) if m.blocks)
    with pytest.raises(Refusal, match="after the second step"):
        in_hand_clock.mark(later(vet, 68), fish, DEAD, "no opercular movement")
    with pytest.raises(Refusal, match="Which second step"):
        in_hand_clock.mark(later(vet, 68), fish, SECOND, " ")
    in_hand_clock.mark(later(vet, 68), fish, SECOND, "pithing")
    with pytest.raises(Refusal, match="signs of death"):
        in_hand.finish(vet, practice.visit)
    in_hand_clock.mark(later(vet, 69), fish, DEAD, "no opercular movement; rigor")
    in_hand.finish(vet, practice.visit)
    assert not any("second step" in m.what for m in sign.missing(practice.visit))
    assert in_hand.one(fish).anaesthesia.cautions == ()


def test_a_second_step_too_early_is_said_with_what_sources_wait(vet: Act, practice: Small) -> None:
    fish = take(vet, practice.visit)
    in_hand_clock.mark(vet, fish, FIRST, "consent of the owner")
    in_hand_clock.mark(later(vet, 8), fish, BEAT)
    in_hand_clock.mark(later(vet, 20), fish, SECOND, "decapitation")
    caution = in_hand.one(fish).anaesthesia.cautions[0]
    assert caution.startswith("12 min")
    assert "30 min" in caution


def test_the_clock_runs_by_the_given_moments(vet: Act, pond: str) -> None:
    fish = take(vet, pond)
    in_hand_clock.mark(vet, fish, INTO)
    deep = in_hand_clock.event_of(in_hand_clock.scale("depth")[2])
    in_hand_clock.mark(later(vet, 2.5), fish, deep)
    clock = in_hand.one(fish).anaesthesia
    assert deep == "deep sedation, 3 of anaesthesia 1 to 6"
    assert clock.phase == "bath"
    assert clock.elapsed(vet.at + timedelta(seconds=192)) == timedelta(seconds=192)
    assert in_hand_clock.clock_text(timedelta(seconds=192)) == "03:12"
    assert [clock.minutes(m) for m in clock.marks] == [0.0, 2.5]
    in_hand_clock.mark(later(vet, 6), fish, OUT)
    in_hand_clock.mark(later(vet, 24), fish, RECOVERED)
    over = in_hand.one(fish).anaesthesia
    assert over.elapsed(vet.at + timedelta(hours=5)) == timedelta(minutes=24)
    assert "18 min" in over.cautions[0]
    with pytest.raises(Refusal, match="can not be marked now"):
        in_hand_clock.mark(later(vet, 25), fish, OUT)


def test_the_last_mark_is_taken_back_and_stays_struck(vet: Act, pond: str) -> None:
    fish = take(vet, pond)
    in_hand_clock.mark(vet, fish, INTO)
    in_hand_clock.mark(later(vet, 1), fish, OUT)
    in_hand_clock.take_back(later(vet, 2), fish, "wrong key")
    assert in_hand.one(fish).anaesthesia.phase == "bath"
    assert len(read.find(DepthMark, handling=fish, struck=True)) == 2


def test_b1_sedation_of_ten_food_fish(vet: Act, raceway: str) -> None:
    scoop = take(vet, raceway, "scoop 1", 10)
    in_hand.set_bath(vet, scoop, agent=TRICAINE, agent_mg_l=80.0, bath_l=40.0)
    bath = in_hand.one(scoop).bath
    assert (bath.agent_g, bath.buffer_g) == pytest.approx((3.2, 6.4))
    assert "21 days" in bath.withdrawal
    assert "these 10 fish" in bath.withdrawal
    assert "apart" in bath.withdrawal
    assert any("80 mg/L lies outside" in c for c in bath.cautions)
    assert read.find(Treatment, visit=raceway) == ()
    in_hand_clock.mark(vet, scoop, INTO)
    row = read.find(Treatment, visit=raceway)[0]
    assert (row.medicine, row.dose, row.route) == ("tricaine-sedation", 80.0, "sedation bath")
    assert row.amount == pytest.approx(3.2)
    assert row.withdrawal_until == date(2026, 12, 16)
    with pytest.raises(Refusal, match="follows from the clock"):
        in_hand.strike_given(vet, row.id, "mistake")
    in_hand_clock.take_back(vet, scoop, "wrong fish")
    assert read.find(Treatment, visit=raceway) == ()


def test_an_agent_without_a_known_withdrawal_is_refused_for_food_fish(
    vet: Act, raceway: str
) -> None:
    fish = take(vet, raceway)
    with pytest.raises(Refusal, match="withdrawal"):
        in_hand.set_bath(vet, fish, agent="eugenol (clove oil)", agent_mg_l=50.0, bath_l=20.0)
    assert read.one(Handling, fish).agent == ""


def test_the_label_holds_above_ten_degrees_only(vet: Act, raceway: str) -> None:
    system = visits.opened(raceway).system.id
    record_reading(vet, raceway, system, Measured("temperature", 8.0, "8", "C"), "outlet")
    fish = take(vet, raceway)
    in_hand.set_bath(vet, fish, agent=TRICAINE, agent_mg_l=50.0, bath_l=40.0)
    assert any("above 10" in c for c in in_hand.one(fish).bath.cautions)


def test_samples_are_numbered_by_truck_visit_and_count(
    vet: Act, pond: str, practice: Small
) -> None:
    first, second = take(vet, pond, "fish 1"), take(vet, pond, "fish 2")
    other = take(vet, practice.visit, "koi 1")
    numbers = [samples.got(vet, first, t) for t in ("gill", "skin", "fin")]
    numbers.append(samples.got(vet, second, "gill"))
    assert numbers == ["A3-1", "A3-2", "A3-3", "A3-4"]
    assert samples.got(vet, other, "gill") == "A2-1"
    assert samples.got(vet, first, "gill") == "A3-1"


def test_numbers_stay_unique_when_the_day_is_changed(vet: Act, pond: str, practice: Small) -> None:
    numbers = [samples.got(vet, take(vet, pond), "gill")]
    visits.move(vet, pond, MOMENT.date(), "06:00")
    earlier = visits.book(
        vet, practice.system, MOMENT.date(), "05:00", practice.vet, "early", id=None
    )
    again = [v for v in (earlier, practice.visit)]
    numbers += [samples.got(vet, take(vet, v, f"fish {n}"), "gill") for n, v in enumerate(again)]
    numbers.append(samples.got(vet, take(vet, pond, "fish 2"), "gill"))
    assert len(set(numbers)) == len(numbers) == 4
    assert numbers[-1].startswith("A3-")


def test_a_struck_number_is_not_given_again(vet: Act, pond: str) -> None:
    fish = take(vet, pond)
    samples.got(vet, fish, "gill")
    samples.strike(vet, read.find(Sample, handling=fish)[0].id, "wrong fish")
    assert samples.got(vet, fish, "gill") == "A3-2"


def test_a_sample_not_got_has_its_reason_and_no_number(vet: Act, pond: str) -> None:
    fish = take(vet, pond)
    with pytest.raises(BadInput, match="reason"):
        samples.not_got(vet, fish, "faeces", " ")
    samples.not_got(vet, fish, "faeces", "nothing passed: feed and wait")
    row = read.find(Sample, handling=fish)[0]
    assert (row.got, row.number, row.why) == (False, "", "nothing passed: feed and wait")
    assert samples.got(later(vet, 30), fish, "faeces") == "A3-1"
    row = read.find(Sample, handling=fish)[0]
    assert (row.got, row.why) == (True, "")


def test_two_fish_never_mix(vet: Act, pond: str) -> None:
    one, two = take(vet, pond, "fish 1"), take(vet, pond, "fish 2")
    in_hand.set_weight(vet, two, 140.0, "140 g")
    in_hand.add_lesion(vet, two, Sore("ulcer", "flank_left", 9.0))
    samples.got(vet, two, "lesion")
    in_hand_clock.mark(vet, two, INTO)
    first, second = in_hand.one(one), in_hand.one(two)
    assert (first.handling.weight_g, first.lesions, dict(first.samples)) == (None, (), {})
    assert first.anaesthesia.marks == ()
    assert second.lesions[0].size_mm == 9.0
    assert second.samples["lesion"].place == "flank_left"


def test_a_scoop_is_weighed_together(vet: Act, pond: str) -> None:
    scoop = take(vet, pond, "scoop", 12)
    in_hand.set_weight(vet, scoop, 1680.0, "1680 g")
    assert in_hand.one(scoop).weight_each_g == 140.0


def test_a_label_is_used_once(vet: Act, pond: str) -> None:
    take(vet, pond, "fish 1")
    with pytest.raises(BadInput, match="already"):
        take(vet, pond, "Fish 1")


def test_a_lesion_is_corrected_and_struck(vet: Act, pond: str) -> None:
    fish = take(vet, pond)
    lesion = in_hand.add_lesion(vet, fish, Sore("ulcer", "flank_left", 9.0))
    in_hand.change_lesion(vet, lesion, Sore("ulcer", "flank_right", 8.0))
    assert read.one(Lesion, lesion).place == "flank_right"
    with pytest.raises(Refusal, match="has samples, lesions"):
        in_hand.strike_fish(vet, fish, "mistake")
    in_hand.strike_lesion(vet, lesion, "other fish")
    in_hand.strike_fish(vet, fish, "mistake")
    assert in_hand.view(pond, visits.opened(pond).system.id).fish == ()
