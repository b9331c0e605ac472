"""A weight or a volume typed against the record, the same medicine twice a day, and what follows:
the end of each course and withdrawal looked at, and each bath and label charged."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path

import pytest

from core.errors import Refusal
from core.practice import (
    charges,
    given,
    giving_context,
    in_hand,
    own_rows,
    plan,
    plan_rechecks,
    setup,
)
from core.practice.giving_context import Wanted
from core.practice.order import Order
from core.practice.problem_list import name_problem
from core.practice.treatments import order_treatment, prepare
from core.records import read
from core.records.journal import edit
from core.records.keys import new_key
from core.records.tables import Charge, Price, Product, Recheck, TaxClass, Weighing
from tests.practice.plan_cases import MOMENT, Case, D, case


@pytest.fixture
def pond(records: Path) -> Case:
    """Give twelve goldfish of 128 g in 3390 L, as they were weighed."""
    made = case(count=12)
    made.read(temperature=20.0, ph=8.0, nitrite=0.01, oxygen=9.0, ammonia=0.1, kh=90.0)
    weighing = Weighing(
        id=new_key(),
        visit=made.visit,
        system=made.system,
        group=made.group,
        count=12,
        weight_g=128.0,
        at=MOMENT,
    )
    with edit("weighing", who=made.act.by, at=MOMENT, visit=made.visit) as doing:
        doing.add(weighing)
    return made


def hand(made: Case, grams: float | None = 224.0, length_cm: float | None = None) -> str:
    row = in_hand.add_fish(made.act, made.visit, made.system, "fish 1", 1, made.group)
    if grams is not None:
        in_hand.set_weight(made.act, row, grams, f"{grams:g} g")
    if length_cm is not None:
        in_hand.set_value(made.act, row, length_cm=length_cm)
    return row


def injection(made: Case, **more: object) -> Order:
    known = {"product": "ceftazidime-made-up", "syringe": "1 mL syringe", "diluted": True}
    return made.order("ceftazidime-injection", "20 mg/kg", "injection IM", **{**known, **more})


def feed(made: Case, weight: str, **more: object) -> Order:
    known = {"strength": "500 g/kg", "ration": "1 %", "weight": weight, **more}
    return made.order("florfenicol-feed", "10 mg/kg/day", "medicated feed", **known)


# A weight against the scale, the length, and the fish that were counted


@pytest.mark.parametrize(
    ("typed", "judgement"),
    [
        ("30 kg", "stop"),
        ("21.25 kg", "stop"),
        ("1120 g", "stop"),
        ("1119 g", "caution"),
        ("448 g", "caution"),
        ("447 g", ""),
        ("224 g", ""),
        ("113 g", ""),
        ("112 g", "caution"),
        ("2.24 g", "caution"),
    ],
)
@pytest.mark.parametrize("whom", ["in hand", "group", "water"])
def test_a_weight_is_held_against_the_scale(
    pond: Case, typed: str, judgement: str, whom: str
) -> None:
    row = hand(pond)
    of = {"in hand": {"handling": row, "group": pond.group}, "group": {"group": pond.group}}
    ready = prepare(pond.visit, injection(pond, weight=typed, **of.get(whom, {})))
    assert ("weight" in ready.past_stops) == (judgement == "stop")
    assert ("weight" in ready.past_cautions) == (judgement == "caution")
    said = f"{typed} typed; 224 g on the scale: look where the decimal stands."
    assert (said in ready.reasons) == bool(judgement)


def test_an_impossible_weight_is_not_ordered_without_a_sentence(pond: Case) -> None:
    wanted = injection(pond, weight="30 kg", syringe="", handling=hand(pond), group=pond.group)
    with pytest.raises(Refusal, match=r"STOP.*30 kg typed; 224 g on the scale"):
        order_treatment(pond.act, pond.visit, replace(wanted, reason="heavy"))


@pytest.mark.parametrize(
    ("typed", "judgement"), [("50 kg", "stop"), ("3.1 kg", "caution"), ("1.6 kg", "")]
)
@pytest.mark.parametrize("whole", [True, False])
def test_fed_fish_are_held_against_their_number_and_mean(
    pond: Case, typed: str, judgement: str, whole: bool
) -> None:
    ready = prepare(pond.visit, feed(pond, typed, group=None if whole else pond.group))
    assert ("weight" in ready.past_stops) == (judgement == "stop")
    assert ("weight" in ready.past_cautions) == (judgement == "caution")
    said = f"{typed} typed; 12 of 128 g (1.54 kg) on record: look where the decimal stands."
    assert (said in ready.reasons) == bool(judgement)


def test_a_length_stands_for_a_weight_that_nobody_took(pond: Case) -> None:
    fish = hand(pond, None, 20.0)
    ready = prepare(pond.visit, injection(pond, weight="30 kg", handling=fish, group=pond.group))
    assert "weight" in ready.past_stops
    assert any("g by its length: look" in s for s in ready.stops)


def test_without_any_weight_on_record_nothing_is_held_against_it(records: Path) -> None:
    made = case(count=12)
    ready = prepare(made.visit, injection(made, weight="30 kg", group=made.group))
    assert "weight" not in ready.gone_past


def test_a_weight_in_hand_is_held_against_the_length(pond: Case) -> None:
    fish = hand(pond, 22.4e3, 20.0)
    at = giving_context.context(in_hand.one(fish), D)
    assert "22.4 kg typed; about" in at.doubts[0]
    with pytest.raises(Refusal, match="by its length: look where the decimal stands"):
        given.give(pond.act, fish, DOSE)
    in_hand.set_weight(pond.act, fish, 224.0, "224 g")
    assert giving_context.context(in_hand.one(fish), D).doubts == ()


# The volume


@pytest.mark.parametrize(
    ("typed", "judgement"),
    [
        ("33900 L", "stop"),
        ("16950 L", "stop"),
        ("6780 L", "caution"),
        ("6000 L", ""),
        ("339 L", "caution"),
    ],
)
def test_a_volume_is_held_against_the_record(pond: Case, typed: str, judgement: str) -> None:
    ready = prepare(pond.visit, bath(pond, volume=typed))
    assert ("volume of water" in ready.past_stops) == (judgement == "stop")
    assert ("volume of water" in ready.past_cautions) == (judgement == "caution")
    said = f"{typed} typed; 3390 L on record: look where the decimal stands."
    assert (said in ready.reasons) == bool(judgement)


def test_a_tub_is_not_held_against_the_volume_of_the_pond(pond: Case) -> None:
    ready = prepare(pond.visit, bath(pond, volume="20 L", handling=hand(pond)))
    assert "volume of water" not in ready.gone_past


# The same medicine twice on one day

DOSE = Wanted(
    "ceftazidime-injection",
    dose=20.0,
    product="ceftazidime-made-up",
    place="left epaxial muscle",
    lot="C-77",
    diluted=True,
)


def bath(made: Case, **more: object) -> Order:
    known = {"act": "dispensed", "product": "praziquantel-powder", **more}
    return made.order("praziquantel-prolonged", "2 mg/L", "prolonged bath", **known)


def test_a_second_dose_of_one_day_in_hand_needs_a_reason(pond: Case) -> None:
    fish = hand(pond)
    given.give(pond.act, fish, DOSE)
    with pytest.raises(Refusal, match=r"ceftazidime was already given here today, 0\.\d+ mL"):
        given.give(pond.act, fish, DOSE)
    given.give(pond.act, fish, replace(DOSE, reason="the first one ran out again"))
    ordered = prepare(pond.visit, injection(pond, handling=fish, group=pond.group))
    assert "same day" in ordered.past_cautions
    other = in_hand.add_fish(pond.act, pond.visit, pond.system, "fish 2", 1, pond.group)
    in_hand.set_weight(pond.act, other, 200.0, "200 g")
    given.give(pond.act, other, DOSE)


def test_the_same_bath_twice_on_one_day_needs_a_reason(pond: Case) -> None:
    order_treatment(pond.act, pond.visit, bath(pond, repeats=2, interval_days=8))
    with pytest.raises(Refusal, match=r"praziquantel was already dispensed today, 6\.78 g each"):
        order_treatment(pond.act, pond.visit, bath(pond))
    again = bath(pond, starts=D + timedelta(8))
    assert any("already dispensed for 3 Dec" in s for s in prepare(pond.visit, again).cautions)
    between = prepare(pond.visit, bath(pond, starts=D + timedelta(4)))
    assert "same day" not in between.gone_past


# The end of a course and of a withdrawal


def ends(made: Case, part: str) -> list[date]:
    found = plan.view(made.visit, made.system).recheck_offers
    return [o.window.target for o in found if part in o.origin]


def test_feed_for_ten_days_and_two_baths_have_their_end_beside_a_problem(pond: Case) -> None:
    name_problem(pond.act, pond.visit, pond.system, problem="gill_flukes", state="confirmed")
    order_treatment(pond.act, pond.visit, bath(pond, repeats=2, interval_days=8))
    wanted = feed(pond, "1.5 kg", repeats=10, interval_days=1, reason="the vet says so")
    order_treatment(pond.act, pond.visit, wanted)
    assert ends(pond, ":course_end:") == [D + timedelta(8 + n) for n in (3, 17)]
    assert ends(pond, ":course_end_fish:") == [D + timedelta(9 + n) for n in (3, 17)]


def test_every_withdrawal_has_a_call_on_the_day_it_is_over(records: Path) -> None:
    made = case("trout_flowing", 1000.0, "rainbow_trout", 100, food_fish=True)
    order_treatment(
        made.act,
        made.visit,
        feed(
            made,
            "10 kg",
            repeats=10,
            interval_days=1,
            withdrawal_days=30,
            reason="the vet set the days",
        ),
    )
    assert ends(made, "withdrawal:") == [D + timedelta(9 + 30)]
    [offer] = [
        o
        for o in plan.view(made.visit, made.system).recheck_offers
        if o.origin.startswith("withdrawal:")
    ]
    assert offer.reason.startswith("Withdrawal over: florfenicol for ")
    taken = plan_rechecks.take_recheck(made.act, made.visit, made.system, offer)
    assert read.one(Recheck, taken).kind == "phone"
    assert ends(made, "withdrawal:") == []


# What is charged


def priced(made: Case, own: bool = False) -> str:
    with edit("prices", who=made.act.by, at=MOMENT) as doing:
        for code in ("medicine", "service"):
            doing.add(TaxClass(id=new_key(), code=code, name=code, rate_percent=Decimal(0)))
        for price in setup.first_prices():
            doing.add(price)
        product = Product(
            id=new_key(),
            medicine="praziquantel-prolonged",
            name="praziquantel, tub",
            strength=100.0,
            strength_unit="percent w/w",
            pack=1000.0,
            pack_unit="g",
            price="praziquantel_dose",
        )
        if own:
            doing.add(product)
    own_rows.read_again()
    return product.id if own else "praziquantel-powder"


def counted(made: Case) -> dict[str, Decimal]:
    return {o.code: o.quantity for o in charges.bill(made.visit).offered}


@pytest.mark.parametrize("own", [True, False])
def test_each_label_and_each_bath_is_charged(pond: Case, own: bool) -> None:
    product = priced(pond, own)
    assert read.first(Price, code="praziquantel_dose") is not None
    first = bath(pond, product=product, repeats=2, interval_days=8)
    assert prepare(pond.visit, first).cost == "The course costs 21.00 EUR before tax."
    order_treatment(pond.act, pond.visit, first)
    second = replace(bath(pond, product=product), starts=D + timedelta(20))
    order_treatment(pond.act, pond.visit, second)
    assert counted(pond)["dispensing"] == 2
    assert counted(pond)["praziquantel_dose"] == 3


def test_what_is_dispensed_after_the_bill_was_made_is_offered_and_nothing_twice(
    pond: Case,
) -> None:
    priced(pond)
    order_treatment(pond.act, pond.visit, bath(pond))
    charges.take_offers(pond.act, pond.visit)
    assert counted(pond) == {}
    order_treatment(pond.act, pond.visit, bath(pond, starts=D + timedelta(20)))
    assert counted(pond) == {"dispensing": 1, "praziquantel_dose": 1}
    charges.take_offers(pond.act, pond.visit)
    assert counted(pond) == {}
    labels = read.find(Charge, visit=pond.visit, code="dispensing")
    assert sorted(len(c.origins.split()) for c in labels) == [1, 1]
