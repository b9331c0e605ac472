"""What leaves the shelf and when: four acts kept apart, doses by active substance, what returns."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from core.errors import BadInput, Refusal
from core.practice import (
    antimicrobial,
    corrections,
    documents,
    drug_log,
    given,
    in_hand,
    label_paper,
    log_paper,
    setup,
    shelf,
    stock_log,
    stock_take,
    treatments,
    undo,
)
from core.practice.corrections import Correction, correct_water
from core.practice.dose_parts import Ask
from core.practice.giving_context import Wanted
from core.practice.keep import Act
from core.practice.paperwork import deliver, end_of_day
from core.practice.shelf import NewProduct, Received
from core.practice.stock_take import ELSEWHERE
from core.practice.treatments import Order, order_treatment
from core.records import read
from core.records.journal import edit
from core.records.keys import new_key
from core.records.never import NeverUndone
from core.records.tables import Figure, Product, StockLine, Treatment
from tests.conftest import MOMENT
from tests.practice.test_in_hand import take
from tests.read_rows import all_read
from tests.small import Small

DAY = MOMENT.date()
WITNESS = "Tim Test"
WEAK = NewProduct("praziquantel-prolonged", "praziquantel 25 %", 25.0, "% w/w", 500.0, "g")


@pytest.fixture
def vet(practice: Small) -> Act:
    act = Act(practice.vet, MOMENT)
    all_read(act)
    return act


def stocked(vet: Act, new: NewProduct = WEAK, much: str = "500", number: str = "P-1") -> str:
    """Put a product on the shelf with one lot; return the id of the lot."""
    product = shelf.add_product(vet, new)
    return shelf.receive(vet, product, Received(number, Decimal(much), DAY + timedelta(90)))


def product_of(lot: str) -> str:
    return next(x.id for x in read.find(Product) if lot in lots_of(x.id))


def lots_of(product: str) -> list[str]:
    return [x.lot.id for p in shelf.products() if p.product.id == product for x in p.lots]


def order(practice: Small, act: str = "given here", product: str = "", **more: Any) -> Order:
    ask = Ask("2 mg/L", "prolonged bath", product=product)
    kept = Order(act, "praziquantel-prolonged", ask, practice.system)
    return replace(kept, reason="flukes in two gill snips today", **more)


def labels(vet: Act, practice: Small, folder: Path) -> str:
    return documents.issue_labels(vet, practice.visit, folder).document.id


def lines(lot: str, kind: str) -> list[Decimal]:
    return [line.amount for line in stock_log.lines(lot) if line.kind == kind]


# --- A dose of active substance ---------------------------------------------------------------


def test_a_dose_by_active_substance_takes_the_product_that_holds_it(
    practice: Small, vet: Act
) -> None:
    lot = stocked(vet)
    with pytest.raises(Refusal, match=r"praziquantel 25 % on the shelf holds praziquantel"):
        order_treatment(vet, practice.visit, order(practice))
    assert read.find(Treatment) == ()
    row = read.one(Treatment, order_treatment(vet, practice.visit, order(practice, from_lot=lot)))
    # 9,000 L at 2 mg/L are 18 g of it, in 72 g of a quarter.
    assert (row.amount, row.amount_unit, row.lot) == (pytest.approx(72.0), "g", "P-1")
    assert (row.product, row.strength) == (product_of(lot), "25 % w/w")
    assert (lines(lot, "given here"), stock_log.left(lot)) == ([Decimal("-72")], 428)


def test_a_liquid_by_its_density_and_by_its_strength(practice: Small, vet: Act) -> None:
    by_weight = replace(WEAK, name="by weight", pack_unit="mL", density_g_ml=1.2, pack=500.0)
    lot = stocked(vet, by_weight)
    order_treatment(vet, practice.visit, order(practice, from_lot=lot))
    # 25 % of 1.2 g/mL are 300 mg/mL: 18 g in 60 mL.
    assert lines(lot, "given here") == [Decimal("-60")]


def test_what_is_from_elsewhere_says_why(practice: Small, vet: Act) -> None:
    lot = stocked(vet)
    with pytest.raises(BadInput, match="needs a reason"):
        order_treatment(vet, practice.visit, order(practice, from_lot=ELSEWHERE))
    wanted = order(practice, from_lot=ELSEWHERE, lot_why="the owner bought it")
    row = read.one(Treatment, order_treatment(vet, practice.visit, wanted))
    assert row.override.endswith("not from the shelf: the owner bought it")
    assert (lines(lot, "given here"), row.amount) == ([], 18.0)


def test_a_lot_of_something_else_is_refused(practice: Small, vet: Act) -> None:
    salt = NewProduct("salt-prolonged", "salt, ours", 100.0, "% w/w", 25000.0, "g")
    lot = stocked(vet, salt, "25000")
    with pytest.raises(Refusal, match="holds sodium chloride"):
        order_treatment(vet, practice.visit, order(practice, from_lot=lot))
    assert stock_log.left(lot) == 25000


def test_a_dose_in_food_by_a_liquid_takes_the_liquid(practice: Small, vet: Act) -> None:
    new = NewProduct("enrofloxacin-feed", "enrofloxacin, ours", 100.0, "mg/mL", 100.0, "mL")
    lot = stocked(vet, new, "100")
    ask = Ask(
        "10 mg/kg/day", "medicated feed", product=product_of(lot), weight="36 kg", ration="1 %"
    )
    wanted = Order("given here", "enrofloxacin-feed", ask, practice.system, group=practice.group)
    wanted = replace(wanted, reason="culture and a disc test of last week")
    row = read.one(Treatment, order_treatment(vet, practice.visit, wanted))
    # What is kept is the substance of a day, 360 mg; what left the shelf is 3.6 mL of it.
    assert (row.amount, row.amount_unit) == (pytest.approx(360.0), "mg")
    assert lines(lot, "given here") == [Decimal("-3.6")]


SALT = NewProduct("salt-prolonged", "salt, ours", 98.0, "% w/w", 25000.0, "g")


def test_a_correction_of_the_water_takes_its_salt(
    practice: Small, vet: Act, tmp_path: Path
) -> None:
    lot = stocked(vet, SALT, "25000", "S-1")
    why = "stepped up too fast on purpose"
    wanted = Correction("given here", practice.system, "salt", 1.0, parts=2, reason=why)
    with pytest.raises(Refusal, match="salt, ours on the shelf holds sodium chloride"):
        correct_water(vet, practice.visit, wanted)
    key = correct_water(vet, practice.visit, replace(wanted, from_lot=lot))
    row = read.one(Treatment, key)
    # 9 kg of salt for 1 g/L in 9,000 L, in 9.184 kg of the product; a half of it now.
    assert (round(row.amount), row.lot, row.strength) == (9184, "S-1", "98 % w/w")
    assert lines(lot, "given here") == [Decimal("-4591.837")]
    later = replace(wanted, act="dispensed", from_lot=lot)
    correct_water(vet, practice.visit, later)
    deliver(vet, labels(vet, practice, tmp_path), "by hand", "owner")
    assert lines(lot, "dispensed") == [Decimal("-9183.673")]
    elsewhere = replace(wanted, from_lot=ELSEWHERE, lot_why="the owner's own sack")
    row = read.one(Treatment, correct_water(vet, practice.visit, elsewhere))
    assert row.override.endswith("not from the shelf: the owner's own sack")
    assert row.amount == pytest.approx(9000, rel=0.01)


# --- Four acts, kept apart --------------------------------------------------------------------


def test_prescribed_and_advised_take_nothing(practice: Small, vet: Act) -> None:
    lot = stocked(vet)
    for act in ("prescribed", "advised"):
        order_treatment(vet, practice.visit, order(practice, act))
        with pytest.raises(BadInput, match="takes nothing from the shelf"):
            order_treatment(vet, practice.visit, order(practice, act, from_lot=lot))
    assert [line.kind for line in stock_log.lines(lot)] == ["received"]
    assert read.first(Figure, name=stock_take.TO_HAND_OVER) is None


def test_what_is_dispensed_leaves_at_the_hand_over(
    practice: Small, vet: Act, tmp_path: Path
) -> None:
    lot = stocked(vet)
    key = order_treatment(vet, practice.visit, order(practice, "dispensed", product_of(lot)))
    assert (stock_log.left(lot), read.one(Treatment, key).lot) == (500, "P-1")
    [waits] = log_paper.dispensing_log(vet, DAY, DAY).lines
    assert (waits.on, waits.note) == (DAY, "not handed over")
    papers = labels(vet, practice, tmp_path)
    assert stock_log.left(lot) == 500, "a label that is printed is not handed over"
    next_day = Act(practice.technician, MOMENT + timedelta(days=1))
    deliver(next_day, papers, "by hand", "owner")
    [line] = read.find(StockLine, treatment=key)
    assert (line.kind, line.amount, line.by, line.at) == (
        *("dispensed", Decimal("-72")),
        *(practice.technician, next_day.at),
    )
    later = Act(vet.by, next_day.at)
    [said] = log_paper.dispensing_log(later, DAY, DAY + timedelta(1)).lines
    assert (said.on, said.note) == (DAY + timedelta(1), "")
    assert said.by == "Vera Test; handed over by Tim Test"
    assert log_paper.dispensing_log(vet, DAY, DAY).lines == ()
    deliver(next_day, papers, "by hand", "owner")
    assert len(read.find(StockLine, treatment=key)) == 1, "handed over once"


def test_the_reception_hands_over_and_writes_nothing_else(
    practice: Small, vet: Act, tmp_path: Path
) -> None:
    lot = stocked(vet)
    order_treatment(vet, practice.visit, order(practice, "dispensed", product_of(lot)))
    desk = Act(setup.add_person(Act("setup", MOMENT), "Rae Desk", "reception"), MOMENT)
    deliver(desk, labels(vet, practice, tmp_path), "by hand", "owner")
    assert stock_log.left(lot) == 428
    with pytest.raises(Refusal, match="stock and drug log"):
        stock_log.waste(desk, lot, Decimal(1), "spilt")


def test_nothing_leaves_unchecked(practice: Small, vet: Act, tmp_path: Path) -> None:
    lot = stocked(vet)
    key = order_treatment(vet, practice.visit, order(practice, "dispensed", product_of(lot)))
    papers = labels(vet, practice, tmp_path)
    treatments.set_details(vet, key, directions="in two parts")
    with pytest.raises(Refusal, match="has changed since"):
        deliver(vet, papers, "by hand", "owner")
    assert stock_log.left(lot) == 500


def test_the_same_grams_are_not_promised_twice(practice: Small, vet: Act, tmp_path: Path) -> None:
    lot = stocked(vet, much="100")
    order_treatment(vet, practice.visit, order(practice, "dispensed", product_of(lot)))
    with pytest.raises(Refusal, match=r"72.00 g is more than the 100.00 g .*72.00 g of it wait"):
        order_treatment(vet, practice.visit, order(practice, "dispensed", product_of(lot)))
    stock_log.waste(vet, lot, Decimal(50), "wet")
    with pytest.raises(Refusal, match=r"72\.00 g is more than the 50\.00 g"):
        deliver(vet, labels(vet, practice, tmp_path), "by hand", "owner")
    assert stock_log.left(lot) == 50


def test_the_lot_of_the_shelf_is_changed_by_a_new_order_only(
    practice: Small, vet: Act, tmp_path: Path
) -> None:
    lot = stocked(vet)
    product = product_of(lot)
    other = shelf.receive(vet, product, Received("P-2", Decimal(200), DAY + timedelta(200)))
    key = order_treatment(vet, practice.visit, order(practice, "dispensed", product))
    for number in ("P-2", "X-9", ""):
        with pytest.raises(Refusal, match=r"its lot is not changed here.*Strike it, order anew"):
            treatments.set_details(vet, key, lot=number)
    treatments.set_details(vet, key, lot="P-1", expires=None, directions="in two parts")
    row = read.one(Treatment, key)
    assert (row.lot, row.expires) == ("P-1", DAY + timedelta(90))
    treatments.strike_treatment(vet, key, "from the other lot")
    with pytest.raises(Refusal, match="Lot P-1 is older"):
        order_treatment(vet, practice.visit, order(practice, "dispensed", product, from_lot=other))
    why = {"from_lot": other, "lot_why": "P-1 got damp"}
    order_treatment(vet, practice.visit, order(practice, "dispensed", product, **why))
    deliver(vet, labels(vet, practice, tmp_path), "by hand", "owner")
    assert (stock_log.left(lot), stock_log.left(other)) == (500, 128)


def test_a_lot_that_came_after_the_order_is_not_typed_to_it(practice: Small, vet: Act) -> None:
    product = shelf.add_product(vet, WEAK)
    wanted = course(practice, "dispensed", product, lot="B-1", expires=DAY + timedelta(9))
    key = order_treatment(vet, practice.visit, wanted)
    shelf.receive(vet, product, Received("P-1", Decimal(500), DAY + timedelta(90)))
    with pytest.raises(Refusal, match="Lot P-1 is on the shelf"):
        treatments.set_details(vet, key, lot="P-1")
    with pytest.raises(Refusal, match=r"good to .* used until .*order anew with the reason"):
        treatments.set_details(vet, key, lot="B-2", expires=DAY + timedelta(8))
    treatments.set_details(vet, key, lot="B-2", expires=DAY + timedelta(10))
    assert read.one(Treatment, key).lot == "B-2"


# --- A lot lasts as long as its course --------------------------------------------------------


def course(practice: Small, act: str, product: str, **more: Any) -> Order:
    return order(practice, act, product, repeats=2, interval_days=9.0, **more)


def two_lots(vet: Act, short: int = 0, long: int = 9) -> tuple[str, str, str]:
    """Receive one lot that ends within a course of ten days, and one that lasts."""
    product = shelf.add_product(vet, WEAK)
    found = [
        shelf.receive(vet, product, Received(number, Decimal(500), DAY + timedelta(days)))
        for number, days in (("S-1", short), ("L-1", long))
    ]
    return product, *found


def lot_of(vet: Act, practice: Small, wanted: Order) -> str:
    return read.one(Treatment, order_treatment(vet, practice.visit, wanted)).lot


def test_the_default_is_the_oldest_lot_good_on_the_last_day(practice: Small, vet: Act) -> None:
    product, _, _ = two_lots(vet)
    wanted = course(practice, "dispensed", product)
    assert treatments.prepare(practice.visit, wanted).past_cautions.count("expiry") == 0
    assert lot_of(vet, practice, wanted) == "L-1"
    # The dose that is given here is the first only.
    assert lot_of(vet, practice, course(practice, "given here", product)) == "S-1"
    later = order(practice, "given here", product, starts=DAY + timedelta(1))
    assert lot_of(vet, practice, later) == "L-1"


def test_parts_count_to_the_last_day_too(practice: Small, vet: Act) -> None:
    product, _, _ = two_lots(vet, short=1, long=2)
    wanted = order(practice, "dispensed", product)
    for apart, lot in ((12, "S-1"), (24, "L-1")):
        ask = replace(wanted.ask, steps=3, apart_h=apart)
        assert lot_of(vet, practice, replace(wanted, ask=ask)) == lot


def test_a_lot_that_is_too_short_is_a_caution_with_a_reason(practice: Small, vet: Act) -> None:
    product, short, _ = two_lots(vet, short=8)
    chosen = course(practice, "dispensed", product, from_lot=short)
    ready = treatments.prepare(practice.visit, chosen)
    assert any("Lot S-1 is good to" in c and "used until" in c for c in ready.cautions)
    with pytest.raises(Refusal, match="Lot L-1 is good to the last day and is used first"):
        order_treatment(vet, practice.visit, chosen)
    key = order_treatment(vet, practice.visit, replace(chosen, lot_why="owner comes back"))
    row = read.one(Treatment, key)
    assert "expiry" in row.override
    assert "owner comes back" in row.override


def test_where_only_a_shorter_lot_is_there_it_is_said(practice: Small, vet: Act) -> None:
    product, _, _ = two_lots(vet, short=7, long=8)
    wanted = course(practice, "dispensed", product)
    with pytest.raises(Refusal, match=r"needs a reason.*Lot S-1 is good to"):
        order_treatment(vet, practice.visit, replace(wanted, reason=""))
    row = read.one(Treatment, order_treatment(vet, practice.visit, wanted))
    assert row.lot == "S-1"
    assert "gone past: expiry" in row.override


def test_a_typed_expiry_is_held_against_the_course_too(practice: Small, vet: Act) -> None:
    typed = course(practice, "dispensed", "", lot="T-1", expires=DAY + timedelta(8))
    for days, said in ((8, True), (9, False)):
        ready = treatments.prepare(practice.visit, replace(typed, expires=DAY + timedelta(days)))
        assert ("expiry" in ready.past_cautions) is said


def test_a_lot_too_short_for_the_parts_of_a_correction_is_a_caution(
    practice: Small, vet: Act
) -> None:
    product = shelf.add_product(vet, SALT)
    lot = shelf.receive(vet, product, Received("S-1", Decimal(25000), DAY))
    wanted = Correction("dispensed", practice.system, "salt", 1.0, parts=2, from_lot=lot)
    assert "expiry" in corrections.work_out(practice.visit, wanted).past_cautions
    here = replace(wanted, act="given here")
    assert "expiry" not in corrections.work_out(practice.visit, here).past_cautions


# --- The veterinarian's check -----------------------------------------------------------------


def test_checked_by_is_who_issued_the_label_not_who_ordered(
    practice: Small, vet: Act, tmp_path: Path
) -> None:
    lot = stocked(vet)
    order_treatment(vet, practice.visit, order(practice, "dispensed", product_of(lot)))
    setup_act = Act("setup", MOMENT)
    desk = Act(setup.add_person(setup_act, "Rae Desk", "reception"), MOMENT)
    second = Act(setup.add_person(setup_act, "Wanda Test", "veterinarian", "L-2"), MOMENT)
    with pytest.raises(Refusal, match="approves a label"):
        documents.issue_labels(desk, practice.visit, tmp_path)
    with pytest.raises(Refusal, match=r"No veterinarian has checked.*veterinarian issues"):
        label_paper.must_be_checked(practice.visit)
    assert label_paper.labels_of(desk, practice.visit)[0].approved_by == ""
    issued = documents.issue_labels(second, practice.visit, tmp_path)
    assert "Checked by: Wanda Test" in issued.text
    assert "Prescriber: Vera Test" in issued.text
    deliver(desk, issued.document.id, "by hand", "owner")
    assert stock_log.left(lot) == 428


def test_the_reception_can_not_hand_over_a_label_of_its_own(
    practice: Small, vet: Act, tmp_path: Path
) -> None:
    lot = stocked(vet)
    order_treatment(vet, practice.visit, order(practice, "dispensed", product_of(lot)))
    paper = documents.issue_labels(vet, practice.visit, tmp_path).document
    desk = Act(setup.add_person(Act("setup", MOMENT), "Rae Desk", "reception"), MOMENT)
    own = replace(paper, id=new_key(), by=desk.by, version=2)
    with edit("planted", who=vet.by, at=vet.at, visit=practice.visit) as doing:
        doing.add(own)
    for key in (paper.id, own.id):
        with pytest.raises(Refusal, match=r"not checked by a veterinarian.*issues the labels anew"):
            deliver(desk, key, "by hand", "owner")
    assert stock_log.left(lot) == 500


# --- Use of antimicrobials --------------------------------------------------------------------


def test_use_counts_what_left_the_shelf_less_what_came_back(
    practice: Small, vet: Act, tmp_path: Path
) -> None:
    new = NewProduct("oxytetracycline-bath", "oxytetracycline", 100.0, "% w/w", 500.0, "g")
    lot = stocked(vet, new)
    ask = Ask("20 mg/L", "bath", product=product_of(lot))
    wanted = Order("dispensed", "oxytetracycline-bath", ask, practice.system)
    wanted = replace(wanted, reason="a test of what is counted")
    key = order_treatment(vet, practice.visit, wanted)

    def counted() -> list[float | None]:
        return [line.mg for line in antimicrobial.used(DAY, DAY + timedelta(9))]

    assert counted() == []
    deliver(vet, labels(vet, practice, tmp_path), "by hand", "owner")
    gone = float(500 - stock_log.left(lot))
    assert counted() == [pytest.approx(1000 * gone)]
    treatments.strike_treatment(vet, key, "the owner did not use it", unused=False)
    assert counted() == [pytest.approx(1000 * gone)], "struck, but gone all the same"


def test_use_leaves_out_what_came_back_whole(practice: Small, vet: Act, tmp_path: Path) -> None:
    new = NewProduct("oxytetracycline-bath", "oxytetracycline", 100.0, "% w/w", 500.0, "g")
    lot = stocked(vet, new)
    ask = Ask("20 mg/L", "bath", product=product_of(lot))
    wanted = Order("dispensed", "oxytetracycline-bath", ask, practice.system)
    key = order_treatment(vet, practice.visit, replace(wanted, reason="a test of what is counted"))
    deliver(vet, labels(vet, practice, tmp_path), "by hand", "owner")
    treatments.strike_treatment(vet, key, "brought back sealed", unused=True)
    assert stock_log.left(lot) == 500
    assert antimicrobial.used(DAY, DAY + timedelta(9)) == ()


def test_an_expired_lot_is_not_handed_over(practice: Small, vet: Act, tmp_path: Path) -> None:
    lot = stocked(vet)
    order_treatment(vet, practice.visit, order(practice, "dispensed", product_of(lot)))
    papers = labels(vet, practice, tmp_path)
    with pytest.raises(Refusal, match="Lot P-1 of the label has expired"):
        deliver(Act(vet.by, MOMENT + timedelta(days=91)), papers, "by hand", "owner")
    assert stock_log.left(lot) == 500


# --- What comes back --------------------------------------------------------------------------


def test_struck_after_it_was_given_stays_taken_unless_said(practice: Small, vet: Act) -> None:
    lot = stocked(vet)
    first = order_treatment(vet, practice.visit, order(practice, from_lot=lot))
    second = order_treatment(vet, practice.visit, order(practice, from_lot=lot))
    treatments.strike_treatment(vet, first, "wrong pond")
    assert (stock_log.left(lot), lines(lot, "returned")) == (356, [])
    treatments.strike_treatment(vet, second, "the sack stayed shut", unused=True)
    [line] = [x for x in stock_log.lines(lot) if x.kind == "returned"]
    assert (line.amount, line.balance, line.treatment) == (72, 428, second)
    assert line.why == "struck, not used: the sack stayed shut"


def test_struck_before_its_day_it_goes_back_at_once(practice: Small, vet: Act) -> None:
    lot = stocked(vet)
    wanted = order(practice, from_lot=lot, starts=DAY + timedelta(3))
    key = order_treatment(vet, practice.visit, wanted)
    assert stock_log.left(lot) == 428
    treatments.strike_treatment(vet, key, "the pond is drained")
    assert (stock_log.left(lot), lines(lot, "returned")) == (500, [Decimal(72)])


def test_struck_before_the_hand_over_nothing_had_left(
    practice: Small, vet: Act, tmp_path: Path
) -> None:
    lot = stocked(vet)
    key = order_treatment(vet, practice.visit, order(practice, "dispensed", product_of(lot)))
    treatments.strike_treatment(vet, key, "the owner will not")
    assert [line.kind for line in stock_log.lines(lot)] == ["received"]
    again = order_treatment(vet, practice.visit, order(practice, "dispensed", product_of(lot)))
    deliver(vet, labels(vet, practice, tmp_path), "by hand", "owner")
    assert [x.treatment for x in stock_log.lines(lot)] == [None, again]
    treatments.strike_treatment(vet, again, "came back sealed", unused=True)
    assert stock_log.left(lot) == 500
    notes = [x.note for x in log_paper.dispensing_log(vet, DAY, DAY).lines]
    assert notes == [
        "STRUCK: the owner will not; not handed over",
        "STRUCK: came back sealed; 72.00 g came back unused",
    ]


BUTORPHANOL = NewProduct(
    "butorphanol", "butorphanol 10 mg/mL", 10.0, "mg/mL", 50.0, "mL", controlled=True
)


def injected(practice: Small, vet: Act, lot: str) -> str:
    fish = take(vet, practice.visit)
    in_hand.set_weight(vet, fish, 5000.0, "5 kg")
    product = product_of(lot)
    return given.give(vet, fish, Wanted("butorphanol", dose=0.4, product=product, reason="pain"))


def test_a_controlled_drug_comes_back_only_before_a_witness(practice: Small, vet: Act) -> None:
    lot = stocked(vet, BUTORPHANOL, "50", "B-1")
    key = injected(practice, vet, lot)
    assert stock_log.left(lot) == Decimal("49.8")
    with pytest.raises(BadInput, match="needs a witness"):
        in_hand.strike_given(vet, key, "still in the syringe", unused=True)
    assert read.one(Treatment, key).struck is None
    in_hand.strike_given(vet, key, "still in the syringe", unused=True, witness=WITNESS)
    assert (stock_log.left(lot), read.one(Treatment, key).struck) == (50, "still in the syringe")
    with pytest.raises(Refusal, match=r"returned 0.20 mL, and not counted since"):
        drug_log.close_day(vet, DAY)


def test_waste_of_a_controlled_drug_needs_its_witness(practice: Small, vet: Act) -> None:
    lot = stocked(vet, BUTORPHANOL, "50", "B-1")
    for witness, said in (("", "needs a witness"), ("Vera Test", "somebody else")):
        with pytest.raises(BadInput, match=said):
            stock_log.waste(vet, lot, Decimal("0.05"), "left in the needle", witness)
    stock_log.waste(vet, lot, Decimal("0.05"), "left in the needle", WITNESS)
    assert stock_log.left(lot) == Decimal("49.95")


def test_a_controlled_drug_does_not_go_past_its_log(practice: Small, vet: Act) -> None:
    lot = stocked(vet, BUTORPHANOL, "50", "B-1")
    fish = take(vet, practice.visit)
    in_hand.set_weight(vet, fish, 5000.0, "5 kg")
    with pytest.raises(Refusal, match="its log is kept on the shelf"):
        given.give(vet, fish, Wanted("butorphanol", dose=0.4, strength=10.0, reason="pain"))
    assert (read.find(Treatment), stock_log.left(lot)) == ((), 50)


def test_taking_back_by_the_key_moves_no_stock(practice: Small, vet: Act, tmp_path: Path) -> None:
    """`-` refuses where stock moved, and says what is done instead; else it is as ever."""
    lot = stocked(vet)
    key = order_treatment(vet, practice.visit, order(practice, from_lot=lot))
    with pytest.raises(NeverUndone, match="never taken back") as told:
        undo.take_back(vet)
    assert "Strike the order that took it" in told.value.todo
    treatments.strike_treatment(vet, key, "not used at all", unused=True)
    with pytest.raises(NeverUndone, match="never taken back"):
        undo.take_back(vet)
    assert stock_log.left(lot) == 500
    order_treatment(vet, practice.visit, order(practice, "advised"))
    undo.take_back(vet)
    assert (read.find(Treatment), stock_log.left(lot)) == ((), 500)


def test_the_worked_case_holds_by_whole_acts(practice: Small, vet: Act, tmp_path: Path) -> None:
    """50.00 - 1.20 - 0.85 - 0.05 = 47.90, and a wrong count blocks the closing of the day."""
    lot = stocked(vet, BUTORPHANOL, "50.00", "B-1")
    fish = take(vet, practice.visit)
    in_hand.set_weight(vet, fish, 30_000.0, "30 kg")
    product = product_of(lot)
    given.give(vet, fish, Wanted("butorphanol", dose=0.4, product=product, reason="pain"))
    ask = Ask("0.4 mg/kg", "injection IM", product=product, weight="21.25 kg")
    wanted = Order("dispensed", "butorphanol", ask, practice.system, handling=fish, reason="pain")
    order_treatment(vet, practice.visit, wanted)
    deliver(vet, labels(vet, practice, tmp_path), "by hand", "owner")
    stock_log.waste(vet, lot, Decimal("0.05"), "left in the needle", WITNESS)
    moved = [line.amount for line in stock_log.lines(lot)]
    assert moved == [Decimal(x) for x in ("50.00", "-1.2", "-0.85", "-0.05")]
    assert stock_log.left(lot) == Decimal("47.90")
    assert stock_log.count(vet, lot, Decimal("47.95")) == Decimal("0.05")
    with pytest.raises(Refusal, match=r"47.95 mL counted, the log says 47.90"):
        drug_log.close_day(vet, DAY)
    stock_log.count(vet, lot, Decimal("47.90"))
    drug_log.close_day(vet, DAY)
    assert "count" not in {line.kind for line in end_of_day(DAY).lines}
