"""The marks of an anaesthesia: what can be marked, and what a fish's marks say together."""

from __future__ import annotations

import functools
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from core.catalogue import load
from core.dosing.anaesthesia import Stage, stages
from core.numbers import plain
from core.records import read
from core.records.tables import DepthMark, Handling

INTO, OUT, RECOVERED = "into the bath", "out of the bath", "recovered"
MAINTAIN = "maintenance bath"
FIRST, BEAT, SECOND, DEAD = "first step", "last opercular beat", "second step", "death confirmed"
AIR, WATER, RATE = "into the air", "back in water", "opercular rate"

_TURNS = {INTO: "bath", OUT: "recovery", RECOVERED: "over"}
_WET = frozenset({WATER, INTO, OUT, MAINTAIN, FIRST, RECOVERED})
"""What ends a time in the air."""


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

    @property
    def rate(self) -> float | None:
        """Opercular beats a minute as last counted."""
        return next((m.breaths for m in reversed(self.marks) if m.breaths is not None), None)

    @property
    def in_air(self) -> datetime | None:
        """Since when it is out of the water; None while it is in it."""
        last = next((m for m in reversed(self.marks) if m.event == AIR or m.event in _WET), None)
        return last.at if last is not None and last.event == AIR else None

    def aired(self, now: datetime) -> tuple[timedelta, ...]:
        """Return each time out of the water, the last until now while it lasts."""
        found: list[timedelta] = []
        since: datetime | None = None
        for one in self.marks:
            if one.event == AIR:
                since = since or one.at
            elif one.event in _WET and since is not None:
                found.append(one.at - since)
                since = None
        return (*found, max(timedelta(0), now - since)) if since is not None else tuple(found)

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
            f"{clock_text(timedelta(minutes=max(0.0, self.minutes(m))))}  {words_of(m)}"
            for m in self.marks
        )


def marks(handling: Handling) -> tuple[DepthMark, ...]:
    """Return the marks of a fish in hand, in order of time."""
    return read.find(DepthMark, handling=handling.id, order="at, id")


def moment(handling: Handling, event: str) -> datetime | None:
    """Return when an event was last marked for a fish in hand."""
    return Anaesthesia(marks(handling), (), ()).at(event)


def words_of(mark: DepthMark) -> str:
    """Return a mark in words, with its rate and its note."""
    rate = "" if mark.breaths is None else f"{plain(round(mark.breaths))} a minute"
    return " ".join(filter(None, (mark.event, rate, mark.note)))


def clock_text(elapsed: timedelta) -> str:
    """Return a span as minutes and seconds: ``03:12``."""
    seconds = int(elapsed.total_seconds())
    return f"{seconds // 60:02d}:{seconds % 60:02d}"


def events(clock: Anaesthesia) -> tuple[str, ...]:
    """Return what can be marked next, in the order of its keys 1 to 9."""
    phase = clock.phase
    if phase == "before":
        return (INTO, FIRST)
    if phase == "bath":
        return (*map(event_of, scale("depth")), OUT, FIRST, MAINTAIN)
    if phase == "recovery":
        return (*map(event_of, scale("recovery")), RECOVERED, INTO, FIRST)
    if phase == "euthanasia":
        return tuple(e for e in (BEAT, SECOND, DEAD) if clock.at(e) is None)
    return () if clock.at(DEAD) else (INTO, FIRST)


def beside(clock: Anaesthesia) -> tuple[str, ...]:
    """Return what has a key of its own at every depth: in and out of the air, and the rate."""
    wet = (WATER,) if clock.in_air is not None else (AIR,)
    if clock.phase == "over":
        return wet if clock.in_air is not None else ()
    return wet if clock.phase == "before" else (*wet, RATE)


def cautions(clock: Anaesthesia) -> tuple[str, ...]:
    """Return what is to be watched, the most pressing first."""
    return (*_too_deep(clock), *_aired(clock), *_slow(clock))


def _too_deep(clock: Anaesthesia) -> tuple[str, ...]:
    deepest, depths = scale("depth")[-1], set(map(event_of, scale("depth")))
    last = next((m.event for m in reversed(clock.marks) if m.event in depths), "")
    if clock.phase == "bath" and last == event_of(deepest):
        return (f"{deepest.name}: {deepest.signs}.",)
    return ()


def _aired(clock: Anaesthesia) -> tuple[str, ...]:
    row = rules()["air"]
    most = timedelta(seconds=row["longest_s"])
    over = clock.marks[-1].at if clock.marks else None
    longest = max(clock.aired(over), default=timedelta(0)) if over else timedelta(0)
    if longest <= most:
        return ()
    was = int(longest.total_seconds())
    return (f"{was} s in the air; aimed for is at most {row['longest_s']} s ({row['how']}).",)


def _slow(clock: Anaesthesia) -> tuple[str, ...]:
    aims = rules()["aims"]
    limp = {event_of(s) for s in scale("depth")[3:]}
    into, out, back = clock.at(INTO), clock.at(OUT), clock.at(RECOVERED)
    down = next((m.at for m in clock.marks if into and m.event in limp and m.at >= into), None)
    found = []
    if out and back and back - out > timedelta(minutes=aims["recovery_minutes"]):
        taken = plain(round((back - out) / timedelta(minutes=1), 1))
        found.append(f"Recovery took {taken} min; aimed for is within {aims['recovery_minutes']}.")
    if into and down and down - into > timedelta(minutes=aims["induction_minutes"]):
        taken = plain(round((down - into) / timedelta(minutes=1), 1))
        aimed = aims["induction_minutes"]
        found.append(f"Loss of balance took {taken} min; aimed for is within {aimed}.")
    return tuple(found)
