"""The demo as it opens: two rounds, a history by several people, and everybody invented."""

from __future__ import annotations

import re
from datetime import datetime
from itertools import pairwise

from core.practice import day, diary, paperwork, sign
from core.records import journal, read
from core.records.engine import query
from core.records.fields import UtcField
from core.records.read import stored
from core.records.tables import TABLES, Client, Person, Practice, Reading, Visit, Weighing
from tests.demo.conftest import D, Opening

STARTS = {
    "Ashgill Trout": "08:00",
    "Larkspur Hotel": "08:30",
    "Odile Fennimar": "10:30",
    "Rosalind Vey": "11:30",
    "Jory Brackwell": "13:00",
    "Okonjo-Marsh Dental Rooms": "13:30",
    "Casimir Dunnock": "15:30",
    "Corner Aquatics": "16:00",
}


def lines(opening: Opening) -> dict[str, day.DayLine]:
    del opening
    return {line.client: line for line in day.lines(D)}


def test_eight_visits_stand_in_two_rounds_at_their_times(opening: Opening) -> None:
    found = lines(opening)
    assert {name: line.starts for name, line in found.items()} == STARTS
    rounds = {line.vet_name: [] for line in found.values()}
    for line in found.values():
        rounds[line.vet_name].append(line.client)
    assert {vet: len(names) for vet, names in rounds.items()} == {
        "Marlo Tregg": 4,
        "Ines Holloway-Brandt": 4,
    }


def test_each_round_goes_from_clean_to_dirty_and_the_farm_is_first(opening: Opening) -> None:
    del opening
    for vet in read.find(Person, role="veterinarian"):
        stops = read.find(Visit, day=D, vet=vet.id, order="starts")
        assert len(stops) == 4
        assert not any(stop.kind == "farm" for stop in stops[1:])
        ranks = [stop.rank for stop in stops if stop.kind != "farm"]
        assert ranks == sorted(ranks)
        assert all(stop.rank_why for stop in stops)


def test_no_visit_of_the_day_needed_a_reason_to_stand_in_the_book(opening: Opening) -> None:
    del opening
    assert {visit.booked_why for visit in read.find(Visit, day=D)} == {""}


def test_the_visits_open_at_different_stages(opening: Opening) -> None:
    found = {name: (line.state, line.stage) for name, line in lines(opening).items()}
    assert found == {
        "Ashgill Trout": ("signed", "signed"),
        "Larkspur Hotel": ("booked", "not begun"),
        "Odile Fennimar": ("open", "History begun"),
        "Rosalind Vey": ("signed", "signed"),
        "Jory Brackwell": ("open", "Water begun"),
        "Okonjo-Marsh Dental Rooms": ("open", "Assessment done"),
        "Casimir Dunnock": ("booked", "not begun"),
        "Corner Aquatics": ("booked", "not begun"),
    }
    payments = {name: line.payment for name, line in lines(opening).items()}
    assert payments["Ashgill Trout"] == "unpaid"
    assert payments["Rosalind Vey"] == "paid"


def test_the_desk_gave_hold_over_advice(opening: Opening) -> None:
    arrivals = day.view(D).arrivals
    said = arrivals[lines(opening)["Casimir Dunnock"].visit]
    assert "no fish" in said.advice.lower()
    assert any("rank 4" in caution for caution in said.cautions)


def test_every_client_of_the_day_has_a_last_visit(opening: Opening) -> None:
    arrivals = day.view(D).arrivals
    for line in lines(opening).values():
        assert arrivals[line.visit].last, line.client


def test_trends_exist_for_the_hotel_and_for_the_worms(opening: Opening) -> None:
    hotel = lines(opening)["Larkspur Hotel"].visit
    client = read.one(Visit, hotel).client
    past = [v.id for v in read.find(Visit, client=client, state="signed")]
    assert len(past) == 2
    assert all(read.find(Weighing, visit=v) and read.find(Reading, visit=v) for v in past)
    worms = query(
        'SELECT v."day", sum(f."counts") FROM "finding" f JOIN "visit" v ON v."id" = f."visit" '
        'WHERE f."finding" = \'capsalid\' GROUP BY v."day" ORDER BY v."day"'
    )
    assert [int(count) for _, count in worms] == [9, 2, 0]
    assert [(D - datetime.fromisoformat(on).date()).days for on, _ in worms] == [24, 12, 0]


def test_the_day_still_owes_something_of_each_kind(opening: Opening) -> None:
    del opening
    kinds = {line.kind for line in paperwork.end_of_day(D).lines}
    assert {"unsigned", "unpaid", "awaited", "recheck", "ring", "paper"} <= kinds


def test_rechecks_are_due_and_overdue(opening: Opening) -> None:
    del opening
    due = diary.due(D)
    assert due[0].overdue_days == 7
    assert len(due[0].attempts) == 2
    assert any(line.kind == "phone" and line.window.target == D for line in due)


def moments() -> list[tuple[str, datetime]]:
    rows = query('SELECT "who", "at" FROM "edit" ORDER BY "clock"')
    return [(who, UtcField().python_value(at)) for who, at in rows]


def test_the_history_is_many_edits_by_several_people_at_their_own_times(opening: Opening) -> None:
    del opening
    found = moments()
    assert len({who for who, _ in found} - {"setup"}) >= 3
    assert len({at.date() for _, at in found}) >= 10
    assert all(first.date() <= second.date() for (_, first), (_, second) in pairwise(found))
    changed = query('SELECT count(*) FROM "edit_line" WHERE "act" = \'change\'')
    assert len(found) > 300
    assert changed[0][0] > 50


def test_replaying_the_journal_gives_the_rows(opening: Opening) -> None:
    del opening
    told = journal.replay()
    held = {
        (table.table, row.id): {k: v for k, v in stored(row).items() if v is not None}
        for table in TABLES
        for row in read.find(table, struck=True)
    }
    assert told == held


def test_signed_visits_are_what_was_signed(opening: Opening) -> None:
    del opening
    signed = read.find(Visit, state="signed")
    assert len(signed) == 15
    assert all(sign.verify(visit.id) for visit in signed)


def test_everything_is_marked_as_invented(opening: Opening) -> None:
    del opening
    [practice] = read.find(Practice)
    assert practice.invented
    assert not re.search(r"\d", practice.authority)
    for client in read.find(Client):
        assert re.fullmatch(r"555-01\d\d", client.phone)
    assert re.fullmatch(r"555-01\d\d", practice.phone)


def test_progress_is_told_line_by_line(opening: Opening) -> None:
    assert opening.said[0] == "the practice and its people"
    assert [f"today's visit {key}" for key in ("B1", "B4")] == [
        words for words in opening.said if words.endswith(("B1", "B4"))
    ]
