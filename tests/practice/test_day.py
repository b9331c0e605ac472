"""The day list: order, stage reached, what is waiting, paid or not, what to know before."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from playhouse.test_utils import count_queries

from core.practice import day as days
from core.practice import setup, visits
from core.practice.day import Mark
from core.practice.keep import Act, mark_stage
from core.records.journal import edit
from core.records.keys import new_key
from core.records.tables import (
    Invoice,
    OwnerStep,
    Payment,
    Problem,
    ProblemState,
    SentTest,
    Treatment,
    Visit,
)
from tests.conftest import MOMENT
from tests.small import Small

TODAY = MOMENT.date()


def add(act: Act, small: Small, starts: str, *, client: str = "", **more: Any) -> str:
    """Book a visit to a client of its own."""
    owner = setup.add_client(act, client or f"Client at {starts}", phone="555")
    site = setup.add_site(act, owner, "home", address="9 Weir Lane", access="dog in the yard")
    system = setup.add_system(act, site, "pond", "koi_pond", volume_l=1000.0)
    return visits.book(act, system, TODAY, starts, small.vet, "check", **more)


def name_problem(act: Act, small: Small, visit: str, kind: str, words: str, state: str) -> None:
    found = visits.opened(visit)
    with edit("problem", who=small.vet, at=act.at, visit=visit) as doing:
        row = Problem(
            id=new_key(),
            visit=visit,
            client=found.client.id,
            system=found.system.id,
            problem=kind,
            words=words,
        )
        doing.add(row)
        doing.add(
            ProblemState(
                id=new_key(),
                visit=visit,
                problem=row.id,
                state=state,
                by=small.vet,
                at=act.at,
            )
        )


def test_the_visits_stand_in_order_of_time(practice: Small, act: Act) -> None:
    add(act, practice, "15:30")
    add(act, practice, "08:00")
    assert [line.starts for line in days.lines(TODAY)] == ["08:00", "10:30", "15:30"]
    assert days.lines(TODAY + timedelta(days=1)) == ()


def test_a_line_says_how_far_the_visit_has_come_and_where_to_go_on(
    practice: Small, act: Act
) -> None:
    line = days.lines(TODAY)[0]
    assert (line.stage, line.resume, line.waiting) == ("not begun", "", "")
    mark_stage(act, practice.visit, "Water", "done")
    mark_stage(act, practice.visit, "History", "begun")
    line = days.lines(TODAY)[0]
    assert (line.stage, line.resume) == ("Water done", "History")
    mark_stage(act, practice.visit, "Biopsy", "waiting", "gram stain")
    with edit("test", who=act.by, at=act.at, visit=practice.visit) as doing:
        doing.add(
            SentTest(
                id=new_key(),
                visit=practice.visit,
                system=practice.system,
                name="culture",
                day=TODAY,
            )
        )
    line = days.lines(TODAY)[0]
    assert (line.stage, line.waiting) == ("Biopsy waiting", "gram stain, culture")


def test_a_stage_that_is_done_sends_on_to_the_next() -> None:
    assert days.resume([Mark("History", "done", "")]) == "Watching"
    assert days.resume([Mark("Sign", "done", "")]) == "Sign"
    assert days.resume([Mark("History", "done", ""), Mark("Water", "begun", "")]) == "Water"


def test_no_access_is_said_with_its_reason(practice: Small, act: Act) -> None:
    visits.no_access(act, practice.visit, "gate locked")
    line = days.lines(TODAY)[0]
    assert (line.stage, line.off) == ("no access: gate locked", True)


def test_paid_part_paid_and_unpaid_are_three_words(practice: Small, act: Act) -> None:
    assert days.lines(TODAY)[0].payment == ""
    common = {"visit": practice.visit, "client": practice.client, "by": practice.vet, "at": act.at}
    said = []
    with edit("invoice", who=practice.vet, at=act.at, visit=practice.visit) as doing:
        doing.add(
            Invoice(
                id=new_key(),
                number="1",
                day=TODAY,
                net_minor=10000,
                tax_minor=0,
                gross_minor=10000,
                **common,
            )
        )
    said.append(days.lines(TODAY)[0].payment)
    for amount in (2500, 7500):
        with edit("payment", who=practice.vet, at=act.at, visit=practice.visit) as doing:
            doing.add(Payment(id=new_key(), amount_minor=amount, how="cash", **common))
        said.append(days.lines(TODAY)[0].payment)
        owed = days.view(TODAY).arrivals[practice.visit].owed_minor
        assert owed == days.lines(TODAY)[0].owed_minor
    assert said == ["unpaid", "part", "paid"]


def test_the_last_visit_is_two_lines_with_its_problems_and_plan(practice: Small, act: Act) -> None:
    earlier = visits.book(
        act, practice.system, date(2026, 10, 12), "09:00", practice.vet, "first look"
    )
    name_problem(act, practice, earlier, "", "rising nitrite", "confirmed")
    with edit("plan", who=practice.vet, at=act.at, visit=earlier) as doing:
        doing.add(
            OwnerStep(
                id=new_key(), visit=earlier, position=1, kind="do", words="Change 25 % a week."
            )
        )
        doing.add(
            Treatment(
                id=new_key(),
                visit=earlier,
                system=practice.system,
                act="dispensed",
                medicine="salt-dip",
                route="bath",
                dose=1,
                dose_unit="g/L",
                amount=9,
                amount_unit="kg",
                by=practice.vet,
                at=act.at,
            )
        )
        doing.change(Visit, earlier, state="open")
    arrival = days.view(TODAY).arrivals[practice.visit]
    assert arrival.last == (
        "12 Oct (not signed): rising nitrite confirmed",
        "Change 25 % a week; sodium chloride dispensed",
    )
    assert days.view(date(2026, 10, 12)).arrivals[earlier].last == ()


def test_what_must_be_known_at_the_gate(practice: Small, act: Act) -> None:
    site = setup.add_site(
        act,
        practice.client,
        "farm",
        access="ring at the mill",
        bring="waders",
        caution="bull in the field",
    )
    system = setup.add_system(
        act, site, "raceway", "trout_flowing", food_fish=True, invertebrates="yes"
    )
    visit = visits.book(
        act, system, TODAY, "14:00", practice.vet, "deaths", kind="farm", rank=4, advice="no food"
    )
    name_problem(act, practice, visit, "mycobacteriosis", "fish tuberculosis", "suspected")
    arrival = days.view(TODAY).arrivals[visit]
    assert (arrival.access, arrival.advice) == ("ring at the mill", "no food")
    assert arrival.bring.startswith("waders; oxygen meter")
    cautions = "\n".join(arrival.cautions)
    for words in ("goes last", "bull in the field", "food fish", "no copper, no salt", "gloves"):
        assert words in cautions


def test_a_problem_ruled_out_later_is_no_caution(practice: Small, act: Act) -> None:
    name_problem(act, practice, practice.visit, "mycobacteriosis", "fish tuberculosis", "ruled out")
    assert days.view(TODAY).arrivals[practice.visit].cautions == ()


def test_after_a_suspected_listed_disease_the_later_stops_of_the_round_are_flagged(
    practice: Small, act: Act
) -> None:
    other = setup.add_person(act, "Ines Test", "veterinarian")
    before = add(act, practice, "08:00")
    after = [add(act, practice, starts) for starts in ("13:00", "15:30")]
    clear = [days.view(TODAY).arrivals[v].lock for v in after]
    elsewhere = add(act, practice, "14:00")
    with edit("booking", who=act.by, at=act.at, visit=elsewhere) as doing:
        doing.change(Visit, elsewhere, vet=other)
    name_problem(act, practice, practice.visit, "khv", "koi herpesvirus", "suspected")
    arrivals = days.view(TODAY).arrivals
    assert clear == ["", ""]
    assert all("Clara Test at 10:30" in arrivals[v].lock for v in after)
    assert not arrivals[before].lock
    assert not arrivals[elsewhere].lock
    assert not arrivals[practice.visit].lock
    assert "nothing leaves this site" in arrivals[practice.visit].cautions[0]


def test_the_number_of_queries_does_not_grow_with_the_visits(practice: Small, act: Act) -> None:
    def queries() -> int:
        with count_queries() as counter:
            days.view(TODAY)
        return int(counter.count)

    one = queries()
    for hour in range(11, 19):
        visit = add(act, practice, f"{hour}:00")
        name_problem(act, practice, visit, "", "worms", "confirmed")
        mark_stage(act, visit, "Water", "begun")
    assert len(days.view(TODAY).lines) == 9
    assert queries() == one
    assert 0 < one < 12


def test_a_round_is_the_visits_of_one_vet(practice: Small) -> None:
    view = days.view(TODAY)
    assert len(view.of(None)) == len(view.of(practice.vet)) == 1
    assert view.of(practice.technician) == ()
