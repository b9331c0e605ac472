"""The medicines that the practice has read, and what stands on its shelf."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Annotated, ClassVar

from core.records.table import Closing, Indexed, PersonId, Ref, Row


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class MedicineRead(Row):
    """A veterinarian has read a row of the medicines, and switched it on or off here."""

    table: ClassVar[str] = "medicine_read"
    closing: ClassVar[Closing] = "grows"
    brought_by: ClassVar[int] = 3
    medicine: Annotated[str, Indexed()]
    """Key of the catalogue's medicines, or the id of one of the practice's own."""
    state: str
    """``on`` or ``off``; no row means off."""
    fingerprint: str
    """Hash of the row as it was read: a row that has changed since is off until it is read anew."""
    note: str = ""
    by: PersonId
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class OwnMedicine(Row):
    """A row of medicines that the practice has written itself, in the catalogue's own form."""

    table: ClassVar[str] = "own_medicine"
    closing: ClassVar[Closing] = "open"
    brought_by: ClassVar[int] = 3
    name: Annotated[str, Indexed()]
    body: str
    """The row as JSON, with the keys of the catalogue's medicines."""
    by: PersonId
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Product(Row):
    """A product on the shelf: what it holds, and in what pack."""

    table: ClassVar[str] = "product"
    closing: ClassVar[Closing] = "open"
    brought_by: ClassVar[int] = 3
    medicine: Annotated[str, Indexed()]
    """Key of the catalogue's medicines, or the id of one of the practice's own."""
    name: str
    strength: float
    strength_unit: str
    """What the strength counts, as in ``mg/mL``, ``percent w/w``, ``percent w/v`` or ``mg/g``."""
    density_g_ml: float | None = None
    pack: float
    pack_unit: str
    """``mL`` or ``g``: what stock is counted in. A vial or a sachet is entered by what it holds."""
    price: str = ""
    """Code of the price list; "" when it is not sold."""
    controlled: bool = False
    """Kept in the controlled-drug log."""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Lot(Row):
    """One batch of a product, at one place."""

    table: ClassVar[str] = "lot"
    closing: ClassVar[Closing] = "open"
    brought_by: ClassVar[int] = 3
    product: Annotated[str, Ref("product")]
    number: str
    expires: date | None = None
    opened: date | None = None
    place: str = ""
    """The truck, or the cupboard."""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class StockLine(Row):
    """One line of the stock of a lot; the controlled-drug log is made of the same lines."""

    table: ClassVar[str] = "stock_line"
    closing: ClassVar[Closing] = "grows"
    brought_by: ClassVar[int] = 3
    lot: Annotated[str, Ref("lot")]
    kind: str
    """``received``, ``given here``, ``dispensed``, ``waste``, ``returned``, ``count`` or
    ``put right``."""
    amount: Decimal
    """What came in, or, less than nothing, what went out; for a count, what was found."""
    balance: Decimal
    """What the log says is left after this line."""
    treatment: Annotated[str | None, Ref("treatment", indexed=False)] = None
    handling: Annotated[str | None, Ref("handling", indexed=False)] = None
    """The fish in hand whose bath it was taken for."""
    visit: Annotated[str | None, Ref("visit")] = None
    witness: str = ""
    why: str = ""
    """Why another lot was taken, why it was wasted, or why the count differs."""
    by: PersonId
    at: datetime
