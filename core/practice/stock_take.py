"""What a treatment takes from the shelf: which lot, how much, and the line of the log."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING

from core.dosing.kinds import ProductVolume
from core.dosing.quantity import Quantity
from core.errors import BadInput, Refusal
from core.practice import own_rows, stock_log
from core.practice.keep import Act
from core.practice.own_products import in_stock_unit
from core.records.journal import OpenEdit
from core.records.tables import Lot, Product, Treatment

if TYPE_CHECKING:
    from core.practice.giving import Worked
    from core.practice.giving_context import Wanted
    from core.practice.treatments import Order, Prepared


@dataclass(frozen=True)
class Take:
    """What is taken from a lot, and why another lot than the oldest."""

    lot: Lot
    amount: Decimal
    why: str


def of_order(act: Act, order: Order, ready: Prepared) -> Take | None:
    """Return what an order takes from the shelf: the whole course when it is dispensed.

    Returns
    -------
    Take or None
        None when nothing leaves the shelf, or the product is not one of the practice's own.

    Raises
    ------
    Refusal
        As `stock_log.chosen` does; for a controlled drug of which no lot is on the shelf.
    """
    dosed = ready.dosed
    if dosed is None:
        return None
    now = dosed.parts[0] if dosed.parts else dosed.amount
    whole = ready.total or dosed.amount
    amount = (whole if order.act == "dispensed" else now).scaled(1 / dosed.thinned)
    return _take(act, order.act, ready.ask.product, amount, order.from_lot, order.lot_why)


def of_injection(act: Act, wanted: Wanted, found: Worked, fish: int) -> Take | None:
    """Return what is taken for a fish in hand, or for each of several; see `of_order`."""
    assert found.amount_ml is not None
    parts = found.dilution.factor if found.dilution is not None and wanted.diluted else 1
    amount = ProductVolume(found.amount_ml * fish / parts, "mL")
    return _take(act, "given here", wanted.product, amount, wanted.from_lot, wanted.lot_why)


def _take(
    act: Act, done: str, product: str, amount: Quantity, from_lot: str, why: str
) -> Take | None:
    if done not in stock_log.TAKEN:
        if from_lot:
            raise BadInput(f"What is {done} takes nothing from the shelf.", "Leave out the lot.")
        return None
    row = own_rows.read_again().products.get(product)
    if row is None:
        return None
    lot = stock_log.chosen(product, from_lot, stock_log.day_of(act), why)
    if lot is None:
        _must_not_be_controlled(row)
        return None
    oldest = stock_log.oldest(product, stock_log.day_of(act))
    another = oldest is not None and oldest.id != lot.id
    try:
        taken = in_stock_unit(row, amount)
    except Refusal:
        if from_lot or row.controlled:
            raise
        # A dose of active substance says nothing about how much of a powder was weighed out.
        return None
    return Take(lot, taken, why.strip() if another else "")


def _must_not_be_controlled(row: Product) -> None:
    if row.controlled:
        raise Refusal(
            f"{row.name} is a controlled drug, and no lot of it that can be used is on the shelf.",
            "Receive the lot first.",
        )


def named(row: Treatment, take: Take | None) -> Treatment:
    """Return a treatment with the lot and the expiry of what was taken."""
    if take is None:
        return row
    return replace(row, lot=take.lot.number, expires=take.lot.expires)


def write(doing: OpenEdit, act: Act, take: Take | None, row: Treatment) -> None:
    """Write the line of the log within the edit of the treatment."""
    if take is not None:
        stock_log.write(
            doing,
            act,
            take.lot,
            row.act,
            take.amount,
            why=take.why,
            treatment=row.id,
            visit=row.visit,
        )
