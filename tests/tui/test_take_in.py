"""A file of clients taken in by keys alone, and everything exported from the list of commands."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import date
from pathlib import Path

from textual import events
from textual.pilot import Pilot

from core.practice.keep import Act
from core.records import read
from core.records.tables import Client, System
from tests.small import Small
from tests.tui.desk_app import at_desk, press, rows, said
from tui.app import FinroundsApp
from tui.take_in.begin import ask_file, ask_folder
from tui.take_in.dry_run import ConfirmLeaveOut, DryRun
from tui.take_in.match import MatchColumns
from tui.widgets.form import Form
from tui.widgets.panel import Panel

LINES = (
    "Customer;Tel.;Pond;Type;Litres",
    "Odile Fennimar;555 0101;garden pond;koi pond;4500",
    ";555 0102;pond;koi pond;90",
    "Clara Test;555 0103;pond;swimming pool;90",
    "Clara Test;555 0100;lily pond;goldfish;1,200",
    "Clara Test;555 0900;lily pond;goldfish pond;1200",
)


def nothing(small: Small, act: Act, today: date) -> None:
    """Plant nothing more."""


@asynccontextmanager
async def app_with(folder: Path, *lines: str) -> AsyncIterator[tuple[Pilot[None], FinroundsApp]]:
    """Run the app with a file of clients beside its records."""
    (folder / "clients.csv").write_bytes("\r\n".join((*lines, "")).encode("cp1252"))
    async with at_desk(folder, "b", nothing) as (pilot, app):
        yield pilot, app


async def name_file(pilot: Pilot[None], app: FinroundsApp, path: Path) -> None:
    """Type the name of a file, as by pasting it, and go on."""
    ask_file(app)
    await pilot.pause()
    app.screen.query_one("#form", Form).post_message(events.Paste(str(path)))
    await press(pilot, "enter", "enter")


def names(app: FinroundsApp) -> list[str]:
    return [c.name for c in app.desk.look(read.find, Client)]


def shown(app: FinroundsApp) -> str:
    return "\n".join(strip.text for strip in app.screen._compositor.render_strips())


async def test_bad_rows_are_listed_left_out_in_so_many_words_and_the_rest_is_made(
    tmp_path: Path,
) -> None:
    async with app_with(tmp_path, *LINES) as (pilot, app):
        await name_file(pilot, app, tmp_path / "clients.csv")
        assert isinstance(app.screen, MatchColumns)
        assert "clients.csv: 5 rows. Which column is what?" in shown(app)
        assert "Odile Fennimar | Clara" in shown(app)
        await press(pilot, "f")
        assert isinstance(app.screen, DryRun)
        assert (
            said(app, "heading") == " clients.csv: 3 rows can NOT be taken in: nothing is made yet"
        )
        assert said(app, "counts").startswith(
            "Of 5 rows would be made: 2 clients, 2 sites, 2 waters. s shows 1 likely double."
        )
        assert [row[:18] for row in rows(app, "rows")] == [
            "> Line 3, Customer",
            '  Line 4, Type: "s',
            "  Line 5, Litres: ",
        ]
        await press(pilot, "down")
        assert '"swimming pool": This is none of the kinds' in said(app, "detail")
        await press(pilot, "enter")
        assert isinstance(app.screen, Panel)
        assert "Tel.: 555 0103" in shown(app)
        await press(pilot, "escape", "f")
        assert isinstance(app.screen, DryRun)
        assert names(app) == ["Clara Test"]
        await press(pilot, "o")
        assert isinstance(app.screen, ConfirmLeaveOut)
        assert "Leave the 3 bad rows out" in shown(app)
        await press(pilot, "escape", "f")
        assert names(app) == ["Clara Test"]
        await press(pilot, "o", "o")
        assert said(app, "heading") == " clients.csv: 3 rows are LEFT OUT"
        await press(pilot, "s")
        assert (
            "Clara Test may be Clara Test, in the records: the same name." in rows(app, "rows")[0]
        )
        await press(pilot, "o")
        assert said(app, "counts").startswith("Of 5 rows would be made: 1 client, 1 site, 1 water.")
        await press(pilot, "f")
        assert isinstance(app.screen, Panel)
        assert "clients-left-out.csv" in app.screen._body
        assert names(app) == ["Clara Test", "Odile Fennimar"]
        waters = app.desk.look(read.find, System)
        assert [(w.name, w.volume_l) for w in waters] == [("koi pond", 9000), ("garden pond", 4500)]
        left = (tmp_path / "clients-left-out.csv").read_text("utf-8-sig").splitlines()
        assert [line.split(";")[5] for line in left] == ["line", "3", "4", "5", "6"]


async def test_a_column_is_matched_by_hand_and_escape_makes_nothing(tmp_path: Path) -> None:
    lines = ("Whoever;Where", "Odile Fennimar;pond", "Zoë Ærø;pool")
    async with app_with(tmp_path, *lines) as (pilot, app):
        await name_file(pilot, app, tmp_path / "clients.csv")
        await press(pilot, "f")
        assert isinstance(app.screen, MatchColumns)
        await press(pilot, "down", "enter", *"who", "enter")
        form = app.screen.query_one("#form", Form)
        assert form.rows[1].state.shown.value == "Whoever"
        assert form.rows[1].state.shown.note == "Odile Fennimar | Zoë Ærø"
        await press(pilot, "escape", "f")
        assert said(app, "counts").startswith("Of 2 rows would be made: 2 clients, no sites")
        await press(pilot, "escape")
        assert isinstance(app.screen, MatchColumns)
        await press(pilot, "escape")
        assert names(app) == ["Clara Test"]
        assert not list(tmp_path.glob("*left-out*"))


async def test_a_folder_is_answered_with_its_files(tmp_path: Path) -> None:
    async with app_with(tmp_path, *LINES) as (pilot, app):
        await name_file(pilot, app, tmp_path)
        form = app.screen.query_one("#form", Form)
        assert "In it: clients.csv." in form.rows[0].state.error
        await press(pilot, "ctrl+u")
        form.post_message(events.Paste(str(tmp_path / "none.csv")))
        await press(pilot, "enter")
        assert "can not be read: No such file" in form.rows[0].state.error


async def test_everything_is_exported_while_the_app_goes_on(tmp_path: Path) -> None:
    async with app_with(tmp_path, *LINES) as (pilot, app):
        ask_folder(app)
        await pilot.pause()
        app.screen.query_one("#form", Form).post_message(events.Paste(str(tmp_path / "out")))
        await press(pilot, "enter", "enter")
        assert (tmp_path / "out" / "README.txt").is_file()
        told = [n.message for n in app._notifications]
        assert len(told) == 1
        assert "PINs and recovery codes are not in it" in told[0]


async def test_both_are_in_the_list_of_commands(tmp_path: Path) -> None:
    async with app_with(tmp_path, *LINES) as (_, app):
        titles = [command.title for command in app.get_system_commands(app.screen)]
        assert {"Take in clients", "Export everything"} <= set(titles)
