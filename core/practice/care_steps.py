"""The owner's days: what to do on which day, each thing once, in the owner's own measures."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from core.numbers import plain
from core.papers.care_sheet import Step
from core.practice.care_rows import CareRows
from core.practice.names import name
from core.practice.treatment_said import days_of, dose_words, feed_words, sentence, short
from core.records import read
from core.records.tables import FeedStep, OwnerStep, Recheck, Treatment, Visit
from core.units import parse

ELSEWHERE = ("people",)
"""Origins of things to do that stand among the cautions."""
LATER_RISE = "Only when “Before each rise” holds."
AS_BEFORE = "As the first time."
LONG = 30
"""Directions of fewer characters are not worth pointing back for."""
BY_US = re.compile(r"\bby (us|the practice|the vet)\b", re.IGNORECASE)
SMALL_G = 20.0
"""Below this nobody weighs in ounces."""


def steps(rows: CareRows) -> tuple[tuple[Step, ...], tuple[Step, ...], tuple[str, ...]]:
    """Return what is for today, what is for later, and what later rises have in common."""
    today = rows.visit.opened.visit.day
    found = (*_owner_steps(rows), *_feeding(rows), *_doses(rows))
    found = tuple(replace(s, do=sentence(s.do)) for s in found)
    now = tuple(s for s in found if s.on <= today)
    later = sorted((s for s in found if s.on > today), key=lambda s: s.on)
    told = _directions_once(rows, (*now, *later))
    now, rest = told[: len(now)], told[len(now) :]
    rest, gates = _gates_once(rows, rest)
    return now, (*rest, *_rechecks(rows)), gates


def _owner_steps(rows: CareRows) -> Iterator[Step]:
    today = rows.visit.opened.visit.day
    feeding = {f"feeding:{s.id}": s for s in read.find(FeedStep, visit=rows.visit.id)}
    for row in rows.steps:
        if row.kind != "do" or row.origin.split(":")[0] in ELSEWHERE:
            continue
        words = row.words
        if row.origin in feeding:
            words = _in_scoops(rows, feeding[row.origin], words)
        yield Step(row.day or today, _measured(rows, row, words), _by_us(rows, row))


def _by_us(rows: CareRows, row: OwnerStep) -> bool:
    given = next((t for t in rows.own if row.origin.startswith(f"dose:{t.id}:")), None)
    return given is not None and ours(given)


def ours(given: Treatment) -> bool:
    """Whether the practice itself gives what is ordered, as its directions say."""
    return given.route.startswith("injection") and bool(BY_US.search(given.directions))


def _feeding(rows: CareRows) -> Iterator[Step]:
    for feed in read.find(FeedStep, visit=rows.visit.id, order="day, position"):
        if f"feeding:{feed.id}" not in rows.told:
            yield Step(feed.day, _in_scoops(rows, feed, feed_words(feed)))


def _in_scoops(rows: CareRows, feed: FeedStep, words: str) -> str:
    """Put the owner's own measure behind the grams of a ration."""
    said = [_ounces(rows, feed.grams), _scoops(feed.grams, rows.scoop_g(feed.system))]
    own = ", ".join(part for part in said if part)
    grams = f"{short(feed.grams)} g a day"
    return words.replace(grams, f"{grams} ({own})", 1) if own else words


def _scoops(grams: float, scoop_g: float | None) -> str:
    if not scoop_g:
        return ""
    quarters = round(4 * grams / scoop_g)
    if not quarters:
        return "less than a quarter of your scoop: weigh it"
    return f"about {plain(quarters / 4)} of your scoops, {short(scoop_g)} g each"


def _ounces(rows: CareRows, grams: float) -> str:
    if rows.units != "us" or grams < SMALL_G:
        return ""
    ounces = grams / parse("1 oz", "mass")
    return f"{ounces / 16:.2f} lb" if ounces >= 16 else f"{ounces:.1f} oz"


def _measured(rows: CareRows, row: OwnerStep, words: str) -> str:
    """Put ounces behind the grams of a dose that the owner weighs."""
    given = next((t for t in rows.own if row.origin.startswith(f"dose:{t.id}:")), None)
    return _weighed(rows, given, words) if given else words


def _weighed(rows: CareRows, given: Treatment, words: str) -> str:
    each = given.amount / given.steps if given.steps > 1 else given.amount
    own = _ounces(rows, each) if given.amount_unit == "g" else ""
    grams = f"{short(each)} g"
    return words.replace(grams, f"{grams} ({own})", 1) if own else words


def _doses(rows: CareRows) -> Iterator[Step]:
    """Give the doses that no line of the owner's says already."""
    for given in rows.own:
        for number, day in enumerate(days_of(given)):
            if f"dose:{given.id}:{number}" not in rows.told:
                yield Step(day, _weighed(rows, given, dose_words(given, number)), ours(given))


def _rechecks(rows: CareRows) -> Iterator[Step]:
    for recheck in read.find(Recheck, visit=rows.visit.id, order="target, id"):
        verb = "We ring you" if recheck.kind == "phone" else "We come"
        visit = read.one(Visit, recheck.booked) if recheck.booked is not None else None
        stands = visit is not None and visit.state != "cancelled"
        day, at = (visit.day, f" at {visit.starts}") if visit and stands else (recheck.target, "")
        yield Step(day, f"{verb}{at}: {recheck.reason}", by_practice=True)


def _directions_once(rows: CareRows, found: tuple[Step, ...]) -> tuple[Step, ...]:
    """Say long directions the first time only; later doses point back to them."""
    for given in rows.own:
        said = sentence(given.directions)
        if len(said) < LONG:
            continue
        first = next((n for n, step in enumerate(found) if said in step.do), len(found))
        found = tuple(
            replace(s, do=s.do.replace(said, AS_BEFORE)) if n > first else s
            for n, s in enumerate(found)
        )
    return found


def _gates_once(
    rows: CareRows, later: tuple[Step, ...]
) -> tuple[tuple[Step, ...], tuple[str, ...]]:
    """Say a gate once where several later rises have it in common."""
    kept = {f.gate for f in read.find(FeedStep, visit=rows.visit.id, kind="step")}
    gates = Counter(gate for step in later for gate in kept if gate in step.do)
    if len(gates) != 1 or gates.total() < 2:
        return later, ()
    [gate] = gates
    told = tuple(replace(step, do=step.do.replace(gate, LATER_RISE)) for step in later)
    return told, (sentence(gate),)


def forgotten(rows: CareRows) -> Iterator[str]:
    """Give what is to be done about a forgotten dose: one sentence, and what the vet added."""
    mine = {f"missed:{t.id}": t for t in rows.own if not ours(t)}
    lines = [step for step in rows.steps if step.origin.startswith("missed:")]
    named = [
        name("medicine", mine[step.origin].medicine)
        for step in lines
        if step.origin in mine and rows.as_offered(step)
    ]
    if named:
        of = " or ".join(dict.fromkeys(named))
        yield f"A forgotten dose of {of}: do not give two together; ring."
    yield from (step.words for step in lines if not rows.as_offered(step))
