"""What the baths of fish in hand take from the shelf: at the clock, shared, topped up, back."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal

import pytest

from core.errors import BadInput, Refusal
from core.practice import (
    drug_log,
    in_hand,
    in_hand_baths,
    in_hand_clock,
    setup,
    shelf,
    stock_bath,
    stock_log,
    treatments,
    visits,
)
from core.practice.in_hand_baths import First
from core.practice.in_hand_clock import FIRST, INTO
from core.practice.keep import Act
from core.practice.paperwork import end_of_day
from core.practice.shelf import NewProduct, Received
from core.records import read
from core.records.tables import Lot, StockLine, Treatment
from tests.conftest import MOMENT
from tests.practice.test_in_hand import TRICAINE, take
from tests.read_rows import all_read
from tests.small import Small

DAY = MOMENT.date()
WITNESS = "Tim Test"
POWDER = NewProduct("tricaine-anaesthesia", "tricaine, ours", 100.0, "% w/w", 100.0, "g")
STOCK = NewProduct("tricaine-sedation", "tricaine stock", 10.0, "g/L", 1000.0, "mL")
ALFAXALONE = NewProduct(
    "alfaxalone-anaesthesia", "alfaxalone 10 mg/mL", 10.0, "mg/mL", 10.0, "mL", controlled=True
)


@pytest.fixture
def vet(practice: Small) -> Act:
    act = Act(practice.vet, MOMENT)
    all_read(act)
    return act


@pytest.fixture
def pond(practice: Small, vet: Act) -> str:
    system = setup.add_system(vet, practice.site, "pond", "goldfish_pond", volume_l=3390.0)
    setup.add_group(vet, system, "goldfish", "goldfish", count=9)
    return visits.book(vet, system, DAY, "13:00", practice.vet, "rubbing")


def stocked(vet: Act, new: NewProduct = POWDER, much: str = "100", number: str = "T-1") -> str:
    found = [p for p in shelf.products() if p.product.name == new.name]
    product = found[0].product.id if found else shelf.add_product(vet, new)
    return shelf.receive(vet, product, Received(number, Decimal(much), DAY + timedelta(90)))


def bathed(
    vet: Act, visit: str, label: str = "fish 1", level: float = 80.0, litres: float = 25.0
) -> str:
    """Take a fish in hand and say its bath: 2 g of tricaine unless said."""
    fish = take(vet, visit, label)
    in_hand.set_bath(vet, fish, agent=TRICAINE)
    in_hand.set_bath(vet, fish, agent_mg_l=level)
    in_hand.set_bath(vet, fish, bath_l=litres)
    return fish


def into(act: Act, fish: str) -> None:
    in_hand_clock.mark(act, fish, INTO)


def words(fish: str) -> str:
    return in_hand.one(fish).stock.words


def test_a_bath_is_taken_when_the_clock_starts(vet: Act, pond: str) -> None:
    lot = stocked(vet)
    fish = bathed(vet, pond)
    assert words(fish) == "2.00 g of tricaine, ours, taken when the clock starts"
    assert stock_log.left(lot) == 100
    into(vet, fish)
    [line] = [x for x in stock_log.lines(lot) if x.kind == "given here"]
    assert (line.amount, line.balance, line.handling, line.visit) == (-2, 98, fish, pond)
    assert words(fish) == "taken: 2.00 g of tricaine, ours, lot T-1"


def test_a_technician_may_start_the_clock(practice: Small, vet: Act, pond: str) -> None:
    lot = stocked(vet)
    fish = bathed(vet, pond)
    into(Act(practice.technician, MOMENT), fish)
    assert stock_log.left(lot) == 98


def test_by_strength_a_stock_solution_gives_millilitres(vet: Act, pond: str) -> None:
    lot = stocked(vet, STOCK, "1000")
    into(vet, bathed(vet, pond))
    # 2 g of 10 g/L.
    assert stock_log.left(lot) == 800


def test_the_next_fish_has_the_same_bath_until_a_fresh_one_is_said(vet: Act, pond: str) -> None:
    lot = stocked(vet)
    first, second = bathed(vet, pond), bathed(vet, pond, "fish 2")
    into(vet, first)
    into(vet, second)
    assert stock_log.left(lot) == 98
    assert words(second) == "the bath of fish 1: nothing more is taken"
    stock_bath.take(vet, second)
    assert stock_log.left(lot) == 96
    other = bathed(vet, pond, "fish 3", level=100.0)
    into(vet, other)
    assert stock_log.left(lot) == Decimal("93.5"), "another level is another bath"


def test_a_bath_made_stronger_takes_the_rest_and_a_weaker_one_brings_nothing(
    vet: Act, pond: str
) -> None:
    lot = stocked(vet)
    fish = bathed(vet, pond)
    into(vet, fish)
    in_hand.set_bath(vet, fish, agent_mg_l=100.0)
    assert stock_log.left(lot) == Decimal("97.5")
    in_hand.set_bath(vet, fish, agent_mg_l=60.0)
    assert stock_log.left(lot) == Decimal("97.5")


def test_a_mark_taken_back_brings_nothing_back_and_is_not_taken_twice(vet: Act, pond: str) -> None:
    lot = stocked(vet)
    fish = bathed(vet, pond)
    into(vet, fish)
    in_hand_clock.take_back(vet, fish, "pressed too early")
    into(vet, fish)
    assert [line.kind for line in stock_log.lines(lot)] == ["received", "given here"]


def test_a_bath_that_was_not_used_goes_back_with_the_reason(vet: Act, pond: str) -> None:
    lot = stocked(vet)
    fish = bathed(vet, pond)
    into(vet, fish)
    in_hand_clock.take_back(vet, fish, "the owner changed her mind")
    with pytest.raises(Refusal, match="fish 1: taken: 2") as told:
        in_hand.strike_fish(vet, fish, "not this one")
    assert "not used" in told.value.todo
    with pytest.raises(BadInput, match="needs a reason"):
        stock_bath.unused(vet, fish, " ")
    stock_bath.unused(vet, fish, "no bath was made")
    line = stock_log.lines(lot)[-1]
    assert (line.kind, line.amount, line.balance, line.handling) == ("returned", 2, 100, fish)
    with pytest.raises(Refusal, match="Nothing of this bath"):
        stock_bath.unused(vet, fish, "again")
    in_hand.strike_fish(vet, fish, "not this one")


def test_an_overdose_is_a_bath_of_its_own(vet: Act, pond: str) -> None:
    lot = stocked(vet)
    fish = bathed(vet, pond)
    into(vet, fish)
    in_hand_baths.first_step(vet, fish, First("Clara Test", TRICAINE, 400.0, 25.0))
    # 2 g to sleep, then 10 g.
    assert stock_log.left(lot) == 88
    only = take(vet, pond, "fish 2")
    in_hand_baths.first_step(vet, only, First("Clara Test", TRICAINE, 400.0, 25.0))
    assert stock_log.left(lot) == 78
    assert in_hand.one(only).anaesthesia.at(FIRST) is not None


def test_a_weaker_bath_that_keeps_it_asleep_is_taken_too(vet: Act, pond: str) -> None:
    lot = stocked(vet)
    fish = bathed(vet, pond)
    into(vet, fish)
    in_hand_baths.maintain(vet, fish, 40.0, 25.0)
    assert stock_log.left(lot) == 97


def test_food_fish_have_the_lot_on_what_was_given(practice: Small, vet: Act) -> None:
    lot = stocked(vet)
    system = setup.add_system(
        vet, practice.site, "raceway", "trout_flowing", flow="flowing", food_fish=True
    )
    setup.add_group(vet, system, "rainbow_trout", "raceway 2", count=3200)
    visit = visits.book(vet, system, DAY, "07:00", practice.vet, "deaths")
    into(vet, bathed(vet, visit))
    [row] = read.find(Treatment)
    [line] = read.find(StockLine, treatment=row.id)
    assert (row.lot, row.expires, line.lot) == ("T-1", DAY + timedelta(90), lot)
    fish = str(line.handling)
    treatments.strike_treatment(vet, row.id, "no bath was made", unused=True)
    assert stock_log.left(lot) == 100
    with pytest.raises(Refusal, match="Nothing of this bath"):
        stock_bath.unused(vet, fish, "twice")


def test_two_products_with_the_agent_wait_until_one_is_said(vet: Act, pond: str) -> None:
    powder, liquid = stocked(vet), stocked(vet, STOCK, "1000")
    fish = bathed(vet, pond)
    into(vet, fish)
    assert words(fish) == "not taken: tricaine stock and tricaine, ours hold it: say which."
    [line] = [x for x in end_of_day(DAY).lines if x.key.startswith("bath:")]
    assert (line.kind, line.visit) == ("waiting", pond)
    assert line.what.startswith("In hand waits: bath of fish 1, not taken")
    stock_bath.take(vet, fish, liquid)
    assert (stock_log.left(powder), stock_log.left(liquid)) == (100, 800)
    assert not [x for x in end_of_day(DAY).lines if x.key.startswith("bath:")]


def test_the_clock_never_waits_for_the_log(vet: Act, pond: str) -> None:
    lot = stocked(vet, much="1.5")
    fish = bathed(vet, pond)
    into(vet, fish)
    assert in_hand.one(fish).anaesthesia.phase == "bath"
    assert words(fish) == "not taken: 2.00 g of tricaine, ours, and the log says 1.50 are left"
    other = stocked(vet, much="10", number="T-2")
    stock_bath.take(vet, fish, other, Decimal("0.5"), "T-1 was empty then")
    in_hand.set_value(vet, fish, note="slow")
    assert (stock_log.left(lot), stock_log.left(other)) == (0, Decimal("9.5"))


def test_the_oldest_lot_and_then_the_next(vet: Act, pond: str) -> None:
    first, second = stocked(vet, much="1.5"), stocked(vet, much="10", number="T-2")
    into(vet, bathed(vet, pond))
    assert (stock_log.left(first), stock_log.left(second)) == (0, Decimal("9.5"))
    assert read.one(Lot, first).number == "T-1"


def test_without_a_product_of_the_practice_nothing_is_asked(vet: Act, pond: str) -> None:
    fish = bathed(vet, pond)
    into(vet, fish)
    assert (words(fish), read.find(StockLine)) == ("", ())
    stocked(Act(vet.by, MOMENT + timedelta(hours=1)))
    assert not [x for x in end_of_day(DAY).lines if x.key.startswith("bath:")], "came in later"


def alfaxalone(vet: Act, visit: str) -> str:
    fish = take(vet, visit, "fish 1")
    in_hand.set_bath(vet, fish, agent="alfaxalone")
    in_hand.set_bath(vet, fish, agent_mg_l=10.0)
    in_hand.set_bath(vet, fish, bath_l=5.0)
    return fish


def test_a_controlled_bath_is_in_the_log_and_comes_back_before_a_witness(
    vet: Act, pond: str
) -> None:
    lot = stocked(vet, ALFAXALONE, "10", "A-1")
    fish = alfaxalone(vet, pond)
    into(vet, fish)
    # 50 mg of 10 mg/mL.
    assert stock_log.left(lot) == 5
    with pytest.raises(Refusal, match=r"given here 5\.00"):
        drug_log.close_day(vet, DAY)
    with pytest.raises(BadInput, match="needs a witness"):
        stock_bath.unused(vet, fish, "poured back")
    stock_bath.unused(vet, fish, "the syringe was not emptied", WITNESS)
    assert stock_log.left(lot) == 10


def test_a_controlled_bath_that_is_not_in_the_log_keeps_the_day_open(vet: Act, pond: str) -> None:
    lot = stocked(vet, ALFAXALONE, "4", "A-1")
    into(vet, alfaxalone(vet, pond))
    assert stock_log.left(lot) == 4
    with pytest.raises(Refusal, match=r"bath of fish 1, not taken: 5.00 mL of alfaxalone"):
        drug_log.close_day(vet, DAY)


def test_only_what_holds_the_agent_is_taken(vet: Act, pond: str) -> None:
    stocked(vet)
    other = stocked(vet, ALFAXALONE, "10", "A-1")
    fish = bathed(vet, pond)
    with pytest.raises(Refusal, match="in no bath of this fish"):
        stock_bath.take(vet, fish, other)
    bare = take(vet, pond, "fish 2")
    with pytest.raises(Refusal):
        stock_bath.take(vet, bare)
