"""What comes after an order, by keys at 80x24: parts, life cycle, scoops, levels, prevention."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from core import clock, dates
from core.practice.problem_list import name_problem
from core.records import read
from core.records.tables import Document, Figure, OwnerStep, Recheck, Treatment
from tests.practice.plan_cases import Case, case
from tests.small import ZONE
from tests.tui.stage_app import Opened, opened
from tests.tui.test_plan_stage import build, press, preview, to
from tui.widgets.panel import Panel
from tui.workup.papers import PaperPanel


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "practice.db"


@pytest.fixture
def pond(file: Path) -> Case:
    def fill() -> Case:
        made = case(day=clock.today(ZONE), volume_error_percent=10.0)
        made.read(temperature=20.0, ph=8.0, nitrite=0.60, chloride=18.0, oxygen=8.0)
        name_problem(made.act, made.visit, made.system, problem="gill_flukes", state="confirmed")
        return made

    return build(file, fill)


async def praziquantel(here: Opened, act: str = "d") -> None:
    await here.go("order")
    await press(here, "enter", "praziquantel prol", "enter", "enter", act)


def treatment(here: Opened) -> Treatment:
    return here.app.desk.look(read.find, Treatment)[-1]


async def test_the_life_cycle_fills_in_how_often_and_how_far_apart(file: Path, pond: Case) -> None:
    async with opened(file, pond.visit, "Plan") as here:
        await praziquantel(here)
        await to(here, "interval")
        await press(here, "9", "enter")
        await press(here, "escape", "w")
        assert isinstance(here.app.screen, Panel)
        assert "every 9 d is longer than every 7 d" in here.app.screen._body
        await press(here, "escape")
        await to(here, "cycle")
        await press(here, "enter", "every 7", "enter")
        assert here.row("interval").split()[-1] == "7"
        assert here.row("repeats").split()[-1] == "2"
        await press(here, "escape", "f")
        row = treatment(here)
        assert (row.repeats, row.interval_days) == (2, 7.0)


async def test_the_end_of_a_course_is_offered_when_we_look_again_and_taken(
    file: Path, pond: Case
) -> None:
    async with opened(file, pond.visit, "Plan") as here:
        await praziquantel(here)
        await to(here, "cycle")
        await press(here, "enter", "every 7", "enter")
        await press(here, "escape", "f")
        end = f"look after:{treatment(here).id}:course_end:0"
        await here.go(end)
        assert "Slide or count again, water, after praziqua" in here.row(end)
        target = clock.today(ZONE) + timedelta(7 + 3)
        assert dates.said(target, clock.today(ZONE)) in here.row(end)
        section = [f.section for f in here.form.fields[: here.form.index + 1] if f.section][-1]
        assert section == "When we look again"
        await press(here, "enter")
        assert [r.target for r in here.app.desk.look(read.find, Recheck)] == [target]


async def test_an_impossible_volume_stops_the_order(file: Path, pond: Case) -> None:
    async with opened(file, pond.visit, "Plan") as here:
        await praziquantel(here)
        await to(here, "volume")
        await press(here, "33900 L", "enter")
        said = " ".join(preview(here).split())
        assert "STOP. Needs a reason in a sentence: 33900 L typed; 3390 L on record" in said
        await press(here, "escape", "f")
        assert here.app.desk.look(read.find, Treatment) == ()


async def test_parts_are_ordered_by_the_hour(file: Path, pond: Case) -> None:
    async with opened(file, pond.visit, "Plan") as here:
        await here.go("order")
        await press(here, "enter", "sodium chloride prolonged", "enter", "enter", "a")
        await to(here, "dose")
        await press(here, "2 g/L", "enter")
        await to(here, "steps")
        await press(here, "5", "enter")
        await to(here, "apart")
        await press(here, "12", "enter")
        assert "5 parts 12 h apart" in preview(here)
        await to(here, "reason")
        await press(here, "enter", "the plants may go", "enter", "f")
        row = treatment(here)
        assert (row.steps, row.interval_days) == (5, 0.5)
        await here.go(f"treatment {row.id}")
        assert "12 h apart" in here.detail()


async def test_a_scoop_that_rounds_too_much_is_warned_of_before_and_after(
    file: Path, pond: Case
) -> None:
    async with opened(file, pond.visit, "Plan") as here:
        await praziquantel(here)
        await to(here, "scoop")
        await press(here, "15 g", "enter")
        assert "more than 10 %: weigh or measure it more finely" in preview(here)
        await press(here, "escape", "f")
        assert here.app.desk.look(read.find, Treatment) == ()
        await to(here, "reason")
        await press(here, "enter", "no scale here", "enter", "f")
        row = treatment(here)
        assert [f.name for f in here.app.desk.look(read.find, Figure, subject=row.id)]
        await here.go(f"treatment {row.id}")
        await press(here, "w")
        assert isinstance(here.app.screen, Panel)
        body = here.app.screen._body
        assert "With a scoop: 0.5 x scoop of 15 g" in body
        assert "more than 10 %" in body
        assert "Goes with it:" in body
        assert "UV, ozone and skimmer off, carbon out, extra air on" in body


async def test_a_temperature_is_changed_in_dated_steps(file: Path, pond: Case) -> None:
    async with opened(file, pond.visit, "Plan") as here:
        await here.go("level")
        await press(here, "enter", "t", "25 C", "enter")
        assert "3 steps, none over 2 °C a day, from 20 °C" in preview(here)
        await press(here, "escape", "f")
        rows = here.app.desk.look(read.find, OwnerStep, order="position")
        today = clock.today(ZONE)
        assert [r.day for r in rows] == [today + timedelta(n) for n in range(3)]
        assert "25 °C" in rows[-1].words
        assert "Bring the temperature" in here.row(f"step {rows[0].id}")


async def test_a_plan_of_prevention_is_printed_for_this_water(file: Path, pond: Case) -> None:
    async with opened(file, pond.visit, "Plan") as here:
        await press(here, "g")
        await press(here, *["down"] * 9, "enter")
        await here.app.workers.wait_for_complete()
        await here.pilot.pause()
        assert isinstance(here.app.screen, PaperPanel)
        assert "takes 1 695 L to 3 390 L an hour" in here.app.screen._body
        assert [d.kind for d in here.app.desk.look(read.find, Document)] == ["filter work order"]


async def test_the_plan_says_when_it_is_open_when_things_go_on_again(
    file: Path, pond: Case
) -> None:
    async with opened(file, pond.visit, "Plan") as here:
        await praziquantel(here)
        await press(here, "escape", "f")
        assert "not said after how many hours things go on again" in here.below()
