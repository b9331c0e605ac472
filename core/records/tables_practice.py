"""The practice itself: its prices, people, settings and days."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Annotated, ClassVar

from core.records.table import Closing, Indexed, PersonId, Ref, Row


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Practice(Row):
    """The practice itself: one row."""

    table: ClassVar[str] = "practice"
    closing: ClassVar[Closing] = "open"
    name: str
    address: str
    phone: str
    email: str = ""
    licence: str = ""
    currency: str
    currency_exponent: int = 2
    units: str = "metric"
    """``metric`` or ``us``: what figures are shown in; any unit may be typed."""
    paper: str = "A4"
    zone: str
    """Name of the time zone, as in ``Europe/Lisbon``."""
    tax_rounding: str = "once"
    """``once`` per invoice or per ``line``."""
    terms: str = ""
    authority: str = ""
    """Who is told of a suspected listed disease, in the practice's own words."""
    opens: str = "08:00"
    closes: str = "18:00"
    open_days: str = "1234567"
    """Days of the week with visits, 1 for Monday; a booking outside needs a reason."""
    invented: bool = False
    """True for a demonstration: every screen and paper says so."""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class TaxClass(Row):
    """A class of tax: every charge line has one."""

    table: ClassVar[str] = "tax_class"
    closing: ClassVar[Closing] = "open"
    code: str
    name: str
    rate_percent: Decimal


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Price(Row):
    """A line of the practice's price list."""

    table: ClassVar[str] = "price"
    closing: ClassVar[Closing] = "open"
    code: Annotated[str, Indexed()]
    name: str
    unit_minor: int
    tax_class: str


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Person(Row):
    """Somebody at work in the practice."""

    table: ClassVar[str] = "person"
    closing: ClassVar[Closing] = "open"
    name: str
    role: str
    """``veterinarian``, ``technician``, ``reception`` or ``read only``."""
    licence: str = ""
    active: bool = True


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class DayMark(Row):
    """A line of the end-of-day list that somebody has seen to."""

    table: ClassVar[str] = "day_mark"
    closing: ClassVar[Closing] = "open"
    day: Annotated[date, Indexed()]
    line: str
    by: PersonId
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Setting(Row):
    """One setting of the practice, by name."""

    table: ClassVar[str] = "setting"
    closing: ClassVar[Closing] = "open"
    brought_by: ClassVar[int] = 2
    key: Annotated[str, Indexed()]
    value: str


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class AccessMark(Row):
    """Something about who may open the app: a PIN set, a recovery code made or used."""

    table: ClassVar[str] = "access_mark"
    closing: ClassVar[Closing] = "grows"
    brought_by: ClassVar[int] = 2
    person: Annotated[str, Ref("person")]
    what: str
    by: PersonId
    at: datetime
