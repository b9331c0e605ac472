"""A signed record by keys only: what came in late is settled, records are held and let go."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import timedelta
from pathlib import Path

import pytest

from core import clock
from core.practice import keep, sign, water
from core.practice.desk import Desk, Late
from core.practice.keep import Act
from core.practice.who import people, practice
from core.records import read
from core.records.tables import Addendum, Hold, Proposed, Reading, StageMark
from tests.small import Small, build
from tests.tui.stage_app import Opened, opened
from tui.app import FinroundsApp
from tui.paperwork.screen import PaperworkScreen
from tui.workup.screen import WorkupScreen


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "practice.db"


def close_record(small: Small) -> None:
    act = Act(small.vet, clock.now() - timedelta(hours=1))
    for stage in sign.WALKED:
        keep.mark_stage(act, small.visit, stage, "passed over", "a test")
    sign.sign(act, small.visit)


@asynccontextmanager
async def signed(file: Path, *, late: bool = True, person: int = 0) -> AsyncIterator[Opened]:
    """Open the Sign stage of a signed record, with a reading that came in late."""
    small = build(file)
    desk = Desk(file)
    desk.save(close_record, small).result(timeout=30)
    if late:
        act, typed = Act(small.technician, clock.now()), water.Measured("ph", 7.9, "7.9")
        kept = desk.save(water.record_reading, act, small.visit, small.system, typed)
        with pytest.raises(Late):
            kept.result(timeout=30)
    found = desk.look(practice)
    assert found is not None
    app = FinroundsApp(desk, found, desk.look(people)[person])
    try:
        async with app.run_test(size=(80, 24)) as pilot:
            await app.push_screen(WorkupScreen(small.visit, "Sign"))
            here = Opened(app, pilot)
            await here.settle()
            yield here
    finally:
        desk.close()


def late_row(here: Opened) -> str:
    [key] = here.keys_of_rows("late ")
    return key


async def test_a_late_entry_is_shown_first_and_taken_by_keys(file: Path) -> None:
    async with signed(file) as here:
        key = late_row(here)
        assert here.form.fields[0].key == key
        assert "pH here 7.9" in here.row(key)
        assert "late" in here.row(key)
        assert "Tim Test" in here.detail()
        assert "1 entry came in after signing" in here.below()
        await here.press("enter")
        await here.press("t")
        await here.press("as I saw", "enter", "f")
        [addendum] = here.app.desk.look(read.find, Addendum)
        assert addendum.words == "pH here 7.9. The veterinarian adds: as I saw"
        assert "added" in here.row(key)
        assert "came in after" not in here.below()
        await here.go(key)
        await here.press("enter")
        body = str(here.app.screen.query_one("#panel-body").render())
        assert "Entered by Tim Test" in body
        assert "Taken by Vera Test" in body


async def test_a_late_entry_is_set_aside_with_a_reason(file: Path) -> None:
    async with signed(file) as here:
        await here.press("enter")
        await here.press("s")
        await here.press("escape", "f")
        assert here.app.desk.look(read.find, Proposed)[0].outcome == "", "it asks for the reason"
        await here.press("enter")
        await here.press("the wrong pond", "enter", "f")
        [row] = here.app.desk.look(read.find, Proposed)
        assert (row.outcome, row.outcome_why) == ("set aside", "the wrong pond")
        assert "aside" in here.row(late_row(here))
        await here.go(late_row(here))
        assert "Set aside by Vera Test: the wrong pond" in here.detail()


async def test_only_a_veterinarian_settles(file: Path) -> None:
    async with signed(file, person=1) as here:
        assert here.app.worker.name == "Tim Test"
        await here.press("enter")
        assert "A veterinarian settles this" in here.form.row.state.error
        assert here.app.desk.look(read.find, Proposed)[0].outcome == ""


async def test_the_chain_stands_below_and_the_whole_fits(file: Path) -> None:
    async with signed(file, late=False) as here:
        assert ", record 1 signed on device " in here.below()
        here.all_fit()


async def test_records_are_held_and_let_go_by_keys(file: Path) -> None:
    async with signed(file, late=False) as here:
        await here.go("keep")
        assert "Records kept until" in here.row("keep")
        assert "Visit record: until" in here.detail()
        await here.press("enter")
        await here.press("v")
        await here.press("claim about the dose", "enter", "f")
        [hold] = here.app.desk.look(read.find, Hold)
        assert (hold.why, hold.ended_at) == ("claim about the dose", None)
        row = f"hold {hold.id}"
        assert "Records held: claim about the dose" in here.row(row)
        await here.go(row)
        await here.press("enter")
        await here.press("settled", "enter", "f")
        [hold] = here.app.desk.look(read.find, Hold)
        assert hold.ended_why == "settled"
        assert here.keys_of_rows("hold ") == []


async def test_what_is_typed_into_a_signed_record_is_kept_and_said(file: Path) -> None:
    async with signed(file, late=False) as here:
        await here.press("escape")
        screen = here.app.screen
        small = here.app.desk.look(read.find, Reading)
        assert small == ()
        await here.app.push_screen(WorkupScreen(here_visit(here), "Water"))
        await here.settle()
        assert here.app.screen is not screen
        await here.go("ph")
        await here.press("enter")
        await here.press("7.9", "enter")
        assert "is kept as a proposed addendum" in here.form.row.state.error
        [row] = here.app.desk.look(read.find, Proposed)
        assert row.words.startswith("pH here 7.9")
        await here.press("enter")
        assert len(here.app.desk.look(read.find, Proposed)) == 1


def here_visit(here: Opened) -> str:
    from core.records.tables import Visit

    return here.app.desk.look(read.find, Visit)[0].id


async def test_the_paperwork_desk_names_it_and_opens_the_sign_stage(file: Path) -> None:
    async with signed(file) as here:
        await here.press("escape")
        await here.press("p")
        screen = here.app.screen
        assert isinstance(screen, PaperworkScreen)
        lines = screen.owing_list.painted()
        at = next(n for n, line in enumerate(lines) if "after signing: pH here" in line)
        await here.press(*["down"] * at)
        await here.press("enter")
        assert isinstance(here.app.screen, WorkupScreen)
        assert here.app.screen.stage_name == "Sign"


async def test_the_list_of_dates_is_shown_and_saved(file: Path, tmp_path: Path) -> None:
    from tui import kept

    async with signed(file, late=False) as here:
        await kept.show(here.app)
        await here.settle()
        body = str(here.app.screen.query_one("#panel-body").render())
        assert "Finrounds deletes nothing" in body
        await here.press("g")
        await here.press(str(tmp_path), "enter", "f")
        [saved] = tmp_path.glob("keep-until-*.txt")
        assert "Years kept after the last entry" in saved.read_text(encoding="utf-8")


def test_the_list_without_the_screen(
    file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from tui import cli
    from tui.commands import keep_until

    small = build(file)
    desk = Desk(file)
    desk.save(close_record, small).result(timeout=30)
    desk.close()
    monkeypatch.setenv("FINROUNDS_DATABASE", f"sqlite:///{file}")
    asked = cli.parser().parse_args(["keep-until", "--day", "2090-01-01"])
    assert "Date passed: 1" in keep_until.run(asked)
    out = tmp_path / "list.txt"
    asked = cli.parser().parse_args(["keep-until", "--out", str(out)])
    assert keep_until.run(asked) == f"Written: {out}"
    assert "Date passed: 0" in out.read_text(encoding="utf-8")


async def test_an_addendum_stands_in_the_stage_after_it_was_made(file: Path) -> None:
    async with signed(file, late=False) as here:
        await here.press("a")
        await here.press("culture grew Aeromonas", "enter", "result came in", "enter", "f")
        [key] = here.keys_of_rows("added ")
        assert "culture grew Aeromonas" in " ".join(here.row(key).split())
        await here.go(key)
        for words in ("culture grew Aeromonas", "Vera Test", "Why: result came in"):
            assert words in here.detail()
        await here.press("enter")
        body = str(here.app.screen.query_one("#panel-body").render())
        assert "Why: result came in" in body


@pytest.mark.parametrize("key", ["o", "f"])
async def test_the_sign_stage_is_neither_passed_over_nor_done_unsigned(
    tmp_path: Path, key: str
) -> None:
    file = tmp_path / "practice.db"
    small = build(file)
    async with opened(file, small.visit, "Sign") as here:
        await here.press(key)
        assert isinstance(here.app.screen, WorkupScreen)
        assert "Only signing makes this stage done" in told(here)
        assert here.app.desk.look(read.find, StageMark, stage="Sign") == ()


def told(here: Opened) -> str:
    return [n.message for n in here.app._notifications][-1]
