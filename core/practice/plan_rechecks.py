"""Rechecks: offered from the named problems and the temperature, taken, edited, struck."""

from __future__ import annotations

import functools
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from core.catalogue import load
from core.dosing.medicines import BATHS
from core.errors import BadInput
from core.numbers import plain
from core.practice import course_tests, goes_with, recheck_visits
from core.practice.door import edit
from core.practice.keep import Act, begin_stage, ever
from core.practice.medicines import catalogue
from core.practice.names import name
from core.practice.problem_list import lines_of
from core.practice.recheck_visits import When
from core.practice.treatment_said import amount_words, days_of, whom
from core.records import read
from core.records.keys import new_key
from core.records.tables import Recheck, Treatment, Visit
from core.scheduling.rechecks import RecheckRule, Window, rules_for, windows

KINDS = ("visit", "phone")
COURSE_END = "course_end"
"""After a course that goes into the water."""
FISH_END = "course_end_fish"
"""After one that goes into the fish, by the food or the needle."""
WITHDRAWAL_END = "withdrawal_end"
FOUND = When()
"""Book it at the first free time of the vet who plans it."""


@dataclass(frozen=True)
class RecheckOffer:
    """A recheck that the rows of the catalogue make worth planning; nothing is booked by it."""

    origin: str
    reason: str
    window: Window
    note: str
    source: str
    kind: str = "visit"


@functools.cache
def rules() -> tuple[RecheckRule, ...]:
    """Return every row of the rechecks."""
    rows = load.table("rechecks")["recheck"]
    return tuple(RecheckRule.from_row(key, row) for key, row in rows.items())


def offers(visit_id: str, system_id: str, temperature_c: float | None) -> tuple[RecheckOffer, ...]:
    """Return the rechecks of the open problems that are not taken yet, the soonest first."""
    day = read.one(Visit, visit_id).day
    taken = {r.origin for r in ever(Recheck, visit=visit_id)}
    listed = [
        offer
        for held in lines_of(visit_id, system_id)
        if held.problem.open and held.row.problem
        for offer in _of(held.row.problem, held.row.words, day, temperature_c)
    ]
    after = (*_after(visit_id, system_id), *_withdrawals(visit_id, system_id))
    found = {o.origin: o for o in (*listed, *_repeats(visit_id, system_id), *after)}
    left = (o for o in found.values() if o.origin not in taken)
    return tuple(sorted(left, key=lambda o: (o.window.target, o.origin)))


def _repeats(visit_id: str, system_id: str) -> Iterator[RecheckOffer]:
    """Give a visit for each later dose of what was begun here."""
    for row in read.find(Treatment, visit=visit_id, system=system_id, act="given here"):
        for number, day in enumerate(days_of(row)[1:], 2):
            reason = f"{name('medicine', row.medicine)} for {whom(row)}: dose {number}"
            window = Window(day, day, day + timedelta(days=1))
            note = f"{amount_words(row)}. A day late at most is our own choice."
            yield RecheckOffer(f"repeat:{row.id}:{number}", reason, window, note, "MEMORY_CLINIC")


def _after(visit_id: str, system_id: str) -> Iterator[RecheckOffer]:
    """Give what is looked at after a course: what its tests ask for, and its end.

    The rows of a problem count from this visit, so that a course of its own length has its end
    beside them.
    """
    for row in read.find(Treatment, visit=visit_id, system=system_id):
        found = catalogue().get(row.medicine)
        if found is None:
            continue
        keys = [test.recheck for test in course_tests.asked(row, found) if test.recheck]
        keys += [] if keys else _end_of(row)
        of = f"after {name('medicine', row.medicine)} for {whom(row)}"
        for rule in (r for r in rules() if r.key in keys):
            for number, window in enumerate(windows(rule, goes_with.ends_on(row))):
                reason = f"{rule.check}, {of}"
                origin = f"after:{row.id}:{rule.key}:{number}"
                yield RecheckOffer(origin, reason, window, _note(rule, True), rule.source)


def _end_of(row: Treatment) -> list[str]:
    """Return which end a course of several treatments has; in hand each dose is a visit."""
    if len(days_of(row)) < 2 or row.handling is not None:
        return []
    return [COURSE_END if row.route in BATHS else FISH_END]


def _withdrawals(visit_id: str, system_id: str) -> Iterator[RecheckOffer]:
    """Give a call at the end of each withdrawal; those over on one day are one call."""
    ends: dict[date, list[str]] = {}
    for row in read.find(Treatment, visit=visit_id, system=system_id):
        if row.withdrawal_until is not None:
            said = f"{name('medicine', row.medicine)} for {whom(row)}"
            ends.setdefault(row.withdrawal_until, []).append(said)
    rule = next(r for r in rules() if r.key == WITHDRAWAL_END)
    for day, of in ends.items():
        reason = f"{rule.check}: {_once(of)}"
        for number, window in enumerate(windows(rule, day)):
            origin = f"withdrawal:{system_id}:{day.isoformat()}:{number}"
            note = _note(rule, True)
            yield RecheckOffer(origin, reason, window, note, rule.source, kind="phone")


def _once(said: list[str]) -> str:
    """Return the first of several treatments in words, and how many more there are."""
    more = len(dict.fromkeys(said)) - 1
    return f"{said[0]} and {more} more" if more else said[0]


def _of(problem: str, words: str, day: date, temperature_c: float | None) -> Iterator[RecheckOffer]:
    choice = rules_for(rules(), problem, temperature_c)
    for rule in choice.rules:
        for number, window in enumerate(windows(rule, day)):
            yield RecheckOffer(
                f"recheck:{rule.key}:{number}",
                f"{words}: {rule.check[0].lower()}{rule.check[1:]}",
                window,
                _note(rule, choice.exact),
                rule.source,
            )


def _note(rule: RecheckRule, exact: bool) -> str:
    made = "" if exact else f"Not made for this temperature, but {_for(rule)}: the vet chooses. "
    return f"{made}{rule.note} Clear when: {rule.clear_when}.".strip()


def _for(rule: RecheckRule) -> str:
    if rule.low_c is None and rule.high_c is None:
        return "for any water"
    low = "" if rule.low_c is None else f"from {plain(rule.low_c)} "
    high = "" if rule.high_c is None else f"to {plain(rule.high_c)} "
    return f"for water {low}{high}°C"


def plan_recheck(
    act: Act,
    visit_id: str,
    system_id: str,
    *,
    reason: str,
    window: Window,
    kind: str = "visit",
    origin: str = "",
    when: When | None = FOUND,
) -> str:
    """Plan a recheck: a reason, a visit or a call, and the window in which it should happen.

    Parameters
    ----------
    when : When or None
        A visit is booked then, or at the first free time inside the window where that is not
        said; where there is none it stays due for the desk. None leaves the booking to the desk.

    Raises
    ------
    BadInput
        Without a reason, or for a window that has begun before the visit.
    DoesNotFit
        When a day and time are wanted that do not fit, and no reason is given.
    """
    _check(reason, kind, window, read.one(Visit, visit_id).day)
    row = Recheck(
        id=new_key(),
        visit=visit_id,
        client=read.one(Visit, visit_id).client,
        system=system_id,
        kind=kind,
        reason=reason.strip(),
        earliest=window.earliest,
        target=window.target,
        latest=window.latest,
        origin=origin,
    )
    with edit("recheck", who=act.by, at=act.at, visit=visit_id) as doing:
        begin_stage(doing, visit_id, "Plan")
        doing.add(row)
        if kind == "visit" and when is not None:
            recheck_visits.put_in_book(act, row.id, when)
    return row.id


def take_recheck(act: Act, visit_id: str, system_id: str, offer: RecheckOffer) -> str:
    """Plan a recheck as it is offered, and book its visit."""
    return plan_recheck(
        act,
        visit_id,
        system_id,
        reason=offer.reason,
        window=offer.window,
        kind=offer.kind,
        origin=offer.origin,
    )


def change_recheck(
    act: Act,
    recheck_id: str,
    *,
    reason: str,
    window: Window,
    kind: str,
    when: When | None = FOUND,
) -> None:
    """Change reason, dates or kind of a recheck; its booked visit follows. See `plan_recheck`."""
    row = read.one(Recheck, recheck_id)
    _check(reason, kind, window, read.one(Visit, row.visit).day)
    with edit("recheck", who=act.by, at=act.at, visit=row.visit) as doing:
        doing.change(
            Recheck,
            recheck_id,
            reason=reason.strip(),
            kind=kind,
            earliest=window.earliest,
            target=window.target,
            latest=window.latest,
        )
        recheck_visits.follow(act, recheck_id, when if kind == "visit" else None)


def strike_recheck(act: Act, recheck_id: str, why: str) -> None:
    """Strike a recheck, with the reason; a visit that was booked for it is cancelled."""
    row = read.one(Recheck, recheck_id)
    with edit("recheck struck", who=act.by, at=act.at, visit=row.visit) as doing:
        doing.strike(Recheck, recheck_id, why)
        recheck_visits.cancel(act, row, why)


def _check(reason: str, kind: str, window: Window, day: date) -> None:
    if not reason.strip():
        raise BadInput("A recheck needs its reason.", "Type for example: gill snip again.")
    if kind not in KINDS:
        raise BadInput(f"{kind} is not a way to look again.", "It is a visit or a phone call.")
    if window.latest < day:
        raise BadInput("This window lies before the visit.", "Type a day to come, as +7.")


def cited(offer: RecheckOffer) -> str:
    """Return the work that an offered recheck is taken from, as it is cited."""
    return load.citations().get(offer.source, offer.source)
