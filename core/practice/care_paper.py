"""The owner's care sheet: only what was decided, so that a changed plan makes another sheet."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime

from core.catalogue import load
from core.papers.care_sheet import CareSheet
from core.practice import care_cautions, care_readings, care_steps, letterhead
from core.practice.care_rows import CareRows
from core.practice.record_rows import VisitRows
from core.practice.treatment_said import sentence
from core.records import read
from core.records.tables import Problem, ProblemState

SAID = (
    ("confirmed", "We found: {}."),
    ("improving", "Getting better: {}."),
    ("suspected", "We suspect, and it is not proven: {}."),
)
"""How each state that is still held is told."""


def care_sheet(visit_id: str, number: str, version: int, at: datetime) -> CareSheet:
    """Return the care sheet of a visit as the paper takes it.

    Parameters
    ----------
    number, version : str, int
        Of this sheet.
    at : datetime
        Moment of issue, aware.
    """
    rows = CareRows(visit_id)
    visit, standing = rows.visit, load.table("owner")
    today, later, before_rise = care_steps.steps(rows)
    stops = rows.said("stop", but=("missed",))
    return CareSheet(
        number=number,
        version=version,
        practice=letterhead.head(visit.practice),
        client=letterhead.party(visit.opened.client),
        issued=letterhead.wall(at, visit.practice),
        visited=visit.opened.visit.day,
        system="; ".join(rows.waters()),
        fish=", ".join(rows.fish()),
        found=tuple(_found(visit)),
        phone=visit.practice.phone,
        # The sentence that stands by for every bath does not make up for a rule of the plan.
        stop_rules=(*stops, *(standing["stop"] if stops and rows.in_water() else ())),
        emergency_signs=tuple(standing["emergency"]),
        today=today,
        steps=later,
        before_rise=before_rise,
        avoid=tuple(care_cautions.avoid(rows)),
        watch=(*rows.said("watch"), *care_cautions.watch(rows)),
        movement=tuple(care_cautions.movement(rows)),
        forgotten=tuple(care_steps.forgotten(rows)),
        dead=tuple(standing["dead"]),
        cautions=tuple(care_cautions.cautions(rows)),
        unread=tuple(dict.fromkeys(care_cautions.unread(rows))),
        withdrawal=tuple(care_cautions.withdrawal(rows)),
        withheld=tuple(care_cautions.withheld(rows)),
        readings=care_readings.readings(rows),
        closing=standing["closing"],
        veterinarian=visit.opened.vet.name,
    )


def content_hash(sheet: CareSheet) -> str:
    """Return the hash of what a sheet says, whatever its number and moment."""
    bare = replace(
        sheet,
        number="",
        version=0,
        issued=sheet.issued.replace(hour=0, minute=0, second=0, microsecond=0),
    )
    return hashlib.sha256(repr(bare).encode()).hexdigest()


def _found(visit: VisitRows) -> Iterator[str]:
    latest = {s.problem: s.state for s in read.find(ProblemState, visit=visit.id, order="at, id")}
    named = [(read.one(Problem, key), state) for key, state in latest.items()]
    told = [
        form.format("; ".join(_named(visit, row) for row, held in named if held == state))
        for state, form in SAID
        if any(held == state for _, held in named)
    ]
    yield from told or ["No problem was named at this visit."]


def _named(visit: VisitRows, row: Problem) -> str:
    """Return a problem with the fish that has it, where it is not the whole water."""
    words = sentence(row.words).removesuffix(".")
    words = f"{words[0].lower()}{words[1:]}" if words[1:2].islower() else words
    return f"{words} ({visit.groups[row.group].name})" if row.group in visit.groups else words
