"""The Bookings desk without its screen: due list, diary, booking inside and outside a window."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import Any

import pytest

from core.errors import Refusal
from core.practice import arrival, bookings, diary, plan_rechecks, recheck_visits, setup, visits
from core.practice.booking import DoesNotFit
from core.practice.bookings import Asked, Newcomer, Wish
from core.practice.keep import Act
from core.practice.recheck_visits import When
from core.records import read
from core.records.engine import query
from core.records.journal import edit
from core.records.models import Edit
from core.records.tables import Attempt, Client, Practice, Recheck, Site, System, Visit
from core.scheduling.rechecks import Window
from tests.conftest import MOMENT
from tests.practice.planted import another, counted, recheck
from tests.small import Small

TODAY = MOMENT.date()


def on(days: int) -> date:
    return TODAY + timedelta(days=days)


def asked(small: Small, day: date, starts: str = "13:00", **more: str) -> Asked:
    return Asked(small.system, day, starts, small.vet, 60, reason="look again", **more)


@pytest.fixture
def desk(practice: Small, act: Act) -> Act:
    """Give the act of somebody at the desk, an hour after everything was made."""
    return Act(practice.technician, act.at + timedelta(hours=1))


def test_due_is_sorted_by_overdue_then_window(practice: Small, act: Act) -> None:
    late, later = recheck(act, practice, on(-5)), recheck(act, practice, on(-9))
    soon, far = recheck(act, practice, on(3)), recheck(act, practice, on(9))
    lines = diary.due(TODAY)
    assert [line.recheck for line in lines] == [later, late, soon, far]
    assert [line.overdue_days for line in lines] == [7, 3, 0, 0]
    assert {line.phone for line in lines} == {"555 0100"}
    assert [line.said(TODAY) for line in lines] == [
        "OVERDUE 7 d",
        "OVERDUE 3 d",
        "from 26 Nov",
        "from 2 Dec",
    ]


def test_a_window_that_is_open_says_until_when(practice: Small, act: Act) -> None:
    recheck(act, practice, on(1))
    assert diary.due(TODAY)[0].said(TODAY) == "due to 28 Nov"


def test_each_attempt_has_its_time_and_result(practice: Small, act: Act, desk: Act) -> None:
    row = recheck(act, practice, on(1), kind="phone")
    bookings.log_attempt(desk, row, "no answer")
    again = replace(desk, at=desk.at + timedelta(minutes=20))
    bookings.log_attempt(again, row, "three numbers told: deaths 0, ammonia 2.2, pH 6.0")
    [line] = diary.due(TODAY)
    assert line.kind == "phone"
    assert [(t.at, t.result, t.by) for t in line.attempts] == [
        (desk.at, "no answer", "Tim Test"),
        (again.at, "three numbers told: deaths 0, ammonia 2.2, pH 6.0", "Tim Test"),
    ]
    with pytest.raises(Refusal, match="has a result"):
        bookings.log_attempt(desk, row, "  ")


def test_a_recheck_is_booked_inside_its_window(practice: Small, act: Act, desk: Act) -> None:
    row = recheck(act, practice, on(7))
    made = bookings.book(desk, asked(practice, on(7)), recheck=row)
    visit = read.one(Visit, made)
    assert (visit.day, visit.recheck_of, visit.booked_why) == (on(7), practice.visit, "")
    assert read.one(Recheck, row).booked == made
    assert [a.result for a in read.find(Attempt, recheck=row)] == ["booked for 2 Dec 13:00"]
    [line] = diary.due(TODAY)
    assert line.said(TODAY) == "booked 2 Dec 13:00"
    with pytest.raises(Refusal, match="booked already"):
        bookings.book(desk, asked(practice, on(8)), recheck=row)


def test_one_booking_is_one_edit(practice: Small, act: Act, desk: Act) -> None:
    row = recheck(act, practice, on(7))
    before = Edit.select().count()
    made = bookings.book(desk, asked(practice, on(7)), recheck=row)
    [last] = list(Edit.select().order_by(Edit.count.desc()).limit(1))
    assert Edit.select().count() == before + 1
    assert (last.kind, last.visit, last.who) == ("booking", made, practice.technician)


@pytest.mark.parametrize("days", [4, 10])
def test_outside_the_window_needs_a_reason(practice: Small, act: Act, desk: Act, days: int) -> None:
    row = recheck(act, practice, on(7))
    with pytest.raises(DoesNotFit, match="Outside the window of the recheck: 1 d"):
        bookings.book(desk, asked(practice, on(days)), recheck=row)
    assert read.one(Recheck, row).booked is None
    made = bookings.book(desk, asked(practice, on(days), although="owner is away"), recheck=row)
    assert read.one(Visit, made).booked_why == "owner is away"


@pytest.mark.parametrize("days", range(12))
def test_the_warning_stands_on_exactly_the_days_outside(
    practice: Small, act: Act, days: int
) -> None:
    row = recheck(act, practice, on(8), slack=1)
    wish = Wish(practice.system, practice.vet, on(days), "13:00", 60)
    said = any("window" in s for s in bookings.problems(wish, row))
    assert said == (days not in (7, 8, 9))


def test_three_refusals_name_what_stands_in_the_way(practice: Small, act: Act, desk: Act) -> None:
    client = setup.add_client(act, "Bruno Test")
    site = setup.add_site(act, client, "shop", travel_min=40)
    other = setup.add_system(act, site, "rack", "tropical_fresh")
    said = []
    for starts in ("11:00", "19:00", "12:05"):
        with pytest.raises(DoesNotFit) as refused:
            bookings.book(desk, replace(asked(practice, TODAY, starts), system=other))
        said.append(refused.value.sentence)
    double, hours, travel = said
    assert "already with Clara Test from 10:30 to 12:00" in double
    assert "outside the hours 08:00 to 18:00" in hours
    assert "Only 5 min between Clara Test" in travel
    assert len(set(said)) == 3


def test_a_booking_that_fell_through_is_to_ring_again(practice: Small, act: Act, desk: Act) -> None:
    row = recheck(act, practice, on(1))
    made = bookings.book(desk, asked(practice, on(1)), recheck=row)
    visits.cancel(desk, made, "owner rang")
    assert diary.due(TODAY)[0].booked is None
    again = bookings.book(desk, asked(practice, on(2)), recheck=row)
    assert read.one(Recheck, row).booked == again


def test_moving_keeps_to_the_window(practice: Small, act: Act, desk: Act) -> None:
    row = recheck(act, practice, on(7))
    made = bookings.book(desk, asked(practice, on(7)), recheck=row)
    bookings.move(desk, made, on(8), "9")
    assert (read.one(Visit, made).day, read.one(Visit, made).starts) == (on(8), "09:00")
    with pytest.raises(DoesNotFit, match="Outside the window"):
        bookings.move(desk, made, on(12), "9")
    bookings.move(desk, made, on(12), "9", although="vet is ill")
    assert read.one(Visit, made).booked_why == "vet is ill"
    bookings.move(desk, made, on(8), "9")
    assert read.one(Visit, made).booked_why == ""


def test_a_recheck_is_closed_once_with_its_outcome(practice: Small, act: Act, desk: Act) -> None:
    row = recheck(act, practice, on(1))
    with pytest.raises(Refusal, match="with its outcome"):
        bookings.close_recheck(desk, row, " ")
    bookings.close_recheck(desk, row, "clear: no worm twice")
    assert diary.due(TODAY) == ()
    assert read.one(Recheck, row).closed_at == desk.at
    with pytest.raises(Refusal, match="clear: no worm twice"):
        bookings.close_recheck(desk, row, "better")


def test_a_newcomer_is_made_with_the_booking(practice: Small, desk: Act) -> None:
    new = Newcomer(
        name="Nora Neu", phone="555 0199", address="9 Pond Rd", system="pond", kind="koi_pond"
    )
    made = bookings.book(desk, asked(practice, on(1), advice="more air"), newcomer=new)
    visit = read.one(Visit, made)
    assert read.one(Client, visit.client).phone == "555 0199"
    assert read.one(Site, visit.site).address == "9 Pond Rd"
    assert (read.one(System, visit.system).name, visit.advice) == ("pond", "more air")


def test_a_refused_booking_makes_nobody(practice: Small, desk: Act) -> None:
    new = Newcomer(name="Nora Neu", system="pond", kind="koi_pond")
    with pytest.raises(DoesNotFit):
        bookings.book(desk, asked(practice, TODAY, "11:00"), newcomer=new)
    assert [c.name for c in read.find(Client)] == ["Clara Test"]


def test_the_diary_has_each_day_with_its_visits_by_vet(practice: Small, act: Act) -> None:
    other = setup.add_person(act, "Ina Test", "veterinarian")
    visits.book(act, practice.system, TODAY, "08:00", other, "check", minutes=45)
    gone = another(act, practice, on(3), "09:00")
    visits.cancel(act, gone, "owner rang")
    with edit("practice", who="setup", at=act.at) as doing:
        doing.change(Practice, read.find(Practice)[0].id, open_days="12345")
    days = diary.diary(TODAY)
    assert [d.day for d in days] == [on(n) for n in range(14)]
    assert [d.open for d in days[:7]] == [d.day.isoweekday() < 6 for d in days[:7]]
    found = {v: [(x.starts, x.ends) for x in of] for v, of in days[0].by_vet().items()}
    assert found == {"Ina Test": [("08:00", "08:45")], "Vera Test": [("10:30", "12:00")]}
    assert [line.state for line in days[3].lines] == ["cancelled"]
    assert days[3].by_vet() == {}


def test_the_number_of_statements_does_not_grow(practice: Small, act: Act, desk: Act) -> None:
    def statements() -> int:
        with counted() as said:
            diary.due(TODAY)
            diary.diary(TODAY)
        return len(said)

    few = statements()
    for n in range(12):
        another(act, practice, on(n), f"{8 + n % 9:02d}:00")
        row = recheck(act, practice, on(n - 6))
        bookings.log_attempt(desk, row, "no answer")
    assert statements() == few


def test_a_rank_comes_from_the_rules_or_with_a_reason() -> None:
    assert bookings.rank_of(()).number == 3
    assert bookings.rank_of(("recheck_clearing",)).number == 2
    assert bookings.rank_of(("suspected_listed", "recheck_clearing")).number == 4
    with pytest.raises(Refusal, match="Say why"):
        bookings.rank_of(("parasites",), 1)
    own = bookings.rank_of(("parasites",), 1, "cleared last week")
    assert (own.number, own.why[0]) == (1, "cleared last week")


def test_the_log_tells_times_in_the_zone_of_the_practice() -> None:
    from core.practice.diary import DueLine, Try
    from core.scheduling.rechecks import Window
    from tui.bookings.words import due_detail

    tried = Try(datetime.fromisoformat("2026-07-01T08:30:00+00:00"), "no answer", "Tim")
    days = Window(date(2026, 7, 1), date(2026, 7, 2), date(2026, 7, 3))
    line = DueLine(
        "r", "v", "C", "1", "s", "y", "pond", "p", "Vera", 2, "visit", "look", days, 0, None,
        (tried,),
    )  # fmt: skip
    assert "1 Jul 09:30 no answer (Tim)" in due_detail(line, date(2026, 7, 1), "Europe/Lisbon")


# Rechecks that the plan books itself.


def planned(practice: Small, act: Act, days: tuple[int, int, int], **more: Any) -> Recheck:
    window = Window(*(on(n) for n in days))
    key = plan_rechecks.plan_recheck(
        replace(act, by=practice.vet), practice.visit, practice.system,
        reason="gill snip again", window=window, **more,
    )  # fmt: skip
    return read.one(Recheck, key)


def standing(row: Recheck) -> Visit:
    assert row.booked is not None
    return read.one(Visit, row.booked)


def test_a_planned_recheck_is_a_booked_visit_in_one_edit(practice: Small, act: Act) -> None:
    before = query('SELECT count(*) FROM "edit"')[0][0]
    row = planned(practice, act, (7, 8, 9))
    assert query('SELECT count(*) FROM "edit"')[0][0] == before + 1
    assert query('SELECT "visit" FROM "edit" ORDER BY "clock" DESC LIMIT 1') == [(practice.visit,)]
    made = standing(row)
    assert (made.day, made.starts, made.vet, made.kind) == (on(8), "08:00", practice.vet, "recheck")
    assert (made.reason, made.recheck_of) == ("gill snip again", practice.visit)


def test_the_first_free_time_leaves_room_for_road_and_cleaning(practice: Small, act: Act) -> None:
    other = setup.add_site(act, practice.client, "mill", address="elsewhere")
    water = setup.add_system(act, other, "mill pond", "koi_pond", volume_l=900.0)
    visits.book(act, water, on(8), "08:00", practice.vet, "first", minutes=70)
    made = standing(planned(practice, act, (8, 8, 8)))
    # 08:00 and 70 minutes, 30 of road and 15 of cleaning: 09:55, and the next quarter.
    assert made.starts == "10:00"


def fill_day(practice: Small, act: Act, day: date) -> None:
    visits.book(act, practice.system, day, "08:00", practice.vet, "all day", minutes=600)


def test_a_full_day_gives_way_to_the_nearest_in_the_window(practice: Small, act: Act) -> None:
    fill_day(practice, act, on(8))
    row = planned(practice, act, (6, 8, 9))
    assert standing(row).day == on(7)
    said = recheck_visits.outcome(row.id, on(0))
    assert said.startswith("No free time on 3 Dec; 2 Dec is the nearest in the window.")
    assert "Booked for 2 Dec 08:00." in said


def test_without_a_free_day_it_stays_due_and_says_so(practice: Small, act: Act) -> None:
    for n in (7, 8):
        fill_day(practice, act, on(n))
    row = planned(practice, act, (7, 8, 8))
    assert row.booked is None
    said = "No free time from 2 Dec to 3 Dec: it stays due for the desk."
    assert recheck_visits.outcome(row.id, on(0)) == said
    assert row.id in [line.recheck for line in diary.due(on(0)) if line.booked is None]


def test_a_closed_day_is_never_chosen(practice: Small, act: Act) -> None:
    with edit("open days", who=act.by, at=act.at) as doing:
        # The tests take place on a Wednesday: only Fridays are open.
        doing.change(Practice, read.find(Practice)[0].id, open_days="5")
    assert standing(planned(practice, act, (5, 8, 11))).day == on(9)


def test_another_vet_and_another_time_are_booked_as_wanted(practice: Small, act: Act) -> None:
    vet = setup.add_person(act, "Ada Other", "veterinarian")
    row = planned(practice, act, (7, 8, 9), when=When(on(9), "14", vet))
    made = standing(row)
    assert (made.day, made.starts, made.vet) == (on(9), "14:00", vet)
    with pytest.raises(DoesNotFit, match="Outside the window"):
        planned(practice, act, (7, 8, 9), when=When(on(12), "14", vet))
    late = planned(practice, act, (7, 8, 9), when=When(on(12), "14", vet, "owner is away"))
    assert standing(late).booked_why == "owner is away"


def test_a_call_and_what_the_desk_is_to_book_stay_due(practice: Small, act: Act) -> None:
    assert planned(practice, act, (2, 2, 3), kind="phone").booked is None
    assert planned(practice, act, (2, 2, 3), when=None).booked is None


def change(practice: Small, act: Act, row: Recheck, days: tuple[int, int, int], kind: str) -> None:
    window = Window(*(on(n) for n in days))
    by = replace(act, by=practice.vet)
    plan_rechecks.change_recheck(by, row.id, reason="count again", window=window, kind=kind)


def test_changing_a_recheck_moves_its_visit(practice: Small, act: Act) -> None:
    row = planned(practice, act, (7, 8, 9))
    change(practice, act, row, (6, 7, 8), "visit")
    assert (standing(row).day, standing(row).reason) == (on(8), "count again")
    change(practice, act, row, (13, 14, 15), "visit")
    assert standing(row).day == on(14)
    change(practice, act, row, (13, 14, 15), "phone")
    assert (standing(row).state, standing(row).why) == ("cancelled", "a phone call instead")
    change(practice, act, row, (13, 14, 15), "visit")
    again = read.one(Recheck, row.id)
    assert (again.booked != row.booked, standing(again).state) == (True, "booked")


def test_striking_a_recheck_cancels_its_visit(practice: Small, act: Act) -> None:
    row = planned(practice, act, (7, 8, 9))
    plan_rechecks.strike_recheck(act, row.id, "they moved away")
    assert (standing(row).state, standing(row).why) == ("cancelled", "they moved away")


def test_a_visit_that_was_begun_stays_as_it_is(practice: Small, act: Act) -> None:
    row = planned(practice, act, (7, 8, 9))
    with edit("begun", who=act.by, at=act.at) as doing:
        doing.change(Visit, standing(row).id, state="open")
    change(practice, act, row, (13, 14, 15), "visit")
    assert standing(row).day == on(8)
    plan_rechecks.strike_recheck(act, row.id, "enough")
    assert standing(row).state == "open"


def test_the_day_shows_reason_and_window_of_a_recheck(practice: Small, act: Act) -> None:
    row = planned(practice, act, (14, 15, 17))
    shown = arrival.before(on(15))[standing(row).id]
    assert shown.recheck == "gill snip again (recheck, window 9 to 12 Dec)"
    assert arrival.before(on(0))[practice.visit].recheck == ""


def test_a_newcomers_volume_is_kept_as_it_was_typed(practice: Small, act: Act) -> None:
    new = Newcomer(
        client=practice.client, site=practice.site, system="new pond", kind="koi_pond",
        volume_l=4542.5, volume_typed="1200 gal",
    )  # fmt: skip
    bookings.book(act, asked(practice, on(2)), newcomer=new)
    assert read.find(System, name="new pond")[0].volume_typed == "1200 gal"
