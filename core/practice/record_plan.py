"""What was held, done and signed at a visit, as its record prints it."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator

from core.numbers import plain
from core.papers import visit_data as data
from core.papers.parts import moment
from core.practice import assessment, fed_in, from_memory, letterhead, signatures
from core.practice.names import name
from core.practice.record_rows import VisitRows
from core.practice.treatment_said import frequency, short
from core.records import read
from core.records.tables import (
    Addendum,
    Problem,
    ProblemState,
    Proposed,
    Treatment,
)


def problems(visit: VisitRows) -> Iterator[data.Problem]:
    """Return the problems as the vet held them at this visit."""
    known: dict[str, data.Status] = {
        "suspected": "suspected",
        "confirmed": "confirmed",
        "ruled out": "ruled out",
        "resolved": "resolved",
        "improving": "confirmed",
    }
    states = read.find(ProblemState, visit=visit.id, order="at, id")
    latest = {s.problem: s for s in states}
    held = _evidence(visit)
    for problem_id, state in latest.items():
        problem = read.one(Problem, problem_id)
        whom = visit.whom(problem.group, None, problem.system)
        said = [
            f"{s.state}: {visit.people.get(s.by, '')} {s.why}".strip()
            for s in states
            if s.problem == problem_id
        ]
        yield data.Problem(
            f"{problem.words} ({whom})", known[state.state], tuple(said), *held.get(problem_id, ())
        )


def _evidence(visit: VisitRows) -> dict[str, tuple[tuple[str, ...], ...]]:
    """Return what the record holds for and against each problem, and what it lacks."""
    lines = [x for s in visit.opened.systems for x in assessment.view(visit.id, s.id).lines]
    return {
        x.row.id: (
            assessment.for_words(x.evidence),
            assessment.against_words(x.evidence),
            assessment.missing_words(x.evidence),
        )
        for x in lines
        if x.evidence is not None
    }


def treatments(visit: VisitRows) -> Iterator[data.Treatment]:
    """Return what was given, dispensed, prescribed and advised."""
    for row in read.find(Treatment, visit=visit.id):
        kind = next(k for k in data.KINDS if k == row.act)
        details = {
            "Dose": f"{plain(row.dose)} {row.dose_unit}",
            "On record": from_memory.said(row.medicine),
            "In running water": fed_in.words(row),
            "Lot": row.lot,
            "Place": row.place,
            "Directions": row.directions,
            "How often": _often(row),
            "Withdrawal": row.withdrawal,
            "Not before": row.withdrawal_until.isoformat() if row.withdrawal_until else "",
            "Gone past a caution because": row.override,
            "By": visit.people.get(row.by, ""),
        }
        yield data.Treatment(
            kind,
            " ".join(filter(None, (name("medicine", row.medicine), row.strength))),
            f"{short(row.amount)} {row.amount_unit}".strip(),
            row.route,
            visit.whom(row.group, row.handling, row.system),
            f"{letterhead.wall(row.at, visit.practice):%d %b %Y %H:%M}",
            tuple((k, v) for k, v in details.items() if v),
        )


def _often(row: Treatment) -> str:
    """Return how often it is given in the words of its label; "" for what is given once."""
    if row.repeats <= 1 and row.steps <= 1:
        return ""
    first = row.repeats > 1 and row.act == "given here"
    return frequency(row) + (", the first of them at this visit" if first else "")


def consents(visit: VisitRows) -> Iterator[tuple[str, str]]:
    """Return who agreed to what."""
    row = visit.opened.visit
    money = letterhead.currency(visit.practice)
    if row.estimate_at is not None:
        low, high = row.estimate_low_minor or 0, row.estimate_high_minor or 0
        at = letterhead.wall(row.estimate_at, visit.practice)
        said = f"{money.show(low)} to {money.show(high)}, by {row.estimate_by}, {at:%d %b %Y %H:%M}"
        yield "Estimate accepted", said
    if row.advice:
        yield "Told before the visit", row.advice


def signature(visit: VisitRows) -> data.Signature | None:
    """Return the signature, or None while the visit is open."""
    row = visit.opened.visit
    if row.signed_at is None:
        return None
    at = letterhead.wall(row.signed_at, visit.practice)
    place = signatures.link(visit.id)
    return data.Signature(
        visit.people.get(row.signed_by or "", ""),
        at,
        row.sign_hash or "",
        place.words if place else "",
    )


def addendum(visit: VisitRows, row: Addendum, came_late: Proposed | None) -> data.Addendum:
    """Return an addendum with a hash of its own, and who entered what was taken later."""
    at = letterhead.wall(row.at, visit.practice)
    author = visit.people.get(row.by, "")
    body = "\n".join((row.words, row.why, author, row.at.isoformat()))
    digest = hashlib.sha256(body.encode()).hexdigest()
    entered = ""
    if came_late is not None:
        entry = letterhead.wall(came_late.at, visit.practice)
        entered = f"{visit.people.get(came_late.by, '')}, {moment(entry)}"
    return data.Addendum(row.words, row.why, author, at, digest, entered)
