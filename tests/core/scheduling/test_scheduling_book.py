from __future__ import annotations

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.catalogue.load import table
from core.errors import BadInput
from core.scheduling.book import (
    Booking,
    ClashKind,
    Hours,
    VisitType,
    clashes,
    free_slots,
)

ZONE = ZoneInfo("Europe/Berlin")


def at(hour: int, minute: int = 0) -> datetime:
    return datetime(2026, 11, 25, hour, minute, tzinfo=ZONE)


def travel(start: str, end: str) -> int:
    return 15 if start == end else 45


HOURS = Hours(at(8), at(17))
LARKSPUR = Booking("1", "Larkspur Hotel", "A", "hotel", at(8, 30), 90)
FENNIMAR = Booking("2", "O. Fennimar", "A", "mill", at(11), 105)


def asked(start: datetime, minutes: int = 60, truck: str = "A", place: str = "pond") -> Booking:
    return Booking("new", "Brackwell", truck, place, start, minutes)


@pytest.mark.parametrize(
    ("booking", "kinds"),
    [
        (asked(at(13, 30)), []),
        (asked(at(9)), [ClashKind.DOUBLE]),
        (asked(at(10), 30), [ClashKind.TRAVEL, ClashKind.TRAVEL]),
        (asked(at(13, 29)), [ClashKind.TRAVEL]),
        (asked(at(13, 0), place="mill"), []),
        (asked(at(16, 30)), [ClashKind.HOURS]),
        (asked(at(7)), [ClashKind.HOURS, ClashKind.TRAVEL]),
        (asked(at(9), truck="B"), []),
        (asked(at(9), 300), [ClashKind.DOUBLE, ClashKind.DOUBLE]),
    ],
)
def test_the_table_of_clashes(booking: Booking, kinds: list[ClashKind]) -> None:
    got = clashes(booking, [FENNIMAR, LARKSPUR], HOURS, travel)
    assert [clash.kind for clash in got] == kinds


def test_each_clash_has_its_own_sentence_naming_the_other_visit() -> None:
    (double,) = clashes(asked(at(9)), [LARKSPUR], HOURS, travel)
    assert double.sentence == "Truck A is already with Larkspur Hotel from 08:30 to 10:00."
    assert double.other == "1"
    (gap,) = clashes(asked(at(10, 20)), [LARKSPUR], HOURS, travel)
    assert gap.sentence.startswith("Only 20 min between Larkspur Hotel and Brackwell; ")
    assert "travel and cleaning take 45 min" in gap.sentence
    (late,) = clashes(asked(at(16, 30)), [LARKSPUR], HOURS, travel)
    assert "from 16:30 to 17:30 lies outside the hours 08:00 to 17:00" in late.sentence
    (closed,) = clashes(asked(at(12)), [], None, travel)
    assert "closed" in closed.sentence


def test_times_are_said_on_the_practice_clock() -> None:
    in_utc = Booking("new", "Brackwell", "A", "pond", at(9).astimezone(UTC), 60)
    (double,) = clashes(in_utc, [LARKSPUR], HOURS, travel)
    assert "from 08:30 to 10:00" in double.sentence


def test_moving_a_visit_does_not_clash_with_itself() -> None:
    moved = Booking("1", "Larkspur Hotel", "A", "hotel", at(8, 45), 90)
    assert [c.other for c in clashes(moved, [LARKSPUR], HOURS, travel)] == []


def test_a_day_of_five_visits_has_two_gaps() -> None:
    day = [
        Booking("1", "a", "A", "a", at(8), 45),
        Booking("2", "b", "A", "b", at(9, 30), 30),
        Booking("3", "c", "A", "c", at(12, 30), 30),
        Booking("4", "d", "A", "d", at(13, 45), 30),
        Booking("5", "e", "A", "e", at(15), 15),
    ]
    got = free_slots("pond", 60, day, HOURS, travel)
    assert [(s.first_start, s.last_start) for s in got] == [
        (at(10, 45), at(10, 45)),
        (at(16), at(16)),
    ]


def test_an_empty_day_is_one_slot() -> None:
    (slot,) = free_slots("pond", 105, [], HOURS, travel)
    assert (slot.first_start, slot.last_start) == (at(8), at(15, 15))


@given(
    st.lists(
        st.tuples(st.integers(0, 500), st.integers(10, 120), st.sampled_from("abc")), max_size=5
    ),
    st.integers(10, 180),
)
def test_a_free_slot_never_clashes(day: list[tuple[int, int, str]], minutes: int) -> None:
    held: list[Booking] = []
    for n, (start, length, place) in enumerate(day):
        one = Booking(str(n), f"visit {n}", "A", place, at(8 + start // 60, start % 60), length)
        if not clashes(one, held, HOURS, travel):
            held.append(one)
    for slot in free_slots("pond", minutes, held, HOURS, travel):
        for start in (slot.first_start, slot.last_start):
            assert clashes(asked(start, minutes), held, HOURS, travel) == ()


def test_a_booking_needs_an_aware_time_and_some_minutes() -> None:
    with pytest.raises(ValueError, match="aware"):
        Booking("1", "x", "A", "x", datetime(2026, 11, 25, 8), 60)  # noqa: DTZ001
    with pytest.raises(BadInput):
        asked(at(9), 0)


def test_visit_types_have_minutes_letters_and_fees_with_a_price() -> None:
    types = [VisitType.from_row(k, r) for k, r in table("visit_types")["visit_type"].items()]
    offered = {row.get("when") for row in table("prices")["price"].values()}
    assert len({t.letter for t in types}) == len(types)
    for kind in types:
        assert kind.minutes > 0
        assert kind.fee == "" or kind.fee in offered
    assert {t.key: t.minutes for t in types}["new"] == 105


def test_capacity_of_a_day_is_three_new_visits_or_four_rechecks() -> None:
    between = table("visit_types")["between"]
    own = between["travel_minutes"] + between["turnaround_minutes"]
    types = table("visit_types")["visit_type"]
    assert 480 // (types["new"]["minutes"] + own) == 3
    assert 480 // (types["recheck"]["minutes"] + own) == 4
