"""Until when records are kept: dates by kind, the years of the practice, and holds."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.catalogue import load
from core.errors import BadInput, Refusal
from core.practice import keep, keeping, keeping_list, settings, setup, sign, visits
from core.practice.keep import Act
from core.practice.keeping import add_years
from core.records import read
from core.records.journal import edit
from core.records.keys import new_key
from core.records.models import ROWS
from core.records.tables import Document, Hold, Payment, Visit
from tests.conftest import MOMENT
from tests.small import Small

LEAP = date(2024, 2, 29)


@pytest.mark.parametrize(
    ("years", "until"),
    [
        # By a wall calendar: a year without 29 February goes on to 1 March.
        (3, date(2027, 3, 1)),
        (5, date(2029, 3, 1)),
        (7, date(2031, 3, 1)),
        (4, date(2028, 2, 29)),
        (76, date(2100, 3, 1)),
    ],
)
def test_29_february_and_three_five_or_seven_years(years: int, until: date) -> None:
    assert add_years(LEAP, years) == until


@pytest.fixture(scope="module")
def sqlite() -> Iterator[sqlite3.Connection]:
    """SQLite's own date arithmetic, which rolls 29 February on in the same way."""
    connection = sqlite3.connect(":memory:")
    yield connection
    connection.close()


@given(start=st.dates(date(1990, 1, 1), date(2090, 12, 31)), years=st.sampled_from((3, 5, 7)))
def test_every_day_agrees_with_another_calendar(
    sqlite: sqlite3.Connection, start: date, years: int
) -> None:
    [theirs] = sqlite.execute("SELECT date(?, ?)", (str(start), f"+{years} years")).fetchone()
    assert add_years(start, years) == date.fromisoformat(theirs)


@given(start=st.dates(date(1990, 1, 1), date(2090, 12, 31)), years=st.integers(1, 100))
def test_the_date_is_never_a_day_too_early(start: date, years: int) -> None:
    until = add_years(start, years)
    assert until.year == start.year + years
    assert (until.month, until.day) >= (start.month, start.day)
    assert add_years(start + timedelta(days=1), years) >= until


@pytest.fixture
def old(practice: Small) -> Small:
    """A visit of 29 February 2024 that was signed the same day, with money and a paper."""
    act = Act(practice.vet, datetime(2024, 2, 29, 10, 0, tzinfo=UTC))
    visit = visits.book(act, practice.system, LEAP, "09:00", practice.vet, "leap day")
    for stage in sign.WALKED:
        keep.mark_stage(act, visit, stage, "passed over", "a test")
    sign.sign(act, visit)
    return Small(**{**vars(practice), "visit": visit})


def pay(practice: Small, at: datetime) -> None:
    row = Payment(
        id=new_key(),
        visit=practice.visit,
        client=practice.client,
        amount_minor=100,
        how="cash",
        by=practice.vet,
        at=at,
    )
    with edit("payment", who=practice.vet, at=at) as doing:
        doing.add(row)


def vet(practice: Small) -> Act:
    return Act(practice.vet, MOMENT)


def until(practice: Small, kind: str = "record") -> date | None:
    return {k.kind: k.until for k in keeping.kept(practice.visit)}[kind]


def test_the_practice_sets_its_years_by_kind(old: Small) -> None:
    assert until(old) == date(2031, 3, 1)
    for years, expected in ((3, date(2027, 3, 1)), (5, date(2029, 3, 1)), (7, date(2031, 3, 1))):
        keeping.set_years(vet(old), "record", years)
        assert until(old) == expected
        assert settings.get("keep_years.record") == str(years)
    keeping.set_years(vet(old), "money", 10)
    pay(old, datetime(2024, 3, 5, 12, 0, tzinfo=UTC))
    assert (until(old, "money"), until(old)) == (date(2034, 3, 5), date(2031, 3, 1))
    for years in (0, 101):
        with pytest.raises(BadInput, match="1 to 100 years"):
            keeping.set_years(vet(old), "record", years)
    with pytest.raises(BadInput, match="no kind of record"):
        keeping.set_years(vet(old), "gossip", 7)


def test_the_years_count_from_the_last_entry(old: Small) -> None:
    act = Act(old.vet, datetime(2024, 5, 2, 8, 0, tzinfo=UTC))
    sign.add_addendum(act, old.visit, "culture negative", "result came")
    [record] = keeping.kept(old.visit)
    assert (record.last, record.until) == (date(2024, 5, 2), date(2031, 5, 2))


def test_the_day_is_that_of_the_practices_wall(old: Small) -> None:
    with edit("zone", who=old.vet, at=MOMENT) as doing:
        doing.change(ROWS["practice"], read.find(ROWS["practice"])[0].id, zone="Pacific/Auckland")
    act = Act(old.vet, datetime(2024, 5, 2, 20, 0, tzinfo=UTC))
    sign.add_addendum(act, old.visit, "culture negative", "result came")
    assert keeping.kept(old.visit)[0].last == date(2024, 5, 3)


def test_no_date_runs_for_a_record_that_is_not_signed_and_none_for_a_booking(
    practice: Small,
) -> None:
    assert keeping.kept() == ()
    keep.mark_stage(vet(practice), practice.visit, "Water", "begun")
    with edit("begun", who=practice.vet, at=MOMENT) as doing:
        doing.change(Visit, practice.visit, state="open")
    [record] = keeping.kept()
    assert (record.until, record.passed(date(2090, 1, 1))) == (None, False)


def test_a_paper_that_was_made_later_has_its_own_date(old: Small) -> None:
    at = datetime(2025, 1, 7, 9, 0, tzinfo=UTC)
    paper = Document(
        id=new_key(),
        visit=old.visit,
        client=old.client,
        kind="visit record",
        number="1",
        file="a.pdf",
        sha256="0",
        by=old.vet,
        at=at,
    )
    with edit("paper", who=old.vet, at=at) as doing:
        doing.add(paper)
    assert until(old, "paper") == date(2032, 1, 7)


def test_a_hold_stops_any_date_and_is_ended_with_a_reason(old: Small) -> None:
    after = date(2031, 3, 2)
    [record] = keeping.kept(old.visit)
    assert not record.passed(date(2031, 3, 1)), "it is kept up to and with the day"
    assert record.passed(after)
    with pytest.raises(Refusal, match="with a reason"):
        keeping.hold(vet(old), old.client, " ", old.visit)
    key = keeping.hold(vet(old), old.client, "claim about the dose", old.visit)
    [record] = keeping.kept(old.visit)
    assert (record.held, record.passed(date(2090, 1, 1))) == ("claim about the dose", False)
    with pytest.raises(Refusal, match="with a reason"):
        keeping.end_hold(vet(old), key, "")
    keeping.end_hold(vet(old), key, "settled")
    assert keeping.kept(old.visit)[0].passed(after)
    row = read.one(Hold, key)
    assert (row.ended_why, row.ended_by, row.ended_at) == ("settled", old.vet, MOMENT)
    with pytest.raises(Refusal, match="ended already"):
        keeping.end_hold(vet(old), key, "again")


def test_a_hold_of_a_client_holds_all_visits_of_that_client_and_no_others(old: Small) -> None:
    other = setup.add_client(vet(old), "Otto Other")
    key = keeping.hold(vet(old), old.client, "dispute")
    assert [h.id for h in keeping.holds(old.visit)] == [key]
    assert keeping.kept(old.visit)[0].held == "dispute"
    with pytest.raises(Refusal, match="not one of Otto Other"):
        keeping.hold(vet(old), other, "dispute", old.visit)


def test_two_holds_are_both_said_and_each_stands_until_it_is_ended(old: Small) -> None:
    first = keeping.hold(vet(old), old.client, "dispute")
    keeping.hold(vet(old), old.client, "inquiry", old.visit)
    assert keeping.kept(old.visit)[0].held == "inquiry; dispute"
    keeping.end_hold(vet(old), first, "settled")
    assert keeping.kept(old.visit)[0].held == "inquiry"


def test_the_list_says_what_has_passed_and_deletes_nothing(old: Small, tmp_path: Path) -> None:
    before = {table: read.find(kind, struck=True) for table, kind in ROWS.items()}
    text = keeping_list.text(date(2031, 3, 2))
    assert "Finrounds deletes nothing" in text
    assert "Date passed: 1\n  Clara Test, visit of 2024-02-29, visit record: last entry" in text
    assert "American Veterinary Medical Association" in text
    assert "common practice, no source" in text
    assert "Date passed: 1\n  and 1 more" in keeping_list.text(date(2031, 3, 2), 0)
    keeping.hold(vet(old), old.client, "dispute")
    held = keeping_list.text(date(2031, 3, 2))
    assert "Date passed: 0\n  none" in held
    assert "Held, whatever the date: 1\n  Clara Test" in held
    assert "HELD: dispute" in held
    after = {table: read.find(kind, struck=True) for table, kind in ROWS.items()}
    assert {t for t in after if len(after[t]) != len(before[t])} == {"hold"}
    assert before["visit"] == after["visit"]


def test_every_kind_has_years_and_says_how_they_are_known() -> None:
    sources = load.table("sources")
    for row in load.table("keeping")["kind"].values():
        assert 1 <= row["years"] <= 100
        assert {row["source"], *row.get("also", {})} <= sources.keys()
