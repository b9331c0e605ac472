"""A plan of prevention: a template filled in with one water's own volume and stock."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from core.papers.blocks import (
    Bullets,
    Heading,
    KeyValues,
    Paragraph,
    Sheet,
    Table,
    Tick,
    Ticks,
    headed,
    twin,
)
from core.papers.blocks import pdf as draw
from core.papers.parts import PaperSize, Party, Practice, day

TEXT_SIZE = 10.5
RECORD_LINES = 4


@dataclass(frozen=True)
class Rations:
    """Food a day by the temperature of the water."""

    rows: tuple[tuple[str, ...], ...]
    """Temperature, percent of body weight, grams a day, meals, how it is known."""
    note: str = ""


@dataclass(frozen=True)
class Preventive:
    """One plan.

    Parameters
    ----------
    number : str
        By which it is filed.
    title, about : str
        What it is, and what holds for all of it.
    facts : tuple of (str, str)
        The water: name, volume, filter, fish, what was measured.
    dated : tuple of (date, tuple of str)
        What is to be done on which day.
    always : tuple of str
        What belongs to no day.
    rations : Rations or None
        The table of a food plan.
    record : bool
        Whether it ends in a table for whoever does the work.
    grounds : tuple of str
        How the lines are known, by the letter behind each.
    """

    number: str
    practice: Practice
    client: Party
    issued: datetime
    title: str
    about: str
    facts: tuple[tuple[str, str], ...]
    dated: tuple[tuple[date, tuple[str, ...]], ...] = ()
    always: tuple[str, ...] = ()
    rations: Rations | None = None
    record: bool = False
    grounds: tuple[str, ...] = ()
    veterinarian: str = ""


def pdf(plan: Preventive, paper: PaperSize = "A4") -> bytes:
    """Draw a plan."""
    return draw(sheet(plan), paper)


def text(plan: Preventive) -> str:
    """Write a plan as plain text, in the order of the PDF."""
    return twin(sheet(plan))


def sheet(plan: Preventive) -> Sheet:
    """Lay a plan out as blocks."""
    ticks = tuple((day(on), tuple(map(Tick, lines))) for on, lines in plan.dated)
    by = f"At the visit of {plan.veterinarian}, veterinarian. " if plan.veterinarian else ""
    closing = f"{by}The law of the place comes first. How it is known: {'; '.join(plan.grounds)}."
    return Sheet(
        practice=plan.practice,
        title=plan.title,
        subject=f"{plan.client.name}, {plan.number}",
        issued=plan.issued,
        blocks=(
            KeyValues((("For", plan.client.name), *plan.facts)),
            Paragraph(plan.about, strong=True),
            *((Heading("What to do"), Bullets(plan.always)) if plan.always else ()),
            *((Heading("Day by day"), Ticks(ticks)) if ticks else ()),
            *(_rations(plan.rations) if plan.rations else ()),
            *(_record() if plan.record else ()),
            Paragraph(closing, small=True),
        ),
        text_size=TEXT_SIZE,
    )


def _rations(found: Rations) -> tuple[Heading | Paragraph | Table | Ticks, ...]:
    heads = ("Water", "Of body weight a day", "For these fish a day", "Meals", "Known")
    table = Table(heads, found.rows, (1.0, 1.1, 1.2, 1.2, 1.0))
    note = (Paragraph(found.note),) if found.note else ()
    return (*headed("Food", table), *note)


def _record() -> tuple[Heading, Table]:
    heads = ("Day", "By", "Flow before", "Flow after", "Found and done")
    return (
        Heading("Done"),
        Table(heads, (("",) * len(heads),) * RECORD_LINES, (1.0, 1.0, 1.0, 1.0, 2.4)),
    )
