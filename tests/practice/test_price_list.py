"""The price list: what may be added and struck, what a medicine can have, and who may."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from core import clock
from core.errors import BadInput, Refusal
from core.practice import price_list, setup, shelf
from core.practice.keep import Act
from core.practice.roles import NotAllowed
from core.practice.shelf import NewProduct
from core.records import read
from core.records.tables import Price
from tests.practice.planted import taxes
from tests.small import Small, fill

TODAY = clock.today("Etc/UTC")


@pytest.fixture
def vet(records: Path) -> Act:
    made: Small = fill(Act("setup", clock.now()), TODAY)
    act = Act(made.vet, clock.now())
    taxes(act)
    return act


def test_a_price_is_for_what_was_said(vet: Act) -> None:
    codes = {
        use: price_list.add_price(vet, f"One {use}", use, Decimal("12.345"), "goods")
        for use in price_list.USES
    }
    rows = {p.code: p for p in read.find(Price)}
    assert {use: price_list.use(rows[code]) for use, code in codes.items()} == {
        use: use for use in price_list.USES
    }
    assert rows[codes["goods"]].unit_minor == 1235
    found = price_list.of_medicines(read.find(Price))
    assert {p.code for p in found} == {codes["medicine"], codes["goods"]}


def test_the_first_list_offers_no_service_for_a_medicine() -> None:
    first = setup.first_prices()
    found = {p.code for p in price_list.of_medicines(first)}
    assert found == {p.code for p in first if p.tax_class != "service"}
    assert "necropsy" not in found


@pytest.mark.parametrize(
    ("name", "use", "amount", "tax", "why"),
    [
        (" ", "goods", "1", "goods", "has a name"),
        ("one  THING", "goods", "1", "goods", "already"),
        ("Net", "rent", "1", "goods", "not for rent"),
        ("Net", "goods", "-1", "goods", "below zero"),
        ("Net", "goods", "1", "none", "no tax class"),
    ],
)
def test_what_can_not_be_is_refused(
    vet: Act, name: str, use: str, amount: str, tax: str, why: str
) -> None:
    price_list.add_price(vet, "One thing", "goods", Decimal(1), "goods")
    with pytest.raises(BadInput, match=why):
        price_list.add_price(vet, name, use, Decimal(amount), tax)
    assert len(read.find(Price)) == 1


def test_a_price_that_a_product_has_is_not_struck(vet: Act) -> None:
    code = price_list.add_price(vet, "Powder", "medicine", Decimal(40), "goods")
    [row] = read.find(Price)
    with pytest.raises(BadInput, match="with a reason"):
        price_list.strike_price(vet, row.id, " ")
    new = NewProduct("butorphanol", "ours", 10.0, "mg/mL", 50.0, "mL", None, code, True)
    shelf.add_product(vet, new)
    with pytest.raises(Refusal, match="ours on the shelf is sold at Powder"):
        price_list.strike_price(vet, row.id, "not sold")
    assert len(read.find(Price)) == 1


def test_only_a_veterinarian_adds_a_price(vet: Act) -> None:
    desk = Act(setup.add_person(vet, "Rae Desk", "reception"), clock.now())
    with pytest.raises(NotAllowed):
        price_list.add_price(desk, "Net", "goods", Decimal(1), "goods")
    assert read.find(Price) == ()
