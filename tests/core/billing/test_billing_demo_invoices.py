from __future__ import annotations

from decimal import Decimal

import pytest

from core.billing.charges import Done, Price, offers
from core.billing.invoice import TaxRules, totals
from core.catalogue.load import table

PRICES = tuple(Price.from_row(k, r) for k, r in table("prices")["price"].items())
RULES = TaxRules.from_row(table("prices")["tax"])

# Kind of thing done to how many, a visit of the invented day each, and its total.
DAY = {
    "A1": ({"visit": 1, "exam.check": 1, "water.panel": 1, "lengths": 1,
            "goods:water_test_kit": 1}, 30924),
    "A2": ({"visit": 1, "exam.new": 1, "water.panel": 1, "slide": 3}, 30900),
    "A3": ({"visit": 1, "exam.new": 1, "water.panel": 1, "sedation.fish": 1, "slide": 4,
            "lab.culture": 1, "dispensing": 1, "medicine:praziquantel-powder": 2,
            "goods:pond_salt": 1}, 44442),
    "A4": ({"visit": 1, "exam.new": 1, "water.panel": 1, "slide": 3, "euthanasia": 1,
            "lab.parcel": 1, "lab.pcr": 1}, 50200),
    "B1": ({"visit": 1, "exam.farm": 1, "water.panel": 2, "sedation.group": 1, "slide": 10}, 65000),
    "B2": ({"visit": 1, "exam.recheck": 1, "water.panel": 1, "slide": 2,
            "goods:bicarbonate": 1}, 23635),
    "B3": ({"visit": 1, "exam.new": 1, "exam.further": 1, "water.panel": 2, "slide": 3,
            "dispensing": 1, "medicine:copper-solution": 1}, 43200),
    "B4": ({"visit": 1, "exam.new": 1, "water.panel": 1, "slide": 5, "dispensing": 1,
            "medicine:levamisole-powder": 2}, 37900),
}  # fmt: skip


def gross(done: dict[str, int]) -> int:
    got = offers([Done(k, f"{k} {n}") for k, many in done.items() for n in range(many)], PRICES)
    assert got.unpriced == ()
    assert not any(line.manual for line in got.lines)
    return totals(got.lines, RULES).gross


@pytest.mark.parametrize("visit", DAY)
def test_each_invoice_comes_out_to_the_cent(visit: str) -> None:
    done, expected = DAY[visit]
    assert gross(done) == expected


def test_the_day_comes_to_3262_01() -> None:
    assert sum(gross(done) for done, _ in DAY.values()) == 326201


def test_the_same_record_is_charged_once() -> None:
    got = offers([Done("slide", "row 1"), Done("slide", "row 1"), Done("slide", "row 2")], PRICES)
    (line,) = got.lines
    assert (line.quantity, line.origins, line.amount) == (Decimal(2), ("row 1", "row 2"), 3600)


def test_what_has_no_price_is_said() -> None:
    got = offers([Done("moon.walk", "row 1")], PRICES)
    assert got.lines == ()
    assert got.unpriced == (Done("moon.walk", "row 1"),)


@pytest.mark.parametrize(("miles", "charged"), [("40", None), ("41.6", "1.6")])
def test_distance_is_charged_beyond_the_base(miles: str, charged: str | None) -> None:
    got = offers([Done("miles", "leg", Decimal(miles))], PRICES)
    assert [str(line.quantity) for line in got.lines] == ([charged] if charged else [])


def test_one_call_out_for_two_systems_at_one_place() -> None:
    got = offers([Done("visit", "one"), Done("visit", "two")], PRICES)
    assert [line.amount for line in got.lines] == [6000]


def test_every_medicine_with_a_price_is_a_product_of_the_shelf() -> None:
    """What is dispensed is offered under the key of its product: the price must name one."""
    asked = [price.when.partition(":")[2] for price in PRICES if price.when.startswith("medicine:")]
    assert len(asked) >= 3
    assert [key for key in asked if key not in table("products")] == []
