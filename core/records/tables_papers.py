"""What is charged, paid, printed, signed, and kept."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Annotated, ClassVar

from core.records.table import Closing, Indexed, PersonId, Ref, Row, VisitId


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Charge(Row):
    """One line to be charged; it leads back to what was done, or says it is manual."""

    table: ClassVar[str] = "charge"
    closing: ClassVar[Closing] = "invoice"
    visit: VisitId
    position: int
    code: str
    words: str
    quantity: Decimal
    unit_minor: int
    tax_class: str
    origins: str = ""
    """The rows that made the line, as ``table:id`` with spaces between; "" for a manual one."""
    invoice: Annotated[str | None, Ref("invoice")] = None


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Invoice(Row):
    """An issued invoice; it never changes."""

    table: ClassVar[str] = "invoice"
    closing: ClassVar[Closing] = "grows"
    visit: VisitId
    client: Annotated[str, Ref("client")]
    number: Annotated[str, Indexed()]
    day: date
    net_minor: int
    tax_minor: int
    gross_minor: int
    by: PersonId
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Payment(Row):
    """Money taken."""

    table: ClassVar[str] = "payment"
    closing: ClassVar[Closing] = "grows"
    visit: VisitId
    client: Annotated[str, Ref("client")]
    amount_minor: int
    how: str
    reference: str = ""
    by: PersonId
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Document(Row):
    """A paper as issued: its bytes lie in the papers folder under this name and hash."""

    table: ClassVar[str] = "document"
    closing: ClassVar[Closing] = "grows"
    visit: Annotated[str | None, Ref("visit")] = None
    """None for a paper of the whole day; so is the client."""
    client: Annotated[str | None, Ref("client")] = None
    kind: str
    number: str
    version: int = 1
    supersedes: str | None = None
    file: str
    sha256: str
    content: str = ""
    """Hash of the data it was made from, so that a later change marks it out of date."""
    by: PersonId
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Delivery(Row):
    """How and to whom a paper was given."""

    table: ClassVar[str] = "delivery"
    closing: ClassVar[Closing] = "grows"
    visit: Annotated[str | None, Ref("visit")] = None
    document: Annotated[str, Ref("document")]
    how: str
    to: str
    by: PersonId
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Addendum(Row):
    """What is said after the signature, with its own author and time."""

    table: ClassVar[str] = "addendum"
    closing: ClassVar[Closing] = "grows"
    visit: VisitId
    words: str
    why: str
    by: PersonId
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Signature(Row):
    """One signed record in the chain of signed records that a device has made."""

    table: ClassVar[str] = "signature"
    closing: ClassVar[Closing] = "grows"
    brought_by: ClassVar[int] = 2
    visit: VisitId
    device: str
    count: int
    """Its place in the chain of its device, from 1 without a gap."""
    record_hash: str
    before: str
    """The chain's hash at the signature before; "" at the first."""
    chain: str
    """Hash of all of the above, of the visit, the signer and the moment."""
    by: PersonId
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Proposed(Row):
    """What came in for a visit that was signed already: kept until a veterinarian settles it."""

    table: ClassVar[str] = "proposed"
    closing: ClassVar[Closing] = "open"
    brought_by: ClassVar[int] = 2
    visit: VisitId
    kind: str
    """Kind of the edit that could not be made."""
    words: str
    """What it would have said, in words for a person."""
    body: str
    """The lines that were refused, as JSON."""
    by: PersonId
    at: datetime
    outcome: str = ""
    """``addendum`` or ``set aside``; "" while nobody has settled it."""
    outcome_why: str = ""
    addendum: Annotated[str | None, Ref("addendum", indexed=False)] = None
    settled_by: Annotated[str | None, Ref("person", indexed=False)] = None
    settled_at: datetime | None = None


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Hold(Row):
    """Records that are kept beyond their date, for a dispute, until somebody ends it."""

    table: ClassVar[str] = "hold"
    closing: ClassVar[Closing] = "open"
    brought_by: ClassVar[int] = 2
    client: Annotated[str, Ref("client")]
    visit: Annotated[str | None, Ref("visit")] = None
    """One visit, or None for all of the client's."""
    why: str
    by: PersonId
    at: datetime
    ended_why: str = ""
    ended_by: Annotated[str | None, Ref("person", indexed=False)] = None
    ended_at: datetime | None = None
