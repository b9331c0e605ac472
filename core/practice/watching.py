"""Watching: signs and breaths per fish, per group and per system, kept apart, and the walk."""

from __future__ import annotations

import functools
from collections.abc import Mapping
from dataclasses import dataclass

from core.assessment.history import Sign as SignKind
from core.assessment.history import WalkItem
from core.catalogue import load
from core.errors import BadInput
from core.numbers import plain
from core.practice.door import edit
from core.practice.keep import Act, begin_stage, figures, put
from core.practice.moves import Held, held
from core.practice.visits import Opened, opened
from core.records import read
from core.records.tables import Figure, FishGroup, Sign, System

BREATHS = "breaths"
SEEN_FISH = "seen fish"
"""The sign under which a numbered fish of a group is noted as looked at."""
SIGN_STATES = ("seen", "not seen", "not looked")


@dataclass(frozen=True)
class Subject:
    """Who or what is looked at: the water, a group, or one fish.

    Attributes
    ----------
    kind : str
        ``system``, ``group`` or ``fish``.
    id : str
        Id of the system or the group; of a numbered fish the group's with ``#`` and the number.
    label : str
        As shown: ``koi 2 of 5``.
    group : str
        The group it is of; "" for the water.
    """

    kind: str
    id: str
    label: str
    group: str = ""


@dataclass(frozen=True)
class Seen:
    """What was recorded of one subject."""

    subject: Subject
    rows: dict[str, Sign]

    def labels(self, state: str) -> tuple[str, ...]:
        """Return the signs in one state, in words with their notes."""
        names = _names()
        found = [r for k, r in self.rows.items() if r.state == state and k in names]
        return tuple(names[r.sign] + (f" ({r.note})" if r.note else "") for r in found)

    @property
    def words(self) -> str:
        """All of it as one sentence; "" when nothing was recorded."""
        return self._sentence(("problem", "seen", "ok", "not seen", "not looked"))

    @property
    def brief(self) -> str:
        """What was found, without what was looked for and not found."""
        return self._sentence(("problem", "seen"))

    def _sentence(self, states: tuple[str, ...]) -> str:
        breaths = self.rows.get(BREATHS)
        parts = []
        if breaths is not None and breaths.value is not None:
            note = f" ({breaths.note})" if breaths.note else ""
            parts.append(f"{plain(round(breaths.value))} breaths a minute{note}")
        for state in states:
            if found := self.labels(state):
                parts.append(f"{state}: {'; '.join(found)}")
        told = self.rows.get(SEEN_FISH)
        label = self.subject.label + (f" ({told.note})" if told and told.note else "")
        return f"{label}: {'. '.join(parts)}" if parts else ""


@dataclass(frozen=True)
class WatchingView:
    """Everything that the watching of one water shows."""

    opened: Opened
    system: System
    seen: tuple[Seen, ...]
    held: tuple[Held, ...]
    figures: dict[str, Figure]
    """Of each subject with tapped breaths, by the subject's id."""

    @property
    def subjects(self) -> tuple[Subject, ...]:
        """Return who can be looked at, the water first."""
        return tuple(s.subject for s in self.seen)

    def of(self, subject: Subject) -> Seen:
        """Return what was recorded of one subject."""
        return next(s for s in self.seen if s.subject.id == subject.id)

    @property
    def words(self) -> tuple[str, ...]:
        """Return what was recorded, a sentence for each subject."""
        return tuple(s.words for s in self.seen if s.words)


@functools.cache
def signs(kind: str) -> tuple[SignKind, ...]:
    """Return the signs to watch for in a group or in one fish, in the catalogue's order."""
    rows = load.table("signs")["sign"]
    known = (SignKind.from_row(key, row) for key, row in rows.items())
    return tuple(s for s in known if kind in s.levels)


@functools.cache
def walk() -> tuple[WalkItem, ...]:
    """Return the items of the walk round the system."""
    return tuple(WalkItem.from_row(key, row) for key, row in load.table("signs")["walk"].items())


@functools.cache
def _names() -> dict[str, str]:
    named = {s.key: s.label for kind in ("group", "fish") for s in signs(kind)}
    return named | {w.key: w.label for w in walk()}


def view(visit_id: str, system_id: str) -> WatchingView:
    """Return the watching of a system as this visit has it."""
    found = opened(visit_id)
    rows = read.find(Sign, visit=visit_id, system=system_id)
    system = next(s for s in found.systems if s.id == system_id)
    here = held(system_id)
    subjects = _subjects(system, here, rows)
    seen = tuple(
        Seen(s, {r.sign: r for r in rows if (r.subject, r.subject_id) == (s.kind, s.id)})
        for s in subjects
    )
    kept = {s.id: figures(visit_id, figure_subject(s)) for s in subjects}
    shown = {key: found[BREATHS] for key, found in kept.items() if BREATHS in found}
    return WatchingView(found, system, seen, here, shown)


def _subjects(
    system: System, here: tuple[Held, ...], rows: tuple[Sign, ...]
) -> tuple[Subject, ...]:
    made = [Subject("system", system.id, system.name)]
    for group in _groups(here, rows):
        made.append(Subject("fish" if group.single else "group", group.id, group.name, group.id))
        told = {r.subject_id: r for r in rows if _is_of(r, group.id) and r.sign == SEEN_FISH}
        for row in sorted(told.values(), key=lambda r: _number(r.subject_id)):
            made.append(_numbered(group, _number(row.subject_id), row.value))
    return tuple(made)


def _groups(here: tuple[Held, ...], rows: tuple[Sign, ...]) -> list[FishGroup]:
    """Return the groups that are here, and those looked at here that have left since."""
    found = {one.group.id: one.group for one in here}
    for row in rows:
        group = row.subject_id.partition("#")[0]
        if row.subject != "system" and group not in found:
            found[group] = read.one(FishGroup, group)
    return list(found.values())


def _is_of(row: Sign, group: str) -> bool:
    return row.subject == "fish" and row.subject_id.startswith(f"{group}#")


def _number(subject_id: str) -> int:
    return int(subject_id.rpartition("#")[2])


def _numbered(group: FishGroup, number: int, count: float | None) -> Subject:
    of = "" if count is None else f" of {plain(count)}"
    return Subject("fish", f"{group.id}#{number}", f"{group.name} {number}{of}", group.id)


def next_number(view: WatchingView, group: str) -> int:
    """Return the number that the next fish seen of a group gets."""
    taken = [_number(s.id) for s in view.subjects if s.id.startswith(f"{group}#")]
    return max(taken, default=0) + 1


def add_fish(
    act: Act, visit_id: str, system_id: str, one: Held, number: int, words: str = ""
) -> str:
    """Note that one fish of a group is looked at by itself; return its subject's id.

    Raises
    ------
    BadInput
        For a number beyond those that are there.
    """
    if number < 1 or (one.number is not None and number > one.number):
        raise BadInput(f"There are {one.number} of {one.group.name} here; not a number {number}.")
    count = None if one.number is None else float(one.number)
    subject = _numbered(one.group, number, count)
    values = {"state": "seen", "note": words.strip(), "value": count}
    record(act, visit_id, system_id, subject, SEEN_FISH, values)
    return subject.id


def record_sign(
    act: Act, visit_id: str, system_id: str, subject: Subject, sign: str, state: str
) -> None:
    """Record a sign of one subject, or an item of the walk; its note stays.

    Raises
    ------
    BadInput
        When the sign is not one of this kind of subject, or the state is none.
    """
    if subject.kind == "system":
        known, states = {w.key for w in walk()}, ("ok", "problem", "not seen")
    else:
        known, states = {s.key for s in signs(subject.kind)}, SIGN_STATES
    if sign not in known or state not in states:
        raise BadInput(f"{sign} {state} can not be noted of {subject.label}.")
    record(act, visit_id, system_id, subject, sign, {"state": state})


def record_note(
    act: Act, visit_id: str, system_id: str, subject: Subject, sign: str, state: str, note: str
) -> None:
    """Record a sign together with a note."""
    with edit("seen", who=act.by, at=act.at, visit=visit_id):
        record_sign(act, visit_id, system_id, subject, sign, state)
        record(act, visit_id, system_id, subject, sign, {"note": note.strip()})


def record(
    act: Act,
    visit_id: str,
    system_id: str,
    subject: Subject,
    sign: str,
    values: Mapping[str, object],
) -> None:
    """Put a row of one subject's sign; used by the functions here and by `breaths`."""
    with edit("seen", who=act.by, at=act.at, visit=visit_id) as doing:
        begin_stage(doing, visit_id, "Watching")
        put(doing, Sign, _where(visit_id, system_id, subject, sign), {**values, "at": act.at})


def _where(visit_id: str, system_id: str, subject: Subject, sign: str) -> dict[str, str]:
    return {
        "visit": visit_id,
        "system": system_id,
        "subject": subject.kind,
        "subject_id": subject.id,
        "sign": sign,
    }


def figure_subject(subject: Subject) -> str:
    """Return the subject under which figures of one subject are kept."""
    return f"{subject.kind} {subject.id}"


def strike_sign(act: Act, sign_id: str, why: str) -> None:
    """Strike what was recorded of one sign, with the reason."""
    row = read.one(Sign, sign_id)
    with edit("seen", who=act.by, at=act.at, visit=row.visit) as doing:
        doing.strike(Sign, sign_id, why)
        held_figures = read.find(Figure, visit=row.visit, subject=f"{row.subject} {row.subject_id}")
        for figure in held_figures if row.sign == BREATHS else ():
            doing.strike(Figure, figure.id, why)
