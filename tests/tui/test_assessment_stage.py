"""The assessment by keys only, at 80x24: the vet names, and what is said beside it."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.widgets import Static

from core import clock
from core.practice.assessment import AUTHORITY_CALL
from core.practice.desk import Desk
from core.practice.keep import mark_stage
from core.practice.who import people
from core.records import read, tables
from core.records.tables import Answer, ProblemState
from tests.practice.plan_cases import Case, case
from tests.practice.test_assessment import sign, slide
from tests.small import ZONE
from tests.tui.stage_app import Opened, opened
from tui.widgets.panel import Panel
from tui.workup.screen import WorkupScreen
from tui.workup.stage_list import StageList


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "practice.db"


@pytest.fixture
def made(file: Path) -> Case:
    """Give a koi pond with flukes on a gill, read today."""

    def fill() -> Case:
        found = case("koi_pond", 18_000.0, "koi", 22, day=clock.today(ZONE))
        sign(found, "flashing", "seen")
        slide(found, "gill", "gill_fluke", counts="4, 3, 0")
        return found

    desk = Desk(file)
    try:
        return desk.save(fill).result(timeout=30)
    finally:
        desk.close()


async def press(here: Opened, *pressed: str) -> None:
    """Press a key that may open a dialog, wait for it, then the rest without waiting."""
    await here.press(pressed[0])
    if len(pressed) > 1:
        await here.press(*pressed[1:])


async def name_khv(here: Opened) -> str:
    """Name koi herpesvirus as suspected, by keys; return its id."""
    await press(here, "a", "koi her", "enter", "s", "enter", "enter", "f")
    found = here.app.desk.look(read.find, tables.Problem, problem="khv")
    assert len(found) == 1
    return found[0].id


async def test_nothing_is_named_when_the_stage_is_opened(file: Path, made: Case) -> None:
    async with opened(file, made.visit, "Assessment") as here:
        assert "worth gill_flukes" in here.keys_of_rows("worth ")
        assert here.keys_of_rows("state ") == []
        await here.go("worth gill_flukes")
        assert "rubbing" in here.detail()
        assert not any(c in here.detail() for c in "%")
        assert here.app.desk.look(read.find, tables.Problem) == ()


async def test_a_problem_is_named_by_part_of_its_name_and_one_letter(
    file: Path, made: Case
) -> None:
    async with opened(file, made.visit, "Assessment") as here:
        key = await name_khv(here)
        states = here.app.desk.look(read.find, ProblemState, problem=key)
        assert [(s.state, s.by) for s in states] == [("suspected", made.act.by)]
        assert "suspected" in here.row(f"state {key}")
        assert "MOVEMENT STOP" in here.below()
        assert "The authority is not rung yet." in here.below()
        await here.go(f"state {key}")
        await press(here, "enter", "c")
        states = here.app.desk.look(read.find, ProblemState, order="at, id", problem=key)
        assert [s.state for s in states] == ["suspected", "confirmed"]


async def test_ruled_out_asks_why_and_lifts_the_stop(file: Path, made: Case) -> None:
    async with opened(file, made.visit, "Assessment") as here:
        key = await name_khv(here)
        await here.go(f"state {key}")
        await press(here, "enter", "r")
        await press(here, "PCR negative", "enter", "f")
        last = here.app.desk.look(read.find, ProblemState, order="at, id", problem=key)[-1]
        assert (last.state, last.why) == ("ruled out", "PCR negative")
        assert "MOVEMENT STOP" not in here.below()
        assert "closed" in here.row(f"state {key}")


async def test_what_is_worth_a_look_is_named_only_by_the_key_of_the_vet(
    file: Path, made: Case
) -> None:
    async with opened(file, made.visit, "Assessment") as here:
        await here.go("worth gill_flukes")
        await press(here, "enter", "escape", "escape")
        assert here.app.desk.look(read.find, tables.Problem) == ()
        await press(here, "enter", "enter", "c", "enter", "four in a snip", "enter", "f")
        row = here.app.desk.look(read.find, tables.Problem)[0]
        state = here.app.desk.look(read.find, ProblemState, problem=row.id)[0]
        assert (row.problem, state.state, state.why) == (
            "gill_flukes",
            "confirmed",
            "four in a snip",
        )


async def test_for_against_and_missing_stand_behind_one_key(file: Path, made: Case) -> None:
    async with opened(file, made.visit, "Assessment") as here:
        await here.go("worth gill_flukes")
        await press(here, "w")
        panel = here.app.screen
        assert isinstance(panel, Panel)
        text = panel._body
        for title in ("For", "Against", "Missing"):
            assert f"\n{title}\n" in f"\n{text}"
        assert "Recorded: rubbing, flashing seen (koi)." in text
        assert "names nothing: the vet does" in text


async def test_words_of_ones_own_are_a_problem_too(file: Path, made: Case) -> None:
    async with opened(file, made.visit, "Assessment") as here:
        await press(here, "a", "own words", "enter", "a leak in the liner", "enter", "c")
        await press(here, "escape", "f")
        row = here.app.desk.look(read.find, tables.Problem)[0]
        assert (row.problem, row.words) == ("", "a leak in the liner")


async def test_the_call_to_the_authority_is_recorded(file: Path, made: Case) -> None:
    async with opened(file, made.visit, "Assessment") as here:
        await name_khv(here)
        await here.go("call")
        await press(here, "enter", "the state office", "enter", "16:40", "enter", "f")
        call = here.app.desk.look(read.first, Answer, question=AUTHORITY_CALL)
        assert call is not None
        assert (call.told_by, call.value) == ("the state office", "16:40")
        assert "not rung" not in here.below()


async def test_a_technician_is_refused_and_nothing_typed_is_lost(file: Path, made: Case) -> None:
    async with opened(file, made.visit, "Assessment") as here:
        staff = here.app.desk.look(people)
        await here.press("a")
        # The door asks first; who takes over behind an open form is refused at its end.
        here.app.worker = next(p for p in staff if p.role == "technician")
        await here.press("koi her", "enter", "s", "enter", "enter", "f")
        assert here.app.desk.look(read.find, tables.Problem) == ()
        assert here.app.desk.look(read.find, ProblemState) == ()
        assert "Koi herpesvirus" in here.row("problem")


async def test_a_reason_is_written_beside_its_state(file: Path, made: Case) -> None:
    async with opened(file, made.visit, "Assessment") as here:
        key = await name_khv(here)
        await here.go(f"why {key}")
        await press(here, "enter", "new koi, no quarantine", "enter")
        state = here.app.desk.look(read.find, ProblemState, problem=key)[0]
        assert state.why == "new koi, no quarantine"


async def test_a_mistake_is_struck_with_its_reason(file: Path, made: Case) -> None:
    async with opened(file, made.visit, "Assessment") as here:
        key = await name_khv(here)
        await here.go(f"state {key}")
        await press(here, "r", "wrong row", "enter", "f")
        assert here.app.desk.look(read.one, tables.Problem, key).struck == "wrong row"
        assert here.keys_of_rows("state ") == []


async def test_who_may_not_name_a_problem_is_told_at_the_door(file: Path, made: Case) -> None:
    async with opened(file, made.visit, "Assessment") as here:
        workers = here.app.desk.look(people)
        here.app.worker = next(w for w in workers if w.role == "technician")
        await here.press("a")
        assert isinstance(here.app.screen, WorkupScreen)
        assert (
            "Only a veterinarian names a problem"
            in [n.message for n in here.app._notifications][-1]
        )
        await here.go("name")
        await here.press("enter")
        assert isinstance(here.app.screen, WorkupScreen)
        assert "Only a veterinarian names a problem" in here.form.row.state.error


async def test_the_mark_of_the_stage_list_stands_on_what_enter_opens(
    file: Path, made: Case
) -> None:
    why = "the pond was too cold and nobody could catch a fish without harm to it or to us"

    def pass_over() -> None:
        for stage in ("History", "Water"):
            mark_stage(made.act, made.visit, stage, "passed over", why)

    async with opened(file, made.visit, "Assessment") as here:
        here.app.desk.save(pass_over).result(timeout=30)
        workup = here.app.screen
        assert isinstance(workup, WorkupScreen)
        workup.refill()
        await here.settle()
        await here.press("s")
        screen = here.app.screen
        assert isinstance(screen, StageList)
        for _ in range(12):
            strips = screen._compositor.render_strips()
            [marked] = [s.text[5:75] for s in strips if s.text[5:75].strip().startswith("> ")]
            assert marked.split(">")[1].strip().startswith(screen.lines.current)
            said = str(screen.query_one("#stage-said", Static).render())
            state = said.partition(": ")[2]
            assert state in ("not begun", f"passed over: {why}")
            await here.press("up")
        stands = screen.lines.current
        await here.press("enter")
        await here.settle()
        assert workup.stage_name == stands
