"""The owner's care sheet made from the records: each thing once, on its day, in plain words."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from core.catalogue import load
from core.errors import Refusal
from core.papers import care_sheet as paper
from core.papers.care_sheet import CareSheet
from core.practice import documents, plan_rechecks, plan_steps, treatments
from core.practice.care_paper import care_sheet, content_hash
from core.practice.problem_list import name_problem
from core.records import read
from core.records.journal import edit
from core.records.keys import new_key
from core.records.tables import FeedStep, Food, Handling, OwnerStep, Practice, Treatment
from core.scheduling.rechecks import Window
from tests.practice.plan_cases import MOMENT, Case, D, case

GATE = "Only if ammonia is under 0.25 mg/L N and no new deaths; otherwise stay at this and ring."


@pytest.fixture
def pond(records: Path) -> Case:
    made = case(volume_error_percent=10.0)
    made.read(temperature=17.0, ph=8.0, nitrite=0.01, oxygen=9.0, ammonia=0.1, kh=90.0)
    return made


def sheet(made: Case) -> CareSheet:
    return care_sheet(made.visit, "7-1", 1, made.act.at)


def days(found: CareSheet) -> dict[int, list[str]]:
    """Return the later steps by the number of days until them."""
    told: dict[int, list[str]] = {}
    for step in found.steps:
        told.setdefault((step.on - D).days, []).append(step.do)
    return told


def order(made: Case, medicine: str, dose: str, route: str, **more: Any) -> Treatment:
    wanted = made.order(medicine, dose, route, act="dispensed", **more)
    return read.one(Treatment, treatments.order_treatment(made.act, made.visit, wanted))


def praziquantel(pond: Case, **more: Any) -> Treatment:
    known = {"product": "praziquantel-powder", "repeats": 2, "interval_days": 8, "off_hours": 48.0}
    return order(pond, "praziquantel-prolonged", "2 mg/L", "prolonged bath", **known | more)


def feed(made: Case, *grams: float, kind: str = "step", gate: str = GATE) -> None:
    with edit("feeding", who=made.act.by, at=MOMENT, visit=made.visit) as doing:
        for n, one in enumerate(grams):
            doing.add(
                FeedStep(
                    id=new_key(),
                    visit=made.visit,
                    system=made.system,
                    position=n + 1,
                    day=D + timedelta(7 * n),
                    grams=one,
                    gate=gate,
                    kind=kind,
                )
            )


def take(made: Case, *kinds: str) -> None:
    offered = plan_steps.offers(made.visit, made.system)
    origins = tuple(o.origin for o in offered if not kinds or o.origin.split(":")[0] in kinds)
    plan_steps.take_steps(made.act, made.visit, made.system, origins)


# Medicines


def test_two_baths_stand_on_their_days_though_nobody_took_their_lines(pond: Case) -> None:
    praziquantel(pond)
    found = sheet(pond)
    said = "Praziquantel: 6.78 g of praziquantel powder, into the water of the water."
    assert [s.do for s in found.today] == [said]
    assert days(found) == {8: [said]}


def test_a_line_that_was_taken_is_not_said_again(pond: Case) -> None:
    praziquantel(pond)
    before = sheet(pond)
    take(pond, "dose")
    assert sheet(pond).today == before.today
    assert sheet(pond).steps == before.steps


def test_a_line_in_the_vets_own_words_stands_and_a_struck_one_does_not(pond: Case) -> None:
    praziquantel(pond)
    take(pond, "dose")
    first, second = read.find(OwnerStep, visit=pond.visit)
    plan_steps.change_step(pond.act, first.id, kind="do", words="pour it in at dusk", day=D)
    plan_steps.strike_step(pond.act, second.id, "we come ourselves")
    assert [s.do for s in sheet(pond).today] == ["Pour it in at dusk."]
    assert sheet(pond).steps == ()


@pytest.mark.parametrize("starts", [D, D + timedelta(2)])
def test_copper_in_three_parts_is_a_third_on_each_day(records: Path, starts: date) -> None:
    tank = case("marine_fish_only", 180.0, "clownfish", 3)
    tank.read(temperature=25.6, ph=8.1, salinity=33.0, oxygen=6.4, kh=142.0, ammonia=0.02)
    order(
        tank,
        "copper-marine",
        "0.18 mg/L",
        "prolonged bath",
        product="copper-solution",
        steps=3,
        starts=starts,
        reason="bare tank",
    )
    found = sheet(tank)
    told = [(s.on, s.do) for s in (*found.today, *found.steps)]
    assert [on for on, _ in told] == [starts + timedelta(n) for n in range(3)]
    for _, words in told:
        assert "10.8 mL of copper solution" in words
        assert "32.4" not in words


def test_what_is_switched_off_has_a_day_on_which_it_goes_on_again(pond: Case) -> None:
    praziquantel(pond)
    take(pond, "goes", "again")
    found = sheet(pond)
    assert found.today[0].do.startswith("UV, ozone and skimmer off, carbon out")
    again = "UV, ozone and skimmer on again, fresh carbon in: 48 h after the praziquantel."
    assert days(found)[2] == days(found)[10] == [again]


def test_long_directions_are_said_once(pond: Case) -> None:
    praziquantel(pond, directions="stirred into a bucket of pond water, poured in all round")
    found = sheet(pond)
    assert found.today[0].do.endswith("Stirred into a bucket of pond water, poured in all round.")
    assert days(found)[8][0].endswith("As the first time.")


def test_one_sentence_about_forgotten_doses_names_each_medicine(pond: Case) -> None:
    praziquantel(pond)
    order(pond, "salt-prolonged", "1 g/L", "prolonged bath", product="sodium-chloride", reason="x")
    take(pond, "missed")
    told = "A forgotten dose of praziquantel or sodium chloride: do not give two together; ring."
    assert sheet(pond).forgotten == (told,)


def test_what_must_not_go_with_a_bath_and_the_cautions_of_what_is_handled(pond: Case) -> None:
    assert not any("Add nothing else" in line for line in sheet(pond).avoid)
    order(pond, "permanganate-prolonged", "2 mg/L", "prolonged bath", reason="as the vet has it")
    found = sheet(pond)
    assert any("Add nothing else" in line for line in found.avoid)
    assert any(line.startswith("With potassium permanganate: no formalin") for line in found.avoid)
    assert any("it can explode" in line for line in found.cautions)


# Food


def test_rises_are_told_once_each_with_the_gate_and_the_owners_scoop(pond: Case) -> None:
    feed(pond, 63.0, 81.0, 99.0)
    with edit("food", who=pond.act.by, at=MOMENT, visit=pond.visit) as doing:
        food = Food(id=new_key(), visit=pond.visit, system=pond.system, name="pellet", scoop_g=36.0)
        doing.add(food)
    before = sheet(pond)
    scoops = "Feed 63 g a day (about 1.75 of your scoops, 36 g each)."
    assert [s.do for s in before.today] == [f"{scoops} {GATE}"]
    later = days(before)
    assert later[7] == [
        "Feed 81 g a day (about 2.25 of your scoops, 36 g each). "
        "Only when “Before each rise” holds."
    ]
    assert before.before_rise == (GATE,)
    take(pond, "feeding")
    assert (sheet(pond).today, sheet(pond).steps) == (before.today, before.steps)


def test_a_held_ration_is_said_in_its_own_sentence(pond: Case) -> None:
    feed(pond, 5.8, kind="hold", gate=f"Hold 5.8 g a day. Raise: {GATE}")
    assert [s.do for s in sheet(pond).today] == [f"Hold 5.8 g a day. Raise: {GATE}"]


def test_a_practice_that_reads_ounces_gets_them_behind_the_grams(pond: Case) -> None:
    feed(pond, 63.0)
    [row] = read.find(Practice)
    with edit("units", who=pond.act.by, at=MOMENT) as doing:
        doing.change(Practice, row.id, units="us")
    found = sheet(pond)
    # 63 / 28.349523125 and 3390 / 3.785411784.
    assert found.today[0].do.startswith("Feed 63 g a day (2.2 oz).")
    assert "896 gal" in found.system
    assert found.readings is not None
    assert dict(zip(found.readings.heads, found.readings.ours, strict=True))["Temp. °F"] == "62.6"


# What was found, people, food fish, movement


def test_what_was_found_tells_certain_from_suspected(pond: Case) -> None:
    name_problem(pond.act, pond.visit, pond.system, problem="gill_flukes", state="confirmed")
    name_problem(pond.act, pond.visit, pond.system, problem="ulcer_bacteria")
    assert sheet(pond).found == (
        "We found: gill flukes, egg-laying.",
        "We suspect, and it is not proven: bacterial ulcer (Aeromonas and others).",
    )
    [told] = [line for line in sheet(pond).cautions if "ulcers" in line]
    take(pond, "people")
    assert [line for line in sheet(pond).cautions if "ulcers" in line] == [told]
    assert not any("ulcers" in step.do for step in sheet(pond).today)


def test_a_listed_disease_is_boxed_and_not_repeated(pond: Case) -> None:
    assert sheet(pond).movement == ()
    name_problem(pond.act, pond.visit, pond.system, problem="khv")
    take(pond, "movement")
    found = sheet(pond)
    assert found.movement == (load.table("owner")["caution"]["movement"],)
    assert found.avoid == ()


def test_fish_that_may_be_eaten_have_their_first_day(records: Path) -> None:
    farm = case("trout_flowing", 57_600.0, "rainbow_trout", 3200, food_fish=True, flow="flowing")
    with edit("sedated", who=farm.act.by, at=MOMENT, visit=farm.visit) as doing:
        fish = Handling(
            id=new_key(),
            visit=farm.visit,
            system=farm.system,
            group=farm.group,
            number=1,
            label="ten trout",
            count=10,
            agent="tricaine methanesulfonate (MS-222)",
            agent_mg_l=80.0,
            at=MOMENT,
        )
        doing.add(fish)
    [(whom, first)] = sheet(farm).withdrawal
    assert whom.startswith("ten trout (tricaine")
    assert first == D + timedelta(21)
    assert any("tricaine" in line for line in sheet(farm).cautions)
    assert any("law of the place" in line for line in sheet(farm).withheld)


def test_without_a_date_none_is_eaten(records: Path) -> None:
    farm = case("trout_flowing", 57_600.0, "rainbow_trout", 3200, food_fish=True, flow="flowing")
    with edit("sedated", who=farm.act.by, at=MOMENT, visit=farm.visit) as doing:
        fish = Handling(
            id=new_key(),
            visit=farm.visit,
            system=farm.system,
            group=farm.group,
            number=1,
            label="ten trout",
            agent="something of their own",
            at=MOMENT,
        )
        doing.add(fish)
    assert sheet(farm).withdrawal == ()
    assert any("until we say so in writing" in line for line in sheet(farm).withheld)


# Stop rules, versions


def test_a_plan_without_a_stop_rule_can_not_print(pond: Case, tmp_path: Path) -> None:
    praziquantel(pond)
    take(pond, "dose", "missed")
    with pytest.raises(Refusal, match="a stop rule"):
        documents.issue_care_sheet(pond.act, pond.visit, tmp_path)
    take(pond, "stop")
    issued = documents.issue_care_sheet(pond.act, pond.visit, tmp_path)
    assert "555 0199" in issued.text


def test_a_changed_plan_makes_another_sheet(pond: Case, tmp_path: Path) -> None:
    take(pond, "stop")
    one = documents.issue_care_sheet(pond.act, pond.visit, tmp_path).document
    assert "up to date" in documents.care_sheet_state(pond.visit)
    plan_steps.add_step(pond.act, pond.visit, "watch", "the sore on the flank")
    assert "OUT OF DATE" in documents.care_sheet_state(pond.visit)
    two = documents.issue_care_sheet(pond.act, pond.visit, tmp_path).document
    assert one.number != two.number
    assert two.supersedes == one.id


def test_the_hash_forgets_the_number_and_not_the_words(pond: Case) -> None:
    found = sheet(pond)
    assert content_hash(found) == content_hash(replace(found, number="9", version=4))
    assert content_hash(found) != content_hash(replace(found, watch=("another",)))


def test_no_food_is_something_to_do_and_raising_the_ph_is_not(records: Path) -> None:
    tank = case("soft_water", 235.0, "neon_tetra", 14)
    tank.read(temperature=26.0, ph=5.9, ammonia=3.0, kh=9.0, oxygen=7.2, nitrite=0.01)
    tank.read("tap", ph=7.9, kh=42.0, ammonia=0.0)
    take(tank, "water")
    found = sheet(tank)
    assert "No food for 2 days, then test again." in [s.do for s in found.today]
    assert any(line.startswith("Do NOT raise the pH") for line in found.avoid)
    assert not any(line.startswith("No food") for line in found.avoid)


def test_a_recheck_is_told_on_the_day_it_is_booked_for(pond: Case) -> None:
    window = Window(D + timedelta(3), D + timedelta(3), D + timedelta(4))
    plan_rechecks.plan_recheck(
        pond.act, pond.visit, pond.system, reason="call in", window=window, kind="phone"
    )
    assert days(sheet(pond)) == {3: ["We ring you: call in"]}
    assert sheet(pond).steps[0].by_practice


def test_our_readings_head_the_owners_table(pond: Case) -> None:
    found = sheet(pond).readings
    assert found is not None
    told = dict(zip(found.heads, found.ours, strict=True))
    assert told["Temp. °C"] == "17"
    assert told["Ammonia mg/L as N"] == "0.1"
    assert (told["Food, g"], told["Dead"]) == ("", "")


def test_the_whole_sheet_reads_from_today_to_the_table(pond: Case) -> None:
    praziquantel(pond)
    take(pond)
    text = paper.text(sheet(pond))
    order_ = ["What to do for your fish", "Do today", "Ring 555 0199", "Later", "Every day"]
    places = [text.index(part) for part in (*order_, "chilled, not frozen", "Your own readings")]
    assert places == sorted(places)
