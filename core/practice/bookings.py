"""The Bookings desk: booking, moving and ringing about rechecks, each with its window in mind."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from core.catalogue import load
from core.dates import said
from core.errors import Refusal
from core.practice import booking, setup
from core.practice.booking import DoesNotFit, Wish
from core.practice.day import OFF
from core.practice.door import edit
from core.practice.keep import Act
from core.records import read
from core.records.keys import new_key
from core.records.tables import Attempt, Client, Recheck, Visit
from core.scheduling.ranks import Rank, RankFact, override, rank
from core.scheduling.rechecks import Window


@dataclass(frozen=True)
class Newcomer:
    """A water that is not in the records yet, with whatever else of its owner is new.

    Parameters
    ----------
    client, site : str
        Ids of those that are known; "" for one to be made.
    """

    client: str = ""
    name: str = ""
    phone: str = ""
    address: str = ""
    site: str = ""
    site_name: str = "home"
    access: str = ""
    system: str = ""
    kind: str = ""
    volume_l: float | None = None
    volume_typed: str = ""


@dataclass(frozen=True)
class Asked:
    """A visit as it is asked for at the desk."""

    system: str
    day: date
    starts: str
    vet: str
    minutes: int
    kind: str = "new"
    reason: str = ""
    rank: int = 3
    rank_why: str = ""
    advice: str = ""
    """What the owner is told to do until the visit."""
    although: str = ""
    """Why it stands although it clashes or lies outside its window."""


def book(act: Act, asked: Asked, *, recheck: str = "", newcomer: Newcomer | None = None) -> str:
    """Book a visit where it fits; return its id.

    Parameters
    ----------
    recheck : str
        Id of the recheck it is booked for: it then counts as booked, and its log says so.
    newcomer : Newcomer, optional
        What is made first, in the same edit; its water takes the place of `asked.system`.

    Raises
    ------
    DoesNotFit
        When it clashes, or lies outside the recheck's window, and no reason is given.
    """
    asked = replace(asked, starts=booking.wall_time(asked.starts))
    with edit("booking", who=act.by, at=act.at) as doing:
        if newcomer is not None:
            asked = replace(asked, system=_make(act, newcomer))
        found = read.one(Recheck, recheck) if recheck else None
        _check_free(found)
        late = _warning(found, asked.day)
        if late and not asked.although.strip():
            wish = Wish(asked.system, asked.vet, asked.day, asked.starts, asked.minutes)
            raise _refusal((late, *booking.problems_with(wish)))
        made = booking.book(
            act,
            asked.system,
            asked.day,
            asked.starts,
            asked.vet,
            asked.reason,
            minutes=asked.minutes,
            although=asked.although,
            kind=asked.kind,
            rank=asked.rank,
            advice=asked.advice,
            recheck_of=found.visit if found else None,
        )
        doing.change(Visit, made, rank_why=asked.rank_why)
        if found is not None:
            if late:
                doing.change(Visit, made, booked_why=asked.although.strip())
            when = said(asked.day, act.at.date())
            doing.change(Recheck, found.id, booked=made)
            doing.add(_attempt(act, found.id, f"booked for {when} {asked.starts}"))
    return made


def _check_free(found: Recheck | None) -> None:
    if found is None or found.booked is None:
        return
    visit = read.one(Visit, found.booked)
    if visit.state not in OFF:
        raise Refusal(
            f"This recheck is booked already, for {visit.day} at {visit.starts}.",
            "Move that visit instead.",
        )


def _warning(found: Recheck | None, day: date) -> str:
    if found is None:
        return ""
    late = Window(found.earliest, found.target, found.latest).warning(day)
    return f"Outside the window of the recheck: {late}" if late else ""


def _refusal(sentences: tuple[str, ...]) -> DoesNotFit:
    return DoesNotFit(
        " ".join(sentences), "Choose another time, or say why it stands all the same."
    )


def problems(wish: Wish, recheck: str = "") -> tuple[str, ...]:
    """Return a sentence for each thing wrong with a wish, the window of its recheck first.

    A visit that is moved brings the recheck it was booked for with it.
    """
    found = read.one(Recheck, recheck) if recheck else _recheck_of(wish.visit)
    late = _warning(found, wish.day)
    return (*((late,) if late else ()), *booking.problems_with(wish))


def _recheck_of(visit_id: str) -> Recheck | None:
    return read.first(Recheck, booked=visit_id) if visit_id else None


def move(
    act: Act, visit_id: str, day: date, starts: str, *, vet: str = "", although: str = ""
) -> None:
    """Move a visit where it fits and, when it is a recheck, within its window; see `book`."""
    visit, starts = read.one(Visit, visit_id), booking.wall_time(starts)
    late = _warning(_recheck_of(visit_id), day)
    wish = Wish(visit.system, vet or visit.vet, day, starts, visit.minutes, visit_id)
    if late and not although.strip():
        raise _refusal((late, *booking.problems_with(wish)))
    with edit("booking", who=act.by, at=act.at, visit=visit_id) as doing:
        booking.move(act, visit_id, day, starts, vet=vet, although=although)
        if late:
            doing.change(Visit, visit_id, booked_why=although.strip())


def reword(act: Act, visit_id: str, reason: str) -> None:
    """Say anew why a visit is booked."""
    with edit("booking", who=act.by, at=act.at, visit=visit_id) as doing:
        doing.change(Visit, visit_id, reason=reason.strip())


def _make(act: Act, new: Newcomer) -> str:
    """Make what is new of a client, a site and a water; return the water's id."""
    client = new.client or setup.add_client(act, new.name, phone=new.phone, address=new.address)
    address = new.address or read.one(Client, client).address
    site = new.site or setup.add_site(
        act, client, new.site_name or "home", address=address, access=new.access
    )
    return setup.add_system(
        act, site, new.system, new.kind, volume_l=new.volume_l, volume_typed=new.volume_typed
    )


def log_attempt(act: Act, recheck_id: str, result: str) -> None:
    """Note an attempt to reach the owner about a recheck, with what came of it.

    Raises
    ------
    Refusal
        Without a result.
    """
    if not result.strip():
        raise Refusal("An attempt has a result.", "Say for example: no answer.")
    found = read.one(Recheck, recheck_id)
    with edit("attempt", who=act.by, at=act.at, visit=found.visit) as doing:
        doing.add(_attempt(act, recheck_id, result.strip()))


def _attempt(act: Act, recheck_id: str, result: str) -> Attempt:
    return Attempt(id=new_key(), recheck=recheck_id, result=result, by=act.by, at=act.at)


def close_recheck(act: Act, recheck_id: str, outcome: str) -> None:
    """Close a recheck with its outcome.

    Raises
    ------
    Refusal
        Without an outcome, or when it is closed already.
    """
    if not outcome.strip():
        raise Refusal("A recheck is closed with its outcome.", "Say for example: clear.")
    found = read.one(Recheck, recheck_id)
    if found.closed_at is not None:
        raise Refusal(f"This recheck is closed already: {found.outcome}.")
    with edit("recheck closed", who=act.by, at=act.at, visit=found.visit) as doing:
        doing.change(Recheck, recheck_id, closed_at=act.at, outcome=outcome.strip())


def rank_facts() -> dict[str, RankFact]:
    """Return the plain facts that give a site its rank, as the catalogue has them."""
    rows = load.table("ranks")["fact"]
    return {key: RankFact.from_row(key, row) for key, row in rows.items()}


def rank_of(facts: tuple[str, ...], number: int | None = None, why: str = "") -> Rank:
    """Return the rank that facts give, or the one a person sets instead, with the reason.

    Raises
    ------
    Refusal
        When another rank is set without a reason.
    """
    given = rank(facts, rank_facts())
    return given if number in (None, given.number) else override(given, number or 0, why)
