"""The shelf and its logs: lots, the oldest first, what is left, and the drug log of a day."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given as drawn
from hypothesis import strategies as st

from core.dosing.kinds import ProductMass, ProductVolume
from core.errors import BadInput, Refusal
from core.practice import documents, drug_log, given, in_hand, medicines, setup, shelf, stock_log
from core.practice.door import edit
from core.practice.dose_parts import Ask
from core.practice.giving_context import Wanted
from core.practice.keep import Act
from core.practice.own_products import exact, in_stock_unit
from core.practice.paperwork import deliver, end_of_day
from core.practice.roles import NotAllowed
from core.practice.shelf import NewProduct, Received
from core.practice.stock_log import shown
from core.practice.treatments import Order, order_treatment
from core.records import read, undo
from core.records.engine import query
from core.records.journal import Closed
from core.records.never import NeverUndone
from core.records.tables import Lot, Product, StockLine, Treatment
from tests.conftest import MOMENT
from tests.practice.test_in_hand import take
from tests.read_rows import all_read
from tests.small import Small

DAY = MOMENT.date()
WITNESS = "Tim Test"


@pytest.fixture
def vet(practice: Small) -> Act:
    act = Act(practice.vet, MOMENT)
    all_read(act)
    return act


PRAZIQUANTEL = NewProduct(
    "praziquantel-prolonged", "praziquantel, ours", 100.0, "% w/w", 100.0, "g"
)
BUTORPHANOL = NewProduct(
    "butorphanol", "butorphanol 10 mg/mL", 10.0, "mg/mL", 50.0, "mL", controlled=True
)


def amount(text: str) -> Decimal:
    return Decimal(text)


def two_lots(vet: Act) -> tuple[str, str, str]:
    """Put a product on the shelf with a lot that expires later and, after it, an older one."""
    product = shelf.add_product(vet, PRAZIQUANTEL)
    younger = shelf.receive(
        vet, product, Received("Y-2", amount("100"), DAY + timedelta(300), "truck 1")
    )
    older = shelf.receive(vet, product, Received("O-1", amount("50"), DAY + timedelta(30)))
    return product, older, younger


def handed_over(act: Act, practice: Small, folder: Path) -> None:
    """Issue the labels as a veterinarian and hand them over."""
    issued = documents.issue_labels(act, practice.visit, folder)
    deliver(act, issued.document.id, "by hand", "owner")


def order(practice: Small, product: str, act: str = "dispensed", **more: Any) -> Order:
    ask = Ask("2 mg/L", "prolonged bath", product=product)
    kept = Order(act, "praziquantel-prolonged", ask, practice.system)
    return replace(kept, reason="flukes in two gill snips today", **more)


def test_dispensing_takes_the_whole_course_from_the_oldest_lot(
    practice: Small, vet: Act, tmp_path: Path
) -> None:
    product, older, younger = two_lots(vet)
    wanted = order(practice, product, repeats=2, interval_days=8.0)
    row = read.one(Treatment, order_treatment(vet, practice.visit, wanted))
    # 9,000 L at 2 mg/L are 18 g, twice.
    assert (row.amount, row.lot, row.expires) == (18.0, "O-1", DAY + timedelta(30))
    assert (read.find(StockLine, treatment=row.id), stock_log.left(older)) == ((), 50)
    handed_over(vet, practice, tmp_path)
    [line] = read.find(StockLine, treatment=row.id)
    assert (line.lot, line.kind, line.amount, line.balance) == (
        *(older, "dispensed"),
        *(amount("-36"), amount("14")),
    )
    assert line.visit == practice.visit
    assert stock_log.left(younger) == 100


def test_given_here_takes_one_dose_and_what_is_advised_none(practice: Small, vet: Act) -> None:
    product, older, _ = two_lots(vet)
    twice = {"repeats": 2, "interval_days": 8.0}
    order_treatment(vet, practice.visit, order(practice, product, "given here", **twice))
    assert stock_log.left(older) == 32
    for act in ("prescribed", "advised"):
        order_treatment(vet, practice.visit, order(practice, product, act, **twice))
    assert stock_log.left(older) == 32
    with pytest.raises(BadInput, match="takes nothing from the shelf"):
        order_treatment(vet, practice.visit, order(practice, product, "advised", from_lot=older))


def test_another_lot_than_the_oldest_needs_a_reason(
    practice: Small, vet: Act, tmp_path: Path
) -> None:
    product, older, younger = two_lots(vet)
    wanted = order(practice, product, from_lot=younger)
    with pytest.raises(Refusal, match="Lot O-1 is older and is used first"):
        order_treatment(vet, practice.visit, wanted)
    assert read.find(Treatment) == ()
    wanted = replace(wanted, lot_why="O-1 is in the other truck")
    row = read.one(Treatment, order_treatment(vet, practice.visit, wanted))
    assert row.lot == "Y-2"
    assert row.override.endswith("lot Y-2, not the oldest: O-1 is in the other truck")
    handed_over(vet, practice, tmp_path)
    [line] = read.find(StockLine, treatment=row.id)
    assert (line.lot, line.why) == (younger, "the lot on its label")
    assert [stock_log.left(lot) for lot in (younger, older)] == [82, 50]


def test_an_expired_lot_is_refused_and_the_next_is_taken(practice: Small, vet: Act) -> None:
    product, older, younger = two_lots(vet)
    later = Act(vet.by, vet.at + timedelta(days=31))
    assert stock_log.oldest(product, DAY + timedelta(30)) == read.one(Lot, older)
    assert stock_log.oldest(product, DAY + timedelta(31)) == read.one(Lot, younger)
    with pytest.raises(Refusal, match="Lot O-1 expired on"):
        stock_log.chosen(product, older, stock_log.day_of(later), "whatever the reason")
    with pytest.raises(Refusal, match="expired on"):
        shelf.receive(vet, product, Received("OLD", amount("1"), DAY - timedelta(1)))


def test_nothing_goes_below_nothing(practice: Small, vet: Act) -> None:
    product, older, _ = two_lots(vet)
    stock_log.waste(vet, older, amount("40"), "wet")
    with pytest.raises(Refusal, match=r"18.00 g is more than the 10.00 g .* left of lot O-1"):
        order_treatment(vet, practice.visit, order(practice, product))
    assert read.find(Treatment) == ()
    assert stock_log.count(vet, older, amount("30")) == 20
    stock_log.put_right(vet, older, "a scoop was written down twice")
    order_treatment(vet, practice.visit, order(practice, product, "given here"))
    assert stock_log.left(older) == 12


def test_a_fish_in_hand_is_given_the_product_undiluted(practice: Small, vet: Act) -> None:
    new = NewProduct("ceftazidime-injection", "ceftazidime, ours", 100.0, "mg/mL", 10.0, "mL")
    product = shelf.add_product(vet, new)
    lot = shelf.receive(vet, product, Received("C-9", amount("10"), DAY + timedelta(20)))
    fish = take(vet, practice.visit)
    in_hand.set_weight(vet, fish, 238.0, "238 g")
    wanted = Wanted("ceftazidime-injection", dose=20.0, product=product, diluted=True)
    row = read.one(Treatment, given.give(vet, fish, wanted))
    # 0.19 mL of one part in four.
    assert (row.amount, row.lot, row.expires) == (0.19, "C-9", DAY + timedelta(20))
    [line] = read.find(StockLine, treatment=row.id)
    assert (line.kind, line.amount) == ("given here", amount("-0.048"))
    assert stock_log.left(lot) == amount("9.952")


def test_a_controlled_drug_is_not_given_from_an_empty_shelf(practice: Small, vet: Act) -> None:
    shelf.add_product(vet, BUTORPHANOL)
    with pytest.raises(BadInput, match="controlled drug"):
        shelf.add_product(vet, replace(BUTORPHANOL, controlled=False))
    [product] = read.find(Product)
    fish = take(vet, practice.visit)
    in_hand.set_weight(vet, fish, 5000.0, "5 kg")
    wanted = Wanted("butorphanol", dose=0.4, product=product.id, reason="no other at hand now")
    with pytest.raises(Refusal, match="no lot of it that can be used is on the shelf"):
        given.give(vet, fish, wanted)
    assert read.find(Treatment) == ()
    lot = shelf.receive(vet, product.id, Received("B-7", amount("50")))
    row = read.one(Treatment, given.give(vet, fish, wanted))
    assert (row.lot, stock_log.left(lot)) == ("B-7", amount("49.8"))


def log_of(vet: Act) -> tuple[str, str]:
    product = shelf.add_product(vet, BUTORPHANOL)
    lot = shelf.receive(vet, product, Received("B-1", amount("50.00"), DAY + timedelta(200)))
    return product, lot


def taken(act: Act, lot: str, kind: str, much: str, **more: str) -> None:
    """Write a line as a treatment does."""
    with edit("test", who=act.by, at=act.at) as doing:
        stock_log.write(doing, act, read.one(Lot, lot), kind, amount(much), **more)


def test_the_drug_log_adds_up_and_closes_only_when_the_count_agrees(
    practice: Small, vet: Act
) -> None:
    product, lot = log_of(vet)
    taken(vet, lot, "given here", "1.20")
    taken(vet, lot, "dispensed", "0.85")
    stock_log.waste(vet, lot, amount("0.05"), "left in the needle", WITNESS)
    assert [shown(line.left) for line in drug_log.log(product).lines] == [
        *("50.00", "48.80", "47.95", "47.90")
    ]
    with pytest.raises(Refusal, match=r"given here 1.20, dispensed 0.85, waste 0.05.*not counted"):
        drug_log.close_day(vet, DAY)
    assert stock_log.count(vet, lot, amount("47.80")) == amount("-0.10")
    with pytest.raises(Refusal, match=r"47.80 mL counted, the log says 47.90") as told:
        drug_log.close_day(vet, DAY)
    assert "a reason and a witness" in told.value.todo
    assert not drug_log.closed(DAY)
    with pytest.raises(BadInput, match="needs a reason"):
        stock_log.put_right(vet, lot, "", WITNESS)
    with pytest.raises(BadInput, match="needs a witness"):
        stock_log.put_right(vet, lot, "a drop was spilt")
    with pytest.raises(BadInput, match="somebody else"):
        stock_log.put_right(vet, lot, "a drop was spilt", "vera test")
    stock_log.put_right(vet, lot, "a drop was spilt", WITNESS)
    drug_log.close_day(vet, DAY)
    assert drug_log.closed(DAY)
    with pytest.raises(Refusal, match="closed already"):
        drug_log.close_day(vet, DAY)
    text = drug_log.text(product)
    assert text.splitlines()[-1] == "Left: 47.80 mL"
    assert "seen by Tim Test: left in the needle" in text
    assert "differs by -0.10" in text


def test_a_count_that_agrees_closes_the_day(practice: Small, vet: Act) -> None:
    product, lot = log_of(vet)
    for kind, much in (("given here", "1.20"), ("dispensed", "0.85")):
        taken(vet, lot, kind, much)
    stock_log.waste(vet, lot, amount("0.05"), "left in the needle", WITNESS)
    assert stock_log.count(vet, lot, amount("47.90")) == 0
    drug_log.close_day(vet, DAY)
    with pytest.raises(Refusal, match="agrees with the log"):
        stock_log.put_right(vet, lot, "no reason", WITNESS)
    later = Act(vet.by, vet.at + timedelta(minutes=5))
    stock_log.bring_back(later, lot, amount("0.20"), "drawn up and not given", WITNESS)
    assert drug_log.log(product).left == amount("48.10")
    assert not drug_log.closed(DAY)
    with pytest.raises(Refusal, match=r"returned 0.20 mL, and not counted since"):
        drug_log.close_day(vet, DAY)


def test_what_was_not_counted_stands_at_the_end_of_the_day(practice: Small, vet: Act) -> None:
    _, lot = log_of(vet)
    assert "count" not in {line.kind for line in end_of_day(DAY).lines}
    taken(vet, lot, "given here", "1.20")
    [line] = [x for x in end_of_day(DAY).lines if x.kind == "count"]
    assert line.what == "butorphanol 10 mg/mL, lot B-1: given here 1.20 mL, and not counted since"
    assert line.row == lot
    assert not [x for x in end_of_day(DAY - timedelta(1)).lines if x.kind == "count"]
    assert [x for x in end_of_day(DAY + timedelta(1)).lines if x.kind == "count"]
    stock_log.count(vet, lot, amount("48.80"))
    assert "count" not in {line.kind for line in end_of_day(DAY).lines}


def test_lines_only_grow(practice: Small, vet: Act) -> None:
    _, lot = log_of(vet)
    [line] = stock_log.lines(lot)
    with pytest.raises(Closed), edit("test", who=vet.by, at=vet.at) as doing:
        doing.change(StockLine, line.id, amount=amount("60"))
    with pytest.raises(Closed), edit("test", who=vet.by, at=vet.at) as doing:
        doing.strike(StockLine, line.id, "wrong")
    [(made,)] = query('SELECT "edit" FROM "edit_line" WHERE "row" = ?', (line.id,))
    with pytest.raises(NeverUndone, match="stock and drug log"):
        undo.undo(made, who=vet.by, at=vet.at)


WRONG: dict[str, tuple[str, str, dict[str, str], str]] = {
    "waste without a reason": ("waste", "1", {}, "needs a reason"),
    "waste without a witness": ("waste", "1", {"why": "x"}, "needs a witness"),
    "nothing": ("received", "0", {}, "above nothing"),
    "below nothing": ("given here", "-1", {}, "above nothing"),
    "too fine": ("given here", "0.0001", {}, "three decimals"),
    "no number": ("given here", "NaN", {}, "three decimals"),
    "more than there is": ("given here", "50.001", {}, "more than the 50.00 mL"),
}


@pytest.mark.parametrize("case", WRONG)
def test_a_line_that_can_not_be_is_refused(practice: Small, vet: Act, case: str) -> None:
    kind, much, more, said = WRONG[case]
    _, lot = log_of(vet)
    with pytest.raises(Refusal, match=said):
        taken(vet, lot, kind, much, **more)
    assert len(stock_log.lines(lot)) == 1


def test_who_may_write_in_the_log(practice: Small, vet: Act) -> None:
    _, lot = log_of(vet)
    technician = Act(practice.technician, MOMENT)
    stock_log.count(technician, lot, amount("50"))
    desk = setup.add_person(Act("setup", MOMENT), "Rae Desk", "reception")
    with pytest.raises(NotAllowed, match="stock and drug log"):
        stock_log.count(Act(desk, MOMENT), lot, amount("50"))


BAD_PRODUCTS: dict[str, tuple[dict[str, Any], str]] = {
    "no name": ({"name": " "}, "needs a name"),
    "no medicine": ({"medicine": "moonlight"}, "no medicine moonlight"),
    "plain percent": ({"strength_unit": "%"}, "not in %"),
    "an empty pack": ({"pack": 0.0}, "more than nothing"),
    "by the piece": ({"pack_unit": "piece"}, "in mL or g; a vial or a sachet is entered by what"),
    "a price there is not": ({"price": "moon"}, "not a code of the price list"),
    "heavier than lead": ({"density_g_ml": 30.0}, "more than can be"),
    "stronger than pure": ({"strength": 101.0}, "more than can be"),
}


@pytest.mark.parametrize("case", BAD_PRODUCTS)
def test_a_product_that_can_not_be_is_refused(practice: Small, vet: Act, case: str) -> None:
    wrong, said = BAD_PRODUCTS[case]
    with pytest.raises(BadInput, match=said):
        shelf.add_product(vet, replace(PRAZIQUANTEL, **wrong))
    assert read.find(Product) == ()


def test_the_same_batch_comes_in_twice_and_another_expiry_is_refused(
    practice: Small, vet: Act
) -> None:
    product, older, _ = two_lots(vet)
    again = Received("O-1", amount("25"), DAY + timedelta(30))
    assert shelf.receive(vet, product, again) == older
    assert stock_log.left(older) == 75
    with pytest.raises(Refusal, match="another expiry"):
        shelf.receive(vet, product, replace(again, expires=DAY + timedelta(31)))


def test_the_shelf_says_what_is_where(practice: Small, vet: Act) -> None:
    product, older, younger = two_lots(vet)
    shelf.set_lot(vet, older, opened=DAY, place="cupboard")
    [view] = shelf.products()
    assert (view.medicine, view.strength) == ("praziquantel", "100 % w/w")
    assert view.left == 150
    assert [x.lot.id for x in view.lots] == [older, younger]
    assert view.lots[0].words(DAY).startswith("O-1, expires ")
    assert view.lots[0].words(DAY).endswith("cupboard")
    assert "EXPIRED" in view.lots[0].words(date(2030, 1, 1))
    assert medicines.shelf()[product].agent == "praziquantel"
    with pytest.raises(BadInput, match="not come yet"):
        shelf.set_lot(vet, older, opened=DAY + timedelta(1))


def test_grams_and_millilitres_need_a_density(practice: Small, vet: Act) -> None:
    new = NewProduct("formalin-bath", "formalin", 37.0, "% w/w", 1000.0, "g")
    row = read.one(Product, shelf.add_product(vet, new))
    with pytest.raises(Refusal, match="without its density"):
        in_stock_unit(row, ProductVolume(10.0, "mL"))
    assert in_stock_unit(replace(row, density_g_ml=1.08), ProductVolume(10.0, "mL")) == exact(10.8)
    by_volume = replace(row, pack_unit="mL", density_g_ml=1.08)
    assert in_stock_unit(by_volume, ProductMass(10.8, "g")) == exact(10.0)


@drawn(st.lists(st.decimals(-5, 5, places=2), max_size=12))
def test_running_stock_is_the_plain_sum(amounts: list[Decimal]) -> None:
    """What is shown is never another figure than what was added, to the thousandth."""
    whole = sum((exact(float(a)) for a in amounts), Decimal(0))
    assert whole == sum(amounts, Decimal(0))
    assert Decimal(shown(whole)) == whole
