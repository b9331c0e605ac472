"""A level of the water changed in steps, a day each: temperature, pH, salt content."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from core.catalogue import load
from core.dosing import course
from core.errors import BadInput, Refusal
from core.numbers import figures, plain
from core.practice import going_past, water
from core.practice.door import edit
from core.practice.keep import Act, begin_stage
from core.practice.plan_steps import add_line
from core.practice.treatment_said import sentence
from core.practice.who import must_be_vet
from core.records import read
from core.records.tables import OwnerStep, Practice, System, Visit
from core.units import Locale, show


@dataclass(frozen=True)
class Change:
    """What is to be changed and how far.

    Attributes
    ----------
    what : str
        ``temperature`` (°C), ``ph`` or ``salinity`` (g/L).
    target : float
        Level to reach.
    now : float or None
        Where it starts; as measured at the visit when None.
    most_a_day : float or None
        The most in a day; that of the row when None.
    first : date or None
        Day of the first step; that of the visit when None.
    reason : str
        Why it is faster than the row.
    """

    system: str
    what: str
    target: float
    now: float | None = None
    most_a_day: float | None = None
    first: date | None = None
    reason: str = ""


@dataclass(frozen=True)
class Changed:
    """A change worked out: the level to be reached on each day, and what stands against it."""

    what: str
    name: str
    start: float
    levels: dict[date, float]
    most_a_day: float
    cautions: tuple[str, ...]

    @property
    def step(self) -> float:
        """By how much it changes in one day."""
        return (list(self.levels.values())[-1] - self.start) / len(self.levels)


def kinds() -> tuple[str, ...]:
    """Return what can be changed in steps."""
    return tuple(load.table("level_ramps"))


def limit(what: str) -> float:
    """Return the most that a level is changed in one day, by its row."""
    return float(_row(what)["most_a_day"])


def work_out(visit_id: str, wanted: Change) -> Changed:
    """Return the steps of a change; nothing is recorded.

    Raises
    ------
    BadInput
        For a level outside what the row covers, or a limit that is not above zero.
    Refusal
        When the level was not measured and not typed, or nothing is to be changed.
    """
    row, start = _row(wanted.what), _start(visit_id, wanted)
    low, high = float(row["low"]), float(row["high"])
    if not low <= wanted.target <= high:
        raise BadInput(
            f"{plain(wanted.target)} is outside {plain(low)} to {plain(high)}.",
            "Type a level in between.",
        )
    if wanted.target == start:
        raise Refusal(f"The {row['name']} is there already.")
    most = limit(wanted.what) if wanted.most_a_day is None else wanted.most_a_day
    first = wanted.first or read.one(Visit, visit_id).day
    levels = course.level_ramp(start, wanted.target, most, first)
    over: tuple[str, ...] = ()
    if most > limit(wanted.what):
        said = f"{plain(most)} {row['unit']}".strip()
        held = f"{plain(limit(wanted.what))} {row['unit']}".strip()
        over = (f"{said} a day is faster than {held} a day (common practice, no source).",)
    return Changed(wanted.what, row["name"], start, levels, most, over)


def sentences(visit_id: str, wanted: Change) -> tuple[str, ...]:
    """Return a change in sentences, as it is shown before it is made."""
    found, locale = work_out(visit_id, wanted), _locale()
    unit = _row(found.what)["unit"]
    most = f"{plain(found.most_a_day)} {unit}".strip()
    head = (
        f"{len(found.levels)} {'step' if len(found.levels) == 1 else 'steps'}, none over "
        f"{most} a day, from {said(found.what, found.start, locale)}."
    )
    steps = (f"{day:%a %d %b}: {said(found.what, v, locale)}" for day, v in found.levels.items())
    return (head, *going_past.asked((), found.cautions), *steps)


def make(act: Act, visit_id: str, wanted: Change) -> tuple[str, ...]:
    """Write a change as lines for the owner, one a day; return their ids.

    Raises
    ------
    Refusal
        For anybody but a veterinarian, and without a reason where it is faster than the row.
    """
    must_be_vet(act.by, "changes a level of the water")
    found, locale = work_out(visit_id, wanted), _locale()
    going_past.must_have((), found.cautions, wanted.reason)
    system = read.one(System, wanted.system)
    origin = f"ramp:{wanted.system}:{found.what}:"
    why = f" Faster than usual, because: {sentence(wanted.reason)}" if found.cautions else ""
    with edit("owner's steps", who=act.by, at=act.at, visit=visit_id) as doing:
        begin_stage(doing, visit_id, "Plan")
        for old in read.find(OwnerStep, visit=visit_id):
            if old.origin.startswith(origin):
                doing.strike(OwnerStep, old.id, "planned anew")
        return tuple(
            add_line(
                doing,
                visit_id,
                "do",
                f"Bring the {found.name} of {system.name} to "
                f"{said(found.what, level, locale)} over the day, no further."
                f"{why if number == 0 else ''}",
                day,
                f"{origin}{day.isoformat()}",
            )
            for number, (day, level) in enumerate(found.levels.items())
        )


def said(what: str, level: float, locale: Locale) -> str:
    """Return a level in the practice's units."""
    if what == "temperature":
        return show(round(level, 1), "temperature", locale)
    if what == "ph":
        return f"pH {level:.2f}"
    return f"{figures(level, 3)} g/L"


def _start(visit_id: str, wanted: Change) -> float:
    if wanted.now is not None:
        return wanted.now
    seen = water.view(visit_id, wanted.system)
    row = seen.readings(seen.judged_place).get(wanted.what)
    if row is None or row.value is None:
        name = _row(wanted.what)["name"]
        raise Refusal(f"The {name} was not measured.", "Measure it first, or type where it is now.")
    return float(row.value)


def _row(what: str) -> dict[str, str]:
    rows = load.table("level_ramps")
    if what not in rows:
        raise BadInput(f"{what} is not changed in steps.", f"It is one of {', '.join(rows)}.")
    return dict(rows[what])


def _locale() -> Locale:
    return "us" if read.find(Practice)[0].units == "us" else "metric"
