"""Baths that follow the first, the days a vet sets, and agents of the practice's own."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from core.errors import BadInput, Refusal
from core.practice import (
    in_hand,
    in_hand_agents,
    in_hand_bath,
    in_hand_baths,
    in_hand_clock,
    own_medicine,
    read_medicines,
    setup,
    shelf,
    sign,
    visits,
)
from core.practice.in_hand_baths import First
from core.practice.in_hand_clock import AIR, BEAT, DEAD, FIRST, INTO, OUT, RATE, SECOND, WATER
from core.practice.keep import Act
from core.practice.roles import NotAllowed
from core.practice.shelf import NewProduct
from core.records import read
from core.records.tables import DepthMark, Figure, Handling, StageMark, Treatment
from tests.conftest import MOMENT
from tests.read_rows import all_read
from tests.small import Small

TRICAINE = "tricaine methanesulfonate (MS-222)"
ROW: dict[str, Any] = {
    "name": "house anaesthetic",
    "form": "liquid",
    "routes": ["sedation bath"],
    "indication": "sampling",
    "dose_low": 5.0,
    "dose_high": 15.0,
    "unit": "mg/L",
    "systems": ["fresh"],
    "us_food_fish": "extra-label",
    "withdrawal_days": 10,
    "sources": ["the data sheet of the tests"],
    "known": {"dose": "from memory"},
    "allowed": ["elasmobranch", "scaleless", "alkalinity", "heat", "oxygen"],
}


@pytest.fixture
def vet(practice: Small) -> Act:
    act = Act(practice.vet, MOMENT)
    all_read(act)
    return act


def later(act: Act, seconds: float) -> Act:
    return Act(act.by, act.at + timedelta(seconds=seconds))


def koi(act: Act, practice: Small) -> str:
    return in_hand.add_fish(act, practice.visit, practice.system, "koi 1", 1, practice.group)


def trout(act: Act, practice: Small) -> str:
    water = setup.add_system(
        act, practice.site, "raceway", "trout_flowing", flow="flowing", food_fish=True
    )
    group = setup.add_group(act, water, "rainbow_trout", "trout", count=3200)
    visit = visits.book(act, water, MOMENT.date(), "07:00", act.by, "deaths")
    return in_hand.add_fish(act, visit, water, "ten trout", 10, group)


def test_an_agent_of_the_practice_s_own_is_offered_and_off_until_it_is_read(
    vet: Act, practice: Small
) -> None:
    fish = koi(vet, practice)
    assert "house anaesthetic" not in in_hand_agents.agents()
    key = own_medicine.own(vet, ROW)
    assert [r.key for r in in_hand_agents.agents()["house anaesthetic"]] == [key]
    bath = {"agent": "house anaesthetic", "agent_mg_l": 10.0, "bath_l": 40.0}
    with pytest.raises(Refusal, match=r"house anaesthetic .* is off"):
        in_hand.set_bath(vet, fish, **bath)
    read_medicines.switch(vet, key, "on")
    in_hand.set_bath(vet, fish, **bath)
    assert in_hand.one(fish).bath.agent_g == pytest.approx(0.4)


def test_an_own_injection_is_no_bath(vet: Act, practice: Small) -> None:
    own_medicine.own(vet, {**ROW, "routes": ["injection IM"], "unit": "mg/kg"})
    assert "house anaesthetic" not in in_hand_agents.agents()


def test_the_stock_solution_of_the_own_shelf_is_poured(vet: Act, practice: Small) -> None:
    new = NewProduct("tricaine-sedation", "stock of this week", 20.0, "g/L", 500.0, "mL")
    shelf.add_product(vet, new)
    fish = koi(vet, practice)
    in_hand.set_bath(vet, fish, agent=TRICAINE, agent_mg_l=50.0, bath_l=40.0)
    bath = in_hand.one(fish).bath
    # 50 mg/L x 40 L = 2 g, of a stock of 20 g/L: 100 mL.
    assert bath.stock_ml == pytest.approx(100.0)
    assert "pour 100 mL of stock of this week" in bath.text
    assert any("new every month" in n for n in bath.notes)


def test_a_weaker_bath_keeps_it_asleep(vet: Act, practice: Small) -> None:
    fish = koi(vet, practice)
    with pytest.raises(Refusal, match="agent of the bath is not said"):
        in_hand_baths.maintain(vet, fish, 20.0, 40.0)
    in_hand.set_bath(vet, fish, agent=TRICAINE, agent_mg_l=100.0, bath_l=20.0)
    in_hand_clock.mark(vet, fish, INTO)
    with pytest.raises(Refusal, match=r"100 mg/L is not weaker than the 100"):
        in_hand_baths.maintain(vet, fish, 100.0, 40.0)
    in_hand_baths.maintain(later(vet, 90), fish, 20.0, 40.0)
    clock = in_hand.one(fish).anaesthesia
    assert clock.phase == "bath"
    assert clock.marks[-1].note.startswith("20 mg/L: weigh 0.800 g and 1.60 g bicarbonate")
    kept = {f.name: f.value for f in read.find(Figure, subject=fish)}
    assert kept["maintenance, agent"] == pytest.approx(0.8)
    assert (read.one(Handling, fish).agent_mg_l, kept["bath, agent"]) == (100.0, 2.0)


def test_time_in_the_air_is_added_up_and_too_long_is_said(vet: Act, practice: Small) -> None:
    fish = koi(vet, practice)
    in_hand_clock.mark(vet, fish, INTO)
    in_hand_clock.mark(later(vet, 60), fish, AIR)
    with pytest.raises(Refusal, match="Into the air can not be marked now"):
        in_hand_clock.mark(later(vet, 61), fish, AIR)
    clock = in_hand.one(fish).anaesthesia
    assert clock.aired(later(vet, 100).at) == (timedelta(seconds=40),)
    assert clock.cautions == ()
    in_hand_clock.mark(later(vet, 120), fish, WATER)
    in_hand_clock.mark(later(vet, 130), fish, AIR)
    in_hand_clock.mark(later(vet, 191), fish, OUT)
    clock = in_hand.one(fish).anaesthesia
    assert clock.aired(later(vet, 900).at) == (timedelta(seconds=60), timedelta(seconds=61))
    assert clock.in_air is None
    assert clock.cautions == (
        "61 s in the air; aimed for is at most 60 s (common practice, no source).",
    )


def test_a_rate_is_kept_with_its_moment(vet: Act, practice: Small) -> None:
    fish = koi(vet, practice)
    with pytest.raises(Refusal, match="Opercular rate can not be marked now"):
        in_hand_clock.mark(vet, fish, RATE, breaths=60.0)
    in_hand_clock.mark(vet, fish, INTO)
    with pytest.raises(Refusal, match="was not counted"):
        in_hand_clock.mark(vet, fish, RATE)
    in_hand_clock.mark(later(vet, 30), fish, RATE, breaths=72.4)
    clock = in_hand.one(fish).anaesthesia
    assert clock.rate == 72.4
    assert clock.lines[-1] == "00:30  opercular rate 72 a minute"


def test_the_deepest_stage_is_urgent_until_it_is_lighter(vet: Act, practice: Small) -> None:
    fish = koi(vet, practice)
    deepest, deep = (in_hand_clock.event_of(in_hand_clock.scale("depth")[n]) for n in (-1, 2))
    in_hand_clock.mark(vet, fish, INTO)
    in_hand_clock.mark(later(vet, 100), fish, deepest)
    in_hand_clock.mark(later(vet, 110), fish, RATE, breaths=20.0)
    assert "lighten at once" in in_hand.one(fish).anaesthesia.cautions[0]
    in_hand_clock.mark(later(vet, 120), fish, deep)
    assert in_hand.one(fish).anaesthesia.cautions == ()


def test_a_slow_induction_is_said(vet: Act, practice: Small) -> None:
    fish = koi(vet, practice)
    limp = in_hand_clock.event_of(in_hand_clock.scale("depth")[3])
    in_hand_clock.mark(vet, fish, INTO)
    in_hand_clock.mark(later(vet, 240), fish, limp)
    assert in_hand.one(fish).anaesthesia.cautions == (
        "Loss of balance took 4 min; aimed for is within 3.",
    )


@pytest.mark.parametrize(
    ("first", "said"),
    [
        (First(" ", TRICAINE, 400.0, 25.0), "Whose consent"),
        (First("the owner"), "What the overdose is"),
        (First("the owner", way=" "), "What the overdose is"),
        (First("the owner", TRICAINE, 400.0), "Level and volume"),
        (First("the owner", TRICAINE, None, 25.0), "Level and volume"),
        (First("the owner", TRICAINE, 249.9, 25.0), "is no overdose: 250 to 500"),
        (First("the owner", "propofol", 10.0, 25.0), "is no overdose: none is on record"),
    ],
)
def test_a_first_step_without_its_overdose_is_refused(
    vet: Act, practice: Small, first: First, said: str
) -> None:
    fish = koi(vet, practice)
    with pytest.raises(Refusal, match=said):
        in_hand_baths.first_step(vet, fish, first)
    assert read.find(DepthMark) == ()


def test_the_level_put_forward_is_too_weak_for_no_source() -> None:
    known = in_hand_agents.overdose(TRICAINE)
    assert known is not None
    assert (known.mg_l, known.least) == (400.0, 250.0)
    assert "250 to 500 mg/L (from memory)" in known.says
    eugenol = in_hand_agents.overdose("eugenol (clove oil)")
    assert eugenol is not None
    assert eugenol.mg_l == 500.0
    assert in_hand_agents.overdose("alfaxalone") is None


def test_a_level_that_only_one_source_calls_an_overdose_is_said(vet: Act, practice: Small) -> None:
    fish = koi(vet, practice)
    in_hand_baths.first_step(vet, fish, First("the owner", TRICAINE, 300.0, 25.0))
    assert any("one source only" in c for c in in_hand.one(fish).bath.cautions)
    in_hand.set_bath(vet, fish, agent_mg_l=400.0)
    assert not any("one source only" in c for c in in_hand.one(fish).bath.cautions)


def test_without_an_overdose_it_is_not_closed_and_every_way_to_close_is_refused(
    vet: Act, practice: Small
) -> None:
    fish = koi(vet, practice)
    in_hand_clock.mark(vet, fish, FIRST, "consent of the owner")
    in_hand_clock.mark(later(vet, 60), fish, BEAT)
    in_hand_clock.mark(later(vet, 4000), fish, SECOND, "pithing")
    wants = "koi 1: this euthanasia can not be closed: missing what the first step was"
    in_hand_clock.mark(later(vet, 4001), fish, DEAD, "rigor")
    with pytest.raises(Refusal, match=wants):
        in_hand.finish(vet, practice.visit)
    with pytest.raises(Refusal, match=wants):
        in_hand_clock.pass_over(vet, practice.visit, "no time")
    with pytest.raises(Refusal, match=wants):
        sign.finish_begun(vet, practice.visit)
    assert any("first step was" in m.what for m in sign.missing(practice.visit) if m.blocks)
    assert read.find(StageMark, visit=practice.visit)[0].state == "begun"


def test_the_vet_s_days_need_a_ground_and_are_never_fewer_than_on_record(
    vet: Act, practice: Small
) -> None:
    fish = trout(vet, practice)
    in_hand.set_bath(vet, fish, agent=TRICAINE, agent_mg_l=50.0, bath_l=40.0)
    with pytest.raises(BadInput, match="ground they rest on"):
        in_hand_baths.set_withdrawal(vet, fish, 30, " ")
    with pytest.raises(BadInput, match="20 days is less than the 21 on record"):
        in_hand_baths.set_withdrawal(vet, fish, 20, "a guess")
    with pytest.raises(NotAllowed, match="sets a withdrawal"):
        in_hand_baths.set_withdrawal(Act(practice.technician, MOMENT), fish, 30, "cold water")
    in_hand_clock.mark(vet, fish, INTO)
    assert read.find(Treatment)[0].withdrawal_until == date(2026, 12, 16)
    in_hand_baths.set_withdrawal(vet, fish, 30, "cold water")
    row = read.find(Treatment)[0]
    assert row.withdrawal_until == date(2026, 12, 25)
    assert "set by the veterinarian: cold water" in row.withdrawal


def test_the_days_count_from_when_they_went_into_the_bath(vet: Act, practice: Small) -> None:
    fish = trout(vet, practice)
    in_hand.set_bath(vet, fish, agent=TRICAINE, agent_mg_l=50.0, bath_l=40.0)
    in_hand_clock.mark(later(vet, 86_400), fish, INTO)
    assert read.find(Treatment)[0].withdrawal_until == date(2026, 12, 17)


def test_a_killed_food_fish_is_no_food(vet: Act, practice: Small) -> None:
    fish = trout(vet, practice)
    in_hand_baths.first_step(vet, fish, First("the farm", TRICAINE, 400.0, 25.0))
    assert in_hand.one(fish).bath.withdrawal == "Food fish: the carcass is not food."
    row = read.one(Handling, fish)
    assert in_hand_bath.live_text(row, kills=True).startswith("weigh 10.0 g")


def test_a_sleep_without_its_agent_is_missed_and_blocks_for_food_fish(
    vet: Act, practice: Small
) -> None:
    wants = "what it was put to sleep with, and at which level"
    mine, theirs = koi(vet, practice), trout(vet, practice)
    for fish in (mine, theirs):
        in_hand_clock.mark(vet, fish, INTO)
    found = {
        m.what: m.blocks
        for fish in (mine, theirs)
        for m in sign.missing(read.one(Handling, fish).visit)
    }
    assert found[f"koi 1: {wants}"] is False
    assert found[f"ten trout: {wants}"] is True
    in_hand.set_bath(vet, theirs, agent=TRICAINE, agent_mg_l=50.0)
    assert not any(wants in m.what for m in sign.missing(read.one(Handling, theirs).visit))
