"""The Bookings desk by keys only at 80x24; what counts is what stands in the records."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

from textual.widgets import Static

from core.practice import setup
from core.practice.keep import Act
from core.records import read
from core.records.tables import Attempt, Client, Recheck, Visit
from tests.practice.planted import recheck
from tests.small import Small
from tests.tui.desk_app import at_desk, press, rows, said, write
from tui.app import FinroundsApp
from tui.bookings.day_book import DayBook
from tui.bookings.screen import BookingsScreen
from tui.widgets.dialog import FormDialog


def two_rechecks(small: Small, act: Act, today: date) -> None:
    recheck(act, small, today + timedelta(days=5))
    recheck(act, small, today - timedelta(days=5), kind="phone")


def nothing(small: Small, act: Act, today: date) -> None:
    """Plant nothing."""


def far_away(small: Small, act: Act, today: date) -> None:
    client = setup.add_client(act, "Bruno Test")
    site = setup.add_site(act, client, "shop", travel_min=40)
    setup.add_system(act, site, "rack", "tropical_fresh")


def visits_of(app: FinroundsApp) -> list[Visit]:
    return list(app.desk.look(read.find, Visit))


async def test_the_due_list_says_what_is_late_and_whom_to_ring(tmp_path: Path) -> None:
    async with at_desk(tmp_path, "b", two_rechecks) as (pilot, app):
        assert isinstance(app.screen, BookingsScreen)
        late, later = rows(app, "due")
        assert late.startswith("> OVERDUE 3 d")
        assert "call" in late
        assert later.startswith("  from ")
        assert "2 to ring, 1 overdue" in said(app, "heading")
        assert app.screen.query_one("#phone").value == "555 0100"  # type: ignore[attr-defined]
        assert all(len(line) <= 80 for line in (late, later))
        await press(pilot, "down")
        assert rows(app, "due")[1].startswith("> from ")
        assert "Not rung yet" in said(app, "detail")


async def test_a_call_is_logged_and_a_recheck_closed(tmp_path: Path) -> None:
    async with at_desk(tmp_path, "b", two_rechecks) as (pilot, app):
        await press(pilot, "k", "n", "enter", "f")
        [attempt] = app.desk.look(read.find, Attempt)
        assert attempt.result == "no answer"
        assert attempt.by == app.worker.id
        assert "no answer (Vera Test)" in said(app, "detail")
        assert "1 tried" in rows(app, "due")[0]
        await press(pilot, "f", "c")
        await write(pilot, "no worm")
        await press(pilot, "f")
        closed = [r for r in app.desk.look(read.find, Recheck) if r.closed_at]
        assert [r.outcome for r in closed] == ["clear: no worm"]
        assert len(rows(app, "due")) == 1


async def test_the_diary_marks_exactly_the_window_and_books_there(tmp_path: Path) -> None:
    async with at_desk(tmp_path, "b", two_rechecks) as (pilot, app):
        await press(pilot, "down", "enter")
        lines = rows(app, "diary")
        marked = [n for n, line in enumerate(lines) if "window" in line or "TARGET" in line]
        assert marked == [3, 4, 5, 6, 7]
        assert "TARGET" in lines[5]
        assert lines[5].startswith("> ")
        await press(pilot, "enter")
        await write(pilot, "1330")
        await press(pilot, "escape", "f")
        made = visits_of(app)[-1]
        assert (made.starts, made.kind, made.minutes) == ("13:30", "recheck", 60)
        assert made.day == app.today() + timedelta(days=5)
        assert any(line.lstrip("> ").startswith("booked") for line in rows(app, "due"))
        assert made.id in [r.booked for r in app.desk.look(read.find, Recheck)]


async def test_outside_its_window_a_recheck_needs_a_typed_reason(tmp_path: Path) -> None:
    async with at_desk(tmp_path, "b", two_rechecks) as (pilot, app):
        await press(pilot, "down", "enter", "home", "down", "enter")
        await write(pilot, "9")
        assert "OUTSIDE THE WINDOW: 2 d before" in said(app, "dialog-below")
        await press(pilot, "escape", "f")
        assert len(visits_of(app)) == 1
        assert "Outside the window of the recheck" in said(app, "dialog-below")
        await write(pilot, "owner away")
        await press(pilot, "f")
        assert visits_of(app)[-1].booked_why == "owner away"


async def test_a_visit_for_a_new_client_is_booked_by_keys(tmp_path: Path) -> None:
    async with at_desk(tmp_path, "b", nothing) as (pilot, app):
        await press(pilot, "s", "down", "a")
        for answer in ("new", "Nora", "5550", "", "pond", "koi p", "9 m3"):
            await write(pilot, answer)
        await write(pilot, "off food")
        await press(pilot, "enter")
        await write(pilot, "14")
        await press(pilot, "enter", "enter")
        await write(pilot, "paras")
        await press(pilot, "enter")
        await write(pilot, "more air")
        await press(pilot, "f")
        made = visits_of(app)[-1]
        client = app.desk.look(read.one, Client, made.client)
        assert (client.name, client.phone) == ("Nora", "5550")
        assert (made.day, made.starts) == (app.today() + timedelta(days=1), "14:00")
        assert (made.rank, made.rank_why) == (3, "Parasites or a sore, not yet cleared.")
        assert (made.reason, made.advice) == ("off food", "more air")


async def test_three_clashes_say_three_things(tmp_path: Path) -> None:
    async with at_desk(tmp_path, "b", far_away) as (pilot, app):
        await press(pilot, "s", "enter", "a")
        await write(pilot, "bruno")
        await press(pilot, "enter")
        await write(pilot, "again")
        await press(pilot, "enter")
        heard = []
        for starts in ("11", "20", "1205"):
            assert isinstance(app.screen, FormDialog)
            form = app.screen.form
            form.go([field.key for field in form.fields].index("starts"))
            await press(pilot, *starts, "enter", "escape", "f")
            heard.append(said(app, "dialog-below"))
            await press(pilot, "escape")
        double, hours, travel = heard
        assert "already with Clara Test" in double
        assert "outside the hours" in hours
        assert "min between Clara Test and this visit" in travel
        assert len(visits_of(app)) == 1


async def test_a_day_is_opened_and_its_visit_moved_and_cancelled(tmp_path: Path) -> None:
    async with at_desk(tmp_path, "b", nothing) as (pilot, app):
        await press(pilot, "s", "enter")
        assert isinstance(app.screen, DayBook)
        assert "10:30-12:00 Clara Test" in rows(app, "visits")[0]
        await press(pilot, "m")
        await write(pilot, "tomorrow")
        await press(pilot, "escape", "f")
        assert visits_of(app)[0].day == app.today() + timedelta(days=1)
        await press(pilot, "right", "c")
        await write(pilot, "owner rang")
        await press(pilot, "f")
        [visit] = visits_of(app)
        assert (visit.state, visit.why) == ("cancelled", "owner rang")
        assert "cancelled" in rows(app, "visits")[0]
        await press(pilot, "c")
        assert visits_of(app)[0].state == "booked"
        await press(pilot, "escape")
        assert isinstance(app.screen, BookingsScreen)


async def test_weeks_turn_and_come_back(tmp_path: Path) -> None:
    async with at_desk(tmp_path, "b", nothing) as (pilot, app):
        await press(pilot, "s")
        first = rows(app, "diary")[7].lstrip("> ")
        await press(pilot, "right")
        assert rows(app, "diary")[0].lstrip("> ") == first
        await press(pilot, "t")
        assert "today" in rows(app, "diary")[0]


async def test_a_call_says_that_nothing_is_prescribed_on_it_without_a_visit(
    tmp_path: Path,
) -> None:
    async with at_desk(tmp_path, "b", nothing) as (pilot, app):
        await press(pilot, "s", "down", "a")
        for answer in ("new", "Nora", "5550", "", "pond", "koi p", "9 m3"):
            await write(pilot, answer)
        await write(pilot, "off food")
        await press(pilot, "enter")
        await write(pilot, "14")
        await write(pilot, "t")
        below = str(app.screen.query_one("#dialog-below", Static).render())
        assert "No visit of this practice to these fish is on record" in below
