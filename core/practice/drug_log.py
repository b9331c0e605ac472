"""The controlled-drug log: every line of a product's lots, what is left, and the end of its day.

A day is closed when everything taken that day was counted after it, and every count agrees
with the log or was put right by a line with a reason and a witness.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from typing import Any
from zoneinfo import ZoneInfo

from core import clock
from core.errors import Refusal
from core.practice import own_rows, stock_bath_view
from core.practice.door import edit
from core.practice.keep import Act
from core.practice.stock_log import shown
from core.records import read
from core.records.engine import query
from core.records.fields import UtcField
from core.records.keys import new_key
from core.records.tables import DayMark, Practice, Product

CLOSED = "drug log closed"
"""The line of a day's marks that says its log was closed."""
MOVED = ("given here", "dispensed", "waste", "returned")
"""Kinds of line after which a controlled drug is counted."""


@dataclass(frozen=True)
class LogLine:
    """A line of the log of a product.

    Attributes
    ----------
    left : Decimal
        What is left of the product, in all its lots, after this line.
    found : Decimal or None
        What was counted of the lot, for a count.
    lot_left : Decimal
        What is left of the lot after this line.
    """

    at: datetime
    kind: str
    lot: str
    amount: Decimal
    left: Decimal
    lot_left: Decimal
    found: Decimal | None
    by: str
    witness: str
    why: str
    client: str

    @property
    def differs(self) -> Decimal:
        """By how much a count differs from the log; 0 for every other line."""
        return Decimal(0) if self.found is None else self.found - self.lot_left


@dataclass(frozen=True)
class Log:
    """The log of a product, the oldest line first."""

    product: Product
    lines: tuple[LogLine, ...]

    @property
    def left(self) -> Decimal:
        """What is left of the product."""
        return self.lines[-1].left if self.lines else Decimal(0)


_LINES = """
SELECT s."at", s."kind", l."number", s."lot", s."amount", coalesce(p."name", s."by"),
       s."witness", s."why", coalesce(c."name", '')
FROM "stock_line" s JOIN "lot" l ON l."id" = s."lot"
LEFT JOIN "person" p ON p."id" = s."by" LEFT JOIN "visit" v ON v."id" = s."visit"
LEFT JOIN "client" c ON c."id" = v."client"
WHERE l."product" = ? ORDER BY s."id"
"""
_SINCE_COUNT = """
SELECT p."id", p."name", p."pack_unit", l."id", l."number", s."kind", s."amount", s."balance",
       s."at"
FROM "stock_line" s JOIN "lot" l ON l."id" = s."lot" JOIN "product" p ON p."id" = l."product"
WHERE p."controlled" = 1 AND s."at" < ? AND s."id" >= coalesce(
  (SELECT max(c."id") FROM "stock_line" c
   WHERE c."lot" = s."lot" AND c."kind" = 'count' AND c."at" < ?), '')
ORDER BY s."id"
"""
_LAST = """
SELECT max(s."at") FROM "stock_line" s JOIN "lot" l ON l."id" = s."lot"
JOIN "product" p ON p."id" = l."product" WHERE p."controlled" = 1 AND s."at" < ?
"""

_COUNTED = """
SELECT DISTINCT s."lot" FROM "stock_line" s JOIN "lot" l ON l."id" = s."lot"
JOIN "product" p ON p."id" = l."product"
WHERE p."controlled" = 1 AND s."kind" = 'count' AND s."at" >= ? AND s."at" < ?
"""


def log(product: str) -> Log:
    """Return the log of a product, each line with what is left after it."""
    row = read.one(Product, product)
    whole, lots, found = Decimal(0), dict[str, Decimal](), []
    for at, kind, number, lot, amount, by, witness, why, client in query(_LINES, (product,)):
        value = Decimal(amount)
        moved = Decimal(0) if kind == "count" else value
        whole += moved
        lots[lot] = lots.get(lot, Decimal(0)) + moved
        counted = value if kind == "count" else None
        moment = UtcField().python_value(at)
        assert moment is not None
        said = (by, witness, why, client)
        found.append(LogLine(moment, kind, number, moved, whole, lots[lot], counted, *said))
    return Log(row, tuple(found))


@dataclass(frozen=True)
class Open:
    """Why the log of a day can not be closed: a lot not counted, or a count that differs."""

    product: str
    name: str
    lot: str
    number: str
    day: date
    """Day of the line since which it is open."""
    words: str


def still_open(day: date) -> tuple[Open, ...]:
    """Return what stands in the way of closing the log of a day; none when all agrees."""
    zone = _zone()
    until = UtcField().db_value(_end(day, zone))
    by_lot: dict[str, list[tuple[Any, ...]]] = {}
    for row in query(_SINCE_COUNT, (until, until)):
        by_lot.setdefault(row[3], []).append(row)
    return tuple(found for rows in by_lot.values() for found in _of_lot(rows, zone))


def _of_lot(rows: list[tuple[Any, ...]], zone: str) -> Iterator[Open]:
    """Give what is open about a lot, from its last count on."""
    product, name, unit, lot, number, kind, amount, balance, at = rows[0]
    moved = [row for row in rows if row[5] in MOVED]
    about = (product, name, lot, number)
    if moved:
        taken = ", ".join(f"{row[5]} {shown(abs(Decimal(row[6])))}" for row in moved)
        words = f"{name}, lot {number}: {taken} {unit}, and not counted since"
        yield Open(*about, _day(moved[-1][8], zone), words)
    elif kind == "count" and Decimal(rows[-1][7]) != Decimal(amount):
        words = (
            f"{name}, lot {number}: {shown(Decimal(amount))} {unit} counted, the log says "
            f"{shown(Decimal(balance))}"
        )
        yield Open(*about, _day(at, zone), words)


def counted(day: date) -> frozenset[str]:
    """Return the ids of the lots in the drug log that were counted on a day."""
    zone = _zone()
    bounds = (UtcField().db_value(_end(d, zone)) for d in (day - timedelta(days=1), day))
    return frozenset(lot for (lot,) in query(_COUNTED, tuple(bounds)))


def close_day(act: Act, day: date) -> None:
    """Close the log of a day.

    Raises
    ------
    Refusal
        While something was not counted or a count does not agree, each named; when it is
        closed already.
    """
    words = [one.words for one in still_open(day)]
    words += [bath.words for bath in stock_bath_view.still_open(day) if bath.controlled]
    if words:
        raise Refusal(
            f"The drug log can not be closed: {'; '.join(words)}.",
            "Count it; what differs is put right by a line with a reason and a witness.",
        )
    if closed(day):
        raise Refusal("The drug log of this day is closed already.")
    with edit("drug log closed", who=act.by, at=act.at) as doing:
        doing.add(DayMark(id=new_key(), day=day, line=CLOSED, by=act.by, at=act.at))


def closed(day: date) -> bool:
    """Return whether the log of a day was closed, and no line came after that."""
    marks = read.find(DayMark, day=day, line=CLOSED)
    if not marks:
        return False
    until = UtcField().db_value(_end(day, _zone()))
    [(last,)] = query(_LAST, (until,))
    return last is None or last <= str(UtcField().db_value(marks[-1].at))


def text(product: str) -> str:
    """Write the log of a product as plain text, one line under the other."""
    found = log(product)
    unit, zone = found.product.pack_unit, _zone()
    head = [f"Log of {found.product.name}, in {unit}", ""]
    if not found.lines:
        return "\n".join([*head, "Nothing was received yet."])
    body = [line_text(line, zone) for line in found.lines]
    return "\n".join([*head, *body, "", f"Left: {shown(found.left)} {unit}"])


def line_text(line: LogLine, zone: str) -> str:
    """Write a line of the log: when, what, how much, what is left, and who."""
    if line.found is None:
        what = f"{line.kind:10} {_signed(line.amount):>9}"
    else:
        what = f"{line.kind:10} {shown(line.found):>9}"
    differs = f", differs by {_signed(line.differs)}" if line.differs else ""
    seen = f", seen by {line.witness}" if line.witness else ""
    of = f", {line.client}" if line.client else ""
    why = f": {line.why}" if line.why else ""
    when = f"{clock.local(line.at, zone):%d %b %Y %H:%M}"
    return (
        f"{when}  {what} {shown(line.left):>9} left  lot {line.lot}{differs}{of}; "
        f"{line.by}{seen}{why}"
    )


def _signed(amount: Decimal) -> str:
    return f"+{shown(amount)}" if amount > 0 else shown(amount)


def _zone() -> str:
    practice = read.first(Practice)
    return practice.zone if practice else own_rows.held().zone


def _end(day: date, zone: str) -> datetime:
    return datetime.combine(day + timedelta(days=1), time(), tzinfo=ZoneInfo(zone))


def _day(at: str, zone: str) -> date:
    moment = UtcField().python_value(at)
    assert moment is not None
    return clock.local(moment, zone).date()
