"""A course by its parts, its dates, its tests, its scoops, its cost; levels changed in steps."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.catalogue import load
from core.errors import BadInput, Refusal
from core.papers import care_sheet as paper
from core.practice import (
    charges,
    corrections,
    course_words,
    level_ramps,
    own_products,
    own_rows,
    plan,
    plan_rechecks,
    plan_steps,
    treatment_said,
)
from core.practice.care_paper import care_sheet
from core.practice.corrections import Correction
from core.practice.keep import figures
from core.practice.level_ramps import Change
from core.practice.problem_list import name_problem
from core.practice.treatments import order_treatment, prepare
from core.records import read
from core.records.journal import edit
from core.records.keys import new_key
from core.records.tables import OwnerStep, Price, Product, TaxClass, Treatment
from core.water.first import SLOW
from tests.practice.plan_cases import MOMENT, Case, D, case


@pytest.fixture
def pond(records: Path) -> Case:
    made = case(volume_error_percent=10.0)
    made.read(temperature=20.0, ph=8.0, nitrite=0.01, oxygen=9.0, ammonia=0.1, kh=90.0)
    return made


@pytest.fixture
def sea(records: Path) -> Case:
    made = case("marine_fish_only", 700.0, "clownfish", 4)
    made.read(temperature=25.0, ph=8.1, kh=140.0, oxygen=7.0)
    return made


def ordered(made: Case, medicine: str, dose: str, route: str, **more: object) -> Treatment:
    wanted = made.order(medicine, dose, route, **{"act": "dispensed", **more})
    return read.one(Treatment, order_treatment(made.act, made.visit, wanted))


def praziquantel(made: Case, **more: object) -> Treatment:
    known = {"product": "praziquantel-powder", "repeats": 2, "interval_days": 8, **more}
    return ordered(made, "praziquantel-prolonged", "2 mg/L", "prolonged bath", **known)


def offered(made: Case, part: str) -> list[tuple[date | None, str]]:
    found = plan_steps.offers(made.visit, made.system)
    return [(o.day, o.words) for o in found if o.origin.startswith(f"{part}:")]


# Parts, by the hours that the row of the medicine says


def test_parts_twelve_hours_apart_have_their_day_and_hour(sea: Case) -> None:
    row = ordered(
        sea,
        "copper-marine",
        "0.15 mg/L",
        "prolonged bath",
        steps=5,
        apart_h=12,
        reason="raised by the row of the medicine",
    )
    days = [day for day, _ in offered(sea, "dose")]
    assert days == [D, D, D + timedelta(1), D + timedelta(1), D + timedelta(2)]
    said = [words for _, words in offered(sea, "dose")]
    assert "Part 2 of 5, 12 h after the first." in said[1]
    assert "Part 5 of 5, 48 h after the first." in said[4]
    assert "5 parts of" in treatment_said.amount_words(row)
    assert "12 h apart" in treatment_said.amount_words(row)
    later = care_sheet(sea.visit, "7-1", 1, sea.act.at).steps
    assert [s.on for s in later if "Part" in s.do][-1] == D + timedelta(2)


def test_a_step_up_is_judged_by_its_hours_not_by_its_days(pond: Case) -> None:
    wanted = pond.order("salt-prolonged", "2 g/L", "prolonged bath")
    least, most = prepare(pond.visit, wanted).row.step_up_h
    assert (least, most) == (24, 48)
    for apart in (6, 12, 24):
        for parts in range(2, 12):
            ask = replace(wanted.ask, steps=parts, apart_h=apart)
            said = prepare(pond.visit, replace(wanted, ask=ask)).dosed
            assert said is not None
            assert (said.stepped == "") == (least <= (parts - 1) * apart <= most), (apart, parts)
            assert sum(p.magnitude for p in said.parts) == pytest.approx(said.amount.magnitude)


@given(st.dates(date(2020, 1, 1), date(2100, 1, 1)), st.integers(1, 30), st.integers(1, 168))
def test_part_days_never_go_back_and_end_by_the_hours(start: date, parts: int, apart: int) -> None:
    got = course_words.part_days(start, parts, apart)
    assert len(got) == parts
    assert list(got) == sorted(got)
    assert (got[-1] - start).days == (parts - 1) * apart // 24


@pytest.mark.parametrize(("parts", "apart"), [(0, 24), (2, 0)])
def test_no_parts_and_no_hours_are_refused(parts: int, apart: int) -> None:
    with pytest.raises(BadInput):
        course_words.part_days(D, parts, apart)


# Salt, temperature and pH


@pytest.mark.parametrize(("rise", "least"), [(1.0, 2), (3.0, 2), (4.0, 2), (4.5, 3), (9.0, 5)])
def test_salt_goes_up_in_parts_none_over_the_limit_of_a_day(
    pond: Case, rise: float, least: int
) -> None:
    found = corrections.work_out(pond.visit, Correction("advised", pond.system, "salt", rise))
    assert found.parts == least
    assert found.grams == pytest.approx(3390 * rise)
    assert found.grams / found.parts / 3390 <= level_ramps.limit("salinity") + 1e-9
    fast = Correction("advised", pond.system, "salt", rise, parts=1)
    assert any("faster" in c for c in corrections.work_out(pond.visit, fast).cautions)
    with pytest.raises(Refusal, match="faster"):
        corrections.correct_water(pond.act, pond.visit, fast)


@pytest.mark.parametrize(
    ("what", "now", "target"),
    [
        ("temperature", 18.0, 25.0),
        ("temperature", 28.0, 22.5),
        ("ph", 6.2, 7.4),
        ("ph", 8.4, 7.5),
        ("salinity", 35.0, 16.0),
        ("salinity", 0.0, 3.0),
    ],
)
def test_the_steps_of_a_level_sum_to_the_target_and_none_is_over_the_day(
    pond: Case, what: str, now: float, target: float
) -> None:
    found = level_ramps.work_out(pond.visit, Change(pond.system, what, target, now))
    levels = [now, *found.levels.values()]
    steps = [b - a for a, b in pairwise(levels)]
    assert levels[-1] == target
    assert sum(steps) == pytest.approx(target - now)
    assert max(map(abs, steps)) <= level_ramps.limit(what) + 1e-9
    assert list(found.levels) == [D + timedelta(n) for n in range(len(steps))]
    assert found.cautions == ()


def test_limits_of_a_day_are_those_that_the_water_stage_says() -> None:
    for what in level_ramps.kinds():
        said = float(SLOW[what][1].removeprefix("no more than ").split()[0])
        assert said == level_ramps.limit(what)
        assert load.table("level_ramps")[what]["source"] in load.citations()


def test_a_level_ramp_becomes_dated_lines_for_the_owner_and_made_anew_replaces_them(
    pond: Case,
) -> None:
    first = date(2026, 11, 29)
    level_ramps.make(pond.act, pond.visit, Change(pond.system, "temperature", 25.0, first=first))
    rows = read.find(OwnerStep, visit=pond.visit, order="position")
    assert [r.day for r in rows] == [date(2026, 11, 29), date(2026, 11, 30), date(2026, 12, 1)]
    assert rows[-1].words == "Bring the temperature of the water to 25 °C over the day, no further."
    level_ramps.make(pond.act, pond.visit, Change(pond.system, "temperature", 22.0))
    assert [r.day for r in read.find(OwnerStep, visit=pond.visit)] == [D]
    text = paper.text(_sheet(pond))
    assert "to 22 °C over the day" in text
    assert "to 25 °C" not in text


def _sheet(made: Case) -> paper.CareSheet:
    plan_steps.add_step(made.act, made.visit, "stop", "fish gasp: ring")
    return care_sheet(made.visit, "7-1", 1, made.act.at)


def test_a_faster_change_needs_a_reason_that_is_kept(pond: Case) -> None:
    wanted = Change(pond.system, "ph", 7.0, most_a_day=1.0)
    assert "faster than 0.3 a day" in level_ramps.work_out(pond.visit, wanted).cautions[0]
    with pytest.raises(Refusal, match="faster"):
        level_ramps.make(pond.act, pond.visit, wanted)
    level_ramps.make(pond.act, pond.visit, replace(wanted, reason="ammonia is high"))
    assert "because: Ammonia is high." in read.find(OwnerStep, visit=pond.visit)[0].words


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (Change("", "temperature", 50.0), "outside"),
        (Change("", "temperature", 20.0), "there already"),
        (Change("", "salinity", 3.0), "not measured"),
        (Change("", "oxygen", 8.0), "not changed in steps"),
        (Change("", "ph", 7.0, most_a_day=0.0), "limit above zero"),
    ],
)
def test_what_can_not_be_changed_in_steps_is_refused(pond: Case, change: Change, said: str) -> None:
    with pytest.raises(Refusal, match=said):
        level_ramps.work_out(pond.visit, replace(change, system=pond.system))


def test_only_a_veterinarian_changes_a_level(pond: Case) -> None:
    with pytest.raises(Refusal, match="veterinarian"):
        level_ramps.make(pond.technician, pond.visit, Change(pond.system, "ph", 7.8))


# Life cycle


def test_the_life_cycle_of_a_named_parasite_gives_the_dates(pond: Case) -> None:
    name_problem(pond.act, pond.visit, pond.system, problem="gill_flukes", state="confirmed")
    [one] = plan.view(pond.visit, pond.system).repeats
    assert one.days == (date(2026, 11, 25), date(2026, 12, 2))
    said = one.sentence(D)
    assert "every 7 d, 2 times" in said
    assert "(read)" in said
    assert "Eggs begin to hatch after 3.0 d." in said


def test_between_the_rows_no_interval_is_made_up(records: Path) -> None:
    made = case()
    made.read(temperature=15.0)
    name_problem(made.act, made.visit, made.system, problem="gill_flukes", state="suspected")
    [one] = plan.view(made.visit, made.system).repeats
    assert (one.rule, one.days) == (None, ())
    assert "no interval is on record, the vet sets the days" in one.sentence(D)
    assert "Eggs begin to hatch after 7.5 d." in one.sentence(D)


# What is measured, and when


def test_tests_of_a_course_are_dated_lines_and_a_recheck(pond: Case) -> None:
    ordered(
        pond,
        "peroxide-bath-columnaris",
        "50 mg/L",
        "bath",
        repeats=3,
        interval_days=2,
        off_hours=2.0,
        reason="the fish bear it well",
    )
    last = D + timedelta(4)
    tests = offered(pond, "test")
    assert [day for day, _ in tests] == [last + timedelta(n) for n in (1, 3, 5, 7)]
    assert all("ammonia and nitrite" in words for _, words in tests)
    looks = [o for o in plan_rechecks.offers(pond.visit, pond.system, 20.0) if "after:" in o.origin]
    assert [o.window.target for o in looks] == [last + timedelta(3), last + timedelta(7)]
    assert "Ammonia and nitrite, after hydrogen peroxide" in looks[0].reason


def test_the_same_test_of_two_medicines_is_one_line(pond: Case) -> None:
    for medicine in ("peroxide-bath-columnaris", "peroxide-bath-gill-disease"):
        ordered(pond, medicine, "50 mg/L", "bath", off_hours=2.0, reason="the fish bear it well")
    days = [day for day, _ in offered(pond, "test")]
    assert len(days) == len(set(days)) == 4


def test_a_course_ends_with_a_look_of_its_own_beside_those_of_a_problem(pond: Case) -> None:
    praziquantel(pond)
    looks = plan_rechecks.offers(pond.visit, pond.system, 20.0)
    ends = [o for o in looks if ":course_end:" in o.origin]
    assert [o.window.target for o in ends] == [date(2026, 12, 6), date(2026, 12, 20)]
    name_problem(pond.act, pond.visit, pond.system, problem="gill_flukes", state="confirmed")
    looks = plan_rechecks.offers(pond.visit, pond.system, 20.0)
    assert [o for o in looks if ":course_end:" in o.origin] == ends
    assert any(o.origin.startswith("recheck:") for o in looks)


# Scoops


@pytest.mark.parametrize(("scoop", "warned"), [("15 g", True), ("7 g", False), ("2.26 g", False)])
def test_scoops_stand_on_plan_and_sheet_and_no_rounding_over_a_tenth_is_silent(
    pond: Case, scoop: str, warned: bool
) -> None:
    wanted = {"scoop": scoop, "reason": "no scale at the pond"}
    row = praziquantel(pond, **wanted)
    kept = figures(pond.visit, row.id)["scoops"]
    wrong = abs(kept.value * float(scoop.split()[0]) / row.amount - 1)
    assert (wrong > 0.1) == warned
    [line] = plan.view(pond.visit, pond.system).treatments
    text = paper.text(_sheet(pond))
    for said in (line.scoops, text):
        assert f"x scoop of {scoop}" in said
        assert "error" in said
        assert ("more than 10 %: weigh or measure it more finely" in said) == warned
    if warned:
        with pytest.raises(Refusal, match="weigh or measure"):
            praziquantel(pond, scoop=scoop)


# Cost


def priced(made: Case) -> None:
    with edit("prices", who=made.act.by, at=MOMENT) as doing:
        doing.add(TaxClass(id=new_key(), code="medicine", name="medicine", rate_percent=0))
        for code, minor in (("praziquantel_dose", 1050), ("own", 2000)):
            row = Price(id=new_key(), code=code, name=code, unit_minor=minor, tax_class="medicine")
            doing.add(row)


def test_the_cost_of_a_course_is_said_with_the_order_on_the_plan_and_charged(pond: Case) -> None:
    priced(pond)
    wanted = pond.order(
        "praziquantel-prolonged",
        "2 mg/L",
        "prolonged bath",
        act="dispensed",
        product="praziquantel-powder",
        repeats=2,
        interval_days=8,
    )
    said = "The course costs 21.00 EUR before tax."
    assert prepare(pond.visit, wanted).cost == said
    assert prepare(pond.visit, replace(wanted, act="advised")).cost == ""
    order_treatment(pond.act, pond.visit, wanted)
    assert plan.view(pond.visit, pond.system).treatments[0].cost == said
    [line] = [o for o in charges.bill(pond.visit).offered if o.code == "praziquantel_dose"]
    assert line.amount == 2100


def test_a_product_of_the_shelf_is_charged_by_the_pack_begun(pond: Case) -> None:
    priced(pond)
    with edit("shelf", who=pond.act.by, at=MOMENT) as doing:
        row = Product(
            id=new_key(),
            medicine="praziquantel-prolonged",
            name="praziquantel, tub",
            strength=100.0,
            strength_unit="percent w/w",
            pack=10.0,
            pack_unit="g",
            price="own",
        )
        doing.add(row)
    own_rows.read_again()
    assert own_products.own_shelf()[row.id].name == "praziquantel, tub"
    praziquantel(pond, product=row.id, act="dispensed")
    assert plan.view(pond.visit, pond.system).treatments[0].cost == (
        "The course costs 40.00 EUR before tax."
    )
    bill = charges.bill(pond.visit)
    [line] = [o for o in bill.offered if o.code == "own"]
    assert (line.quantity, line.amount) == (2, 4000)
    assert not any("praziquantel" in named for named in bill.unpriced)
