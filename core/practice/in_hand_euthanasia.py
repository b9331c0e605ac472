"""The record of a euthanasia in two steps: what it holds, and what it still lacks."""

from __future__ import annotations

from datetime import timedelta

from core.dosing.anaesthesia import Euthanasia, FirstStep, SecondStep, missing_before_closing
from core.numbers import plain
from core.practice.in_hand_agents import overdose
from core.practice.in_hand_marks import BEAT, DEAD, FIRST, SECOND, Anaesthesia, rules
from core.records import read
from core.records.tables import DepthMark, Handling, Person

CONSENT = "consent of "
GIVEN = "; overdose: "
"""Between whose consent it is and what was given, in the note of the first step."""
NO_OVERDOSE = "what the first step was: agent and strength of an overdose"


def lacking(handling: Handling, clock: Anaesthesia) -> tuple[str, ...]:
    """Return what the record of a euthanasia lacks; empty when there is none, or it is whole."""
    if clock.at(FIRST) is None:
        return ()
    found = missing_before_closing(_record(handling, clock), 0)
    return found if given(handling, _last(clock, FIRST)) else (NO_OVERDOSE, *found)


def given(handling: Handling, first: DepthMark | None) -> str:
    """Return what was given as the first step; "" when no overdose is on record."""
    said = (first.note if first else "").partition(GIVEN)[2]
    if said:
        return said
    known = overdose(handling.agent)
    if known is None or handling.agent_mg_l is None or handling.agent_mg_l < known.least:
        return ""
    return f"{handling.agent} {plain(handling.agent_mg_l)} mg/L"


def _last(clock: Anaesthesia, event: str) -> DepthMark | None:
    return next((m for m in reversed(clock.marks) if m.event == event), None)


def _record(row: Handling, clock: Anaesthesia) -> Euthanasia:
    first, second, dead = (_last(clock, event) for event in (FIRST, SECOND, DEAD))
    assert first is not None
    return Euthanasia(
        row.label,
        first.note.partition(GIVEN)[0].removeprefix(CONSENT),
        FirstStep(row.agent, given(row, first), first.at, clock.at(BEAT)),
        SecondStep(second.note, second.at, _name(second.by)) if second else None,
        frozenset(filter(None, (dead.note if dead else "").split("; "))),
        _name(dead.by) if dead else "",
    )


def _name(person_id: str) -> str:
    found = read.first(Person, id=person_id)
    return found.name if found else person_id


def waited(clock: Anaesthesia) -> tuple[str, ...]:
    """Return what sources say of the wait before the second step, while it is to be said."""
    beat, second = clock.at(BEAT), clock.at(SECOND)
    row = rules()["euthanasia"]
    if clock.at(FIRST) is None:
        return ()
    waits = "; ".join(f"{w['minutes']} min {w['says']}" for w in row["waits"])
    if beat and second:
        was = (second - beat) / timedelta(minutes=1)
        if was >= row["default_wait_minutes"]:
            return ()
        return (f"{plain(round(was, 1))} min before the second step; sources wait {waits}.",)
    return (f"Wait before the second step; sources say {waits}.",)
