"""The Paperwork desk by keys only at 80x24; what counts is what stands in the records."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest
from textual.widgets import Static

from core.practice.keep import Act
from core.records import read
from core.records.tables import Attempt, DayMark, Delivery, Document, OwnerTold, Payment
from core.records.tables import TestResult as Result
from tests.practice import planted
from tests.practice.planted import another, recheck
from tests.small import Small
from tests.tui.desk_app import at_desk, press, rows, said, write
from tui.paperwork.screen import PaperworkScreen
from tui.widgets import opener
from tui.widgets.confirm import ConfirmSeen
from tui.widgets.panel import Panel
from tui.workup.screen import WorkupScreen


def owed(small: Small, act: Act, today: date) -> None:
    planted.taxes(act)
    planted.invoice(act, small.visit, "2026-0001", 50200)
    planted.signed(act, small.visit)


def a_test(small: Small, act: Act, today: date) -> None:
    planted.sent(act, small, small.visit, today)
    planted.taxes(act)
    planted.signed(act, small.visit)


def a_paper(small: Small, act: Act, today: date) -> None:
    planted.paper(act, small, small.visit)
    planted.taxes(act)


def some_labels(small: Small, act: Act, today: date) -> None:
    planted.paper(act, small, small.visit, "labels")
    planted.taxes(act)


def a_call(small: Small, act: Act, today: date) -> None:
    recheck(act, small, today - timedelta(days=5), kind="phone")
    planted.taxes(act)


def yesterday(small: Small, act: Act, today: date) -> None:
    planted.taxes(act)
    another(act, small, today - timedelta(days=1), "09:00")


async def test_what_is_open_says_its_age_and_opens_its_visit(tmp_path: Path) -> None:
    async with at_desk(tmp_path, "p", yesterday) as (pilot, app):
        assert isinstance(app.screen, PaperworkScreen)
        old, new = rows(app, "owing")
        assert old.startswith("> unsigned")
        assert "1 d old" in old
        assert "of today" in new
        assert all(len(line) <= 80 for line in (old, new))
        assert "today: 2 open" in said(app, "heading")
        await press(pilot, "left")
        assert "yesterday: 1 open" in said(app, "heading")
        await press(pilot, "t", "enter")
        assert isinstance(app.screen, WorkupScreen)


async def test_a_mark_stays_and_is_taken_back(tmp_path: Path) -> None:
    async with at_desk(tmp_path, "p", yesterday) as (pilot, app):
        await press(pilot, "f")
        assert rows(app, "owing")[0].split()[1:3] == ["unsigned", "seen"]
        assert "Seen to by Vera Test" in said(app, "detail")
        assert len(app.desk.look(read.find, DayMark)) == 1
        await press(pilot, "f")
        assert "seen" not in rows(app, "owing")[0]
        assert app.desk.look(read.find, DayMark) == ()


async def test_a_payment_in_part_makes_its_receipt(tmp_path: Path) -> None:
    async with at_desk(tmp_path, "p", owed) as (pilot, app):
        [line] = rows(app, "owing")
        assert line.split()[1] == "unpaid"
        assert line.endswith("502.00")
        await press(pilot, "enter")
        await write(pilot, "200,50")
        await press(pilot, "c", "escape", "f")
        [payment] = app.desk.look(read.find, Payment)
        assert (payment.amount_minor, payment.how) == (20050, "cash")
        [receipt] = app.desk.look(read.find, Document)
        assert (app.desk.papers / receipt.file).read_bytes().startswith(b"%PDF")
        assert receipt.number in said(app, "status")
        assert rows(app, "owing")[0].endswith("301.50")
        assert "Taken on the day 200.50 EUR: cash 200.50 (1)" in said(app, "money")


async def test_more_than_is_owed_is_refused_and_nothing_typed_is_lost(tmp_path: Path) -> None:
    async with at_desk(tmp_path, "p", owed) as (pilot, app):
        await press(pilot, "y")
        await write(pilot, "502.01")
        await press(pilot, "k", "escape", "f")
        assert app.desk.look(read.find, Payment) == ()
        assert app.screen.answers["amount"].text == "502.01"  # type: ignore[attr-defined]
        await press(pilot, "escape")
        assert isinstance(app.screen, PaperworkScreen)


async def test_a_result_is_entered_with_its_addendum_and_the_owner_told(tmp_path: Path) -> None:
    async with at_desk(tmp_path, "p", a_test) as (pilot, app):
        kinds = [line.strip("> ").split()[0] for line in rows(app, "owing")]
        assert kinds == ["to", "awaited"]
        await press(pilot, "down", "enter")
        await write(pilot, "no growth")
        await press(pilot, "n", "y", "f")
        [result] = app.desk.look(read.find, Result)
        assert (result.value, result.by) == ("no growth", app.worker.id)
        assert rows(app, "owing")[1].startswith("> tell")
        await press(pilot, "enter", "t", "f")
        [told] = app.desk.look(read.find, OwnerTold)
        assert (told.result, told.how) == (result.id, "by telephone")
        assert len(rows(app, "owing")) == 1


async def test_a_paper_is_handed_over(tmp_path: Path) -> None:
    async with at_desk(tmp_path, "p", a_paper) as (pilot, app):
        await press(pilot, "end")
        assert "care sheet 7 not handed over" in said(app, "detail")
        await press(pilot, "h", "h")
        await write(pilot, "the owner")
        await press(pilot, "f")
        [given] = app.desk.look(read.find, Delivery)
        assert (given.how, given.to) == ("by hand", "the owner")
        await press(pilot, "s")
        assert "by hand, the owner" in rows(app, "papers")[0]


async def test_labels_that_wait_are_not_marked_seen_by_one_key_too_many(tmp_path: Path) -> None:
    async with at_desk(tmp_path, "p", some_labels) as (pilot, app):
        await press(pilot, "end")
        assert "labels 7 not handed over" in said(app, "detail")
        await press(pilot, "f")
        assert isinstance(app.screen, ConfirmSeen)
        body = str(app.screen.query_one("#panel-body", Static).content)
        assert "h hands them over" in body
        assert app.desk.look(read.find, DayMark) == ()
        await press(pilot, "escape")
        assert isinstance(app.screen, PaperworkScreen)
        assert app.desk.look(read.find, DayMark) == ()
        await press(pilot, "f", "f")
        [mark] = app.desk.look(read.find, DayMark)
        assert mark.line.startswith("paper:")
        # To take the mark back nothing is asked.
        await press(pilot, "f")
        assert app.desk.look(read.find, DayMark) == ()


async def test_an_owner_to_be_rung_is_rung_from_here(tmp_path: Path) -> None:
    async with at_desk(tmp_path, "p", a_call) as (pilot, app):
        await press(pilot, "end", "enter", "t")
        await write(pilot, "deaths 0")
        await press(pilot, "f")
        [attempt] = app.desk.look(read.find, Attempt)
        assert attempt.result == "three numbers told: deaths 0"


async def test_the_summary_of_the_day_is_made_kept_and_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened: list[str] = []
    monkeypatch.setattr(opener, "has_desktop", lambda: True)
    async with at_desk(tmp_path, "p", owed) as (pilot, app):
        monkeypatch.setattr(app, "open_url", lambda url: opened.append(url))
        await press(pilot, "g")
        [paper] = app.desk.look(read.find, Document)
        assert (paper.kind, paper.visit) == ("day summary", None)
        assert "Day summary, version 1" in said(app, "status")
        await press(pilot, "s", "enter")
        assert opened == [(app.desk.papers / paper.file).resolve().as_uri()]
        await press(pilot, "w")
        assert isinstance(app.screen, Panel)
        text = said(app, "panel-body")
        assert "502.00" in text
        assert paper.file in text
