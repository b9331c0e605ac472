"""The dispensing log and the controlled-drug log: lines that are only added to, on wide paper.

No statute on the form of either was read whole. The columns are those of Regulation (EU) 2019/6
art. 103 (read in part), of a State's rule on receipts and disposals (New York 80.105) and of
common practice; the law of the place decides.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from core.papers.blocks import Block, KeyValues, Notice, Paragraph, Sheet, Table, headed, twin
from core.papers.blocks import pdf as draw
from core.papers.parts import PaperSize, Practice, day, moment

TEXT_SIZE = 8.0


@dataclass(frozen=True)
class Dispensed:
    """One medicine handed over; `note` says when the line was struck, and why."""

    on: date
    client: str
    fish: str
    medicine: str
    strength: str
    amount: str
    lot: str
    expires: date | None
    by: str
    label: str
    note: str = ""


@dataclass(frozen=True)
class DispensingLog:
    """What was dispensed from one day to another, both included, in the order it was."""

    practice: Practice
    issued: datetime
    since: date
    until: date
    lines: tuple[Dispensed, ...]


@dataclass(frozen=True)
class Moved:
    """One line of a controlled lot: what came in, went out or was counted, and what is left."""

    at: datetime
    what: str
    amount: Decimal
    balance: Decimal
    whom: str
    by: str
    witness: str
    why: str = ""
    counted: bool = False
    """The amount is what was found; the balance stays until a line of its own puts it right."""

    @property
    def said(self) -> str:
        """Why, with by how much what was counted differs from the log."""
        differs = self.amount - self.balance if self.counted else Decimal(0)
        words = f"differs from the log by {amount(differs)}" if differs else ""
        return "; ".join(filter(None, (words, self.why)))


@dataclass(frozen=True)
class DrugLot:
    """A controlled lot: what it is, what was left before the first line, and its lines."""

    name: str
    lot: str
    expires: date | None
    place: str
    unit: str
    brought: Decimal
    lines: tuple[Moved, ...]

    @property
    def carried(self) -> Decimal:
        """What is left after the last line."""
        return self.lines[-1].balance if self.lines else self.brought


@dataclass(frozen=True)
class DrugLog:
    """The controlled drugs from one day to another, both included, lot by lot."""

    practice: Practice
    issued: datetime
    since: date
    until: date
    lots: tuple[DrugLot, ...]


def amount(value: Decimal) -> str:
    """Write an amount of stock with two decimals, or as many more as it has.

    Examples
    --------
    >>> amount(Decimal("49")), amount(Decimal("-0.125"))
    ('49.00', '-0.125')
    """
    exponent = value.normalize().as_tuple().exponent
    return f"{value:.{max(2, -exponent if isinstance(exponent, int) else 2)}f}"


def unbalanced(lot: DrugLot) -> tuple[str, ...]:
    """Name each line whose balance does not follow from the line before it."""
    before = (lot.brought, *(line.balance for line in lot.lines))
    found = []
    for left, line in zip(before, lot.lines, strict=False):
        due = left if line.counted else left + line.amount
        if due != line.balance:
            found.append(
                f"{line.at:%Y-%m-%d %H:%M}, {line.what}: the balance says {amount(line.balance)} "
                f"{lot.unit}, and the lines before it give {amount(due)} {lot.unit}."
            )
    return tuple(found)


def pdf(log: DispensingLog | DrugLog, paper: PaperSize = "A4") -> bytes:
    """Draw a log."""
    return draw(sheet(log), paper)


def text(log: DispensingLog | DrugLog) -> str:
    """Write a log as plain text, in the order of the PDF."""
    return twin(sheet(log))


def sheet(log: DispensingLog | DrugLog) -> Sheet:
    """Lay a log out as blocks, on the paper's side."""
    named, blocks = (
        ("Dispensing log", _dispensed(log))
        if isinstance(log, DispensingLog)
        else ("Controlled-drug log", _drugs(log))
    )
    return Sheet(
        practice=log.practice,
        title=f"{named}, {day(log.since)} to {day(log.until)}",
        subject=named,
        issued=log.issued,
        blocks=(KeyValues((("Made", moment(log.issued)),)), *blocks),
        text_size=TEXT_SIZE,
        lying=True,
    )


_HEADS = (
    *("Date", "Client", "Fish", "Medicine", "Strength"),
    *("Amount", "Lot", "Expires", "By", "Label", "Note"),
)
_SHARES = (1.9, 3.4, 3.0, 2.7, 2.3, 2.0, 2.0, 1.9, 2.4, 2.3, 2.4)


def _dispensed(log: DispensingLog) -> tuple[Block, ...]:
    if not log.lines:
        return (Paragraph("Nothing was dispensed in these days."),)
    rows = tuple(
        (
            line.on.isoformat(),
            *(line.client, line.fish, line.medicine, line.strength, line.amount),
            line.lot or "not known",
            line.expires.isoformat() if line.expires else "not known",
            *(line.by, line.label, line.note),
        )
        for line in log.lines
    )
    return (Table(_HEADS, rows, _SHARES), Paragraph(f"{len(rows)} lines.", small=True))


def _drugs(log: DrugLog) -> tuple[Block, ...]:
    if not log.lots:
        return (Paragraph("No controlled product is on the shelf."),)
    return tuple(block for lot in log.lots for block in _lot(log, lot))


def _lot(log: DrugLog, lot: DrugLot) -> tuple[Block, ...]:
    expires = f", expires {lot.expires.isoformat()}" if lot.expires else ", expiry not known"
    where = f", {lot.place}" if lot.place else ""
    heads = ("Time", "What", "Amount", f"Balance, {lot.unit}", "For", "By", "Witness", "Why")
    rows = (
        ("", f"brought forward to {log.since}", "", amount(lot.brought), "", "", "", ""),
        *(_moved(line) for line in lot.lines),
        ("", f"carried forward after {log.until}", "", amount(lot.carried), "", "", "", ""),
    )
    wrong = unbalanced(lot)
    return (
        *headed(
            f"{lot.name}, lot {lot.lot}{expires}{where}",
            Table(heads, rows, (2.3, 3.2, 1.6, 2.2, 4.4, 2.6, 2.6, 4.0), (2, 3), carried=3),
        ),
        *((Notice("This lot does not balance", wrong),) if wrong else ()),
    )


def _moved(line: Moved) -> tuple[str, ...]:
    sign = "" if line.amount < 0 else "+"
    return (
        f"{line.at:%Y-%m-%d %H:%M}",
        line.what,
        f"found {amount(line.amount)}" if line.counted else f"{sign}{amount(line.amount)}",
        amount(line.balance),
        *(line.whom, line.by, line.witness, line.said),
    )
