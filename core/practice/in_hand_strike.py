"""Striking a dose of a fish in hand, with what becomes of what it took from the shelf."""

from __future__ import annotations

from core.errors import Refusal
from core.practice import in_hand_bath, stock_back
from core.practice.door import edit
from core.practice.keep import Act
from core.records import read
from core.records.tables import Treatment


def strike_given(
    act: Act, treatment_id: str, why: str, *, unused: bool = False, witness: str = ""
) -> None:
    """Strike a dose, with the reason; see `stock_back` for what comes back to the shelf.

    Raises
    ------
    Refusal
        For a sedation, which stands as long as its clock does.
    """
    row = read.one(Treatment, treatment_id)
    if row.route in in_hand_bath.ROUTES:
        raise Refusal("This sedation follows from the clock.", "i: take back its mark there.")
    with edit("dose struck", who=act.by, at=act.at, visit=row.visit) as doing:
        doing.strike(Treatment, treatment_id, why)
        stock_back.give_back(doing, act, row, why, unused=unused, witness=witness)
