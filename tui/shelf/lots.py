"""The rows that ask which lot of the shelf a treatment takes from."""

from __future__ import annotations

from datetime import date

from core.practice import shelf
from core.practice.read_medicines import held_state
from tui.widgets.dialog import Answers
from tui.widgets.field import Choice, Field

TYPED = (
    Field("lot", "Lot", "words", example="A123", hint="asked for when signing"),
    Field("expires", "Expires", "date"),
)
"""For a product that is not of the practice's own shelf."""


def lot_fields(product: str, answers: Answers, day: date) -> tuple[Field, ...]:
    """Return what is asked about the lot of a product: one of the shelf, or typed by hand."""
    found = shelf.held(product)
    usable = found.usable(day) if found is not None else ()
    if not usable:
        return TYPED
    choices = tuple(Choice("", lot.lot.id, lot.words(day)) for lot in usable)
    hint = f"{usable[0].lot.number}, the oldest, unless said"
    rows = (Field("from_lot", "Lot", "pick", choices=choices, hint=hint),)
    if "from_lot" not in answers or answers["from_lot"].words == usable[0].lot.id:
        return rows
    why = Field("lot_why", "Why this lot", example="the oldest is in truck 2", required=True)
    return (*rows, why)


def off_words(key: str) -> str:
    """Return that a medicine is off, as last read; "" when it is on."""
    found = held_state(key)
    return "" if found.on else f"It is {found.words}."
