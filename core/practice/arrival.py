"""What the vet needs before getting out of the truck, for every visit of a day at once."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from core.catalogue import load
from core.dates import said, span
from core.practice.names import name
from core.records.engine import query
from core.records.fields import DayField


@dataclass(frozen=True)
class Arrival:
    """What is to be known of one visit before it begins."""

    address: str
    access: str
    """Gate, dog, key, who will be there."""
    phone: str
    last: tuple[str, ...]
    """The last visit in at most two lines; empty when there was none."""
    owed_minor: int
    """What the client owes over all visits; below zero is a credit."""
    bring: str
    cautions: tuple[str, ...]
    advice: str
    """What the desk told the owner to do until now."""
    lock: str = ""
    """Why this visit should be moved: a listed disease was suspected earlier on the round."""
    recheck: str = ""
    """The reason and window of the recheck that this visit was booked for."""


@dataclass(frozen=True)
class _Held:
    """A problem as it was held at one visit."""

    visit: str
    problem: str
    client: str
    system: str
    kind: str
    words: str
    state: str

    @property
    def open(self) -> bool:
        return self.state not in ("ruled out", "resolved")

    @property
    def row(self) -> dict[str, Any]:
        found: dict[str, Any] = load.table("problems").get("problem", {}).get(self.kind, {})
        return found


@dataclass(frozen=True)
class _Stop:
    """One visit of the day, its columns in the order of the query."""

    visit: str
    starts: str
    site: str
    client: str
    vet: str
    kind: str
    rank: int
    state: str
    advice: str
    name: str
    phone: str
    client_address: str
    address: str
    access: str
    caution: str
    bring: str
    owed_minor: int
    last: str | None
    """The visit before this one."""
    recheck: str | None
    """Earliest day, latest day and reason of the recheck it was booked for, each on a line."""


_VISITS = """
SELECT v."id", v."starts", v."site", v."client", v."vet", v."kind", v."rank", v."state",
       v."advice", c."name", c."phone", c."address", s."address", s."access", s."caution",
       s."bring",
       (SELECT coalesce(sum(i."gross_minor"), 0) FROM "invoice" i WHERE i."client" = v."client")
       - (SELECT coalesce(sum(b."amount_minor"), 0) FROM "payment" b
          WHERE b."client" = v."client"),
       (SELECT e."id" FROM "visit" e WHERE e."site" = v."site" AND e."day" < v."day"
          AND e."state" IN ('signed', 'open') AND e."struck" IS NULL
          ORDER BY e."day" DESC, e."starts" DESC LIMIT 1),
       (SELECT r."earliest" || '\n' || r."latest" || '\n' || r."reason"
          FROM "recheck" r WHERE r."booked" = v."id" AND r."struck" IS NULL LIMIT 1)
FROM "visit" v JOIN "client" c ON c."id" = v."client" JOIN "site" s ON s."id" = v."site"
WHERE v."day" = ? AND v."struck" IS NULL ORDER BY v."starts", v."id"
"""
_EARLIER = 'SELECT v."id", v."day", v."state", v."reason" FROM "visit" v WHERE v."id" IN ({})'
_PLANS = """
SELECT o."visit", o."words" FROM "owner_step" o
WHERE o."visit" IN ({}) AND o."struck" IS NULL ORDER BY o."position", o."id"
"""
_TREATED = """
SELECT t."visit", t."medicine", t."act" FROM "treatment" t
WHERE t."visit" IN ({}) AND t."struck" IS NULL ORDER BY t."id"
"""
_PROBLEMS = """
SELECT h."visit", p."id", p."client", p."system", p."problem", p."words", h."state"
FROM "problem_state" h JOIN "problem" p ON p."id" = h."problem"
WHERE p."client" IN ({}) AND h."struck" IS NULL AND p."struck" IS NULL
ORDER BY h."at", h."id"
"""
_SYSTEMS = """
SELECT y."site", y."name", y."food_fish", y."invertebrates" FROM "system" y
WHERE y."site" IN ({}) AND y."struck" IS NULL ORDER BY y."id"
"""


def before(day: date) -> dict[str, Arrival]:
    """Return what is to be known before each visit of a day, by visit.

    Six queries, however many visits there are.
    """
    value = DayField().db_value(day)
    stops = [_Stop(*r) for r in query(_VISITS, (value,))]
    held = [_Held(*r) for r in _among(_PROBLEMS, {s.client for s in stops})]
    last = _last_visits({s.last for s in stops if s.last}, held, day)
    systems: dict[str, list[tuple[Any, ...]]] = {}
    for site, *rest in _among(_SYSTEMS, {s.site for s in stops}):
        systems.setdefault(site, []).append(tuple(rest))
    found = {s.visit: _arrival(s, systems.get(s.site, []), held, last, day) for s in stops}
    return _locked(stops, found, held)


def _among(statement: str, ids: Iterable[str]) -> list[tuple[Any, ...]]:
    wanted = sorted(ids)
    return query(statement.format(", ".join("?" for _ in wanted) or "NULL"), wanted)


def _last_visits(ids: set[str], held: list[_Held], day: date) -> dict[str, tuple[str, ...]]:
    plans: dict[str, list[str]] = {}
    for visit, words in _among(_PLANS, ids):
        plans.setdefault(visit, []).append(words.rstrip("."))
    for visit, medicine, act in _among(_TREATED, ids):
        plans.setdefault(visit, []).append(f"{name('medicine', medicine)} {act}")
    found: dict[str, tuple[str, ...]] = {}
    for visit, on, state, reason in _among(_EARLIER, ids):
        named = {h.problem: f"{h.words} {h.state}" for h in held if h.visit == visit}
        when = said(date.fromisoformat(on), day)
        signed = "" if state == "signed" else " (not signed)"
        first = f"{when}{signed}: {', '.join(named.values()) or reason or 'no problem named'}"
        plan = "; ".join(plans.get(visit, []))
        found[visit] = (first, plan) if plan else (first,)
    return found


def _arrival(
    stop: _Stop,
    systems: list[tuple[Any, ...]],
    held: list[_Held],
    last: dict[str, tuple[str, ...]],
    day: date,
) -> Arrival:
    return Arrival(
        address=stop.address or stop.client_address,
        access=stop.access,
        phone=stop.phone,
        last=last.get(stop.last or "", ()),
        owed_minor=stop.owed_minor,
        bring="; ".join(part for part in (stop.bring, _kit(stop.kind)) if part),
        cautions=tuple(_cautions(stop, systems, _open_of(held, stop.client))),
        advice=stop.advice,
        recheck=_recheck(stop, day),
    )


def _recheck(stop: _Stop, day: date) -> str:
    if stop.recheck is None:
        return ""
    early, late, reason = stop.recheck.split("\n", 2)
    window = span(date.fromisoformat(early), date.fromisoformat(late), day)
    return f"{reason} (recheck, window {window})"


def _kit(kind: str) -> str:
    row = load.table("visit_types").get("visit_type", {}).get(kind, {})
    return ", ".join(row.get("kit", ()))


def _open_of(held: list[_Held], client: str) -> list[_Held]:
    """Return the client's problems that are open, each in its latest state."""
    latest = {h.problem: h for h in held if h.client == client}
    return [h for h in latest.values() if h.open]


def _cautions(stop: _Stop, systems: list[tuple[Any, ...]], problems: list[_Held]) -> Iterable[str]:
    for problem in problems:
        if problem.row.get("stops_movement"):
            yield f"{problem.words} {problem.state}, a listed disease: nothing leaves this site"
    if stop.rank >= 4:
        yield "rank 4: goes last; own nets and boots, disinfect before the truck"
    if stop.caution:
        yield stop.caution
    for water, food_fish, invertebrates in systems:
        if food_fish:
            yield f"{water}: food fish, so withdrawal times count, sedation too"
        if invertebrates == "yes":
            yield f"{water}: shrimp, snails or corals: no copper, no salt"
    for problem in problems:
        if problem.row.get("zoonotic"):
            yield f"{problem.words} {problem.state} can pass to people: gloves, cover cuts"


def _locked(stops: list[_Stop], found: dict[str, Arrival], held: list[_Held]) -> dict[str, Arrival]:
    """Flag the visits after a stop at which a listed disease is suspected that same day."""
    for stop in stops:
        named = {h.problem: h for h in held if h.visit == stop.visit}
        listed = [h for h in named.values() if h.open and h.row.get("stops_movement")]
        for later in (s for s in stops if listed and _follows(s, stop)):
            words = (
                f"MOVE this visit: {stop.name} at {stop.starts} today has "
                f"{listed[0].words} {listed[0].state}, a listed disease"
            )
            found[later.visit] = replace(found[later.visit], lock=words)
    return found


def _follows(later: _Stop, stop: _Stop) -> bool:
    """Whether the same truck goes there later that day, and has not been yet."""
    return (
        later.vet == stop.vet
        and later.site != stop.site
        and later.starts > stop.starts
        and later.state == "booked"
    )
