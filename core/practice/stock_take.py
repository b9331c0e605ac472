"""What a treatment takes from the shelf, when, and what comes back of it when it is struck.

What is *given here* leaves the shelf when it is recorded, since that is when it is given. What is
*dispensed* leaves it at the hand-over, so that the date of the line is the day it left; the lot is
named before, since the label says it. *Prescribed* and *advised* take nothing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Protocol

from core.dosing.quantity import Quantity
from core.errors import Refusal
from core.practice import own_rows, stock_log
from core.practice.keep import Act, Shown
from core.practice.own_products import exact, in_stock_unit
from core.practice.stock_log import shown
from core.records import read
from core.records.engine import query
from core.records.journal import OpenEdit
from core.records.tables import Lot, Product, StockLine, Treatment

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


def take(
    act: Act,
    product: str,
    amount: Quantity,
    from_lot: str,
    why: str,
    how: str,
    last: date | None = None,
) -> Take | None:
    """Return what is taken from a lot of a product: the oldest that can be used, unless another.

    Parameters
    ----------
    last : date, optional
        Last day on which it is used: the oldest lot that is still good then comes first.

    Returns
    -------
    Take or None
        None when no lot of it is on the shelf.

    Raises
    ------
    Refusal
        As `stock_log.chosen` does; for a controlled drug of which no lot was received.
    """
    row, day = own_rows.held().products[product], stock_log.day_of(act)
    lot = stock_log.chosen(product, from_lot, day, why, last)
    if lot is None:
        _must_not_be_controlled(row)
        return None
    oldest = stock_log.oldest(product, day, last)
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


def enough(take: Take) -> None:
    """Refuse to promise more of a lot than is left of it and not promised yet.

    Raises
    ------
    Refusal
        With what is left, and what waits to be handed over.
    """
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
