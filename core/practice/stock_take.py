"""What a treatment takes from the shelf, when, and what comes back of it when it is struck.

What is *given here* leaves the shelf when it is recorded, since that is when it is given. What is
*dispensed* leaves it at the hand-over, so that the date of the line is the day it left; the lot is
named before, since the label says it. *Prescribed* and *advised* take nothing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING, Protocol

from core.dosing.kinds import ActiveMass, ProductVolume
from core.dosing.quantity import Quantity
from core.errors import BadInput, Refusal
from core.practice import own_rows, stock_log
from core.practice.keep import Act, Shown
from core.practice.own_products import exact, in_stock_unit
from core.practice.shelf import holding
from core.practice.stock_log import shown
from core.records import read
from core.records.engine import query
from core.records.journal import OpenEdit
from core.records.tables import Lot, Product, StockLine, Treatment

if TYPE_CHECKING:
    from core.dosing.medicines import Medicine
    from core.practice.giving import Worked
    from core.practice.giving_context import Wanted
    from core.practice.order import Order, Prepared

ELSEWHERE = "elsewhere"
"""Said instead of a lot: it is not from the practice's shelf, with the reason."""
TO_HAND_OVER = "to hand over"
"""Name of the figure that holds what leaves the shelf at the hand-over."""
_PROMISED = """
SELECT f."value" FROM "treatment" t JOIN "figure" f ON f."subject" = t."id" AND f."name" = ?
WHERE t."act" = 'dispensed' AND t."product" = ? AND t."lot" = ? AND t."struck" IS NULL
  AND f."struck" IS NULL AND NOT EXISTS (
    SELECT 1 FROM "stock_line" s WHERE s."visit" = t."visit" AND s."treatment" = t."id")
"""


class Said(Protocol):
    """An order, as far as it says what is done and from where it is taken."""

    @property
    def act(self) -> str:
        """One of the four acts."""

    @property
    def from_lot(self) -> str:
        """Id of a lot, "" or `ELSEWHERE`."""

    @property
    def lot_why(self) -> str:
        """Why from there."""


@dataclass(frozen=True)
class Take:
    """What is taken from a lot, and why another lot than the oldest."""

    product: Product
    lot: Lot
    amount: Decimal
    why: str
    by: str
    """Key of the formula that the amount follows from."""

    @property
    def words(self) -> str:
        """How much of which lot."""
        much = f"{shown(self.amount)} {self.product.pack_unit}"
        return f"{much} of {self.product.name}, lot {self.lot.number}"


def with_product(order: Order) -> Order:
    """Return an order by active substance as one of the product whose lot was said."""
    ask, lot = order.ask, order.from_lot
    if lot in ("", ELSEWHERE) or ask.product or ask.strength:
        return order
    return replace(order, ask=replace(ask, product=read.one(Lot, lot).product))


def of_order(act: Act, order: Order, ready: Prepared) -> Take | None:
    """Return what an order takes from the shelf: the whole course when it is dispensed.

    Returns
    -------
    Take or None
        None when nothing leaves the shelf, or the product is not one of the practice's own.

    Raises
    ------
    Refusal
        As `stock_log.chosen` does; when a product of the shelf holds the substance and nobody
        said whether it is taken from there; for a controlled drug that is not in the log.
    """
    dosed = ready.dosed
    if dosed is None or not _takes(order.act, order.from_lot):
        return None
    now = (dosed.parts[0] if dosed.parts else dosed.amount).scaled(ready.fish)
    whole = ready.total or dosed.amount
    amount = (whole if order.act == "dispensed" else now).scaled(1 / dosed.thinned)
    if (elsewhere := order.from_lot == ELSEWHERE) or ready.ask.product not in _products():
        said = elsewhere or bool(ready.ask.product or ready.ask.strength)
        _not_ours(act, ready.row, said=said, why=order.lot_why if elsewhere else None)
        return None
    how = dosed.formula[0].formula.key
    found = _take(act, ready.ask.product, amount, order.from_lot, order.lot_why, how)
    if found is not None and order.act == "dispensed":
        _enough(found)
    return found


def of_injection(act: Act, wanted: Wanted, found: Worked, fish: int) -> Take | None:
    """Return what is taken for a fish in hand, or for each of several; see `of_order`."""
    assert found.amount_ml is not None
    if wanted.product not in _products():
        _not_ours(act, found.medicine, said=True)
        return None
    parts = found.dilution.factor if found.dilution is not None and wanted.diluted else 1
    amount = ProductVolume(found.amount_ml * fish / parts, "mL")
    how = "core.dosing.arithmetic.draw_up_volume"
    return _take(act, wanted.product, amount, wanted.from_lot, wanted.lot_why, how)


def of_grams(
    act: Act, order: Said, medicine: Medicine, grams: ActiveMass, parts: int, how: str
) -> Take | None:
    """Return what a correction of the water takes: all parts when it is dispensed, else one.

    Raises
    ------
    Refusal
        As `of_order` does; for a lot of something else.
    """
    if not _takes(order.act, order.from_lot):
        return None
    if order.from_lot in ("", ELSEWHERE):
        _products()
        elsewhere = order.from_lot == ELSEWHERE
        _not_ours(act, medicine, said=elsewhere, why=order.lot_why if elsewhere else None)
        return None
    product = read.one(Product, read.one(Lot, order.from_lot).product)
    if not any(p.product.id == product.id for p in holding(medicine.name, stock_log.day_of(act))):
        _products()
        raise Refusal(f"{product.name} does not hold {medicine.name}.", "Choose another lot.")
    now = grams if order.act == "dispensed" else grams.scaled(1 / parts)
    found = _take(act, product.id, now, order.from_lot, order.lot_why, how)
    if found is not None and order.act == "dispensed":
        _enough(found)
    return found


def _products() -> frozenset[str]:
    return frozenset(own_rows.read_again().products)


def _takes(done: str, from_lot: str) -> bool:
    if done in stock_log.TAKEN:
        return True
    if from_lot:
        raise BadInput(f"What is {done} takes nothing from the shelf.", "Leave out the lot.")
    return False


def _not_ours(act: Act, medicine: Medicine, *, said: bool, why: str | None = None) -> None:
    """Refuse what may be from the shelf without saying so, and a controlled drug past its log."""
    holders = holding(medicine.name, stock_log.day_of(act))
    logged = (p for p in own_rows.held().products.values() if p.controlled)
    if medicine.controlled and any(p.medicine == medicine.key for p in logged):
        raise Refusal(
            f"{medicine.name} is a controlled drug, and its log is kept on the shelf.",
            "Choose the product of the shelf, and its lot.",
        )
    if holders and not said:
        names = " and ".join(p.product.name for p in holders)
        raise Refusal(
            f"{names} on the shelf holds {medicine.name}.",
            "Choose the lot it is taken from, or say that it is from elsewhere, and why.",
        )
    if why is not None and not why.strip():
        raise BadInput("What is not from the shelf needs a reason.", "Say where it is from.")


def _take(
    act: Act, product: str, amount: Quantity, from_lot: str, why: str, how: str
) -> Take | None:
    row, day = own_rows.held().products[product], stock_log.day_of(act)
    lot = stock_log.chosen(product, from_lot, day, why)
    if lot is None:
        _must_not_be_controlled(row)
        return None
    oldest = stock_log.oldest(product, day)
    another = oldest is not None and oldest.id != lot.id
    return Take(row, lot, in_stock_unit(row, amount), why.strip() if another else "", how)


def _must_not_be_controlled(row: Product) -> None:
    if row.controlled:
        raise Refusal(
            f"{row.name} is a controlled drug, and no lot of it that can be used is on the shelf.",
            "Receive the lot first.",
        )


def promised(lot: Lot) -> Decimal:
    """Return what is dispensed from a lot and was not handed over yet."""
    found = query(_PROMISED, (TO_HAND_OVER, lot.product, lot.number))
    return sum((exact(value) for (value,) in found), Decimal(0))


def _enough(take: Take) -> None:
    left, others = stock_log.left(take.lot.id), promised(take.lot)
    if take.amount > left - others:
        unit = take.product.pack_unit
        waits = f", and {shown(others)} {unit} of it wait to be handed over" if others else ""
        raise Refusal(
            f"{shown(take.amount)} {unit} is more than the {shown(left)} {unit} that the log says "
            f"is left of lot {take.lot.number}{waits}.",
            "Take another lot, or count what is there and put the log right.",
        )


def named(row: Treatment, take: Take | None, order: Said | None = None) -> Treatment:
    """Return a treatment with the lot and the expiry of what is taken, and why that one."""
    if take is not None:
        row = replace(row, lot=take.lot.number, expires=take.lot.expires)
        why = f"lot {take.lot.number}, not the oldest: {take.why}" if take.why else ""
    else:
        elsewhere = order is not None and order.from_lot == ELSEWHERE
        why = f"not from the shelf: {order.lot_why.strip()}" if order and elsewhere else ""
    return replace(row, override="; ".join(filter(None, (row.override, why)))) if why else row


def write(doing: OpenEdit, act: Act, take: Take | None, row: Treatment) -> dict[str, Shown]:
    """Write what is given here into the log, within the edit of the treatment.

    Returns
    -------
    dict
        The figure to keep of what leaves the shelf only at the hand-over.
    """
    if take is None:
        return {}
    if row.act == "dispensed":
        amount, unit = float(take.amount), take.product.pack_unit
        return {TO_HAND_OVER: Shown(amount, unit, f"{take.words}.", take.by)}
    line(doing, act, take.lot, row, take.amount, take.why)
    return {}


def line(
    doing: OpenEdit, act: Act, lot: Lot, row: Treatment, amount: Decimal, why: str = ""
) -> None:
    """Write that a treatment took from a lot, within an edit."""
    stock_log.write(
        doing,
        act,
        lot,
        row.act,
        amount,
        why=why,
        treatment=row.id,
        visit=row.visit,
    )


def standing(row: Treatment) -> dict[str, Decimal]:
    """Return what was taken for a treatment and did not come back, by lot."""
    mine = (x for x in read.find(StockLine, visit=row.visit) if x.treatment == row.id)
    return net(mine)


def words(taken: dict[str, Decimal]) -> str:
    """Return how much is gone of which lot."""
    said = []
    for key, amount in taken.items():
        lot = read.one(Lot, key)
        product = read.one(Product, lot.product)
        said.append(f"{shown(amount)} {product.pack_unit} of {product.name}, lot {lot.number}")
    return " and ".join(said)


def net(lines: Iterator[StockLine]) -> dict[str, Decimal]:
    """Return what lines took and did not bring back, by lot; above nothing."""
    found: dict[str, Decimal] = {}
    for line in lines:
        found[line.lot] = found.get(line.lot, Decimal(0)) - line.amount
    return {lot: amount for lot, amount in found.items() if amount > 0}
