"""Whatever somebody writes is text: it is shown, kept and given back, and nothing obeys it."""

from __future__ import annotations

import time
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from datetime import UTC, datetime
from pathlib import Path

import pytest
from textual import events
from textual.pilot import Pilot

from core import clock
from core.errors import BadInput
from core.practice import setup
from core.practice.desk import Desk
from core.practice.export import export
from core.practice.find import find
from core.practice.keep import Act
from core.practice.who import people, practice
from core.records import journal, read
from core.records.engine import query
from core.records.tables import Client, FishGroup, Person, Site, System, Visit
from tests.small import fill
from tests.snapshots import clinic
from tests.snapshots.whole import lines_of
from tests.tui.desk_app import press
from tui.app import FinroundsApp
from tui.widgets.dialog import FormDialog, reason
from tui.widgets.field import LONGEST
from tui.widgets.form import Form
from tui.widgets.panel import Panel
from tui.workup.screen import WorkupScreen
from tui.workup.stages import BUILT

MOMENT = datetime(2026, 11, 25, 8, 30, tzinfo=UTC)
NAMES = (
    'Robert\'); DROP TABLE "client";--',
    "[/b] [link=x] & <x> [@click=app.quit]q[/]",
    "=cmd|'/c calc'!A1",
    "% %s ? :x {0} $1 \\x1b[31m",
    "W" * 300,
    "Z\u0337\u0322\u0327a 👩\u200d⚕️🐟 می‌خواهم",
    "two\nlines\tand a tab",
    "\u202eright to left\u2066",
)
NOT_TEXT = ("\x00", "\x1b[31mred", "\x1b]52;c;aGk=\x07", "\x9b31m", "\x7f", "\ud800", "a\udfff")


@pytest.mark.parametrize("text", NOT_TEXT, ids=ascii)
def test_what_is_no_text_is_refused_where_it_would_be_kept(
    records: Path, act: Act, text: str
) -> None:
    with pytest.raises(BadInput, match="no meaning"):
        setup.add_client(act, f"Odile {text}")
    client = setup.add_client(act, "Odile")
    with (
        pytest.raises(BadInput, match="no meaning"),
        journal.edit("x", who="x", at=MOMENT) as doing,
    ):
        doing.change(Client, client, note=text)
    assert [(c.name, c.note) for c in read.find(Client)] == [("Odile", "")]


@pytest.mark.parametrize("text", NAMES, ids=ascii)
def test_any_text_is_kept_found_and_given_back(records: Path, act: Act, text: str) -> None:
    client = setup.add_client(act, text, phone="555 0100", note=text)
    assert read.one(Client, client).name == text
    assert read.first(Client, name=text, note=text) is not None
    assert client in {found.row for found in find(text)} | {found.row for found in find("5550100")}
    assert query('SELECT count(*) FROM "client"') == [(1,)]


def test_the_same_text_lies_in_an_export(records: Path, act: Act, tmp_path: Path) -> None:
    fill(act, MOMENT.date())
    for text in NAMES:
        setup.add_client(act, text)
    made = export(tmp_path / "out", tmp_path / "papers", MOMENT, lambda _: None)
    for name in ("tables/client.csv", "rows/client.jsonl", "journal.jsonl"):
        data = (made.folder / name).read_bytes().decode("utf-8", "strict")
        assert "\x1b" not in data
        assert "DROP TABLE" in data


def plant() -> None:
    """Give everybody and everything a name that somebody might choose to do harm."""
    with journal.edit("names", who="setup", at=clinic.NOW) as doing:
        for n, client in enumerate(read.find(Client)):
            more = {"address": NAMES[n % len(NAMES)], "note": NAMES[-1 - n % len(NAMES)]}
            doing.change(Client, client.id, name=NAMES[n % len(NAMES)], **more)
        for n, site in enumerate(read.find(Site)):
            doing.change(
                Site, site.id, name=NAMES[n % 8], access=NAMES[n % 8], caution=NAMES[n % 8]
            )
        for n, system in enumerate(read.find(System)):
            doing.change(System, system.id, name=NAMES[n % 8], note=NAMES[n % 8])
        for n, group in enumerate(read.find(FishGroup)):
            doing.change(FishGroup, group.id, name=NAMES[n % 8])
        for n, visit in enumerate(read.find(Visit)):
            if visit.signed_at is None:
                doing.change(Visit, visit.id, reason=NAMES[n % 8], advice=NAMES[-1 - n % 8])
        for n, person in enumerate(read.find(Person)):
            doing.change(Person, person.id, name=NAMES[n % 8])


@asynccontextmanager
async def running(
    folder: Path, before: Callable[[], None]
) -> AsyncIterator[tuple[Pilot[None], FinroundsApp, dict[str, str]]]:
    house = clinic.build(folder)
    desk = Desk(folder / "practice.db")
    try:
        desk.save(before).result(timeout=30)
        found = desk.look(practice)
        assert found is not None
        app = FinroundsApp(desk, found, desk.look(people)[0])
        async with app.run_test(size=(80, 24)) as pilot:
            await app.workers.wait_for_complete()
            yield pilot, app, house.visits
    finally:
        desk.close()


def look(app: FinroundsApp, where: str) -> list[str]:
    """Return what is wrong with the screen."""
    found = []
    for line in lines_of(app):
        if any(ord(c) < 32 or 127 <= ord(c) < 160 for c in line):
            found.append(f"{where}: {line!r}")
    wide = [w for strip in app.screen._compositor.render_strips() if (w := strip.cell_length) != 80]
    return found + [f"{where}: {w} cells wide" for w in wide]


async def test_every_screen_shows_such_names_and_obeys_none(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(clock, "now", lambda: clinic.NOW)
    wrong: list[str] = []
    met = ""
    async with running(tmp_path, plant) as (pilot, app, visits):
        for keys in ("e", "t", "down", "question_mark", "escape", "b", "s", "enter", "escape",
                     "s", "p", "s", "down", "w", "escape", "s", "slash", "5", "5", "5", "escape",
                     "d", "semicolon", "escape", "asterisk", "right", "escape"):  # fmt: skip
            await press(pilot, keys)
            wrong += look(app, f"after {keys}")
            met += "".join(lines_of(app))
        await press(pilot, "d")
        for stage in BUILT:
            await app.push_screen(WorkupScreen(visits[clinic.MAIN], stage))
            await press(pilot, "down")
            wrong += look(app, stage)
            await app.pop_screen()
        await app.push_screen(Panel(NAMES[1], NAMES[1]))
        await pilot.pause()
        wrong += look(app, "a panel")
        app.notify(NAMES[1], title=NAMES[1])
        await pilot.pause()
        wrong += look(app, "a notice")
        assert app.is_running
        assert not wrong, "\n".join(wrong)
        assert all(part in met for part in ("Robert');", "[/b]", "=cmd", "% %s", "WWW", "two lin"))
        assert len(app.desk.look(read.find, Client)) == len(clinic.WATERS)


MEGABYTE = "Larkspur Hotel; " * 65_536


async def test_a_pasted_megabyte_is_refused_at_once_and_what_was_typed_stays(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(clock, "now", lambda: clinic.NOW)
    kept: list[str] = []

    async def keep(why: str) -> None:
        kept.append(why)

    async with running(tmp_path, lambda: None) as (pilot, app, _):
        dialog: FormDialog = reason("Why", keep)
        await app.push_screen(dialog)
        await press(pilot, *"gate")
        form = dialog.query_one("#form", Form)
        began = time.perf_counter()
        form.post_message(events.Paste(MEGABYTE))
        await press(pilot, *" shut")
        assert time.perf_counter() - began < 5
        state = form.rows[0].state
        assert state.draft == "gate shut"
        assert state.error == (
            f"Why: That is {len(MEGABYTE)} characters more; {LONGEST} are the most. "
            "They were not put in."
        )
        await press(pilot, "enter", "enter")
        assert kept == ["gate shut"]


async def test_a_pasted_page_is_kept_and_refused_with_its_length(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(clock, "now", lambda: clinic.NOW)

    async def keep(why: str) -> None:
        raise AssertionError(why)

    async with running(tmp_path, lambda: None) as (pilot, app, _):
        dialog: FormDialog = reason("Why", keep)
        await app.push_screen(dialog)
        form = dialog.query_one("#form", Form)
        form.post_message(events.Paste("x" * 10_000))
        await press(pilot, "enter")
        assert form.rows[0].state.error.startswith("Why: That is 10000 characters; 4000 are")
        assert len(form.rows[0].state.draft) == 10_000


@pytest.mark.parametrize("text", NOT_TEXT, ids=ascii)
async def test_a_row_takes_what_can_be_read_of_a_pasted_text(text: str) -> None:
    from tui.widgets.typing import Typing, readable

    assert Typing().insert(f"a{text}b").text == f"a{readable(text)}b"
    assert readable(text).isprintable()
