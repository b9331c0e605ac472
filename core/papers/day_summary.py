"""The end of the day on one list: visits, what is unsigned, unpaid or waited for, takings."""

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
    Totals,
    twin,
)
from core.papers.blocks import pdf as draw
from core.papers.parts import Currency, PaperSize, Practice, day, moment


@dataclass(frozen=True)
class DayVisit:
    """A visit of the day: wall time, who, which water, stage in words, minor units."""

    time: str
    client: str
    system: str
    stage: str
    veterinarian: str
    charged: int
    paid: int

    @property
    def owed(self) -> int:
        """What is left to pay, in minor units."""
        return self.charged - self.paid


@dataclass(frozen=True)
class Awaited:
    """A result or an answer waited for, and the day it is due when its words do not say so."""

    what: str
    client: str
    due: date | None = None


@dataclass(frozen=True)
class Taking:
    """What was taken by one method of payment, in minor units, and how many payments."""

    how: str
    payments: int
    amount: int


@dataclass(frozen=True)
class DaySummary:
    """A day of the practice.

    Parameters
    ----------
    practice : Practice
        Whose day.
    on : date
        Which day.
    issued : datetime
        Aware, in the practice's zone, when the list was made.
    visits : tuple of DayVisit
        In the order of the round.
    unsigned : tuple of str
        Visits without a signature, in words.
    waiting : tuple of Awaited
        What is waited for.
    takings : tuple of Taking
        By method of payment, today.
    currency : Currency
        Of every amount.
    closed_by : str
        Who closed the day; empty while it is open.
    """

    practice: Practice
    on: date
    issued: datetime
    visits: tuple[DayVisit, ...]
    currency: Currency
    unsigned: tuple[str, ...] = ()
    waiting: tuple[Awaited, ...] = ()
    takings: tuple[Taking, ...] = ()
    closed_by: str = ""

    @property
    def unpaid(self) -> tuple[DayVisit, ...]:
        """Visits with something left to pay."""
        return tuple(visit for visit in self.visits if visit.owed > 0)


def pdf(summary: DaySummary, paper: PaperSize = "A4") -> bytes:
    """Draw the day."""
    return draw(sheet(summary), paper)


def text(summary: DaySummary) -> str:
    """Write the day as plain text, in the order of the PDF."""
    return twin(sheet(summary))


def sheet(summary: DaySummary) -> Sheet:
    """Lay the day out as blocks."""
    return Sheet(
        practice=summary.practice,
        title=f"Day summary, {day(summary.on)}",
        subject=f"{len(summary.visits)} visits",
        issued=summary.issued,
        blocks=(
            KeyValues(
                (
                    ("Made", moment(summary.issued)),
                    ("Closed by", summary.closed_by or "not closed yet"),
                )
            ),
            *_visits(summary),
            Heading("Unsigned"),
            *_listed(summary.unsigned, "Every visit is signed."),
            Heading("Unpaid"),
            *_unpaid(summary),
            Heading("Waiting"),
            *_listed(tuple(map(_waits, summary.waiting)), "Nothing is waited for."),
            Heading("Takings"),
            *_takings(summary),
        ),
    )


def _visits(summary: DaySummary) -> tuple[Block, ...]:
    bare = summary.currency.bare
    heads = ("Time", "Client", "System", "Stage", "Vet", "Charged", "Paid", "Owed")
    rows = tuple(
        (
            visit.time,
            visit.client,
            visit.system,
            visit.stage,
            visit.veterinarian,
            bare(visit.charged),
            bare(visit.paid),
            bare(visit.owed),
        )
        for visit in summary.visits
    )
    show = summary.currency.show
    totals = Totals(
        (
            ("Charged", show(sum(visit.charged for visit in summary.visits)), False),
            ("Paid", show(sum(visit.paid for visit in summary.visits)), False),
            ("Owed", show(sum(visit.owed for visit in summary.visits)), True),
        )
    )
    return (Table(heads, rows, (1.6, 4.2, 4.8, 3.2, 2.6, 2.3, 2.2, 2.2), (5, 6, 7)), totals)


def _listed(items: tuple[str, ...], none: str) -> tuple[Block, ...]:
    return (Bullets(items),) if items else (Paragraph(none),)


def _unpaid(summary: DaySummary) -> tuple[Block, ...]:
    rows = tuple(f"{visit.client}: {summary.currency.show(visit.owed)}" for visit in summary.unpaid)
    return _listed(rows, "Every visit is paid.")


def _waits(awaited: Awaited) -> str:
    due = f", due {day(awaited.due)}" if awaited.due else ""
    return f"{awaited.what}, {awaited.client}{due}"


def _takings(summary: DaySummary) -> tuple[Block, ...]:
    if not summary.takings:
        return (Paragraph("Nothing was taken."),)
    show = summary.currency.show
    rows = tuple(
        (taking.how, str(taking.payments), summary.currency.bare(taking.amount))
        for taking in summary.takings
    )
    taken = sum(taking.amount for taking in summary.takings)
    return (
        Table(("How", "Payments", f"Amount ({summary.currency.code})"), rows, (4, 2, 3), (1, 2)),
        Totals((("Taken", show(taken), True),)),
    )
