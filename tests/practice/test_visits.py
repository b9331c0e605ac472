"""Booking, moving and leaving visits: what fits, what needs a reason, and what takes it back."""

from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import BadInput, Refusal
from core.practice import booking, setup, visits
from core.practice.booking import DoesNotFit
from core.practice.keep import Act, mark_stage
from core.records import read
from core.records.tables import Practice, Visit
from tests.conftest import MOMENT
from tests.small import Small

TODAY = MOMENT.date()


def elsewhere(act: Act, client: str = "Nora Next") -> str:
    """Return a water half an hour's drive from the first."""
    owner = setup.add_client(act, client)
    return setup.add_system(act, setup.add_site(act, owner, "home"), "pond", "koi_pond")


def refused(act: Act, small: Small, system: str, starts: str) -> str:
    with pytest.raises(DoesNotFit) as error:
        booking.book(act, system, TODAY, starts, small.vet, "check", minutes=60)
    return error.value.sentence


def test_three_things_that_do_not_fit_are_three_sentences(practice: Small, act: Act) -> None:
    system = elsewhere(act)
    double = refused(act, practice, system, "11:00")
    travel = refused(act, practice, system, "12:15")
    hours = refused(act, practice, system, "17:30")
    assert "already with Clara Test from 10:30 to 12:00" in double
    assert "15 min between Clara Test and this visit" in travel
    assert "outside the hours 08:00 to 18:00" in hours
    assert len(read.find(Visit)) == 1


def test_with_a_reason_it_stands_and_the_reason_is_kept(practice: Small, act: Act) -> None:
    made = booking.book(
        act, elsewhere(act), TODAY, "1100", practice.vet, "gasping", although="emergency"
    )
    found = read.one(Visit, made)
    assert (found.starts, found.booked_why) == ("11:00", "emergency")


def test_a_reason_is_not_kept_where_the_visit_fits(practice: Small, act: Act) -> None:
    made = booking.book(
        act, elsewhere(act), TODAY, "14:00", practice.vet, "check", although="because"
    )
    assert read.one(Visit, made).booked_why == ""


def test_another_vet_and_a_cancelled_visit_do_not_clash(practice: Small, act: Act) -> None:
    system, other = elsewhere(act), setup.add_person(act, "Ines Test", "veterinarian")
    booking.book(act, system, TODAY, "10:30", other, "check")
    visits.cancel(act, practice.visit, "owner rang")
    booking.book(act, system, TODAY, "10:30", practice.vet, "check")
    with pytest.raises(DoesNotFit, match="already with Nora Next"):
        booking.book_again(act, practice.visit)
    booking.book_again(act, practice.visit, although="both want it")
    assert read.one(Visit, practice.visit).booked_why == "both want it"


def test_a_closed_day_needs_a_reason(practice: Small, act: Act) -> None:
    house = read.find(Practice)[0]
    setup.edit_practice(act, house.id, open_days="2")
    assert "closed on that day" in refused(act, practice, elsewhere(act), "14:00")


def test_moving_leaves_the_visit_out_of_its_own_way(practice: Small, act: Act) -> None:
    booking.move(act, practice.visit, TODAY, "11:00")
    booking.move(act, practice.visit, TODAY + timedelta(days=1), "9")
    found = read.one(Visit, practice.visit)
    assert (found.day, found.starts) == (TODAY + timedelta(days=1), "09:00")


def test_moving_onto_another_visit_changes_nothing(practice: Small, act: Act) -> None:
    booking.book(act, elsewhere(act), TODAY, "14:00", practice.vet, "check")
    with pytest.raises(DoesNotFit, match="Nora Next"):
        booking.move(act, practice.visit, TODAY, "14:30")
    assert read.one(Visit, practice.visit).starts == "10:30"


def test_no_access_and_cancelling_need_a_reason(practice: Small, act: Act) -> None:
    for leave in (visits.no_access, visits.cancel):
        with pytest.raises(Refusal, match="reason"):
            leave(act, practice.visit, "  ")
    assert read.one(Visit, practice.visit).state == "booked"


@pytest.mark.parametrize(("begun", "stands"), [(False, "booked"), (True, "open")])
def test_taken_back_a_visit_stands_as_it_stood(
    practice: Small, act: Act, begun: bool, stands: str
) -> None:
    if begun:
        mark_stage(act, practice.visit, "History", "begun")
    visits.no_access(act, practice.visit, "gate locked")
    assert read.one(Visit, practice.visit).state == "no access"
    visits.book_again(act, practice.visit)
    found = read.one(Visit, practice.visit)
    assert (found.state, found.why) == (stands, "")


@given(st.integers(0, 23), st.integers(0, 59))
def test_a_time_is_read_however_it_is_written(hour: int, minute: int) -> None:
    wall = f"{hour:02d}:{minute:02d}"
    written = (wall, f"{hour}:{minute:02d}", f"{hour}.{minute:02d}", f"{hour}{minute:02d}")
    assert {booking.wall_time(text) for text in written} == {wall}
    assert booking.wall_time(str(hour)) == f"{hour:02d}:00"


@pytest.mark.parametrize("text", ["", "abc", "25", "12:60", "12:5", "-3", "٣", "1e9", "12:30:10"])
def test_what_is_no_time_is_refused(text: str) -> None:
    with pytest.raises(BadInput, match="10:30"):
        booking.wall_time(text)


def test_choices_name_the_site_only_where_a_client_has_several(practice: Small, act: Act) -> None:
    one = visits.choices()
    assert [(w.name, w.rank) for w in one.waters] == [("koi pond", 2)]
    assert one.sites == {practice.client: practice.site}
    assert one.vets == ((practice.vet, "Vera Test"),)
    shop = setup.add_site(act, practice.client, "shop")
    setup.add_system(act, shop, "rack", "quarantine_fresh")
    assert [w.name for w in visits.choices().waters] == ["home: koi pond", "shop: rack"]
