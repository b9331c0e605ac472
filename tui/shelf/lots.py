"""The rows that ask which lot of the shelf a treatment takes from."""

from __future__ import annotations

from datetime import date

from core import dates
from core.practice import shelf, stock_log
from core.practice.read_medicines import held_state
from core.practice.stock_take import ELSEWHERE
from tui.widgets.dialog import Answers
from tui.widgets.field import Choice, Field

TYPED = (
    Field("lot", "Lot", "words", example="A123", hint="asked for when signing"),
    Field("expires", "Expires", "date", example=dates.EXPIRY_EXAMPLE, expiry=True),
)
"""For a product that is not of the practice's own shelf."""


NO_PRODUCT = ("", "none")
"""What the row of the product holds when the dose is of active substance."""


def lot_fields(
    product: str, answers: Answers, day: date, agent: str = "", last: date | None = None
) -> tuple[Field, ...]:
    """Return what is asked about the lot of a product: one of the shelf, or typed by hand.

    Parameters
    ----------
    agent : str
        Of the medicine: for a dose by active substance the lots that hold it are offered.
    last : date, optional
        Last day of what leaves the shelf: the oldest lot that is good then comes first.
    """
    if product in NO_PRODUCT and agent and shelf.holding(agent, day):
        return taken_fields(agent, answers, day, last)
    found = shelf.held(product)
    usable = found.usable(day) if found is not None else ()
    if not usable:
        return TYPED
    if not takes(answers):
        return ()
    first = shelf.first_of(usable, last)
    # The one that is taken unless another is said stands first: another one is another question.
    ordered = (first, *(lot for lot in usable if lot is not first))
    choices = tuple(Choice("", lot.lot.id, lot.words(day)) for lot in ordered)
    good = "" if first is usable[0] else " to last"
    hint = f"{first.lot.number}, the oldest{good}, unless said"
    rows = (Field("from_lot", "Lot", "pick", choices=choices, hint=hint),)
    if "from_lot" not in answers or answers["from_lot"].words == first.lot.id:
        return rows
    why = Field("lot_why", "Why this lot", example="the oldest is in truck 2", required=True)
    return (*rows, why)


def taken_fields(
    agent: str, answers: Answers, day: date, last: date | None = None
) -> tuple[Field, ...]:
    """Return what is asked where no product was named: from which lot, or from elsewhere."""
    holders = shelf.holding(agent, day) if agent and takes(answers) else ()
    if not holders:
        return ()
    lots = [(p, lot) for p in holders for lot in p.usable(day)]
    choices = [Choice("", x.lot.id, f"{p.product.name}: {x.words(day)}") for p, x in lots]
    elsewhere = Choice("", ELSEWHERE, "from elsewhere, not from our shelf")
    rows = (Field("from_lot", "Taken from", "pick", choices=(*choices, elsewhere), required=True),)
    said = answers["from_lot"].words if "from_lot" in answers else ""
    if said in ("", *(shelf.first_of(p.usable(day), last).lot.id for p in holders)):
        return rows
    why = Field("lot_why", "Why from there", example="the owner's own", required=True)
    return (*rows, why)


def takes(answers: Answers) -> bool:
    """Return whether what is done takes from the shelf; what is given in hand always does."""
    return "act" not in answers or answers["act"].words in stock_log.TAKEN


def off_words(key: str) -> str:
    """Return that a medicine is off, as last read; "" when it is on."""
    found = held_state(key)
    return "" if found.on else f"It is {found.words}."
