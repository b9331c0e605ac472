"""What the baths of a fish in hand took from the shelf, in words, and what of it stands open."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from core.dosing.quantity import Quantity
from core.errors import Refusal
from core.practice import own_rows, stock_bath, stock_log, stock_take
from core.practice.in_hand_agents import agents
from core.practice.in_hand_marks import FIRST, MAINTAIN
from core.practice.own_products import in_stock_unit
from core.practice.shelf import holding
from core.practice.stock_log import shown
from core.records import read
from core.records.engine import query
from core.records.fields import DayField
from core.records.tables import Handling, Lot, Product, Visit

BACK = timedelta(days=31)
"""So far back baths are looked for that were not taken from the shelf."""
_OPEN = """
SELECT h."id", v."id", v."day", c."name" FROM "visit" v
JOIN "handling" h ON h."visit" = v."id" JOIN "client" c ON c."id" = v."client"
WHERE v."day" > ? AND v."day" <= ? AND v."struck" IS NULL AND h."struck" IS NULL
  AND EXISTS (SELECT 1 FROM "depth_mark" m WHERE m."handling" = h."id" AND m."struck" IS NULL
              AND (m."event" IN (?, ?) OR NOT EXISTS (
                SELECT 1 FROM "stock_line" s
                WHERE s."visit" = h."visit" AND s."handling" = h."id")))
ORDER BY v."day", h."id"
"""


@dataclass(frozen=True)
class BathStock:
    """What the baths of a fish have to do with the shelf.

    Attributes
    ----------
    words : str
        What was taken, and what was not; "" when no product of the shelf holds the agent.
    open : bool
        Whether somebody has to say from which lot it was taken.
    taken : bool
        Whether anything of it is gone from the shelf.
    lots : tuple of (str, str)
        Id and words of each lot it may be taken from.
    """

    words: str = ""
    open: bool = False
    taken: bool = False
    controlled: bool = False
    lots: tuple[tuple[str, str], ...] = ()


def kept() -> bool:
    """Return whether the practice has an agent of baths on its shelf, as last read."""
    return any(True for agent in agents() for _ in stock_bath.products_with(agent))


def of(row: Handling) -> BathStock:
    """Return what the baths of a fish have to do with the shelf, as its screen shows it."""
    day = read.one(Visit, row.visit).day
    due, written = stock_bath.due(row), stock_bath.lines(row)
    named = dict.fromkeys(filter(None, (row.agent, *due)))
    held = [p for agent in named for p in stock_bath.products_with(agent)]
    if not held and not written:
        return BathStock()
    net = stock_take.net(iter(written))
    each = (_waits(row, agent, amount, day) for agent, amount in due.items())
    waits = list(filter(None, each))
    said = [f"taken: {stock_take.words(net)}"] if net else []
    said += ["what was taken was brought back unused"] if written and not net else []
    said += [f"not taken: {x}" for x in waits]
    controlled = any(p.controlled for p in held) or any(map(_controlled, net))
    words = "; ".join(said) or _to_come(row, day)
    return BathStock(words, bool(waits), bool(net), controlled, _lots(tuple(named), day))


def _controlled(lot: str) -> bool:
    return read.one(Product, read.one(Lot, lot).product).controlled


def _lots(named: tuple[str, ...], day: date) -> tuple[tuple[str, str], ...]:
    products = (p for agent in named for p in holding(agent, day))
    return tuple(
        (x.lot.id, f"{p.product.name}: {x.words(day)}") for p in products for x in p.usable(day)
    )


def _waits(row: Handling, agent: str, wanted: Quantity, day: date) -> str:
    """Return what of an agent is on no line of the log, and why; "" when all is."""
    if not any(stock_bath.products_with(agent)):
        return ""
    try:
        product, more = stock_bath.lacking(row, agent, wanted, day)
    except Refusal as error:
        return error.sentence
    if more <= 0:
        return ""
    left = own_rows.held().left
    there = sum(
        (left.get(x.id, Decimal(0)) for x in own_rows.held().lots_of(product.id)), Decimal(0)
    )
    words = f"{shown(more)} {product.pack_unit} of {product.name}"
    return words if there >= more else f"{words}, and the log says {shown(there)} are left"


def _to_come(row: Handling, day: date) -> str:
    """Return what the first bath is going to take, or that another fish had it."""
    if (wanted := stock_bath.need(row)) is None:
        return ""
    if (first := stock_bath.shares(row)) is not None:
        return f"the bath of {first.label}: nothing more is taken"
    try:
        product = stock_bath.source(row, row.agent, day)
        much = in_stock_unit(product, wanted)
    except Refusal as error:
        return error.sentence
    return f"{shown(much)} {product.pack_unit} of {product.name}, taken when the clock starts"


@dataclass(frozen=True)
class OpenBath:
    """A bath that was given and is on no line of the log."""

    handling: str
    visit: str
    day: date
    client: str
    words: str
    controlled: bool


def still_open(day: date) -> tuple[OpenBath, ...]:
    """Return the baths, of a month up to a day, that nobody has taken from the shelf."""
    if not query('SELECT 1 FROM "product" WHERE "struck" IS NULL LIMIT 1'):
        return ()
    own_rows.read_again()
    if not kept():
        return ()
    days = [DayField().db_value(d) for d in (day - BACK, day)]
    found = []
    for key, visit, on, client in query(_OPEN, (*days, MAINTAIN, FIRST)):
        row = read.one(Handling, key)
        seen = of(row)
        if seen.open and _since(row):
            words = f"In hand waits: bath of {row.label}, {seen.words}"
            about = (key, visit, date.fromisoformat(on), client)
            found.append(OpenBath(*about, words, seen.controlled))
    return tuple(found)


def _since(row: Handling) -> bool:
    """Return whether a lot of an agent was on the shelf when the fish was in hand."""
    named = (row.agent, *stock_bath.due(row))
    products = (p for agent in named for p in stock_bath.products_with(agent))
    lots = (lot for p in products for lot in own_rows.held().lots_of(p.id))
    first = (next(iter(stock_log.lines(lot.id)), None) for lot in lots)
    return any(line is not None and line.at <= row.at for line in first)
