"""Whose fish, in which water, and when somebody comes to see them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Annotated, ClassVar

from core.records.table import Closing, Indexed, PersonId, Ref, Row, SystemId, VisitId


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Client(Row):
    """Whoever owns the fish and pays."""

    table: ClassVar[str] = "client"
    closing: ClassVar[Closing] = "open"
    name: Annotated[str, Indexed()]
    phone: str = ""
    email: str = ""
    address: str = ""
    note: str = ""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Site(Row):
    """A place the truck drives to."""

    table: ClassVar[str] = "site"
    closing: ClassVar[Closing] = "open"
    client: Annotated[str, Ref("client")]
    name: str
    address: str = ""
    access: str = ""
    """Gate, dog, key, who will be there."""
    caution: str = ""
    bring: str = ""
    elevation_m: float = 0.0
    travel_min: int = 30


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class System(Row):
    """A body of water with its fish."""

    table: ClassVar[str] = "system"
    closing: ClassVar[Closing] = "open"
    site: Annotated[str, Ref("site")]
    name: str
    kind: str
    """Key of the catalogue's kinds of system."""
    volume_l: float | None = None
    """Net volume of water."""
    volume_typed: str = ""
    volume_how: str = ""
    """How the volume is known: measured, geometry, salt, told."""
    volume_error_percent: float | None = None
    flow: str = "recirculated"
    """``still``, ``recirculated`` or ``flowing``."""
    flow_l_s: float | None = None
    food_fish: bool = False
    plants: str = "unknown"
    """``yes``, ``no`` or ``unknown``; so are the next two."""
    invertebrates: str = "unknown"
    zeolite: str = "unknown"
    filter: str = ""
    source_water: str = ""
    note: str = ""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class FishGroup(Row):
    """A single named fish, or a group counted by number."""

    table: ClassVar[str] = "fish_group"
    closing: ClassVar[Closing] = "open"
    system: SystemId
    """The water they live in, moves aside."""
    species: str
    name: str
    single: bool = False
    count: int | None = None
    tag: str = ""
    stage: str = "adult"


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Visit(Row):
    """One visit to one site, from the booking to the signature."""

    table: ClassVar[str] = "visit"
    client: Annotated[str, Ref("client")]
    site: Annotated[str, Ref("site")]
    system: SystemId
    vet: PersonId
    day: Annotated[date, Indexed()]
    starts: str
    """Wall time at the site, as in ``08:30``."""
    minutes: int = 90
    kind: str = "new"
    """Key of the catalogue's kinds of visit."""
    reason: str = ""
    rank: int = 2
    """Infection rank: 1 clean to 4 suspected listed disease or unexplained deaths."""
    rank_why: str = ""
    """What gave the rank, or why a person set another."""
    state: str = "booked"
    """``booked``, ``open``, ``no access``, ``cancelled`` or ``signed``."""
    why: str = ""
    """Why there was no access, or why it was cancelled."""
    advice: str = ""
    """What the desk told the owner to do until the visit."""
    booked_why: str = ""
    """Why it stands although it clashes with another visit or lies outside the hours."""
    recheck_of: str | None = None
    estimate_low_minor: int | None = None
    estimate_high_minor: int | None = None
    estimate_by: str = ""
    """Who accepted the estimate."""
    estimate_at: datetime | None = None
    signed_at: datetime | None = None
    signed_by: str | None = None
    sign_hash: str | None = None


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class StageMark(Row):
    """How far one stage of a visit has come."""

    table: ClassVar[str] = "stage_mark"
    visit: VisitId
    stage: str
    state: str
    """``begun``, ``waiting``, ``done`` or ``passed over``; no row means not begun."""
    why: str = ""
    """What is waited for, or why it was passed over."""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Recheck(Row):
    """A visit or a call to come, with the window in which it should happen."""

    table: ClassVar[str] = "recheck"
    closing: ClassVar[Closing] = "open"
    visit: VisitId
    client: Annotated[str, Ref("client")]
    system: SystemId
    kind: str = "visit"
    """``visit`` or ``phone``."""
    reason: str
    earliest: date
    target: Annotated[date, Indexed()]
    latest: date
    booked: Annotated[str | None, Indexed()] = None
    """The visit it was booked as."""
    origin: str = ""
    """The offer it was taken from; "" for one of the vet's own."""
    closed_at: datetime | None = None
    outcome: str = ""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Attempt(Row):
    """One attempt to reach the owner about a recheck."""

    table: ClassVar[str] = "attempt"
    closing: ClassVar[Closing] = "grows"
    recheck: Annotated[str, Ref("recheck")]
    result: str
    by: PersonId
    at: datetime
