"""What an order, an injection or a correction of the water takes from the shelf."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from core.dates import said
from core.dosing.kinds import ActiveMass, ProductVolume
from core.dosing.medicines import Medicine
from core.errors import BadInput, Refusal
from core.practice import course_words, own_rows, stock_log
from core.practice.giving import Worked
from core.practice.giving_context import Wanted
from core.practice.keep import Act
from core.practice.order import Order, Prepared
from core.practice.shelf import holding
from core.practice.stock_take import ELSEWHERE, Said, Take, enough, take
from core.records import read
from core.records.tables import Lot, Product


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
    last = last_day(order.act, ready.days)
    found = take(act, ready.ask.product, amount, order.from_lot, order.lot_why, how, last)
    if found is not None and order.act == "dispensed":
        enough(found)
    return found


def last_day(done: str, days: Sequence[date]) -> date:
    """Return the last day on which what leaves the shelf is used.

    What is given here is one dose, the first; what is dispensed is the whole course.
    """
    return days[-1] if done == "dispensed" else days[0]


def too_short(order: Order, days: Sequence[date], today: date) -> str:
    """Return that the lot of an order expires before its course ends; "" when it does not."""
    if order.act not in stock_log.TAKEN:
        return ""
    last, (number, expires) = last_day(order.act, days), (order.lot, order.expires)
    if order.from_lot not in ("", ELSEWHERE):
        lot: Lot | None = read.one(Lot, order.from_lot)
    else:
        ours = "" if order.from_lot else order.ask.product
        lot = stock_log.oldest(ours, today, last) if ours else None
    if lot is not None:
        number, expires = lot.number, lot.expires
    return _short_words(number, expires, last, today)


def parts_too_short(wanted: Said, parts: int, day: date) -> str:
    """Return that a lot expires before the last daily part of a correction; else ""."""
    if wanted.act not in stock_log.TAKEN or wanted.from_lot in ("", ELSEWHERE):
        return ""
    days = course_words.part_days(day, parts)
    lot = read.one(Lot, wanted.from_lot)
    return _short_words(lot.number, lot.expires, last_day(wanted.act, days), day)


def _short_words(number: str, expires: date | None, last: date, today: date) -> str:
    if expires is None or expires >= last:
        return ""
    return (
        f"Lot {number or 'used'} is good to {said(expires, today)}, and it is used until "
        f"{said(last, today)}."
    )


def of_injection(act: Act, wanted: Wanted, found: Worked, fish: int) -> Take | None:
    """Return what is taken for a fish in hand, or for each of several; see `of_order`."""
    assert found.amount_ml is not None
    if wanted.product not in _products():
        _not_ours(act, found.medicine, said=True)
        return None
    parts = found.dilution.factor if found.dilution is not None and wanted.diluted else 1
    amount = ProductVolume(found.amount_ml * fish / parts, "mL")
    how = "core.dosing.arithmetic.draw_up_volume"
    return take(act, wanted.product, amount, wanted.from_lot, wanted.lot_why, how)


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
    found = take(act, product.id, now, order.from_lot, order.lot_why, how)
    if found is not None and order.act == "dispensed":
        enough(found)
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
