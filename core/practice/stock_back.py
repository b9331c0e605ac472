"""What becomes of what was taken from the shelf when its treatment is struck.

Struck before it was given, it goes back in the same edit. What was given already stays taken,
and what was thrown away too, unless the person says that it was not used. A line is never struck:
what comes back is a line of its own, with the reason, and with a witness for a controlled drug.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from core.practice import stock_log, stock_take
from core.practice.keep import Act
from core.records import read
from core.records.journal import OpenEdit
from core.records.tables import Lot, Product, StockLine, Treatment, Visit


@dataclass(frozen=True)
class Back:
    """What was taken for a treatment, as who strikes it is asked about it."""

    words: str
    """How much of which lot."""
    controlled: bool
    given: bool
    """Whether it was given already: it then stays taken unless somebody says otherwise."""


def of_row(row_id: str, day: date) -> Back | None:
    """Return what was taken for a treatment; None for other rows, and when nothing is gone."""
    row = read.first(Treatment, id=row_id)
    taken = stock_take.standing(row) if row is not None else {}
    if row is None or not taken:
        return None
    products = (read.one(Product, read.one(Lot, key).product) for key in taken)
    controlled = any(p.controlled for p in products)
    return Back(stock_take.words(taken), controlled, given_by(row, day))


def given_by(row: Treatment, day: date) -> bool:
    """Return whether a treatment was given by a day; what was handed over is gone at once."""
    return row.act == "dispensed" or (row.starts or read.one(Visit, row.visit).day) <= day


def give_back(
    doing: OpenEdit, act: Act, row: Treatment, why: str, *, unused: bool, witness: str
) -> None:
    """Write what comes back of a struck treatment, within the edit that strikes it.

    Parameters
    ----------
    unused : bool
        Whether somebody says that what was given or handed over was not used.

    Raises
    ------
    BadInput
        For a controlled drug without a witness.
    """
    if not unused and given_by(row, stock_log.day_of(act)):
        return
    taken = (x for x in read.find(StockLine, visit=row.visit) if x.treatment == row.id)
    # A bath is known by its fish, too: what comes back of it comes back once.
    fish = next((x.handling for x in taken if x.handling), None)
    for lot, amount in stock_take.standing(row).items():
        stock_log.write(
            doing,
            act,
            read.one(Lot, lot),
            "returned",
            amount,
            why=f"struck, not used: {why.strip()}",
            witness=witness,
            treatment=row.id,
            handling=fish,
            visit=row.visit,
        )
