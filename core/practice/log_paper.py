"""The dispensing log and the controlled-drug log, as the papers take them."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from pathlib import Path

from core.errors import BadInput, Refusal
from core.numbers import plain
from core.papers import logs as paper
from core.papers.files import write_whole
from core.practice import letterhead, stock_log
from core.practice.keep import Act
from core.practice.label_paper import number_of, quantity
from core.practice.names import name
from core.practice.treatment_said import whom
from core.records import read
from core.records.engine import query
from core.records.fields import DayField
from core.records.tables import (
    Client,
    Document,
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
WHERE v."day" >= ? AND v."day" <= ? AND t."act" = 'dispensed' ORDER BY v."day", t."id"
"""


def dispensing_log(act: Act, since: date, until: date) -> paper.DispensingLog:
    """Return what was dispensed from one day to another; a struck line stays and says so.

    Raises
    ------
    Refusal
        When the days are the wrong way round.
    """
    practice = _practice(since, until)
    days = [DayField().db_value(day) for day in (since, until)]
    rows = (read.one(Treatment, key) for (key,) in query(_DISPENSED, days))
    return paper.DispensingLog(
        letterhead.head(practice),
        letterhead.wall(act.at, practice),
        since,
        until,
        tuple(_dispensed(row, practice) for row in rows),
    )


def _practice(since: date, until: date) -> Practice:
    if until < since:
        raise Refusal("The last day is before the first.", "Turn them round.")
    return read.find(Practice)[0]


def _dispensed(row: Treatment, practice: Practice) -> paper.Dispensed:
    visit = read.one(Visit, row.visit)
    client = read.one(Client, visit.client)
    printed = read.first(Document, visit=row.visit, kind="labels") is not None
    return paper.Dispensed(
        on=visit.day,
        client=", ".join(filter(None, (client.name, client.address))),
        fish=whom(row),
        medicine=name("medicine", row.medicine),
        strength=row.strength,
        amount=quantity(row),
        lot=row.lot,
        expires=row.expires,
        by=read.one(Person, row.by).name,
        label=number_of(row, practice) if printed else "none printed",
        note=f"STRUCK: {row.struck}" if row.struck else "",
    )


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
            yield paper.DrugLot(
                f"{product.name}, {plain(product.strength)} {product.strength_unit}",
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
