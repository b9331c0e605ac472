"""People, prices and details, changed after the first start."""

from __future__ import annotations

from decimal import Decimal

import pytest

from core.errors import BadInput
from core.practice import people, practice_view, setup, who
from core.practice.keep import Act
from core.records import journal, read
from core.records.tables import Person, Practice, Price, TaxClass
from tests.conftest import MOMENT
from tests.small import VET, Small


@pytest.fixture
def vet(practice: Small) -> Act:
    with journal.edit("prices", who="setup", at=MOMENT) as doing:
        for row in setup.first_prices():
            doing.add(row)
        doing.add(TaxClass(id="tax", code="goods", name="goods", rate_percent=Decimal(7)))
    return Act(practice.vet, MOMENT)


def test_somebody_is_added_and_may_be_at_work(vet: Act) -> None:
    key = people.add(vet, "  Nell   New ", "read only")
    assert [p.name for p in who.people()] == [VET, "Tim Test", "Nell New"]
    assert read.one(Person, key).role == "read only"


@pytest.mark.parametrize(
    ("name", "role", "says"),
    [
        ("", "technician", "has a name"),
        ("tim test", "technician", "at work already"),
        ("Nell", "owner", "not a role"),
    ],
)
def test_who_can_not_be_added(vet: Act, name: str, role: str, says: str) -> None:
    with pytest.raises(BadInput, match=says):
        people.add(vet, name, role)


def test_a_person_is_changed_leaves_and_comes_back(vet: Act, practice: Small) -> None:
    tim = practice.technician
    people.change(vet, tim, name="Tim Tested", role="veterinarian", licence="L-2")
    found = read.one(Person, tim)
    assert (found.name, found.role, found.licence) == ("Tim Tested", "veterinarian", "L-2")
    people.leave(vet, tim)
    assert [p.name for p in who.people()] == [VET]
    assert [p.name for p in people.everybody()] == [VET, "Tim Tested"]
    people.come_back(vet, tim)
    assert len(who.people()) == 2


def test_a_name_that_was_taken_meanwhile_does_not_come_back(vet: Act, practice: Small) -> None:
    people.leave(vet, practice.technician)
    people.add(vet, "Tim Test", "reception")
    with pytest.raises(BadInput, match="at work already"):
        people.come_back(vet, practice.technician)


def test_the_last_veterinarian_stays_one(vet: Act, practice: Small) -> None:
    with pytest.raises(BadInput, match="only veterinarian"):
        people.change(vet, practice.vet, role="reception")
    with pytest.raises(BadInput, match="You are at work"):
        people.leave(vet, practice.vet)
    people.change(vet, practice.technician, role="veterinarian")
    people.change(vet, practice.vet, role="reception")
    other = Act(practice.technician, MOMENT)
    with pytest.raises(BadInput, match="You are at work"):
        people.leave(other, practice.technician)


def test_details_are_set_one_by_one(vet: Act) -> None:
    for column, typed, kept in (
        ("phone", " 555 0000 ", "555 0000"),
        ("zone", "europe/lisbon", "Europe/Lisbon"),
        ("opens", "9", "09:00"),
        ("terms", "", ""),
        ("units", "us", "us"),
    ):
        people.set_detail(vet, column, typed)
        assert getattr(read.find(Practice)[0], column) == kept


@pytest.mark.parametrize(
    ("column", "typed"),
    [
        *[("name", " "), ("address", ""), ("phone", ""), ("zone", "Europe/Nowhere")],
        *[("opens", "25"), ("opens", "18:00"), ("closes", "7")],
    ],
)
def test_a_detail_that_can_not_be_is_refused(vet: Act, column: str, typed: str) -> None:
    before = read.find(Practice)
    with pytest.raises(BadInput):
        people.set_detail(vet, column, typed)
    assert read.find(Practice) == before


def test_prices_and_taxes_are_set_exactly(vet: Act) -> None:
    price = people.prices()[0]
    people.set_price(vet, price.id, Decimal("61.505"))
    assert read.one(Price, price.id).unit_minor == 6151
    people.set_tax(vet, "tax", Decimal("8.1"))
    assert people.taxes()[0].rate_percent == Decimal("8.1")
    for wrong in (Decimal("-1"), Decimal("100.1")):
        with pytest.raises(BadInput):
            people.set_tax(vet, "tax", wrong)
    with pytest.raises(BadInput):
        people.set_price(vet, price.id, Decimal("-0.01"))


def test_minutes_of_the_lock_are_few_enough(vet: Act) -> None:
    for minutes in (-1, 241):
        with pytest.raises(BadInput, match="0 to 240"):
            people.set_idle(vet, minutes)


def test_the_view_holds_what_the_screen_shows(vet: Act, practice: Small) -> None:
    view = practice_view.view()
    assert [p.id for p in view.people] == [practice.vet, practice.technician]
    assert view.with_pin == frozenset()
    assert view.idle_min == 0
    assert {k.key for k in view.keeping} >= {"record", "medicine"}
    assert len(view.prices) > 20
