"""The dispensing log and the controlled-drug log, as the papers take them."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, time
from decimal import Decimal
from pathlib import Path
from zoneinfo import ZoneInfo

from core.errors import BadInput, Refusal
from core.numbers import plain
from core.papers import logs as paper
from core.papers.files import write_whole
from core.practice import letterhead, stock_log
from core.practice.handed import handed, ours, with_labels
from core.practice.keep import Act
from core.practice.label_paper import number_of, quantity
from core.practice.names import name
from core.practice.treatment_said import whom
from core.records import read
from core.records.engine import query
from core.records.fields import DayField, UtcField
from core.records.tables import (
    Client,
    Document,
    Handling,
    Lot,
    Person,
    Practice,
    Product,
    StockLine,
    Treatment,
    Visit,
)

_DISPENSED = """
SELECT t."id" FROM "treatment" t JOIN "visit" v ON v."id" = t."visit"
WHERE t."act" = 'dispensed' AND v."day" <= ? AND (v."day" >= ? OR EXISTS (
  SELECT 1 FROM "delivery" x JOIN "document" d ON d."id" = x."document" AND d."kind" = 'labels'
  WHERE x."visit" = v."id" AND x."at" >= ?))
ORDER BY t."id"
"""


def dispensing_log(act: Act, since: date, until: date) -> paper.DispensingLog:
    """Return what was dispensed from one day to another; a struck line stays and says so.

    Raises
    ------
    Refusal
        When the days are the wrong way round.
    """
    practice = _practice(since, until)
    begins = datetime.combine(since, time(), tzinfo=ZoneInfo(practice.zone))
    days = (DayField().db_value(until), DayField().db_value(since), UtcField().db_value(begins))
    rows = [read.one(Treatment, key) for (key,) in query(_DISPENSED, days)]
    lines = sorted((_dispensed(row, practice) for row in rows), key=lambda line: line.on)
    return paper.DispensingLog(
        letterhead.head(practice),
        letterhead.wall(act.at, practice),
        since,
        until,
        tuple(line for line in lines if since <= line.on <= until),
    )


def _practice(since: date, until: date) -> Practice:
    if until < since:
        raise Refusal("The last day is before the first.", "Turn them round.")
    return read.find(Practice)[0]


def _dispensed(row: Treatment, practice: Practice) -> paper.Dispensed:
    """Return the line of what was dispensed, on the day it was handed over where it was."""
    visit = read.one(Visit, row.visit)
    client = read.one(Client, visit.client)
    printed = read.first(Document, visit=row.visit, kind="labels") is not None
    left = handed(row)
    return paper.Dispensed(
        on=letterhead.wall(left[0], practice).date() if left else visit.day,
        client=", ".join(filter(None, (client.name, client.address))),
        fish=whom(row),
        medicine=name("medicine", row.medicine),
        strength=row.strength,
        amount=quantity(row),
        lot=row.lot,
        expires=row.expires,
        by=_by(row, left),
        label=number_of(row, practice) if printed else "none printed",
        note="; ".join(_notes(row, bool(left))),
    )


def _by(row: Treatment, left: tuple[datetime, str] | None) -> str:
    """Return who ordered it, and who handed it over where that is somebody else."""
    ordered = read.one(Person, row.by).name
    if left is None or left[1] == row.by:
        return ordered
    return f"{ordered}; handed over by {read.one(Person, left[1]).name}"


def _notes(row: Treatment, left: bool) -> Iterator[str]:
    if row.struck:
        yield f"STRUCK: {row.struck}"
    if not left:
        # Of what is not of the own shelf no line says whether it was struck before or after.
        unsure = row.struck and not ours(row) and with_labels(row) is not None
        yield "not known whether it was handed over" if unsure else "not handed over"
    back = (x for x in read.find(StockLine, visit=row.visit) if x.treatment == row.id)
    for line in (x for x in back if x.kind == "returned"):
        unit = read.one(Product, read.one(Lot, line.lot).product).pack_unit
        yield f"{stock_log.shown(line.amount)} {unit} came back unused"


def drug_log(act: Act, since: date, until: date) -> paper.DrugLog:
    """Return every controlled lot with its lines from one day to another.

    Raises
    ------
    Refusal
        When the days are the wrong way round.
    """
    practice = _practice(since, until)
    return paper.DrugLog(
        letterhead.head(practice),
        letterhead.wall(act.at, practice),
        since,
        until,
        tuple(_lots(practice, since, until)),
    )


def _lots(practice: Practice, since: date, until: date) -> Iterator[paper.DrugLot]:
    for product in read.find(Product, controlled=True, struck=True):
        for lot in read.find(Lot, product=product.id, struck=True):
            lines = stock_log.lines(lot.id)
            when = [letterhead.wall(line.at, practice).date() for line in lines]
            before = [x for x, on in zip(lines, when, strict=True) if on < since]
            within = [x for x, on in zip(lines, when, strict=True) if since <= on <= until]
            strength = f"{plain(product.strength)} {product.strength_unit}"
            yield paper.DrugLot(
                product.name if strength in product.name else f"{product.name}, {strength}",
                lot.number,
                lot.expires,
                lot.place,
                product.pack_unit,
                before[-1].balance if before else Decimal(0),
                tuple(_moved(line, practice) for line in within),
            )


def _moved(line: StockLine, practice: Practice) -> paper.Moved:
    return paper.Moved(
        letterhead.wall(line.at, practice),
        line.kind,
        line.amount,
        line.balance,
        _for(line),
        read.one(Person, line.by).name,
        line.witness,
        line.why,
        counted=line.kind == "count",
    )


def _for(line: StockLine) -> str:
    if line.visit is None:
        return ""
    client = read.one(Client, read.one(Visit, line.visit).client).name
    fish = whom(read.one(Treatment, line.treatment)) if line.treatment else ""
    if line.handling and not fish:
        fish = f"bath of {read.one(Handling, line.handling).label}"
    return ", ".join(filter(None, (client, fish)))


@dataclass(frozen=True)
class Kind:
    """A log: its title and how it is made."""

    title: str
    make: Callable[[Act, date, date], paper.DispensingLog | paper.DrugLog]


LOGS = {
    "dispensing": Kind("Dispensing log", dispensing_log),
    "drugs": Kind("Controlled-drug log", drug_log),
}
"""The logs that can be printed."""


def text(act: Act, which: str, since: date, until: date) -> str:
    """Write a log as plain text."""
    return paper.text(LOGS[which].make(act, since, until))


def write(act: Act, which: str, since: date, until: date, file: Path) -> Path:
    """Write a log as a PDF file, whole.

    Raises
    ------
    BadInput
        For a file that does not end in ``.pdf`` or ``.txt``.
    Refusal
        When it can not be written there.
    """
    log = LOGS[which].make(act, since, until)
    ending = file.suffix.lower()
    if ending not in (".pdf", ".txt"):
        raise BadInput(f"{file.name} ends neither in .pdf nor in .txt.", "Name log.pdf.")
    size = letterhead.paper(read.find(Practice)[0])
    data = paper.pdf(log, size) if ending == ".pdf" else paper.text(log).encode()
    try:
        return write_whole(file, data)
    except OSError as error:
        raise Refusal(
            f"{file} can not be written: {error.strerror}.", "Name another folder."
        ) from error
