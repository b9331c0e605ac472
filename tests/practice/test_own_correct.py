"""A product corrected while nothing was given from it, and struck while none came in."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from core.errors import BadInput, Refusal
from core.practice import own_correct, own_rows, shelf, stock_log
from core.practice.keep import Act
from core.practice.own_correct import correct_product, strike_product
from core.practice.shelf import NewProduct, Received
from core.records import read
from core.records.journal import edit
from core.records.tables import Lot, Product
from tests.conftest import MOMENT
from tests.small import Small

NEW = NewProduct("butorphanol", "ours 10", 10.0, "mg/mL", 50.0, "mL", controlled=True)


@pytest.fixture
def vet(practice: Small) -> Act:
    return Act(practice.vet, MOMENT)


def test_all_of_a_product_is_corrected_while_nothing_was_given(vet: Act) -> None:
    key = shelf.add_product(vet, NEW)
    shelf.receive(vet, key, Received("B-1", Decimal("50.00")))
    correct_product(vet, key, replace(NEW, strength=1.0, density_g_ml=1.02, pack=20.0))
    row = read.one(Product, key)
    assert (row.strength, row.density_g_ml, row.pack) == (1.0, 1.02, 20.0)
    assert own_rows.held().products[key].strength == 1.0


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"strength": 101.0, "strength_unit": "% w/w"}, "more than can be"),
        ({"strength": 0.0}, "above zero"),
        ({"density_g_ml": 30.0}, "more than can be"),
        ({"pack": 0.0}, "more than nothing"),
        ({"price": "nothing of the list"}, "not a code of the price list"),
        ({"controlled": False}, "controlled drug"),
        ({"name": " "}, "needs a name"),
    ],
)
def test_what_can_not_be_is_refused(vet: Act, wrong: dict[str, Any], said: str) -> None:
    key = shelf.add_product(vet, NEW)
    with pytest.raises(BadInput, match=said):
        correct_product(vet, key, replace(NEW, **wrong))
    assert read.one(Product, key).strength == 10.0


def test_after_something_was_given_its_figures_stay(practice: Small, vet: Act) -> None:
    key = shelf.add_product(vet, NEW)
    lot = shelf.receive(vet, key, Received("B-1", Decimal("50.00")))
    assert not own_correct.used(key)
    with edit("given", who=vet.by, at=vet.at) as doing:
        stock_log.write(doing, vet, read.one(Lot, lot), "given here", Decimal("0.20"))
    assert own_correct.used(key)
    wrong: dict[str, Any]
    for wrong in ({"strength": 1.0}, {"strength_unit": "% w/v"}, {"density_g_ml": 1.1}):
        with pytest.raises(Refusal, match="Something was given from ours 10"):
            correct_product(vet, key, replace(NEW, **wrong))
    correct_product(vet, key, replace(NEW, name="ours ten"))
    assert read.one(Product, key).name == "ours ten"


def test_it_is_struck_only_while_none_came_in(vet: Act) -> None:
    key = shelf.add_product(vet, NEW)
    with pytest.raises(BadInput, match="with a reason"):
        strike_product(vet, key, "")
    strike_product(vet, key, "written twice")
    assert shelf.products() == ()
    again = shelf.add_product(vet, NEW)
    shelf.receive(vet, again, Received("B-1", Decimal("50.00")))
    with pytest.raises(Refusal, match="its log stays"):
        strike_product(vet, again, "wrong")
