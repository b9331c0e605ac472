"""Antimicrobials used, by month and medicine, with each treatment they are counted from."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from core.papers.blocks import (
    Block,
    Bullets,
    Heading,
    KeyValues,
    Paragraph,
    Sheet,
    Table,
    headed,
    twin,
)
from core.papers.blocks import pdf as draw
from core.papers.parts import PaperSize, Practice, day, moment


@dataclass(frozen=True)
class MonthLine:
    """One medicine in one month, figures as they are written."""

    month: str
    medicine: str
    treatments: str
    mg: str
    kg: str
    mg_per_kg: str
    unknown: str


@dataclass(frozen=True)
class TreatmentLine:
    """One treatment that was counted, or could not be; `unknown` says what is not known."""

    on: date
    client: str
    medicine: str
    act: str
    mg: str
    kg: str
    unknown: str


@dataclass(frozen=True)
class Use:
    """The use of antimicrobials from one day to another, both included."""

    practice: Practice
    issued: datetime
    since: date
    until: date
    months: tuple[MonthLine, ...]
    treatments: tuple[TreatmentLine, ...]
    how: tuple[str, ...]
    """How it was counted, a sentence each."""


def pdf(use: Use, paper: PaperSize = "A4") -> bytes:
    """Draw the use of antimicrobials."""
    return draw(sheet(use), paper)


def text(use: Use) -> str:
    """Write the use of antimicrobials as plain text, in the order of the PDF."""
    return twin(sheet(use))


def sheet(use: Use) -> Sheet:
    """Lay the use of antimicrobials out as blocks."""
    return Sheet(
        practice=use.practice,
        title=f"Antimicrobials used, {day(use.since)} to {day(use.until)}",
        subject="Antimicrobials used",
        issued=use.issued,
        blocks=(
            KeyValues((("Made", moment(use.issued)),)),
            *_tables(use),
            Heading("How this was counted"),
            Bullets(use.how),
        ),
        text_size=9.0,
    )


def _tables(use: Use) -> tuple[Block, ...]:
    if not use.treatments:
        return (Paragraph("No antimicrobial was given here or dispensed in these days."),)
    months = tuple(
        (m.month, m.medicine, m.treatments, m.mg, m.kg, m.mg_per_kg, m.unknown) for m in use.months
    )
    each = tuple(
        (t.on.isoformat(), t.client, t.medicine, t.act, t.mg, t.kg, t.unknown)
        for t in use.treatments
    )
    return (
        *headed(
            "By month and medicine",
            Table(
                ("Month", "Medicine", "Times", "mg", "Fish, kg", "mg/kg", "Not known"),
                months,
                (1.7, 3.4, 1.4, 2.1, 2.0, 2.0, 4.8),
                (2, 3, 4, 5),
            ),
        ),
        *headed(
            "Each treatment",
            Table(
                ("Date", "Client", "Medicine", "How", "mg", "Fish, kg", "Not known"),
                each,
                (2.1, 3.1, 3.0, 2.0, 2.0, 2.0, 3.9),
                (4, 5),
            ),
        ),
    )
