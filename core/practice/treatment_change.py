"""Changing what was ordered: striking it, and putting lot, place or directions to it."""

from __future__ import annotations

from core.errors import BadInput, Refusal
from core.practice import own_rows, stock_back, stock_log, stock_take
from core.practice.door import edit
from core.practice.keep import Act
from core.practice.who import must_be_vet
from core.records import read
from core.records.tables import Lot, Treatment

DETAILS = ("lot", "expires", "place", "directions")


def strike_treatment(
    act: Act, treatment_id: str, why: str, *, unused: bool = False, witness: str = ""
) -> None:
    """Strike a treatment, with the reason; what was taken for it comes back where it was not used.

    Parameters
    ----------
    unused : bool
        Whether what was given or handed over already was not used; see `stock_back`.
    witness : str
        Who saw it come back, for a controlled drug.

    Raises
    ------
    Refusal
        For anybody but a veterinarian; for what comes back without what `stock_log` asks.
    """
    must_be_vet(act.by, "strikes a treatment")
    row = read.one(Treatment, treatment_id)
    with edit("treatment struck", who=act.by, at=act.at, visit=row.visit) as doing:
        doing.strike(Treatment, treatment_id, why)
        stock_back.give_back(doing, act, row, why, unused=unused, witness=witness)
    own_rows.read_again()


def set_details(act: Act, treatment_id: str, **columns: object) -> None:
    """Put lot, expiry, place or directions to a treatment; amounts are ordered anew.

    Raises
    ------
    Refusal
        For a lot other than the one that was taken, or one that can not be handed over.
    """
    must_be_vet(act.by, "changes a treatment")
    if strange := set(columns) - set(DETAILS):
        raise BadInput(
            f"{', '.join(sorted(strange))} can not be changed.", "Strike it, order anew."
        )
    row = read.one(Treatment, treatment_id)
    columns = {**columns, **_of_the_shelf(act, row, columns)}
    with edit("treatment", who=act.by, at=act.at, visit=row.visit) as doing:
        doing.change(Treatment, treatment_id, **columns)


def _of_the_shelf(act: Act, row: Treatment, columns: dict[str, object]) -> dict[str, object]:
    """Return the expiry of another lot of the shelf; what was taken has the lot it is from."""
    other = str(columns.get("lot", row.lot))
    if row.product not in own_rows.read_again().products or not row.lot:
        return {}
    if other == row.lot:
        return {"expires": row.expires} if "expires" in columns else {}
    if row.act == "given here" or stock_take.standing(row):
        raise Refusal(
            f"It was taken from lot {row.lot}, and the log says so.", "Strike it, order anew."
        )
    lot = read.first(Lot, product=row.product, number=other)
    if lot is None:
        raise Refusal(f"There is no lot {other} of it on the shelf.", "Receive it first.")
    stock_log.chosen(row.product, lot.id, stock_log.day_of(act), "said on the order")
    return {"expires": lot.expires}
