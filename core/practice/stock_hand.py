"""What leaves the shelf at the hand-over: the lot that the label names, once, that day."""

from __future__ import annotations

from decimal import Decimal

from core.errors import Refusal
from core.practice import stock_log, stock_take
from core.practice.keep import Act
from core.practice.own_products import exact
from core.records import read
from core.records.journal import OpenEdit
from core.records.tables import Figure, Lot, StockLine, Treatment


def hand_over(doing: OpenEdit, act: Act, visit_id: str) -> None:
    """Write what leaves the shelf when the medicines of a visit are handed over.

    What was handed over before is not taken twice.

    Raises
    ------
    Refusal
        When the lot that the label names is no more on the shelf, has expired, or holds less.
    """
    gone = {line.treatment for line in read.find(StockLine, visit=visit_id)}
    for row in read.find(Treatment, visit=visit_id, act="dispensed"):
        figure = read.first(Figure, visit=visit_id, subject=row.id, name=stock_take.TO_HAND_OVER)
        if figure is None or row.id in gone:
            continue
        amount = exact(figure.value)
        lot = _labelled(act, row, amount)
        first = stock_log.oldest(lot.product, stock_log.day_of(act))
        other = first is not None and first.number != lot.number
        stock_take.line(doing, act, lot, row, amount, "the lot on its label" if other else "")


def _labelled(act: Act, row: Treatment, amount: Decimal) -> Lot:
    """Return the lot that a label names; of several places the one that holds enough."""
    found = read.find(Lot, product=row.product, number=row.lot)
    day = stock_log.day_of(act)
    good = [lot for lot in found if lot.expires is None or lot.expires >= day]
    if not good:
        raise Refusal(
            f"Lot {row.lot} of the label has expired or is not on the shelf.",
            "Strike the order, and order it from another lot.",
        )
    return next((lot for lot in good if stock_log.left(lot.id) >= amount), good[0])
