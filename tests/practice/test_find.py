"""Finding by the words of the practice, where it leads, and who is in the records already."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from core.errors import BadInput
from core.practice import duplicates, setup, visits
from core.practice.find import Found, find
from core.practice.keep import Act
from core.records.journal import edit
from core.records.keys import new_key
from core.records.tables import Client, FishGroup, Invoice, Problem, Visit
from tests.conftest import MOMENT
from tests.small import Small

TODAY = MOMENT.date()


def first(text: str) -> Found:
    return find(text, TODAY)[0]


def visit_on(act: Act, small: Small, days: int, starts: str = "09:00") -> str:
    return visits.book(act, small.system, TODAY + timedelta(days=days), starts, small.vet, "check")


def test_a_client_leads_to_the_latest_visit_that_took_place(act: Act, practice: Small) -> None:
    made = first("clara")
    assert (made.what, made.line) == ("client", "Clara Test, 555 0100")
    assert (made.visit, made.day, made.starts) == (practice.visit, TODAY, "10:30")
    later = visit_on(act, practice, 9)
    assert first("clara").visit == practice.visit
    assert find("clara")[0].visit == later
    visits.cancel(act, practice.visit, "not today")
    assert first("clara").visit == later
    old = visit_on(act, practice, -30)
    visit_on(act, practice, -300)
    visit_on(act, practice, -30, "08:00")
    assert first("clara").visit == old


def test_of_visits_to_come_the_next_one_is_meant(act: Act, practice: Small) -> None:
    visits.cancel(act, practice.visit, "not today")
    visit_on(act, practice, 9)
    soon = visit_on(act, practice, 2)
    assert first("clara").visit == soon
    visits.cancel(act, soon, "ill")
    assert first("clara").state == "booked"


def test_a_client_whose_visits_were_all_called_off_still_leads_to_one(
    act: Act, practice: Small
) -> None:
    visits.no_access(act, practice.visit, "gate locked")
    assert (first("clara").visit, first("clara").state) == (practice.visit, "no access")


def test_a_client_without_a_visit_leads_to_none(act: Act, practice: Small) -> None:
    made = setup.add_client(act, "Odile Fennimar", address="3 Reed Row")
    found = first("fennimar")
    assert (found.client, found.visit, found.day) == (made, "", None)
    assert found.line == "Odile Fennimar, 3 Reed Row"


def test_a_place_and_a_fish_lead_to_the_last_visit_there(act: Act, practice: Small) -> None:
    other = setup.add_site(act, practice.client, "the farm", address="Upper Beck")
    pond = setup.add_system(act, other, "raceway", "koi_pond")
    setup.add_group(act, pond, "common_carp", "brood stock", tag="BS-7")
    assert first("upper beck").visit == practice.visit
    there = visits.book(act, pond, TODAY - timedelta(days=40), "09:00", practice.vet, "check")
    found = first("upper beck")
    assert (found.what, found.visit, found.client) == ("site", there, practice.client)
    assert found.line == "the farm, Upper Beck, Clara Test"
    found = first("bs-7")
    assert (found.what, found.visit) == ("fish", there)
    assert found.line == "brood stock, common carp, tag BS-7, raceway, Clara Test"


@pytest.mark.parametrize("text", ["rainbow trout", "rainbow tr", "rainbwo", "mykiss"])
def test_fish_are_found_by_the_names_of_their_species(act: Act, practice: Small, text: str) -> None:
    setup.add_group(act, practice.system, "rainbow_trout", "those at the back")
    found = first(text)
    assert found.line == "those at the back, rainbow trout, koi pond, Clara Test"
    assert found.visit == practice.visit


def test_a_problem_is_found_by_its_words_and_by_the_name_of_the_catalogue(
    act: Act, practice: Small
) -> None:
    with edit("problem", who=practice.vet, at=MOMENT, visit=practice.visit) as doing:
        doing.add(
            Problem(
                id=new_key(),
                visit=practice.visit,
                client=practice.client,
                system=practice.system,
                problem="nitrite_harm",
                words="brown blood",
            )
        )
    for text in ("brown blood", "nitrite", "nitrtie"):
        found = first(text)
        assert (found.what, found.visit) == ("problem", practice.visit)
        assert found.line.startswith("brown blood, ")
        assert found.line.endswith("koi pond, Clara Test")


def test_an_invoice_is_found_by_its_number(act: Act, practice: Small) -> None:
    with edit("invoice", who=practice.vet, at=MOMENT, visit=practice.visit) as doing:
        doing.add(
            Invoice(
                id=new_key(),
                visit=practice.visit,
                client=practice.client,
                number="2026-0042",
                day=TODAY,
                net_minor=1,
                tax_minor=0,
                gross_minor=1,
                by=practice.vet,
                at=MOMENT,
            )
        )
    for text in ("2026-0042", "2026 0042", "0042", "42"):
        found = first(text)
        assert (found.what, found.line) == ("invoice", "2026-0042, Clara Test")
        assert found.visit == practice.visit


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("Élodie Żuraw %", "żURAW"),
        ("Élodie Żuraw %", "elodie zuarw"),
        ("Журавль", "ЖУРАВЛ"),
        ("Γερανός", "γερανος"),
        ("李小龍", "李小"),
        ("طائر", "طائر"),
        ("पक्षी", "पक्षी"),
    ],
)
def test_names_are_found_in_any_script(act: Act, practice: Small, name: str, text: str) -> None:
    made = setup.add_client(act, name)
    assert [found.client for found in find(text, TODAY)] == [made]


def test_what_is_struck_is_not_found(act: Act, practice: Small) -> None:
    with edit("strike", who=practice.vet, at=MOMENT) as doing:
        doing.strike(FishGroup, practice.group, "typed twice")
        doing.strike(Visit, practice.visit, "typed twice")
    assert find("koi", TODAY) == ()
    assert first("clara").visit == ""


def test_what_a_terminal_would_obey_is_not_shown(act: Act, practice: Small) -> None:
    with pytest.raises(BadInput, match="control characters"):
        setup.add_client(act, "Odile \x1b[31mFennimar\x07")
    setup.add_client(act, "Odile Fennimar\n", address="3\tReed\u202e Row")
    assert first("odile").line == "Odile Fennimar, 3 Reed Row"


@pytest.mark.usefixtures("practice")
@pytest.mark.parametrize("text", ["", "c", "zzzz", "' OR 1=1 --", '"*', "\x1b[2J", "x" * 10**6])
def test_nothing_is_found_where_nothing_is_meant(text: str) -> None:
    assert find(text, TODAY) == ()


# Who is in the records already.


@pytest.fixture
def fennimar(act: Act, records: Path) -> str:
    return setup.add_client(act, "Odile Fennimar", phone="07700 900123", address="12 Mill Bank")


@pytest.mark.parametrize(
    ("name", "phone", "address", "why"),
    [
        ("Somebody Else", "+44 7700 900 123", "", "the same phone"),
        ("Odile Fennimar", "0044 7700 900123", "elsewhere", "the same phone"),
        ("Odile Fennimar", "", "", "the same name"),
        ("fennimar, odile", "", "1 Other Road", "the same name"),
        ("Odile Fennimar", "", "12 Mill Bank, Reedmark", "the same name and address"),
        ("Odlie Fennimar", "", "", "nearly the same name"),
        ("Odile Fenimar", "", "12 mill bank", "nearly the same name"),
        ("Odíle Fénnimar", "", "", "the same name"),
    ],
)
def test_who_is_likely_the_same_is_said(
    fennimar: str, name: str, phone: str, address: str, why: str
) -> None:
    (found,) = duplicates.likely(name, phone, address)
    assert (found.client, found.why) == (fennimar, why)
    assert found.sentence == (
        f"Odile Fennimar, 12 Mill Bank, is in the records ({why}): take that one?"
    )


@pytest.mark.usefixtures("fennimar")
@pytest.mark.parametrize(
    ("name", "phone", "address"),
    [
        ("Otto Fennimar", "", ""),
        ("Odile", "", ""),
        ("Odile Fenimar", "", "1 Other Road"),
        ("Odile Marsh", "07700 900124", "12 Mill Bank"),
        ("Somebody Else", "0123", ""),
        ("", "", ""),
    ],
)
def test_who_is_somebody_else_is_not(name: str, phone: str, address: str) -> None:
    assert duplicates.likely(name, phone, address) == ()


def test_the_same_phone_comes_before_the_same_name(act: Act, fennimar: str) -> None:
    other = setup.add_client(act, "Mill House", phone="07700 900 555")
    found = duplicates.likely("Odile Fennimar", "07700900555")
    assert [one.client for one in found] == [other, fennimar]


def test_a_struck_client_is_not_offered(act: Act, fennimar: str) -> None:
    with edit("strike", who="setup", at=MOMENT) as doing:
        doing.strike(Client, fennimar, "made twice")
    assert duplicates.likely("Odile Fennimar", "07700 900123") == ()
