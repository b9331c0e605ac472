"""What a course of a medicine costs: of the practice's own shelf by the pack, else each time."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from decimal import ROUND_CEILING, Decimal

from core.billing.charges import Done, offers
from core.billing.charges import Price as Fee
from core.catalogue import load
from core.errors import Refusal
from core.practice import letterhead, own_rows
from core.practice.doses import Dosed
from core.practice.order import Order
from core.practice.own_products import in_stock_unit
from core.records import read
from core.records.tables import Practice, Price, Product, StockLine, Treatment


def fees() -> list[Fee]:
    """Return the practice's prices over the catalogue's rules of what offers them.

    The price of a product of the practice's own shelf is that of one pack.
    """
    mine = {p.code: p for p in read.find(Price)}
    return [*_catalogue(mine), *_own(mine)]


def _catalogue(mine: dict[str, Price]) -> Iterator[Fee]:
    for code, row in load.table("prices")["price"].items():
        if code in mine:
            yield _fee(mine[code], row)


def _own(mine: dict[str, Price]) -> Iterator[Fee]:
    for key, product in own_rows.held().products.items():
        if product.price in mine:
            row = {"unit": "pack", "when": f"medicine:{key}", "source": ""}
            yield _fee(mine[product.price], row)


def _fee(price: Price, row: Mapping[str, object]) -> Fee:
    own = {"name": price.name, "minor": price.unit_minor, "tax_class": price.tax_class}
    return Fee.from_row(price.code, {**row, **own})


def done_of(row: Treatment) -> Done:
    """Return a dispensed treatment as it is charged: packs begun, or how often it is given."""
    product = own_rows.held().products.get(row.product)
    count = Decimal(row.repeats)
    if product is not None and not _by_bath(product):
        count = _packs(product, _taken(row, product))
    return Done(f"medicine:{row.product or row.medicine}", f"treatment:{row.id}", count)


def _by_bath(product: Product) -> bool:
    """Return whether a product of the own shelf has a price that is weighed for each bath."""
    row = load.table("prices")["price"].get(product.price)
    return row is not None and row["unit"] == "bath"


def _taken(row: Treatment, product: Product) -> Decimal | None:
    """Return what left the shelf, or what is needed where no lot was taken; None if unknown."""
    lines = read.find(StockLine, treatment=row.id)
    if lines:
        return -sum((line.amount for line in lines), Decimal(0))
    if row.amount_unit != product.pack_unit:
        return None
    return Decimal(repr(row.amount)) * row.repeats


def _packs(product: Product, amount: Decimal | None) -> Decimal:
    if amount is None:
        return Decimal(1)
    packs = amount / Decimal(repr(product.pack))
    return max(Decimal(1), packs.to_integral_value(ROUND_CEILING))


def said(row: Treatment) -> str:
    """Return what a dispensed course costs, in words; "" for others and without a price."""
    return _words(_amount(done_of(row))) if row.act == "dispensed" else ""


def said_of_order(order: Order, dosed: Dosed | None) -> str:
    """Return what an order costs where it is dispensed, in words; "" as `said`."""
    if order.act != "dispensed" or dosed is None:
        return ""
    count = Decimal(order.repeats)
    own = own_rows.held().products.get(order.ask.product)
    if own is not None and not _by_bath(own):
        try:
            one = dosed.amount.scaled(order.repeats / dosed.thinned)
            count = _packs(own, in_stock_unit(own, one))
        except Refusal:
            return ""
    of = order.ask.product or order.medicine
    return _words(_amount(Done(f"medicine:{of}", "order", count)))


def _words(amount_minor: int | None) -> str:
    if amount_minor is None:
        return ""
    money = letterhead.currency(read.find(Practice)[0])
    return f"The course costs {money.show(amount_minor)} before tax."


def _amount(done: Done) -> int | None:
    lines = offers([done], fees()).lines
    return lines[0].amount if lines else None
