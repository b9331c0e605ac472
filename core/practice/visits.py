"""Booking a visit, opening it, and what can happen to it before it is worked up."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date

from core.errors import Refusal
from core.practice.door import edit
from core.practice.keep import Act
from core.records import read
from core.records.engine import query
from core.records.keys import new_key
from core.records.tables import Client, FishGroup, Person, Site, StageMark, System, Visit

Leave = Callable[[Act, str, str], None]
"""`no_access` or `cancel`: who and when, the visit, why."""


@dataclass(frozen=True)
class Opened:
    """A visit with everything that its screens show above the form."""

    visit: Visit
    client: Client
    site: Site
    system: System
    """The system the visit is about; others of the site may be worked up beside it."""
    systems: tuple[System, ...]
    groups: tuple[FishGroup, ...]
    vet: Person
    stages: Mapping[str, StageMark]
    """How far each stage has come; a stage that is not here is not begun."""

    @property
    def closed(self) -> bool:
        """Whether the record is signed."""
        return self.visit.signed_at is not None


def opened(visit_id: str) -> Opened:
    """Return a visit with its client, site, systems and fish."""
    visit = read.one(Visit, visit_id)
    systems = read.find(System, site=visit.site)
    return Opened(
        visit,
        read.one(Client, visit.client),
        read.one(Site, visit.site),
        next(s for s in systems if s.id == visit.system),
        systems,
        tuple(g for s in systems for g in read.find(FishGroup, system=s.id)),
        read.one(Person, visit.vet),
        {m.stage: m for m in read.find(StageMark, visit=visit_id)},
    )


def book(
    act: Act,
    system_id: str,
    day: date,
    starts: str,
    vet: str,
    reason: str,
    *,
    kind: str = "new",
    minutes: int = 90,
    rank: int = 2,
    advice: str = "",
    recheck_of: str | None = None,
    id: str | None = None,  # noqa: A002 (the column's own name)
) -> str:
    """Put a visit into the book as it is given; return the visit's id.

    `booking.book` is the same with the book looked at first.

    Parameters
    ----------
    starts : str
        Wall time at the site, ``08:30``.
    rank : int
        Infection rank, 1 clean to 4 unexplained deaths or a suspected listed disease.
    """
    system = read.one(System, system_id)
    site = read.one(Site, system.site)
    visit = Visit(
        id=id or new_key(),
        client=site.client,
        site=site.id,
        system=system.id,
        vet=vet,
        day=day,
        starts=starts,
        minutes=minutes,
        kind=kind,
        reason=reason,
        rank=rank,
        advice=advice,
        recheck_of=recheck_of,
    )
    with edit("booking", who=act.by, at=act.at, visit=visit.id) as doing:
        doing.add(visit)
    return visit.id


def no_access(act: Act, visit_id: str, why: str) -> None:
    """Say that nobody could get to the fish, and why."""
    _leave(act, visit_id, "no access", why)


def cancel(act: Act, visit_id: str, why: str) -> None:
    """Cancel a visit, with the reason."""
    _leave(act, visit_id, "cancelled", why)


def book_again(act: Act, visit_id: str) -> None:
    """Take back *no access* or *cancelled*: the visit stands as it stood."""
    begun = read.first(StageMark, visit=visit_id) is not None
    with edit("booking", who=act.by, at=act.at, visit=visit_id) as doing:
        doing.change(Visit, visit_id, state="open" if begun else "booked", why="")


def move(act: Act, visit_id: str, day: date, starts: str) -> None:
    """Move a visit to another day or time."""
    with edit("booking", who=act.by, at=act.at, visit=visit_id) as doing:
        doing.change(Visit, visit_id, day=day, starts=starts)


def _leave(act: Act, visit_id: str, state: str, why: str) -> None:
    if not why.strip():
        raise Refusal("A reason is needed.", "Say in a few words why.")
    if read.one(Visit, visit_id).signed_at is not None:
        raise Refusal("This visit is signed.", "Write an addendum; the record itself stays.")
    with edit(state, who=act.by, at=act.at, visit=visit_id) as doing:
        doing.change(Visit, visit_id, state=state, why=why)


@dataclass(frozen=True)
class Water:
    """A system with its place, for picking it."""

    system: str
    client: str
    name: str
    """Its own name, with the site's before it when the client has several sites."""
    rank: int | None
    """The rank of the last visit to it."""


@dataclass(frozen=True)
class Choices:
    """What an unplanned visit is picked from."""

    clients: tuple[tuple[str, str], ...]
    """Id and name."""
    waters: tuple[Water, ...]
    vets: tuple[tuple[str, str], ...]
    sites: dict[str, str]
    """The first site of each client, for another water at the same place."""


_WATERS = """
SELECT y."id", s."client", s."name", y."name",
       (SELECT v."rank" FROM "visit" v WHERE v."system" = y."id" AND v."struck" IS NULL
        ORDER BY v."day" DESC, v."starts" DESC LIMIT 1)
FROM "system" y JOIN "site" s ON s."id" = y."site"
WHERE y."struck" IS NULL AND s."struck" IS NULL ORDER BY y."id"
"""


def choices() -> Choices:
    """Return every client, water and vet that a visit can be made for."""
    sites = read.find(Site)
    counted = Counter(site.client for site in sites)
    waters = (
        Water(system, client, f"{site}: {name}" if counted[client] > 1 else name, rank)
        for system, client, site, name, rank in query(_WATERS)
    )
    vets = read.find(Person, active=True, role="veterinarian")
    return Choices(
        tuple((c.id, c.name) for c in read.find(Client, order="name")),
        tuple(waters),
        tuple((p.id, p.name) for p in vets),
        {s.client: s.id for s in reversed(sites)},
    )
