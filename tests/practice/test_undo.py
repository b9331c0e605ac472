"""Taking back one's own acts: which one, in what words, and what stands in the way."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest

from core.errors import Refusal
from core.practice import changed, charges, plan_steps, setup, undo, visits, watching, water
from core.practice.keep import Act
from core.practice.water import Measured
from core.records import read
from core.records.journal import edit
from core.records.keys import new_key
from core.records.never import NeverUndone
from core.records.tables import OwnerStep, Payment, Reading, Sign, TaxClass, Visit
from tests.conftest import MOMENT
from tests.core.records.checks import all_hold
from tests.small import Small


@pytest.fixture
def vera(practice: Small) -> Act:
    return Act(practice.vet, MOMENT)


@pytest.fixture
def tim(practice: Small) -> Act:
    return Act(practice.technician, MOMENT)


def measure(act: Act, small: Small, analyte: str, value: float, minutes: int = 0) -> None:
    act = replace(act, at=act.at + timedelta(minutes=minutes))
    water.record_reading(act, small.visit, small.system, Measured(analyte, value, str(value)))


def priced(act: Act) -> None:
    free = TaxClass(id=new_key(), code="service", name="service", rate_percent=Decimal(0))
    with edit("prices", who="setup", at=act.at) as doing:
        doing.add(free)
        for price in setup.first_prices():
            if price.tax_class == "service":
                doing.add(price)


def readings() -> dict[str, float]:
    return {r.analyte: r.value for r in read.find(Reading)}


def test_one_takes_back_only_what_one_did_oneself(practice: Small, vera: Act, tim: Act) -> None:
    measure(vera, practice, "chloride", 20.0)
    visits.move(tim, practice.visit, MOMENT.date(), "11:30")
    turned = undo.take_back(vera)
    assert turned == undo.Turned("Chloride here 20 mg/L", practice.visit, "Clara Test")
    assert readings() == {}
    assert read.one(Visit, practice.visit).starts == "11:30"
    with pytest.raises(Refusal, match="nothing yet"):
        undo.take_back(Act("setup and nobody", MOMENT))
    all_hold()


def test_what_was_seen_on_a_fish_is_no_signature_and_goes_back(practice: Small, vera: Act) -> None:
    whole = next(
        s for s in watching.view(practice.visit, practice.system).subjects if s.kind == "system"
    )
    first = watching.walk()[0].key
    watching.record_sign(vera, practice.visit, practice.system, whole, first, "ok")
    assert undo.take_back(vera).words
    assert read.find(Sign) == ()
    assert undo.do_again(vera).words
    assert [row.state for row in read.find(Sign)] == ["ok"]
    all_hold()


def test_acts_go_back_one_by_one_and_come_again_in_their_order(practice: Small, vera: Act) -> None:
    for value in (7.1, 7.2, 7.3):
        measure(vera, practice, "ph", value)
    said = [undo.take_back(vera).words for _ in range(3)]
    assert said == ["pH here from 7.2 to 7.3", "pH here from 7.1 to 7.2", "pH here 7.1"]
    assert readings() == {}
    assert [undo.do_again(vera).words for _ in range(3)] == said[::-1]
    assert readings() == {"ph": 7.3}
    with pytest.raises(Refusal, match="nothing to do again"):
        undo.do_again(vera)
    assert undo.take_back(vera).words == said[0]
    all_hold()


def test_something_new_ends_what_could_be_done_again(practice: Small, vera: Act) -> None:
    measure(vera, practice, "ph", 7.1)
    undo.take_back(vera)
    measure(vera, practice, "ph", 8.4)
    with pytest.raises(Refusal, match="nothing to do again"):
        undo.do_again(vera)
    assert readings() == {"ph": 8.4}


def test_what_somebody_did_later_is_named(practice: Small, vera: Act, tim: Act) -> None:
    measure(vera, practice, "ph", 8.1)
    measure(tim, practice, "ph", 7.9, minutes=5)
    with pytest.raises(Refusal) as told:
        undo.take_back(vera)
    assert told.value.title == "Not taken back"
    assert "later, 08:35, Tim Test: pH here from 8.1 to 7.9" in told.value.sentence
    undo.take_back(tim)
    undo.take_back(vera)
    assert readings() == {}
    all_hold()


def test_the_last_twenty_acts_and_no_more(practice: Small, vera: Act) -> None:
    for number in range(23):
        measure(vera, practice, "ph", 7 + number / 100)
    assert len(undo.last(vera.by)) == undo.MOST
    for _ in range(undo.MOST):
        undo.take_back(vera)
    assert all(one.taken_back for one in undo.last(vera.by))
    with pytest.raises(Refusal, match="last 20 acts are taken back"):
        undo.take_back(vera)
    assert readings() == {"ph": 7.02}
    assert len(undo.last(vera.by, practice.visit, most=5)) == 5
    assert undo.last(vera.by, "another visit") == ()


def test_what_is_never_taken_back_is_named_with_what_to_do(practice: Small, vera: Act) -> None:
    measure(vera, practice, "ph", 7.1)
    priced(vera)
    charges.take_offers(vera, practice.visit)
    charges.pay(vera, practice.visit, 5000, "cash")
    with pytest.raises(NeverUndone, match="A payment is never taken back") as told:
        undo.take_back(vera)
    assert "The last thing you did: payment of 50.00 EUR by cash." in told.value.todo
    assert len(read.find(Payment)) == 1


def test_owners_steps_that_were_taken_back_are_offered_again(practice: Small, vera: Act) -> None:
    before = plan_steps.offers(practice.visit, practice.system)
    assert before
    plan_steps.take_steps(vera, practice.visit, practice.system)
    assert plan_steps.offers(practice.visit, practice.system) == ()
    undo.take_back(vera)
    assert read.find(OwnerStep) == ()
    assert plan_steps.offers(practice.visit, practice.system) == before


def test_charges_that_were_taken_back_are_offered_again(practice: Small, vera: Act) -> None:
    measure(vera, practice, "ph", 7.1)
    priced(vera)
    before = charges.bill(practice.visit).offered
    assert before
    charges.take_offers(vera, practice.visit)
    undo.take_back(vera)
    assert charges.bill(practice.visit).offered == before
    undo.do_again(vera)
    bill = charges.bill(practice.visit)
    assert (len(bill.charges), bill.offered) == (len(before), ())


def test_what_changed_tells_it_all(practice: Small, vera: Act, tim: Act) -> None:
    measure(vera, practice, "ph", 8.1)
    measure(tim, practice, "oxygen", 7.5, minutes=3)
    undo.take_back(replace(tim, at=MOMENT + timedelta(minutes=4)))
    undo.do_again(replace(tim, at=MOMENT + timedelta(minutes=5)))
    told = changed.of_visit(practice.visit).text(MOMENT.date())
    assert told.split("\n") == [
        "Wed 25 Nov, Tim Test: 08:35 did again: Oxygen here 7.5 mg/L; "
        "08:34 took back: Oxygen here 7.5 mg/L; 08:33 Oxygen here 7.5 mg/L.",
        "Wed 25 Nov, Vera Test: 08:30 pH here 8.1.",
        "Wed 25 Nov, Setting up: 08:30 booked Clara Test for 25 Nov, 10:30: test visit.",
    ]
