"""The plan by keys only, at 80x24: orders with their doses, the owner's lines, the rechecks."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

import pytest
from textual.widgets import Static

from core import clock
from core.practice.desk import Desk
from core.practice.problem_list import name_problem
from core.practice.who import people
from core.records import read
from core.records.tables import Figure, OwnerStep, Recheck, Treatment, TrialRun, Visit
from tests.practice.plan_cases import Case, case
from tests.small import ZONE
from tests.tui.stage_app import Opened, opened
from tui.widgets.panel import Panel
from tui.workup.screen import WorkupScreen


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "practice.db"


def build(file: Path, fill: Callable[[], Case]) -> Case:
    desk = Desk(file)
    try:
        return desk.save(fill).result(timeout=30)
    finally:
        desk.close()


@pytest.fixture
def pond(file: Path) -> Case:
    def fill() -> Case:
        made = case(day=clock.today(ZONE), volume_error_percent=10.0)
        made.read(temperature=20.0, ph=8.0, nitrite=0.60, chloride=18.0, oxygen=8.0)
        name_problem(made.act, made.visit, made.system, problem="gill_flukes", state="confirmed")
        return made

    return build(file, fill)


@pytest.fixture
def raceway(file: Path) -> Case:
    def fill() -> Case:
        made = case(
            "trout_flowing",
            57_600.0,
            "rainbow_trout",
            3200,
            day=clock.today(ZONE),
            flow="flowing",
            flow_l_s=18.0,
            food_fish=True,
        )
        made.read("inlet", oxygen=10.1)
        made.read("outlet", temperature=12.0, ph=7.3, oxygen=6.3)
        return made

    return build(file, fill)


async def press(here: Opened, *pressed: str) -> None:
    """Press a key that may open a dialog, wait for it, then the rest without waiting."""
    await here.press(pressed[0])
    if len(pressed) > 1:
        await here.press(*pressed[1:])


def preview(here: Opened) -> str:
    return str(here.app.screen.query_one("#dialog-below", Static).render())


def given(here: Opened) -> tuple[Treatment, ...]:
    return here.app.desk.look(read.find, Treatment)


async def to(here: Opened, key: str) -> None:
    """Leave the row that is being typed and go to another of the dialog."""
    if here.form.typing:
        await press(here, "escape")
    await here.go(key)


async def test_an_order_shows_its_dose_before_it_is_made(file: Path, pond: Case) -> None:
    async with opened(file, pond.visit, "Plan") as here:
        await here.go("order")
        await press(here, "enter", "praziquantel prol", "enter", "enter", "g")
        assert "Amount: 6.78 g of praziquantel powder (100 % w/w); 13.56 g in all." in preview(here)
        assert "1.818 to 2.222 mg/L" in preview(here)
        await to(here, "interval")
        await press(here, "8", "enter")
        await to(here, "hours")
        await press(here, "48", "enter", "escape", "f")
        row = given(here)[0]
        assert (row.act, round(row.amount, 6), row.repeats, row.interval_days) == (
            "given here",
            6.78,
            2,
            8.0,
        )
        assert row.off_hours == 48.0
        assert "6.78 g" in here.row(f"treatment {row.id}")
        await here.go(f"treatment {row.id}")
        await press(here, "w")
        assert isinstance(here.app.screen, Panel)
        assert "bath mass = 6.78 g" in here.app.screen._body


async def test_how_well_the_water_is_known_is_typed_and_both_ends_are_judged(
    file: Path, pond: Case
) -> None:
    async with opened(file, pond.visit, "Plan") as here:
        await here.go("order")
        await press(here, "enter", "praziquantel prol", "enter", "enter", "g")
        await to(here, "error")
        await press(here, "2", "5", "enter")
        # 2 mg/L in 25 % more water, and in 25 % less.
        assert "1.6 to 2.667 mg/L" in preview(here)
        await to(here, "error")
        await press(here, "1", "0", "0", "enter")
        assert "90" in here.row("error")
        assert "1.6 to 2.667 mg/L" in preview(here)


async def test_a_bare_number_is_refused_and_the_dialog_stays(file: Path, pond: Case) -> None:
    async with opened(file, pond.visit, "Plan") as here:
        await here.go("order")
        await press(here, "enter", "praziquantel prol", "enter", "enter", "g", "2", "enter")
        assert "2 is not a number with its unit" in here.row("dose")
        assert preview(here).endswith("Type the dose with its unit.")
        assert "Amount" not in preview(here)
        await press(here, "escape", "f")
        assert given(here) == ()
        assert "2 ?" in here.row("dose")


async def test_water_that_stands_is_refused_and_running_is_reckoned(
    file: Path, raceway: Case
) -> None:
    async with opened(file, raceway.visit, "Plan") as here:
        await here.go("order")
        await press(here, "enter", "chloramine bath freshwater-reared salm", "enter", "enter", "g")
        await press(here, "15 mg/L", "enter")
        assert "864 g at once and 972 g fed in (16.2 g a minute): 1836 g." in preview(here)
        assert "5508 g in all" in preview(here)
        await to(here, "how")
        await press(here, "enter", "s")
        assert "the oxygen would fall by 4.3 mg/L" in preview(here)
        await press(here, "escape", "f")
        assert given(here) == ()
        await to(here, "how")
        await press(here, "enter", "r", "escape", "f")
        assert round(given(here)[0].amount) == 1836


async def test_what_the_law_forbids_is_refused_with_its_rule(file: Path, raceway: Case) -> None:
    async with opened(file, raceway.visit, "Plan") as here:
        await here.go("order")
        await press(here, "enter", "enrofloxacin bath", "enter", "enter", "p")
        assert "REFUSED" in preview(here)
        assert "21 CFR 530.41" in preview(here)
        await to(here, "reason")
        await press(here, "enter", "the farmer asks", "enter", "escape", "f")
        if here.form.typing:
            await press(here, "escape", "f")
        assert given(here) == ()


async def test_salt_for_nitrite_is_worked_out_and_kept(file: Path, pond: Case) -> None:
    async with opened(file, pond.visit, "Plan") as here:
        await here.go("correct")
        await press(here, "enter", "n")
        assert "458.3 g for a rise of 82.0 mg/L chloride" in preview(here)
        await to(here, "act")
        await press(here, "enter", "a", "escape", "f")
        row = given(here)[0]
        assert (row.act, round(row.amount)) == ("advised", 458)
        kept = here.app.desk.look(read.find, Figure, subject=row.id)
        assert [f.name for f in kept] == ["amount"]


async def test_offered_lines_are_taken_by_one_key_each_or_all(file: Path, pond: Case) -> None:
    async with opened(file, pond.visit, "Plan") as here:
        offers = here.keys_of_rows("offer ")
        assert "offer stop:default" in offers
        await here.go("offer stop:default")
        await press(here, "enter")
        kinds = [s.kind for s in here.app.desk.look(read.find, OwnerStep)]
        assert kinds == ["stop"]
        await press(here, "v")
        assert len(here.app.desk.look(read.find, OwnerStep)) == len(offers)
        assert here.keys_of_rows("offer ") == []


async def test_a_line_of_ones_own_is_added_changed_and_struck(file: Path, pond: Case) -> None:
    async with opened(file, pond.visit, "Plan") as here:
        await here.go("line")
        await press(here, "a", "w", "the sore on the flank", "enter", "+3", "enter", "f")
        step = here.app.desk.look(read.find, OwnerStep)[0]
        assert (step.kind, step.words) == ("watch", "the sore on the flank")
        assert step.day == clock.today(ZONE) + timedelta(3)
        await here.go(f"step {step.id}")
        await press(here, "enter", "d", "escape", "f")
        if here.form.typing:
            await press(here, "escape", "f")
        assert here.app.desk.look(read.one, OwnerStep, step.id).kind == "do"
        await here.go(f"step {step.id}")
        await press(here, "r", "not needed", "enter", "f")
        assert here.app.desk.look(read.find, OwnerStep) == ()


async def test_rechecks_are_taken_with_their_window_or_made(file: Path, pond: Case) -> None:
    async with opened(file, pond.visit, "Plan") as here:
        first = here.keys_of_rows("look ")[0]
        await here.go(first)
        await press(here, "enter")
        row = here.app.desk.look(read.find, Recheck)[0]
        day = clock.today(ZONE)
        assert (row.earliest, row.latest) == (day + timedelta(7), day + timedelta(8))
        await here.go("again")
        await press(here, "enter", "three numbers", "enter", "p", "+2", "enter", "escape", "f")
        rows = here.app.desk.look(read.find, Recheck)
        assert [(r.kind, r.target) for r in rows if r.id != row.id] == [
            ("phone", day + timedelta(2))
        ]


async def test_a_technician_orders_nothing(file: Path, pond: Case) -> None:
    async with opened(file, pond.visit, "Plan") as here:
        staff = here.app.desk.look(people)
        here.app.worker = next(p for p in staff if p.role == "technician")
        await here.go("order")
        await here.press("enter")
        assert isinstance(here.app.screen, WorkupScreen), "refused at the door"
        assert "Only a veterinarian orders a treatment" in here.form.row.state.error
        assert given(here) == ()


async def test_a_recheck_taken_is_a_booked_visit_and_says_so(file: Path, pond: Case) -> None:
    async with opened(file, pond.visit, "Plan") as here:
        await here.go(here.keys_of_rows("look ")[0])
        await press(here, "enter")
        row = here.app.desk.look(read.find, Recheck)[0]
        visit = here.app.desk.look(read.one, Visit, row.booked)
        assert visit.day == clock.today(ZONE) + timedelta(days=7)
        assert any(n.message.startswith("Booked for ") for n in here.app._notifications)
        await here.go(f"recheck {row.id}")
        assert "booked" in " ".join(here.detail().split())
        await press(here, "r", "the owner will not", "enter", "f")
        assert here.app.desk.look(read.one, Visit, row.booked).state == "cancelled"


async def test_the_dialog_of_a_recheck_finds_day_and_time(file: Path, pond: Case) -> None:
    day = clock.today(ZONE)
    async with opened(file, pond.visit, "Plan") as here:
        await here.go("again")
        await press(here, "enter", "gill snip again", "enter", "v", "+9", "enter", "escape")
        shown = {f.key: here.row(f.key) for f in here.form.fields}
        assert "08:00" in shown["starts"]
        await here.go("starts")
        await press(here, "1430", "enter", "f")
        [row] = here.app.desk.look(read.find, Recheck)
        visit = here.app.desk.look(read.one, Visit, row.booked)
        assert (visit.day, visit.starts) == (day + timedelta(days=9), "14:30")
        await here.go(f"recheck {row.id}")
        await press(here, "enter", "escape")
        await here.go("target")
        await press(here, "+16", "enter", "escape")
        await here.go("earliest")
        await press(here, "+15", "enter")
        await to(here, "latest")
        await press(here, "+17", "enter", "escape", "f")
        visit = here.app.desk.look(read.one, Visit, row.booked)
        assert (visit.day, visit.state) == (day + timedelta(days=16), "booked")


async def test_a_time_that_clashes_asks_for_a_reason(file: Path, pond: Case) -> None:
    async with opened(file, pond.visit, "Plan") as here:
        for reason in ("first", "second"):
            await here.go("again")
            await press(here, "enter", reason, "enter", "v", "+9", "enter", "escape")
            await here.go("starts")
            await press(here, "10", "enter", "f")
        assert "already with" in preview(here)
        await press(here, "two tanks at one house", "enter", "f")
        rows = here.app.desk.look(read.find, Recheck)
        visits = [here.app.desk.look(read.one, Visit, r.booked) for r in rows]
        assert {v.booked_why for v in visits} == {"", "two tanks at one house"}


async def test_what_the_desk_is_to_book_later_stays_due(file: Path, pond: Case) -> None:
    async with opened(file, pond.visit, "Plan") as here:
        await here.go("again")
        await press(here, "enter", "in half a year", "enter", "l", "+180", "enter", "escape", "f")
        [row] = here.app.desk.look(read.find, Recheck)
        assert (row.kind, row.booked) == ("visit", None)


@pytest.mark.parametrize(
    ("typed", "said"),
    [("formalin", "formaldehyde: known carcinogen"), ("hydrogen per", "eye/skin burns")],
)
async def test_what_burns_or_poisons_people_is_said_when_it_is_chosen(
    file: Path, pond: Case, typed: str, said: str
) -> None:
    async with opened(file, pond.visit, "Plan") as here:
        await here.go("order")
        await press(here, "enter", typed, "enter", "escape")
        await here.go("dose")
        await press(here, "50 mg/L", "enter", "escape")
        assert "Take care: " in preview(here)
        assert said in " ".join(preview(here).split())


async def test_a_medicine_left_out_on_purpose_is_refused_by_name(file: Path, pond: Case) -> None:
    async with opened(file, pond.visit, "Plan") as here:
        await here.go("order")
        await press(here, "enter", "malachite", "enter", "enter", "g")
        assert preview(here).startswith("REFUSED: Malachite green was never registered")
        await press(here, "escape", "f")
        assert given(here) == ()


async def test_a_stop_is_asked_and_gone_past_only_in_a_sentence(file: Path, pond: Case) -> None:
    async with opened(file, pond.visit, "Plan") as here:
        await here.go("order")
        await press(here, "enter", "formalin, prolonged", "enter", "enter", "g")
        await to(here, "asked bad bottle")
        await press(here, "enter", "y")
        assert "STOP. Needs a reason in a sentence: Cloudy formalin" in preview(here)


async def test_a_trial_on_a_few_fish_is_noted_with_what_was_seen(file: Path, pond: Case) -> None:
    async with opened(file, pond.visit, "Plan") as here:
        await here.go("order")
        await press(here, "enter", "praziquantel prol", "enter", "enter", "g", "escape", "f")
        key = given(here)[0].id
        await here.go(f"treatment {key}")
        await press(here, "enter")
        await to(here, "trial_fish")
        await press(here, "3", "enter")
        await to(here, "trial_outcome")
        await press(here, "enter", "all eat", "enter", "f")
        assert here.app.desk.look(read.find, TrialRun)[0].outcome == "all eat"
        await here.go(f"treatment {key}")
        await press(here, "w")
        body = here.app.screen.query_one("#panel-body", Static)
        assert "tried on 3 fish: all eat" in str(body.render())
