"""The summary of a day on paper, and issued papers read again as plain text."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

from core.papers import day_summary as paper
from core.papers import invoice as invoice_paper
from core.papers import receipt as receipt_paper
from core.practice import charges, documents, letterhead, log_documents, visits
from core.practice import day as days
from core.practice.door import edit
from core.practice.issued import Drawn, Issued, store
from core.practice.keep import Act
from core.practice.owing import Money, Owing
from core.practice.paperwork import end_of_day, receipt_data, receipt_number
from core.records import read
from core.records.tables import Document, Payment, Practice

NUMBER = "{:%Y-%m-%d}"


def day_summary(act: Act, day: date) -> paper.DaySummary:
    """Return the summary of a day as the paper takes it."""
    practice = read.find(Practice)[0]
    view = end_of_day(day)
    books = {book.visit: book for book in view.visits}
    return paper.DaySummary(
        practice=letterhead.head(practice),
        on=day,
        issued=letterhead.wall(act.at, practice),
        visits=tuple(_visit(line, books.get(line.visit)) for line in days.lines(day)),
        currency=view.currency,
        unsigned=tuple(_said(x) for x in view.open if x.kind == "unsigned"),
        waiting=tuple(_awaited(x) for x in view.open if x.kind in WAITS),
        takings=tuple(paper.Taking(t.how, t.payments, t.amount_minor) for t in view.takings),
    )


WAITS = (
    *("awaited", "tell", "unsent", "waiting", "late", "ring", "recheck", "paper", "to bill"),
    "count",
)
"""The kinds of open lines that stand under *Waiting*; unpaid visits have a part of their own."""


def _visit(line: days.DayLine, book: Money | None) -> paper.DayVisit:
    return paper.DayVisit(
        line.starts,
        line.client,
        line.system,
        line.stage,
        line.vet_name,
        book.charged_minor if book else 0,
        book.paid_minor if book else 0,
    )


def _said(line: Owing) -> str:
    return f"{line.client}: {line.what}"


def _awaited(line: Owing) -> paper.Awaited:
    return paper.Awaited(f"{line.kind}: {line.what}", line.client)


def drawn(act: Act, day: date) -> Drawn:
    """Draw the summary of a day; nothing is written."""
    data = day_summary(act, day)
    size = letterhead.paper(read.find(Practice)[0])
    return Drawn("day summary", NUMBER.format(day), paper.pdf(data, size), paper.text(data))


def keep_summary(act: Act, summary: Drawn, folder: Path) -> Issued:
    """Keep a drawn summary; an earlier one of the same day is superseded."""
    with edit("day summary", who=act.by, at=act.at) as doing:
        return store(doing, act, folder, None, summary)


def summary_text(act: Act, day: date) -> str:
    """Write the summary of a day as plain text, in the order of its PDF."""
    return paper.text(day_summary(act, day))


def twin(document_id: str) -> str:
    """Return the plain text of an issued receipt, invoice, log or day summary.

    A receipt and an invoice read as issued; the summary of a day reads as the day stands now, and
    so does a log, which says so.

    Returns
    -------
    str
        "" for a paper of another kind.
    """
    document = read.one(Document, document_id)
    act = Act(document.by, document.at)
    if document.kind == "day summary":
        return summary_text(act, date.fromisoformat(document.number))
    if document.kind in log_documents.KINDS:
        return log_documents.twin(document)
    if document.visit is None or document.kind not in ("receipt", "invoice"):
        return ""
    if document.kind == "invoice":
        return _invoice_text(act, document.visit, document.number)
    payments = read.find(Payment, visit=document.visit)
    payment = next(p for p in payments if receipt_number(p) == document.number)
    return receipt_paper.text(receipt_data(payment, document.number))


def invoice(act: Act, visit_id: str, folder: Path) -> Issued:
    """Issue the invoice of a visit, or give back the one that was issued: it never changes."""
    issued = charges.bill(visit_id).invoice
    if issued is None:
        return documents.issue_invoice(act, visit_id, folder)
    kept = read.find(Document, visit=visit_id, kind="invoice", number=issued.number)[0]
    return Issued(kept, folder / kept.file, twin(kept.id))


def _invoice_text(act: Act, visit_id: str, number: str) -> str:
    bill = charges.bill(visit_id)
    then = replace(bill, payments=tuple(p for p in bill.payments if p.at <= act.at))
    practice = read.find(Practice)[0]
    return invoice_paper.text(
        documents.invoice_data(act, visits.opened(visit_id), then, practice, number)
    )
