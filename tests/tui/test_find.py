"""Find by keys: what is typed, what is shown, and where Enter leads."""

from __future__ import annotations

import asyncio
import threading
from datetime import date, timedelta
from functools import partial
from pathlib import Path
from typing import Any

import pytest
from textual import events
from textual.command import CommandPalette

from core import clock
from core.practice import find as finding
from core.practice import setup, visits
from core.practice.find import Found
from core.practice.keep import Act
from core.records import read
from core.records.tables import Client, Visit
from tests.small import ZONE, Small
from tests.tui.form_app import keys
from tests.tui.shell import app_on, every_visit, said, settle
from tui.app import FinroundsApp
from tui.bookings.book import BookVisit
from tui.find import screen as find_screen
from tui.find import words
from tui.find.screen import FindScreen
from tui.widgets.panel import Panel
from tui.workup.screen import WorkupScreen


def more(act: Act, small: Small) -> None:
    day = clock.today(ZONE) - timedelta(days=1)
    for name, starts in (("Odile [/b] Fennimar", "14:00"), ("Otto Fennimore", "16:00")):
        site = setup.add_site(act, setup.add_client(act, name), "home")
        pond = setup.add_system(act, site, "pond", "koi_pond", volume_l=1000.0)
        visits.book(act, pond, day, starts, small.vet, "[red]gasping")
    setup.add_client(act, "Nora Newt", phone="0770 900 123")


def finder(app: FinroundsApp) -> FindScreen:
    assert isinstance(app.screen, FindScreen)
    return app.screen


def lines(app: FinroundsApp) -> list[str]:
    return finder(app).list.painted()


async def test_find_is_opened_anywhere_and_left_where_it_was(tmp_path: Path) -> None:
    with app_on(tmp_path) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            for key in ("d", "b", "p", "d", "enter"):
                await pilot.press(key)
                await settle(pilot)
                before = app.screen
                await pilot.press("slash")
                await settle(pilot)
                assert isinstance(app.screen, FindScreen)
                assert "esc back" in said(app, "Foot")
                await pilot.press("escape")
                await settle(pilot)
                assert app.screen is before
            assert isinstance(app.screen, WorkupScreen)


async def test_every_letter_goes_to_the_line_and_each_changes_what_is_found(
    tmp_path: Path,
) -> None:
    with app_on(tmp_path, more) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            await pilot.press("slash", *"dbpq")
            await keys(pilot, "/?-+;! ")
            await settle(pilot)
            assert finder(app).asked.value == "dbpq/?-+;! "
            assert "Nothing found under dbpq/?-+;!." in said(app, "#said")
            await pilot.press(*["backspace"] * 11)
            await settle(pilot)
            assert said(app, "#said") == words.ASKED
            await pilot.press("backspace", *"fen")
            await settle(pilot)
            assert [line[:35].rstrip() for line in lines(app)] == [
                "> client  Odile [/b] Fennimar",
                "  client  Otto Fennimore",
            ]
            await pilot.press(*"imore")
            await settle(pilot)
            assert "Otto Fennimore" in lines(app)[0]
            assert "Enter opens the latest visit of Otto Fennimore" in said(app, "#said")


async def test_a_visit_is_opened_by_part_of_a_name_with_a_slip(tmp_path: Path) -> None:
    with app_on(tmp_path, more) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            await pilot.press("b", "slash", *"odlie", "space", *"fenimar")
            await settle(pilot)
            await pilot.press("enter")
            await settle(pilot)
            assert isinstance(app.screen, WorkupScreen)
            wanted = next(v.id for v in every_visit(app) if v.starts == "14:00")
            assert app.screen.visit_id == wanted
            await pilot.press("escape")
            await settle(pilot)
            assert app.current_mode == "day"


async def test_up_and_down_choose_and_stay_within_the_list(tmp_path: Path) -> None:
    with app_on(tmp_path, more) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            await pilot.press("slash", *"fen")
            await settle(pilot)
            for pressed, at in (("up", 0), ("down", 1), ("down", 1)):
                await pilot.press(pressed)
                await settle(pilot)
                assert [line[0] for line in lines(app)] == [">" if n == at else " " for n in (0, 1)]
            assert "Otto Fennimore" in said(app, "#said")
            await pilot.press("enter")
            await settle(pilot)
            assert isinstance(app.screen, WorkupScreen)
            wanted = next(v.id for v in every_visit(app) if v.starts == "16:00")
            assert app.screen.visit_id == wanted


async def test_a_client_without_a_visit_is_booked_one(tmp_path: Path) -> None:
    with app_on(tmp_path, more) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            await pilot.press("slash")
            await keys(pilot, "+44 770 900 123")
            await settle(pilot)
            assert "no visit yet" in lines(app)[0]
            assert "No visit yet: Enter books one for Nora Newt." in said(app, "#said")
            await pilot.press("enter")
            await settle(pilot)
            dialog = app.screen
            assert isinstance(dialog, BookVisit)
            newt = app.desk.look(lambda: read.find(Client, name="Nora Newt"))[0]
            assert dialog.answers["client"].value == newt.id
            for label, typed in (("water_name", "tub"), ("water_kind", "koi"), ("reason", "dull")):
                dialog.form.go([f.key for f in dialog.form.fields].index(label))
                await pilot.press("enter")
                await keys(pilot, typed)
                await pilot.press("enter", "escape")
                await settle(pilot)
            dialog.form.go([f.key for f in dialog.form.fields].index("starts"))
            await pilot.press("enter", *"1430", "enter", "escape")
            await settle(pilot)
            await pilot.press("f")
            await settle(pilot)
            made = app.desk.look(lambda: read.find(Visit, client=newt.id))
            assert [v.starts for v in made] == ["14:30"]


async def test_enter_waits_for_what_was_typed_last(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A slow answer to fewer letters is never opened, and never takes the place of a later one."""
    gate, asked = threading.Event(), []

    def slow(text: str, today: date) -> tuple[Found, ...]:
        asked.append(text)
        if text == "fe":
            gate.wait(10)
        return finding.find(text, today)

    monkeypatch.setattr(find_screen, "find", slow)
    with app_on(tmp_path, more) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            await pilot.press("slash", *"fe")
            while "fe" not in asked:
                await asyncio.sleep(0)
            await pilot.press(*"nnimo", "enter")
            await settle(pilot)
            assert isinstance(app.screen, WorkupScreen)
            gate.set()
            await settle(pilot)
            wanted = next(v.id for v in every_visit(app) if v.starts == "16:00")
            assert app.screen.visit_id == wanted


PASTES: tuple[tuple[str, Any], ...] = (
    ("fen\nnimo", "fen nimo"),
    ("\x1b[31mfenni\x1b[0m\x07", "[31mfenni [0m"),
    ("'; DROP TABLE client; --", "'; DROP TABLE client; --"),
    ("fen* OR (NEAR", "fen* OR (NEAR"),
    ("fennimo " * 130_000, ("fennimo " * 25).strip()),
)


async def test_pasted_text_is_words_and_is_cut(tmp_path: Path) -> None:
    with app_on(tmp_path, more) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            await pilot.press("slash")
            for pasted, stands in PASTES:
                await settle(pilot)
                finder(app).asked.value = ""
                finder(app).asked.post_message(events.Paste(pasted))
                await settle(pilot)
                assert finder(app).asked.value == stands
                assert finder(app).found_under == stands
            assert len(app.desk.look(read.find, Client)) == 4


async def test_lines_are_never_wider_than_the_screen(tmp_path: Path) -> None:
    def wide(act: Act, small: Small) -> None:
        for n in range(30):
            setup.add_client(act, f"Fennimar {'very ' * 20}{n}", address="somewhere long " * 9)

    for size in ((80, 24), (120, 40)):
        with app_on(tmp_path / str(size[0]), wide) as app:
            async with app.run_test(size=size) as pilot:
                await settle(pilot)
                await pilot.press("slash", *"fennimar")
                await settle(pilot)
                assert len(lines(app)) == finding.MOST
                assert all(len(line) <= size[0] - 1 for line in lines(app))
                assert all("no visit yet" in line for line in lines(app))
                assert finder(app).query_one("#found").virtual_region.width == size[0]


async def test_every_command_is_reached_from_help_and_by_its_usual_key(tmp_path: Path) -> None:
    with app_on(tmp_path) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            await pilot.press("question_mark")
            await settle(pilot)
            assert isinstance(app.screen, Panel)
            assert "s lists every command by its name." in said(app, "#panel-body")
            await pilot.press("s")
            await settle(pilot)
            assert CommandPalette.is_open(app)
            await pilot.press("escape")
            await settle(pilot)
            await pilot.press("ctrl+p")
            await settle(pilot)
            assert CommandPalette.is_open(app)


async def test_who_is_in_the_records_is_said_before_a_client_is_made(tmp_path: Path) -> None:
    with app_on(tmp_path, more) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            await pilot.press("a", *"new", "enter")
            await keys(pilot, "Odd Fenimore")
            await pilot.press("enter")
            await settle(pilot)
            dialog: Any = app.screen
            assert "same" not in [f.key for f in dialog.form.fields]
            dialog.form.go(1)
            await pilot.press("enter")
            await keys(pilot, "Otto Fenimore")
            await pilot.press("enter")
            await settle(pilot)
            names = [f.key for f in dialog.form.fields]
            assert names[:3] == ["client", "name", "same"]
            row = " ".join(dialog.form.rows[2]._text(78).plain.split())
            assert "Otto Fennimore is in the records (nearly the same name): take that one?" in row
            assert dialog.form.field.key == "phone"  # nothing is held up
            await pilot.press("escape", "up", "enter")
            await settle(pilot)
            known = app.desk.look(lambda: read.find(Client, name="Otto Fennimore"))[0]
            assert dialog.answers["client"].value == known.id
            assert dialog.answers["water"].text == "pond"
            assert dialog.form.field.key == "reason"
            await keys(pilot, "dull")
            await pilot.press("enter", *"1500", "enter", "escape", "f")
            await settle(pilot)
            made = next(v for v in every_visit(app) if v.starts == "15:00")
            assert (made.client, made.day) == (known.id, clock.today(ZONE))
            assert len(app.desk.look(read.find, Client)) == 4


async def test_a_new_client_is_made_all_the_same(tmp_path: Path) -> None:
    with app_on(tmp_path, more) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            await pilot.press("a", *"new", "enter")
            for typed in ("Otto Fennimore", "", "9 Far Away", "tub", "koi", "", "dull", "1500"):
                await keys(pilot, typed)
                await pilot.press("enter")
                await settle(pilot)
            await pilot.press("escape", "f")
            await settle(pilot)
            same = app.desk.look(lambda: read.find(Client, name="Otto Fennimore"))
            assert [c.address for c in same] == ["", "9 Far Away"]


async def test_a_likely_double_stays_named_whatever_else_is_typed(tmp_path: Path) -> None:
    with app_on(tmp_path, more) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            made = partial(setup.add_client, address="3 Reed Row")
            app.desk.save(made, Act(app.worker.id, clock.now()), "Ottilie Quill").result(timeout=30)
            await pilot.press("a", *"new", "enter")
            for typed in ("Otillie Quill", "", "9 Far Away"):
                await keys(pilot, typed)
                await pilot.press("enter")
                await settle(pilot)
            dialog: Any = app.screen
            assert [f.key for f in dialog.form.fields][4] == "same"
            row = " ".join(dialog.form.rows[4]._text(78).plain.split())
            assert "(nearly the same name)" in row
            assert "Up, Enter takes that one." in row
            below = said(app, "#dialog-below")
            assert "Makes a new client; Ottilie Quill is in the records" in below
            assert "f books it. Esc leaves." in below
            await pilot.press("escape", "escape")
            await settle(pilot)
            await pilot.press("a")
            await settle(pilot)
            assert "Makes a new client" in said(app, "#dialog-below"), "left and come back"
            await pilot.press("escape", *["down"] * 4, "enter")
            await settle(pilot)
            assert app.screen.answers["client"].text == "Ottilie Quill"  # type: ignore[attr-defined]
            assert "Makes a new client" not in said(app, "#dialog-below")


async def test_an_emptied_name_of_a_double_is_looked_at_anew(tmp_path: Path) -> None:
    with app_on(tmp_path, more) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            known = app.desk.look(lambda: read.find(Client, name="Nora Newt"))[0]
            await pilot.press("a", *"new", "enter")
            await keys(pilot, "Nobody Known")
            await pilot.press("enter")
            await keys(pilot, known.phone)
            await pilot.press("enter")
            await settle(pilot)
            dialog: Any = app.screen
            assert dialog.likely
            dialog.form.go([f.key for f in dialog.form.fields].index("phone"))
            dialog.form.open_row()
            await pilot.press("ctrl+u", "enter")
            await settle(pilot)
            assert (dialog.likely, "phone" in dialog.answers) == ((), False)
