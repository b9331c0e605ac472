"""Changing what was ordered: striking it, and putting lot, place or directions to it."""

from __future__ import annotations

from datetime import date

from core.dates import said
from core.errors import BadInput, Refusal
from core.practice import own_rows, stock_back
from core.practice.door import edit
from core.practice.keep import Act
from core.practice.stock_ordered import last_day
from core.practice.treatment_said import days_of
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
        For another lot of a product of the shelf, and for one that expires before the course
        ends: that is a new order, with its reason.
    """
    must_be_vet(act.by, "changes a treatment")
    if strange := set(columns) - set(DETAILS):
        raise BadInput(
            f"{', '.join(sorted(strange))} can not be changed.", "Strike it, order anew."
        )
    row = read.one(Treatment, treatment_id)
    columns = {**columns, **_of_the_shelf(row, columns)}
    _lasts(row, columns)
    with edit("treatment", who=act.by, at=act.at, visit=row.visit) as doing:
        doing.change(Treatment, treatment_id, **columns)


def _of_the_shelf(row: Treatment, columns: dict[str, object]) -> dict[str, object]:
    """Return the expiry that a lot of the shelf keeps; its lot is changed by a new order only.

    The order is where another lot than the oldest asks for a reason, and where its expiry is
    held against the course.
    """
    own_rows.read_again()
    other = str(columns.get("lot", row.lot)).strip()
    held = _on_shelf(row.product, row.lot)
    if other == row.lot:
        return {"expires": row.expires} if "expires" in columns and held else {}
    if held:
        raise Refusal(
            f"It is of lot {row.lot} of the shelf, and its lot is not changed here.",
            "Strike it, order anew: another lot than the oldest asks for a reason there.",
        )
    if _on_shelf(row.product, other):
        raise Refusal(
            f"Lot {other} is on the shelf, and nothing was ordered from it.",
            "Strike it, order anew.",
        )
    return {}


def _on_shelf(product: str, number: str) -> bool:
    return bool(product and number) and bool(read.find(Lot, product=product, number=number))


def _lasts(row: Treatment, columns: dict[str, object]) -> None:
    """Refuse an expiry within the course: going past that asks for a reason, with the order."""
    expires, last = columns.get("expires"), last_day(row.act, days_of(row))
    if not isinstance(expires, date) or expires == row.expires or expires >= last:
        return
    raise Refusal(
        f"It is good to {said(expires, last)}, and it is used until {said(last, last)}.",
        "Take one that lasts, or strike it and order anew with the reason.",
    )
