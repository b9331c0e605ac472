"""The running stock of a lot: lines that are only added, each with what is left after it.

The controlled-drug log is made of the same lines. A line that goes below nothing is refused:
what is really there is counted first, and the difference put right with a line of its own.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from core import clock
from core.dates import said
from core.errors import BadInput, Refusal
from core.practice import own_rows
from core.practice.door import edit
from core.practice.keep import Act
from core.practice.own_products import STEP
from core.records import read
from core.records.journal import OpenEdit
from core.records.keys import new_key
from core.records.tables import Lot, Person, Practice, Product, StockLine

TAKEN = ("given here", "dispensed")
OUT = (*TAKEN, "waste")
"""Kinds of line that take from a lot."""
WITNESSED = ("waste", "put right", "returned")
"""Kinds of line that somebody else has to have seen when the drug is controlled."""
REASONED = ("waste", "put right", "returned")
MOST = Decimal(1_000_000)


def shown(amount: Decimal) -> str:
    """Return an amount with two decimals, or three where the third says something.

    Examples
    --------
    >>> shown(Decimal("47.900")), shown(Decimal("0.125"))
    ('47.90', '0.125')
    """
    two = amount.quantize(Decimal("0.01"))
    return f"{two if two == amount else amount.quantize(STEP):f}"


def day_of(act: Act) -> date:
    """Return the date on the practice's wall when something is done."""
    practice = read.first(Practice)
    return clock.local(act.at, practice.zone if practice else "Etc/UTC").date()


def lines(lot: str) -> tuple[StockLine, ...]:
    """Return the lines of a lot in the order of their making."""
    return read.find(StockLine, lot=lot)


def left(lot: str) -> Decimal:
    """Return what the log says is left of a lot: the sum of its lines, counts aside."""
    moved = (line.amount for line in lines(lot) if line.kind != "count")
    return sum(moved, Decimal(0))


def write(
    doing: OpenEdit,
    act: Act,
    lot: Lot,
    kind: str,
    amount: Decimal,
    *,
    why: str = "",
    witness: str = "",
    treatment: str | None = None,
    handling: str | None = None,
    visit: str | None = None,
) -> StockLine:
    """Add a line to a lot within an edit; its balance is worked out inside the transaction.

    Parameters
    ----------
    amount : Decimal
        Above nothing; what goes out is made less than nothing here. For *put right* and a
        *return* as it is to be added.

    Raises
    ------
    BadInput
        For an amount that can not be; without a reason or a witness where one is asked for.
    Refusal
        When it would go below nothing.
    """
    product = read.one(Product, lot.product)
    _may(act, product, kind, amount, why, witness)
    signed = -amount if kind in OUT else amount
    before = left(lot.id)
    after = before if kind == "count" else before + signed
    if after < 0:
        raise Refusal(
            f"{shown(-signed)} {product.pack_unit} is more than the {shown(before)} "
            f"{product.pack_unit} that the log says is left of lot {lot.number}.",
            "The count is wrong: count what is there first, and put the log right.",
        )
    row = StockLine(
        id=new_key(),
        lot=lot.id,
        kind=kind,
        amount=signed,
        balance=after,
        treatment=treatment,
        handling=handling,
        visit=visit,
        witness=witness.strip(),
        why=why.strip(),
        by=act.by,
        at=act.at,
    )
    doing.add(row)
    return row


def _may(act: Act, product: Product, kind: str, amount: Decimal, why: str, witness: str) -> None:
    example = f"Type for example 1.20, in {product.pack_unit}."
    if not amount.is_finite() or abs(amount) > MOST or amount != amount.quantize(STEP):
        raise BadInput("An amount has at most three decimals.", example)
    if amount < 0 and kind not in ("put right", "returned"):
        raise BadInput("An amount is above nothing.", example)
    if amount == 0 and kind != "count":
        raise BadInput("Nothing was moved: an amount is above nothing.", example)
    if kind in REASONED and not why.strip():
        raise BadInput(f"A line of {kind} needs a reason.", "Say why in a few words.")
    if product.controlled and kind in WITNESSED:
        _seen(act, kind, witness)


def _seen(act: Act, kind: str, witness: str) -> None:
    who = read.first(Person, id=act.by)
    own = who.name.casefold() if who else ""
    if not witness.strip():
        raise BadInput(f"A line of {kind} of a controlled drug needs a witness.", "Who saw it?")
    if witness.strip().casefold() == own:
        raise BadInput("The witness is somebody else than who writes the line.", "Who saw it?")


def waste(act: Act, lot: str, amount: Decimal, why: str, witness: str = "") -> str:
    """Write down what was thrown away or spilt, with the reason; return the line's id."""
    return _line(act, lot, "waste", amount, why, witness)


def bring_back(act: Act, lot: str, amount: Decimal, why: str, witness: str = "") -> str:
    """Write down what came back to the lot, or, less than nothing, went back to the supplier."""
    return _line(act, lot, "returned", amount, why, witness)


def count(act: Act, lot: str, found: Decimal, why: str = "") -> Decimal:
    """Write down what was counted; return by how much it differs from the log."""
    _line(act, lot, "count", found, why, "")
    return found - left(lot)


def put_right(act: Act, lot: str, why: str, witness: str = "") -> str:
    """Bring the log to what was last counted, with a reason; return the line's id.

    Raises
    ------
    Refusal
        When nothing was counted, when something was moved since, or the count agrees.
    """
    rows = lines(lot)
    if not rows or rows[-1].kind != "count":
        raise Refusal("Nothing was counted since the last line.", "Count what is there first.")
    differs = rows[-1].amount - rows[-1].balance
    if differs == 0:
        raise Refusal("The count agrees with the log.", "There is nothing to put right.")
    return _line(act, lot, "put right", differs, why, witness)


def _line(act: Act, lot: str, kind: str, amount: Decimal, why: str, witness: str) -> str:
    with edit(f"stock {kind}", who=act.by, at=act.at) as doing:
        row = write(doing, act, read.one(Lot, lot), kind, amount, why=why, witness=witness)
    own_rows.read_again()
    return row.id


def oldest(product: str, day: date, last: date | None = None) -> Lot | None:
    """Return the lot that is used first: the first to expire of those good to the last day.

    Parameters
    ----------
    last : date, optional
        Last day on which it is used; where every lot with some left expires before it, the
        first to expire that has not by `day` is given.
    """
    own = own_rows.read_again()
    some = [lot for lot in own.lots_of(product) if own.left.get(lot.id, Decimal(0)) > 0]
    until = max(day, last or day)
    return next((x for x in some if good_on(x, until)), None) or next(
        (x for x in some if good_on(x, day)), None
    )


def good_on(lot: Lot, day: date) -> bool:
    """Return whether a lot has not expired on a day; one without a date never does."""
    return lot.expires is None or lot.expires >= day


def chosen(product: str, lot: str, day: date, why: str, last: date | None = None) -> Lot | None:
    """Return the lot that a treatment takes from: as `oldest` gives it, unless said.

    Parameters
    ----------
    lot : str
        Id of the lot, or "" for the oldest.
    why : str
        Why it is another lot than the oldest.

    Returns
    -------
    Lot or None
        None when none was said and none is on the shelf.

    Raises
    ------
    Refusal
        For a lot of another product, one that has expired, and another than the oldest
        without a reason.
    """
    first = oldest(product, day, last)
    if not lot:
        return first
    row = read.one(Lot, lot)
    if row.product != product:
        raise Refusal(f"Lot {row.number} is of another product.", "Choose one of this product.")
    if row.expires is not None and row.expires < day:
        raise Refusal(
            f"Lot {row.number} expired on {said(row.expires, day)}.", "Take one that has not."
        )
    if first is not None and first.id != row.id and not why.strip():
        older = "is older and is" if _older(first, row) else "is good to the last day and is"
        raise Refusal(
            f"Lot {first.number} {older} used first.",
            f"Take it, or say why lot {row.number} is taken.",
        )
    return row


def _older(one: Lot, other: Lot) -> bool:
    return (str(one.expires or "9999"), one.id) < (str(other.expires or "9999"), other.id)
