"""The clock of an anaesthesia: each moment with its time, and euthanasia in two steps."""

from __future__ import annotations

import functools
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from core.catalogue import load
from core.dosing.anaesthesia import (
    Euthanasia,
    FirstStep,
    SecondStep,
    Stage,
    missing_before_closing,
    stages,
)
from core.errors import Refusal
from core.numbers import plain
from core.practice.door import edit
from core.practice.keep import Act, begin_stage
from core.records import read
from core.records.keys import new_key
from core.records.tables import DepthMark, Handling, Person

INTO, OUT, RECOVERED = "into the bath", "out of the bath", "recovered"
FIRST, BEAT, SECOND, DEAD = "first step", "last opercular beat", "second step", "death confirmed"


@functools.cache
def rules() -> dict[str, Any]:
    """Return the catalogue's table of anaesthesia."""
    return load.table("anaesthesia")


@functools.cache
def scale(name: str) -> tuple[Stage, ...]:
    """Return the stages of ``depth`` or ``recovery``, each with the name of its scale."""
    row = rules()[name]
    return stages(row["stages"], row["scale"], row["source"])


def event_of(stage: Stage) -> str:
    """Return the word under which a stage is kept: its name, and which scale numbers it so."""
    return f"{stage.name}, {stage.number} of {stage.scale}"


@dataclass(frozen=True)
class Anaesthesia:
    """The clock of one fish: its marks in order of time."""

    marks: tuple[DepthMark, ...]
    cautions: tuple[str, ...]
    lacking: tuple[str, ...]
    """What the record of a euthanasia still lacks; empty when there is none to keep."""

    def at(self, event: str) -> datetime | None:
        """Return when an event was last marked."""
        return next((m.at for m in reversed(self.marks) if m.event == event), None)

    @property
    def phase(self) -> str:
        """Return ``before``, ``bath``, ``recovery``, ``euthanasia`` or ``over``."""
        events = {m.event for m in self.marks}
        if DEAD in events:
            return "over"
        if FIRST in events:
            return "euthanasia"
        last = next((m.event for m in reversed(self.marks) if m.event in _TURNS), "")
        return _TURNS.get(last, "before")

    @property
    def started(self) -> datetime | None:
        """When it went into the bath; the overdose, where that alone was marked."""
        return self.at(INTO) or self.at(FIRST)

    @property
    def ended(self) -> datetime | None:
        """When it was over: recovered, or death confirmed."""
        return (self.at(DEAD) or self.at(RECOVERED)) if self.phase == "over" else None

    def elapsed(self, now: datetime) -> timedelta | None:
        """Return the time since it went into the bath, until now or until it was over."""
        if self.started is None:
            return None
        return max(timedelta(0), (self.ended or now) - self.started)

    def minutes(self, mark: DepthMark) -> float:
        """Return the minutes from the start to a mark."""
        start = self.started or mark.at
        return (mark.at - start) / timedelta(minutes=1)

    @property
    def lines(self) -> tuple[str, ...]:
        """Return each mark with its minutes, ready to be shown."""
        return tuple(
            f"{clock_text(timedelta(minutes=max(0.0, self.minutes(m))))}  "
            + f"{m.event} {m.note}".rstrip()
            for m in self.marks
        )


_TURNS = {INTO: "bath", OUT: "recovery", RECOVERED: "over"}


def clock_text(elapsed: timedelta) -> str:
    """Return a span as minutes and seconds: ``03:12``."""
    seconds = int(elapsed.total_seconds())
    return f"{seconds // 60:02d}:{seconds % 60:02d}"


def of(handling: Handling) -> Anaesthesia:
    """Return the clock of a fish in hand."""
    marks = read.find(DepthMark, handling=handling.id, order="at, id")
    bare = Anaesthesia(marks, (), ())
    lacking = missing_before_closing(_record(handling, bare), 0) if bare.at(FIRST) else ()
    return Anaesthesia(marks, (*_cautions(bare), *_waited(bare)), lacking)


def events(clock: Anaesthesia) -> tuple[str, ...]:
    """Return what can be marked next, in the order of its keys 1 to 9."""
    phase = clock.phase
    if phase == "before":
        return (INTO, FIRST)
    if phase == "bath":
        return (*map(event_of, scale("depth")), OUT, FIRST)
    if phase == "recovery":
        return (*map(event_of, scale("recovery")), RECOVERED, INTO, FIRST)
    if phase == "euthanasia":
        return tuple(e for e in (BEAT, SECOND, DEAD) if clock.at(e) is None)
    return () if clock.at(DEAD) else (INTO, FIRST)


def mark(act: Act, handling_id: str, event: str, note: str = "") -> str:
    """Mark one moment of an anaesthesia.

    Raises
    ------
    Refusal
        When it can not come now: death before the second step, the second before the first.
    """
    from core.practice import in_hand_bath

    row = read.one(Handling, handling_id)
    _in_order(row, event, note)
    new = DepthMark(
        id=new_key(),
        visit=row.visit,
        handling=row.id,
        event=event,
        note=note.strip(),
        by=act.by,
        at=act.at,
    )
    with edit("anaesthesia", who=act.by, at=act.at, visit=row.visit) as doing:
        begin_stage(doing, row.visit, "In hand")
        doing.add(new)
        in_hand_bath.keep_sedation(doing, act, row.id)
    return new.id


def take_back(act: Act, handling_id: str, why: str) -> None:
    """Strike the mark that was made last, with the reason."""
    from core.practice import in_hand_bath

    row = read.one(Handling, handling_id)
    marks = read.find(DepthMark, handling=handling_id, order="at, id")
    if not marks:
        raise Refusal("Nothing was marked yet.")
    with edit("mark struck", who=act.by, at=act.at, visit=row.visit) as doing:
        doing.strike(DepthMark, marks[-1].id, why)
        in_hand_bath.keep_sedation(doing, act, row.id)


def _in_order(row: Handling, event: str, note: str) -> None:
    clock = of(row)
    if event not in events(clock):
        raise Refusal(f"{event.capitalize()} can not be marked now.", "Choose from the list.")
    if event == DEAD and clock.at(SECOND) is None:
        raise Refusal(
            "Death is confirmed after the second step, and that is empty.",
            "Name the second step first.",
        )
    if event in (FIRST, SECOND, DEAD) and not note.strip():
        wanted = {FIRST: "Whose consent", SECOND: "Which second step", DEAD: "Which signs of death"}
        raise Refusal(f"{wanted[event]} is not said.", "It belongs to the record.")


def close(row: Handling) -> None:
    """Refuse while the record of a euthanasia lacks anything.

    Raises
    ------
    Refusal
        Naming the fish and what is missing.
    """
    lacking = of(row).lacking
    if lacking:
        raise Refusal(
            f"{row.label}: this euthanasia can not be closed: missing {', '.join(lacking)}.",
            "i opens its clock.",
        )


CONSENT = "consent of "


def _record(row: Handling, clock: Anaesthesia) -> Euthanasia:
    notes = {m.event: m for m in clock.marks}
    first, second, dead = notes[FIRST], notes.get(SECOND), notes.get(DEAD)
    amount = f"{plain(row.agent_mg_l)} mg/L" if row.agent_mg_l else ""
    return Euthanasia(
        row.label,
        first.note.removeprefix(CONSENT),
        FirstStep(row.agent, amount, first.at, clock.at(BEAT)),
        SecondStep(second.note, second.at, _name(second.by)) if second else None,
        frozenset(filter(None, (dead.note if dead else "").split("; "))),
        _name(dead.by) if dead else "",
    )


def _name(person_id: str) -> str:
    found = read.first(Person, id=person_id)
    return found.name if found else person_id


def _cautions(clock: Anaesthesia) -> tuple[str, ...]:
    if clock.phase == "bath" and clock.marks:
        deepest = scale("depth")[-1]
        if clock.marks[-1].event == event_of(deepest):
            return (f"{deepest.name}: {deepest.signs}.",)
    aims, out, back = rules()["aims"], clock.at(OUT), clock.at(RECOVERED)
    if out and back and back - out > timedelta(minutes=aims["recovery_minutes"]):
        taken = plain(round((back - out) / timedelta(minutes=1), 1))
        return (f"Recovery took {taken} min; aimed for is within {aims['recovery_minutes']}.",)
    return ()


def _waited(clock: Anaesthesia) -> tuple[str, ...]:
    beat, second = clock.at(BEAT), clock.at(SECOND)
    row = rules()["euthanasia"]
    if clock.at(FIRST) is None:
        return ()
    waits = "; ".join(f"{w['minutes']} min {w['says']}" for w in row["waits"])
    if beat and second:
        waited = (second - beat) / timedelta(minutes=1)
        if waited >= row["default_wait_minutes"]:
            return ()
        return (f"{plain(round(waited, 1))} min before the second step; sources wait {waits}.",)
    return (f"Wait before the second step; sources say {waits}.",)
