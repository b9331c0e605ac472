"""Small acts that every part of the practice shares: put a row, keep a figure, mark a stage."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any, TypeVar

from core.catalogue import load
from core.errors import Refusal
from core.practice.door import edit
from core.records import read
from core.records.journal import OpenEdit
from core.records.keys import new_key
from core.records.tables import Figure, Row, StageMark, Visit
from core.records.turns import TAKEN_BACK
from core.sourced import Step, lines

T = TypeVar("T", bound=Row)
SIGN = "Sign"
"""The stage that nothing but the signature makes done."""


@dataclass(frozen=True)
class Act:
    """Who does something, and when."""

    by: str
    at: datetime


def put(doing: OpenEdit, kind: type[T], where: Mapping[str, Any], values: Mapping[str, Any]) -> str:
    """Change the row found by `where`, or add it; return its id.

    One row stands for one question of the record: typing it again corrects it, and the
    journal keeps what stood before.
    """
    found = read.first(kind, **where)
    if found is not None:
        doing.change(kind, found.id, **values)
        return found.id
    row = kind(id=new_key(), **where, **values)
    doing.add(row)
    return row.id


def ever(kind: type[T], **where: Any) -> tuple[T, ...]:
    """Return the rows that stand and those that were struck, but none that was taken back.

    What was struck is not offered again; what was taken back is as if it had not been.
    """
    return tuple(r for r in read.find(kind, struck=True, **where) if r.struck != TAKEN_BACK)


def keep_figure(
    doing: OpenEdit, act: Act, visit: str, subject: str, name: str, value: float, steps: list[Step]
) -> str:
    """Keep a computed figure with the working that was shown.

    Parameters
    ----------
    subject : str
        What the figure belongs to, such as the id of a system and a place.
    name : str
        A word or two: ``toxic ammonia``.
    steps : list of Step
        As collected by `core.sourced.working`; the first is the figure's own formula.
    """
    formula = steps[0].formula
    return put(
        doing,
        Figure,
        {"visit": visit, "subject": subject, "name": name},
        {
            "value": value,
            "unit": formula.unit,
            "working": "\n".join(lines(steps, load.citations())),
            "formula": formula.key,
            "catalogue": load.VERSION,
            "at": act.at,
        },
    )


@dataclass(frozen=True)
class Shown:
    """A figure or a verdict as it was shown: value, unit or word, working, formula."""

    value: float
    unit: str
    working: str
    formula: str


def keep_figures(
    doing: OpenEdit,
    act: Act,
    visit: str,
    subject: str,
    shown: Mapping[str, Shown],
    *,
    whole: bool = False,
) -> None:
    """Keep all that was shown about a subject at once; what is unchanged leaves no line.

    Parameters
    ----------
    whole : bool
        Strike the figures that are not shown any more.
    """
    held = {f.name: f for f in read.find(Figure, visit=visit, subject=subject)}
    for name, figure in shown.items():
        values = {
            "value": figure.value,
            "unit": figure.unit,
            "working": figure.working,
            "formula": figure.formula,
            "catalogue": load.VERSION,
        }
        old = held.pop(name, None)
        if old is None:
            row = Figure(
                id=new_key(),
                visit=visit,
                subject=subject,
                name=name,
                at=act.at,
                value=figure.value,
                unit=figure.unit,
                working=figure.working,
                formula=figure.formula,
                catalogue=load.VERSION,
            )
            doing.add(row)
        elif any(getattr(old, key) != value for key, value in values.items()):
            doing.change(Figure, old.id, at=act.at, **values)
    if whole:
        for name, old in held.items():
            doing.strike(Figure, old.id, f"{name}: not shown any more")


def figures(visit: str, subject: str) -> dict[str, Figure]:
    """Return the kept figures of a subject by name."""
    return {f.name: f for f in read.find(Figure, visit=visit, subject=subject)}


def only_signing() -> Refusal:
    """Return what is said when the last stage is to be done without a signature."""
    return Refusal("Only signing makes this stage done.", "z signs, when nothing is missing.")


def mark_stage(act: Act, visit: str, stage: str, state: str, why: str = "") -> None:
    """Say how far a stage has come; a stage once done stays done until somebody says otherwise.

    Raises
    ------
    Refusal
        For the last stage: only the signature makes it done.
    """
    if stage == SIGN:
        raise only_signing()
    with edit("stage", who=act.by, at=act.at, visit=visit) as doing:
        put(doing, StageMark, {"visit": visit, "stage": stage}, {"state": state, "why": why})


def begin_stage(doing: OpenEdit, visit: str, stage: str) -> None:
    """Note that a stage was begun, and the visit with it; quiet when it was already."""
    if read.first(StageMark, visit=visit, stage=stage) is None:
        doing.add(StageMark(id=new_key(), visit=visit, stage=stage, state="begun"))
    if read.one(Visit, visit).state == "booked":
        doing.change(Visit, visit, state="open")
