"""The Day desk by keys only: the list, what to know before, and what can happen to a visit."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from core.practice import setup
from core.practice.keep import Act, mark_stage
from core.records import read
from core.records.engine import query
from core.records.journal import edit
from core.records.keys import new_key
from core.records.tables import Client, Invoice, System, Visit
from tests.small import Small
from tests.tui.shell import app_on, book, every_visit, rows, said, settle
from tui.day.add import rounded
from tui.workup.screen import WorkupScreen


def eight(act: Act, small: Small) -> None:
    """Make a day of eight visits of two vets, with long names."""
    ines = setup.add_person(act, "Ines Holloway-Brandt", "veterinarian")
    for vet in (small.vet, ines):
        for starts in ("08:30", "13:00", "15:30"):
            book(act, vet, f"Brackwell children's pond at {starts}", starts, "rubbing, one sore")
    book(act, ines, "Dentist Okonjo-Marsh", "17:30", "white dots, scratching since Sunday")
    with edit("rank", who=act.by, at=act.at, visit=small.visit) as doing:
        doing.change(Visit, small.visit, rank=4)


def two(act: Act, small: Small) -> None:
    book(act, small.vet, "Nora Next", "14:00")


async def test_eight_visits_stand_on_a_line_each_with_their_times_whole(tmp_path: Path) -> None:
    with app_on(tmp_path, eight) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            assert [row[2:7] for row in rows(app)] == ["08:30", "10:30", "13:00", "15:30"]
            await pilot.press("e")
            await settle(pilot)
            lines = rows(app)
            times = [row[2:7] for row in lines if row[4:5] == ":"]
            assert sorted(times) == sorted([*["08:30", "13:00", "15:30"] * 2, "10:30", "17:30"])
            assert lines[0].startswith(" Vera Test: 4 visits")
            assert lines[5].startswith(" Ines Holloway-Brandt: 4 visits")
            assert all(len(line) <= 79 for line in lines)
            assert all(option.prompt.no_wrap for option in app.screen.list.options)  # type: ignore[attr-defined]
            assert app.screen.query_one("#visits").size.height == 10
            assert "LAST" in next(line for line in lines if "10:30" in line)


async def test_the_mark_and_what_is_below_follow_the_cursor(tmp_path: Path) -> None:
    with app_on(tmp_path, two) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            assert [row[0] for row in rows(app)] == [">", " "]
            assert "2 Invented Lane" in said(app, "#before")
            await pilot.press("down")
            await settle(pilot)
            assert [row[0] for row in rows(app)] == [" ", ">"]
            assert "home of Nora Next" in said(app, "#before")
            assert "first visit here" in said(app, "#before")


async def test_the_arrows_turn_the_day_and_an_empty_day_says_what_to_do(tmp_path: Path) -> None:
    with app_on(tmp_path) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            await pilot.press("right")
            await settle(pilot)
            assert "tomorrow" in said(app, "#heading")
            assert rows(app) == []
            assert "a adds one" in said(app, "#before")
            await pilot.press("left", "left")
            await settle(pilot)
            assert "yesterday" in said(app, "#heading")
            await pilot.press("t")
            await settle(pilot)
            assert "today" in said(app, "#heading")
            assert len(rows(app)) == 1


async def test_acts_on_an_empty_day_are_refused_with_a_sentence(tmp_path: Path) -> None:
    with app_on(tmp_path) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            await pilot.press("right")
            await settle(pilot)
            await pilot.press("x")
            await settle(pilot)
            assert [n.message for n in app._notifications] == [
                "No visit is chosen. a adds one to this day."
            ]
            assert len(app.screen_stack) == 1


@pytest.mark.parametrize(("key", "state"), [("x", "no access"), ("c", "cancelled")])
async def test_a_visit_is_left_with_a_reason_and_taken_back_on_the_same_key(
    tmp_path: Path, key: str, state: str
) -> None:
    with app_on(tmp_path) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            await pilot.press(key, *"gate locked", "enter", "f")
            await settle(pilot)
            assert [(v.state, v.why) for v in every_visit(app)] == [(state, "gate locked")]
            assert f"{state}: gate locked"[:12] in rows(app)[0]
            await pilot.press(key)
            await settle(pilot)
            assert [(v.state, v.why) for v in every_visit(app)] == [("booked", "")]


async def test_a_signed_visit_is_not_left(tmp_path: Path) -> None:
    def sign(act: Act, small: Small) -> None:
        with edit("sign", who=act.by, at=act.at, visit=small.visit) as doing:
            doing.change(Visit, small.visit, state="signed", signed_at=act.at, signed_by=small.vet)

    with app_on(tmp_path, sign) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            await pilot.press("c", *"too late", "enter", "f")
            await settle(pilot)
            assert every_visit(app)[0].state == "signed"
            assert any("signed" in n.message for n in app._notifications)


async def test_a_visit_is_moved_and_named_when_it_does_not_fit(tmp_path: Path) -> None:
    with app_on(tmp_path, two) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            await pilot.press("m", "tab", *"1430", "enter", "f")
            await settle(pilot)
            assert "Nora Next" in said(app, "#dialog-below")
            assert {v.starts for v in every_visit(app)} == {"10:30", "14:00"}
            await pilot.press(*"both at one place", "enter", "f")
            await settle(pilot)
            moved = next(v for v in every_visit(app) if v.starts == "14:30")
            assert moved.booked_why == "both at one place"
            await pilot.press("m", *"+1", "enter", "escape", "f")
            await settle(pilot)
            moved = next(v for v in every_visit(app) if v.id == moved.id)
            assert moved.day == app.today() + timedelta(days=1)
            assert len(rows(app)) == 1


async def test_an_unplanned_visit_takes_a_few_keys(tmp_path: Path) -> None:
    with app_on(tmp_path) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            await pilot.press("right")
            await settle(pilot)
            await pilot.press("a")
            await settle(pilot)
            await pilot.press(*"tes", "enter", "enter", *"gasping", "enter", *"14", "enter")
            await pilot.press("escape", "f")
            await settle(pilot)
            made = next(v for v in every_visit(app) if v.reason == "gasping")
            assert (made.starts, made.kind, made.rank) == ("14:00", "new", 2)
            assert made.minutes == 105
            assert rows(app)[0].startswith("> 14:00")


async def test_a_client_nobody_knew_is_made_with_the_visit_in_one_edit(tmp_path: Path) -> None:
    with app_on(tmp_path) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            before = len(app.desk.look(read_edits))
            await pilot.press("right")
            await settle(pilot)
            await pilot.press("a")
            await settle(pilot)
            await pilot.press(*"new", "enter", *"Odile Fennimar", "enter", *"555 0101", "enter")
            await pilot.press(*"3 Reed Row", "enter", *"planted tank", "enter", *"soft", "enter")
            await pilot.press(*"235", "enter", *"[b]gasping", "enter", *"10:00", "enter", "escape")
            await pilot.press("f")
            await settle(pilot)
            client = next(c for c in app.desk.look(read.find, Client) if c.name[0] == "O")
            system = next(s for s in app.desk.look(read.find, System) if s.volume_l == 235)
            made = next(v for v in every_visit(app) if v.client == client.id)
            assert (made.system, made.reason, made.starts) == (system.id, "[b]gasping", "10:00")
            assert (system.kind, client.phone) == ("soft_water", "555 0101")
            assert len(app.desk.look(read_edits)) == before + 1


async def test_a_time_that_is_none_is_refused_where_it_stands(tmp_path: Path) -> None:
    with app_on(tmp_path) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            await pilot.press("m", "tab", *"2560", "enter")
            await settle(pilot)
            dialog = app.screen
            assert dialog.form.typing  # type: ignore[attr-defined]
            assert "10:30" in dialog.form.row.state.error  # type: ignore[attr-defined]
            assert dialog.form.row.state.typing.text == "2560"  # type: ignore[attr-defined]


async def test_enter_opens_the_visit_where_it_was_left(tmp_path: Path) -> None:
    def begun(act: Act, small: Small) -> None:
        mark_stage(act, small.visit, "Water", "begun")

    with app_on(tmp_path, begun) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            await pilot.press("enter")
            await settle(pilot)
            assert isinstance(app.screen, WorkupScreen)
            assert app.screen.stage_name == "Water"
            await pilot.press("d")
            await settle(pilot)
            assert len(app.screen_stack) == 1


async def test_the_receptionist_sees_every_round_and_who_has_not_paid(tmp_path: Path) -> None:
    def owed(act: Act, small: Small) -> None:
        with edit("invoice", who=act.by, at=act.at, visit=small.visit) as doing:
            doing.add(
                Invoice(
                    id=new_key(),
                    visit=small.visit,
                    client=small.client,
                    number="1",
                    day=act.at.date(),
                    net_minor=30900,
                    tax_minor=0,
                    gross_minor=30900,
                    by=small.vet,
                    at=act.at,
                )
            )

    with app_on(tmp_path, owed, person=1) as app:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            assert "all: 1 visit, 1 unpaid" in said(app, "#heading")
            assert rows(app)[0].rstrip().endswith("unpaid")
            assert "309.00 EUR" in said(app, "#before")


def read_edits() -> list[object]:
    return list(query('SELECT "id" FROM "edit"'))


def test_the_time_offered_is_the_next_quarter_of_the_same_day() -> None:
    def at(hour: int, minute: int) -> str:
        return rounded(datetime(2026, 11, 25, hour, minute, tzinfo=UTC))

    assert [at(14, 0), at(14, 1), at(14, 46), at(23, 50)] == ["14:00", "14:15", "15:00", "23:45"]
