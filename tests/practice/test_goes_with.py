"""What goes with each medicine: what its row says comes out, on the plan and the sheet; no more."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from core.catalogue import load
from core.dosing.medicines import BATHS, Medicine
from core.papers import care_sheet as paper
from core.practice import goes_with, plan, plan_steps, treatment_words, trials
from core.practice.care_cautions import NOT_FOR_OWNER
from core.practice.care_paper import care_sheet
from core.practice.goes_with import PARTS, spells
from core.practice.medicines import catalogue
from core.practice.treatment_said import sentence
from core.practice.treatments import order_treatment, prepare
from core.records import read
from core.records.journal import edit
from core.records.keys import new_key
from core.records.tables import OwnerStep, Treatment
from tests.practice.plan_cases import MOMENT, Case, D, case

SAID = ("stay", "stop_at", "trial", "water_goes", "kit")
ORIGIN = {"stay": "stay", "stop_at": "ends", "trial": "trial", "water_goes": "drain", "kit": "kit"}
SWITCH = {"UV", "ozone", "carbon", "zeolite", "skimmer", "flow", "lights"}


def planted(made: Case, act: str) -> dict[str, Treatment]:
    """Put one treatment of every row of the medicines on the plan, its things off for 48 h."""
    found = {}
    with edit("planted", who=made.act.by, at=MOMENT, visit=made.visit) as doing:
        for key, row in catalogue().items():
            found[key] = Treatment(
                id=new_key(),
                visit=made.visit,
                system=made.system,
                act=act,
                medicine=key,
                route=row.routes[0],
                dose=1.0,
                dose_unit="mg/L",
                amount=1.0,
                amount_unit="g",
                off_hours=48.0,
                by=made.act.by,
                at=MOMENT,
            )
            doing.add(found[key])
    return found


@pytest.fixture
def water(records: Path) -> Case:
    return case()


def expected(row: Medicine) -> set[str]:
    """Return the origins that the data of a row asks for, when the owner gives it."""
    found = {ORIGIN[name] for name in SAID if getattr(row, name)}
    if row.switch_off or row.extra_air:
        found |= {"goes", "again"}
    if row.duration and row.routes[0] in BATHS:
        found.add("time")
    return found


def lines(made: Case, treatment: Treatment) -> dict[str, str]:
    """Return what is offered for a treatment beside its doses, by the first word of its origin."""
    return {
        one.origin.partition(":")[0]: one.words
        for one in plan_steps.offers(made.visit, made.system)
        if f":{treatment.id}" in one.origin and one.origin.partition(":")[0] in PARTS
    }


def test_what_a_row_says_is_offered_to_who_gives_it_and_nothing_else(water: Case) -> None:
    offered: dict[str, dict[str, str]] = {}
    given = planted(water, "dispensed")
    names = {row.id: key for key, row in given.items()}
    for one in plan_steps.offers(water.visit, water.system):
        part, _, rest = one.origin.partition(":")
        if part in PARTS:
            offered.setdefault(names[rest.partition(":")[0]], {})[part] = one.words
    bare = []
    for key, row in catalogue().items():
        got = offered.get(key, {})
        assert set(got) == expected(row), key
        for name in SAID:
            if text := getattr(row, name):
                assert text.rstrip(".") in got[ORIGIN[name]], (key, name)
        goes = got.get("goes", "")
        assert {s for s in SWITCH if s.lower() in goes.lower().split(" before ")[0]} == set(
            row.switch_off
        ), key
        assert ("extra air on" in goes.lower()) == row.extra_air
        assert ("time" not in got) or row.duration in got["time"]
        bare += [] if got else [key]
    assert 20 < len(bare) < len(given) - 30, "the rows are not all alike"


def test_every_such_line_stands_on_the_care_sheet_once_it_is_taken(water: Case) -> None:
    planted(water, "dispensed")
    plan_steps.take_steps(water.act, water.visit, water.system)
    taken = [s for s in read.find(OwnerStep, visit=water.visit)]
    beside = [s for s in taken if s.origin.partition(":")[0] in (*PARTS, "test")]
    assert len(beside) > 150
    text = paper.text(care_sheet(water.visit, "7-1", 1, water.act.at))
    for step in beside:
        assert sentence(step.words) in text, step.origin


def test_every_such_line_stands_on_the_plan_whoever_gives_it(water: Case) -> None:
    given = planted(water, "given here")
    shown = {t.treatment.id: t for t in plan.view(water.visit, water.system).treatments}
    for key, row in catalogue().items():
        said = " ".join(shown[given[key].id].beside)
        for name in SAID:
            assert getattr(row, name).rstrip(".") in said, (key, name)
        assert all(s in said for s in row.switch_off), key
        assert ("extra air on" in said.lower()) == row.extra_air, key
        none = not (row.switch_off or row.extra_air or any(getattr(row, n) for n in SAID))
        assert (said == "") == none, key


def test_a_single_bath_that_we_give_and_end_leaves_the_owner_drain_kit_and_switches(
    water: Case,
) -> None:
    ours = planted(water, "given here")
    short = lines(water, ours["formalin-bath"])
    assert set(short) == {"goes", "again", "drain", "kit"}
    assert {"stay", "ends", "trial"} <= set(lines(water, ours["formalin-prolonged"]))
    assert lines(water, ours["tricaine-sedation"]) == {}


def order(made: Case, **more: object) -> Treatment:
    known = {"act": "dispensed", "product": "praziquantel-powder", "repeats": 2, "interval_days": 8}
    wanted = made.order("praziquantel-prolonged", "2 mg/L", "prolonged bath", **known | more)
    return read.one(Treatment, order_treatment(made.act, made.visit, wanted))


def of(made: Case, part: str) -> Iterator[tuple[date | None, str]]:
    for one in plan_steps.offers(made.visit, made.system):
        if one.origin.startswith(f"{part}:"):
            yield one.day, one.words


def test_things_go_on_again_on_the_day_that_the_course_makes_of_the_hours(water: Case) -> None:
    order(water, off_hours=48.0)
    assert [day for day, _ in of(water, "goes")] == [D, D + timedelta(8)]
    assert [day for day, _ in of(water, "again")] == [date(2026, 11, 27), date(2026, 12, 5)]


def test_nothing_goes_on_between_two_doses_that_lie_closer_than_its_hours(water: Case) -> None:
    order(water, repeats=3, interval_days=2, off_hours=72.0)
    assert [day for day, _ in of(water, "goes")] == [D]
    [(day, words)] = of(water, "again")
    assert day == D + timedelta(4 + 3)
    assert "3 days after the last dose of the praziquantel" in words


def test_parts_of_one_dose_are_one_bath_until_after_the_last(records: Path) -> None:
    sea = case("marine_fish_only", 700.0, "clownfish", 4, day=D)
    sea.read(temperature=25.0, ph=8.1, kh=140.0, oxygen=7.0, salinity=34.0)
    wanted = sea.order(
        "copper-marine", "0.15 mg/L", "prolonged bath", act="advised", off_hours=24.0
    )
    wanted = replace(
        wanted, ask=replace(wanted.ask, steps=3), reason="the vet has weighed it twice"
    )
    order_treatment(sea.act, sea.visit, wanted)
    assert [day for day, _ in of(sea, "goes")] == [D]
    [(day, words)] = of(sea, "again")
    assert day == D + timedelta(2 + 1)
    assert "after the last part of the copper sulfate" in words


def test_spells_by_hand() -> None:
    a, b, c = D, D + timedelta(1), D + timedelta(9)
    assert spells((a, b, c), 24.0) == ((a, b, D + timedelta(2)), (c, c, D + timedelta(10)))
    assert spells((a, b), 12.0) == ((a, a, a), (b, b, b))
    assert spells((a, b), None) == ((a, a, None), (b, b, None))
    assert spells((a, b), None, one=True) == ((a, b, None),)


def test_a_lasting_bath_without_hours_says_that_they_are_lacking(water: Case) -> None:
    row = order(water)
    [line] = plan.view(water.visit, water.system).treatments
    assert "not said after how many hours" in line.unsaid
    assert goes_with.unsaid_end(replace(row, off_hours=30.0), catalogue()[row.medicine]) == ""


def test_a_trial_stands_in_the_place_of_its_asking_with_what_was_seen(water: Case) -> None:
    row = planted(water, "advised")["formalin-bath"]
    assert "Formalin: try it on a few fish first" in lines(water, row)["trial"]
    trials.note(water.act, row.id, 3, 30.0, "all eat after 24 h")
    assert "trial" not in lines(water, row)
    words = lines(water, row)["tried"]
    assert words == "Formalin: tried on 3 fish for 30 min: all eat after 24 h."
    plan_steps.take_steps(water.act, water.visit, water.system)
    assert words in care_sheet(water.visit, "7-1", 1, water.act.at).watch


def test_the_order_says_all_of_it_before_it_is_made(water: Case) -> None:
    wanted = water.order("peroxide-bath-columnaris", "50 mg/L", "bath", off_hours=2.0)
    said = "\n".join(treatment_words.sentences(prepare(water.visit, wanted)))
    row = catalogue()["peroxide-bath-columnaris"]
    assert "Meanwhile UV and ozone off, carbon out; as before 2 h after" in said
    for text in (row.stay, f"Stop at: {row.stop_at}", f"Try it on a few fish first: {row.trial}"):
        assert text in said


def test_every_hazard_to_people_of_what_the_owner_handles_is_told_on_the_sheet(water: Case) -> None:
    planted(water, "dispensed")
    plan_steps.add_step(water.act, water.visit, "stop", "fish gasp: ring")
    hands = " ".join(care_sheet(water.visit, "7-1", 1, water.act.at).cautions).lower()
    told = load.table("owner")["medicine"]
    for key, row in catalogue().items():
        mine = [words for part, words in told.items() if part in row.name.lower()]
        hazards = [h for h in row.hazards if not h.startswith(NOT_FOR_OWNER)]
        for said in mine or hazards:
            assert said.lower() in hands, key
