"""The shell: desks, help, palette, themes, the line above, and how it starts and ends."""

from __future__ import annotations

import subprocess
import sys
import threading
from dataclasses import replace
from datetime import datetime
from itertools import product
from pathlib import Path

import pytest
from textual import work
from textual.color import Color
from textual.theme import Theme

from core import clock, units
from core.errors import Refusal
from core.practice import setup, visits
from core.practice.desk import Desk
from core.practice.keep import Act
from core.practice.who import practice
from core.records.journal import edit
from core.records.tables import Visit
from tests.small import Small, build
from tests.terminal import ROOT
from tests.tui.shell import app_on, book, every_visit, rows, said, settle
from tui import app as shell
from tui.app import FinroundsApp
from tui.themes import PAIRS, THEMES
from tui.widgets.panel import Panel
from tui.workup.screen import WorkupScreen

HEAVY = ("pint", "reportlab", "numpy", "psycopg")


def luminance(color: Color) -> float:
    """Return the relative luminance of WCAG 2."""
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in color.normalized]
    return sum(share * part for share, part in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


def ratio(one: Color, other: Color) -> float:
    """Return the contrast ratio of WCAG 2."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_ratio_is_the_one_of_the_guideline() -> None:
    assert ratio(Color.parse("#000"), Color.parse("#fff")) == pytest.approx(21)
    assert ratio(Color.parse("#777"), Color.parse("#fff")) == pytest.approx(4.48, abs=0.01)


@pytest.mark.parametrize(("theme", "pair"), product(THEMES, PAIRS))
def test_every_pair_of_colours_can_be_read(theme: Theme, pair: tuple[str, str]) -> None:
    known = {**theme.to_color_system().generate(), **theme.variables}
    text, ground = (Color.parse(known[name]) for name in pair)
    assert ratio(text, ground) >= 7


@pytest.mark.parametrize("theme", THEMES)
def test_what_is_dimmed_can_still_be_read(theme: Theme) -> None:
    known = theme.to_color_system().generate()
    text, ground = Color.parse(known["foreground"]), Color.parse(known["background"])
    assert ratio(ground.blend(text, 0.66), ground) >= 7


async def test_it_begins_in_sunlight_and_the_palette_changes_the_theme(tmp_path: Path) -> None:
    with app_on(tmp_path) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            assert app.theme == "sunlight"
            await pilot.press("question_mark", "s")
            await settle(pilot)
            await pilot.press(*"night")
            await settle(pilot)
            await pilot.press("enter", "enter")
            await settle(pilot)
            assert app.theme == "night"


async def test_help_lists_the_keys_of_the_open_screen_in_words(tmp_path: Path) -> None:
    with app_on(tmp_path) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            await pilot.press("question_mark")
            await settle(pilot)
            assert isinstance(app.screen, Panel)
            text = said(app, "#panel-body")
            for line in ("x                     No access", "right arrow           Day after"):
                assert line in text
            assert "Everywhere" in text
            assert "ctrl" not in text
            assert "Vera Test" in said(app, "#panel-title")
            await pilot.press("question_mark")
            await settle(pilot)
            assert len(app.screen_stack) == 1


async def test_only_desks_that_are_there_have_a_key(tmp_path: Path) -> None:
    with app_on(tmp_path) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            for key, desk in (("b", "bookings"), ("p", "paperwork"), ("d", "day")):
                await pilot.press(key)
                await settle(pilot)
                assert app.current_mode == (desk if desk in app.MODES else "day")


async def test_while_typing_letters_go_to_the_field(tmp_path: Path) -> None:
    with app_on(tmp_path) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            await pilot.press("x", *"dbpq?/ axcm")
            await settle(pilot)
            form = app.screen.form  # type: ignore[attr-defined]
            assert form.row.state.typing.text == "dbpq?/ axcm"
            assert app.return_code is None


async def test_an_invented_practice_says_so_on_every_screen(tmp_path: Path) -> None:
    with app_on(tmp_path) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            for keys in ([], ["enter"], ["d"], ["x"], ["escape", "escape"], ["question_mark"]):
                await pilot.press(*keys)
                await settle(pilot)
                banner = app.screen.query_one("#banner")
                assert banner.size.height == 1
                assert banner.region.y == 0
                assert "nothing here is real" in said(app, "#banner")
                assert len(app.screen.query("#banner")) == 1


async def test_a_real_practice_has_no_line_above(tmp_path: Path) -> None:
    with app_on(tmp_path) as app:
        app.practice = replace(app.practice, invented=False)
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            assert not app.screen.query("#banner")


async def test_a_small_window_is_told_and_works_on(tmp_path: Path) -> None:
    with app_on(tmp_path) as app:
        async with app.run_test(size=(60, 20)) as pilot:
            await settle(pilot)
            assert "60x20, made for 80x24" in said(app, "#banner")
            assert rows(app)[0].startswith("> 10:30")
            assert all(len(row) <= 59 for row in rows(app))
            await pilot.resize_terminal(80, 24)
            await settle(pilot)
            assert "made for" not in said(app, "#banner")
            await pilot.press("enter")
            await settle(pilot)
            assert isinstance(app.screen, WorkupScreen)


async def test_without_colour_the_text_alone_tells_states_apart(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")

    def states(act: Act, small: Small) -> None:
        for n, leave in enumerate((visits.no_access, visits.cancel)):
            leave(act, book(act, small.vet, "Same Name", f"1{n + 2}:00"), "same reason")
        signed = book(act, small.vet, "Same Name", "15:00")
        with edit("sign", who=act.by, at=act.at, visit=signed) as doing:
            doing.change(Visit, signed, state="signed", signed_at=act.at, signed_by=small.vet)

    with app_on(tmp_path, states) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            assert app.no_color
            lines = rows(app)
            told = ("not begun", "no access", "cancelled", "signed")
            assert all(word in line for word, line in zip(told, lines, strict=True))
            assert [line[0] for line in lines] == [">", " ", " ", " "]


async def test_what_a_worker_is_refused_is_told_and_the_app_goes_on(tmp_path: Path) -> None:
    class Refused(FinroundsApp):
        @work
        async def try_it(self) -> None:
            raise Refusal("This can not be [b].", "Do that.")

    with app_on(tmp_path) as made:
        app = Refused(made.desk, made.practice, made.worker)
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            app.try_it()
            await pilot.pause()
            await pilot.pause()
            assert [n.message for n in app._notifications] == ["This can not be [b]. Do that."]
            await pilot.press("question_mark")
            assert isinstance(app.screen, Panel)


async def test_quitting_finishes_what_is_queued(tmp_path: Path) -> None:
    with app_on(tmp_path) as app:
        hold = threading.Event()
        visit = every_visit(app)[0]
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            app.desk.save(hold.wait)
            late = app.desk.save(visits.cancel, Act(app.worker.id, now()), visit.id, "last words")
            threading.Timer(0.2, hold.set).start()
            await pilot.press("q")
            await settle(pilot)
        assert late.done()
        assert every_visit(app)[0].why == "last words"


def now() -> datetime:
    return clock.now()


@pytest.mark.parametrize("kind", ["volume", "temperature", "length", "mass"])
def test_us_figures_shown_without_pint_are_the_ones_pint_gives(kind: str) -> None:
    for value in (1.0, 20.0, 40.0):
        text = units.show(value, kind, "us")
        step = {"volume": 0.5 * 3.79, "temperature": 0.05, "length": 0.13, "mass": 2.3}[kind]
        assert units.parse(text, kind) == pytest.approx(value, abs=step)


@pytest.mark.parametrize("locale", ["metric", "us"])
def test_nothing_heavy_is_loaded_before_the_first_paint(tmp_path: Path, locale: str) -> None:
    file = tmp_path / "practice.db"
    build(file)
    desk = Desk(file)
    house = desk.look(practice)
    assert house is not None
    desk.save(setup.edit_practice, Act("setup", now()), house.id, units=locale).result(timeout=30)
    desk.close()
    code = f"""
import asyncio, sys
from pathlib import Path
from core.practice.desk import Desk
from core.practice.who import people, practice
from tui.app import WARM_AFTER_S, FinroundsApp
from tui.start.app import StartingApp

class Watched(StartingApp):
    def warm(self):
        print("painted", [m for m in {HEAVY} if m in sys.modules])

async def main():
    desk = Desk(Path({str(file)!r}))
    app = Watched(desk, desk.look(practice), desk.look(people)[:1])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        await app.workers.wait_for_complete()
        await pilot.pause()
        await pilot.pause(WARM_AFTER_S * 2)
        shown = str(app.screen.list.options[0].prompt)
        volume = {{"metric": "9 000 L", "us": "2 378 gal"}}[app.practice.units]
        print("shown", volume in shown, [m for m in {HEAVY} if m in sys.modules])
    desk.close()

asyncio.run(main())
"""
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert done.stdout == "painted []\nshown True []\n"


async def test_after_the_first_paint_the_units_are_warm(tmp_path: Path) -> None:
    with app_on(tmp_path) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.pause(shell.WARM_AFTER_S * 2)
            await settle(pilot)
            assert {"pint", "reportlab"} <= set(sys.modules)


def test_every_desk_that_exists_is_registered() -> None:
    there = {name for name in shell.DESKS if (ROOT / "tui" / name / "screen.py").exists()}
    assert set(FinroundsApp.MODES) == there
