"""The Paperwork desk: what a day still owes, its takings and its papers, and settling each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from core.clock import local
from core.errors import Refusal
from core.papers import receipt as receipt_paper
from core.papers.invoice import Payment as Paid
from core.papers.parts import Currency
from core.papers.parts import day as written
from core.practice import charges, label_paper, letterhead, owing, stock_hand
from core.practice.door import edit
from core.practice.issued import Drawn, Issued, store
from core.practice.keep import Act
from core.practice.owing import Money, Owing, Seen
from core.practice.visits import opened
from core.records import read
from core.records.engine import query
from core.records.fields import DayField, UtcField
from core.records.keys import new_key
from core.records.tables import (
    DayMark,
    Delivery,
    Document,
    Payment,
    Person,
    Practice,
)


@dataclass(frozen=True)
class Taking:
    """What was taken by one method in one day."""

    how: str
    payments: int
    amount_minor: int


@dataclass(frozen=True)
class Paper:
    """A paper of a day."""

    id: str
    visit: str | None
    client: str
    kind: str
    number: str
    version: int
    superseded: bool
    file: str
    delivered: str
    """How and to whom, in words; "" when it was not handed over."""


@dataclass(frozen=True)
class EndOfDay:
    """A day as it stands: what is open, the money of its visits, takings, papers."""

    day: date
    currency: Currency
    lines: tuple[Owing, ...]
    visits: tuple[Money, ...]
    """The visits of the day itself."""
    takings: tuple[Taking, ...]
    papers: tuple[Paper, ...]

    @property
    def open(self) -> tuple[Owing, ...]:
        """The lines that nobody has seen to."""
        return tuple(line for line in self.lines if line.seen is None)

    @property
    def charged_minor(self) -> int:
        """What the day's visits come to, invoiced or not."""
        return sum(visit.charged_minor for visit in self.visits)

    @property
    def owed_minor(self) -> int:
        """What is still to be paid of the day's visits."""
        return sum(visit.owed_minor for visit in self.visits)

    @property
    def taken_minor(self) -> int:
        """What was taken on the day, for whichever visit."""
        return sum(taking.amount_minor for taking in self.takings)


_MARKS = """
SELECT m."line", m."id", coalesce(p."name", m."by"), m."at"
FROM "day_mark" m LEFT JOIN "person" p ON p."id" = m."by"
WHERE m."day" = ? AND m."struck" IS NULL ORDER BY m."id"
"""
_TAKINGS = """
SELECT "how", count(*), sum("amount_minor") FROM "payment"
WHERE "at" >= ? AND "at" < ? AND "struck" IS NULL GROUP BY "how" ORDER BY "how"
"""
_PAPERS = """
SELECT d."id", d."visit", coalesce(c."name", ''), d."kind", d."number", d."version",
       d."id" IN (SELECT "supersedes" FROM "document" WHERE "supersedes" IS NOT NULL), d."file",
       coalesce((SELECT x."how" || ', ' || x."to" FROM "delivery" x
                 WHERE x."document" = d."id" ORDER BY x."id" DESC LIMIT 1), '')
FROM "document" d
LEFT JOIN "visit" v ON v."id" = d."visit" LEFT JOIN "client" c ON c."id" = d."client"
WHERE d."struck" IS NULL AND (v."day" = ? OR (d."at" >= ? AND d."at" < ?)
                              OR (d."visit" IS NULL AND d."number" = ?))
ORDER BY d."id"
"""


def end_of_day(day: date) -> EndOfDay:
    """Return a day with all that is open at its end; a fixed number of queries."""
    practice = read.find(Practice)[0]
    books = owing.money(day)
    seen = dict(_marks(day, practice))
    lines = tuple(replace(x, seen=seen.get(x.key)) for x in owing.lines(day, books))
    return EndOfDay(
        day,
        letterhead.currency(practice),
        lines,
        tuple(book for book in books if book.day == day),
        _takings(day, practice),
        papers(day, practice),
    )


def _marks(day: date, practice: Practice) -> Iterator[tuple[str, Seen]]:
    for line, mark, by, at in query(_MARKS, (DayField().db_value(day),)):
        moment = UtcField().python_value(at)
        assert moment is not None
        yield line, Seen(mark, by, f"{local(moment, practice.zone):%H:%M}")


def _takings(day: date, practice: Practice) -> tuple[Taking, ...]:
    return tuple(Taking(*row) for row in query(_TAKINGS, _bounds(day, practice)))


def _bounds(day: date, practice: Practice) -> list[str | None]:
    """Return when a day begins and ends on the practice's wall, as the records hold it."""
    zone = ZoneInfo(practice.zone)
    ends = (datetime.combine(d, time(), tzinfo=zone) for d in (day, day + timedelta(days=1)))
    return [UtcField().db_value(moment) for moment in ends]


def papers(day: date, practice: Practice) -> tuple[Paper, ...]:
    """Return the papers issued on a day, those of its visits, and those about the day itself."""
    value = DayField().db_value(day)
    values = (value, *_bounds(day, practice), value)
    return tuple(_paper(row) for row in query(_PAPERS, values))


def _paper(row: tuple[Any, ...]) -> Paper:
    return Paper(*(*row[:6], bool(row[6]), *row[7:]))


def end_of_day_text(view: EndOfDay) -> str:
    """Write a day's end as plain text, for a terminal or a mail."""
    show = view.currency.show
    return "\n".join(
        [
            f"End of day, {written(view.day)}",
            "",
            f"Still open: {len(view.open)}",
            *(f"  {_line_text(view, line)}" for line in view.lines),
            "",
            f"{len(view.visits)} visits: {show(view.charged_minor)}, owed {show(view.owed_minor)}",
            f"Taken on the day: {show(view.taken_minor)}",
            *(f"  {t.how}: {t.payments}, {show(t.amount_minor)}" for t in view.takings),
            "",
            f"Papers: {len(view.papers)}",
            *(f"  {paper_text(paper)}" for paper in view.papers),
        ]
    )


def _line_text(view: EndOfDay, line: Owing) -> str:
    money = "" if line.amount_minor is None else f", {view.currency.show(line.amount_minor)}"
    seen = f"  (seen to by {line.seen.by}, {line.seen.at})" if line.seen else ""
    return f"{line.kind:8}  {line.client}: {line.what}{money}{seen}"


def paper_text(paper: Paper) -> str:
    """Write a paper as one line: what it is, whose, its file, and how it was handed over."""
    version = f", version {paper.version}" if paper.version > 1 else ""
    old = ", replaced by a newer one" if paper.superseded else ""
    given = f"; {paper.delivered}" if paper.delivered else ""
    of = f", {paper.client}" if paper.client else ""
    return f"{paper.kind} {paper.number}{version}{old}{of}: {paper.file}{given}"


def see_to(act: Act, day: date, line: Owing) -> None:
    """Mark a line of a day's list as seen to, or take the mark back."""
    with edit("day mark", who=act.by, at=act.at) as doing:
        if line.seen is not None:
            doing.strike(DayMark, line.seen.mark, "taken back")
        else:
            doing.add(DayMark(id=new_key(), day=day, line=line.key, by=act.by, at=act.at))


def deliver(act: Act, document_id: str, how: str, to: str) -> None:
    """Note how a paper was handed over and to whom; with labels the medicines leave the shelf.

    Raises
    ------
    Refusal
        Without both, or for a paper of the practice's own.
    """
    if not how.strip() or not to.strip():
        raise Refusal("Say how it was handed over and to whom.", "For example: by hand, owner.")
    document = read.one(Document, document_id)
    if document.visit is None:
        raise Refusal("This paper is the practice's own.", "It is handed to nobody.")
    if document.kind == "labels":
        label_paper.must_be_checked(document.visit)
        _is_the_last(document)
    row = Delivery(
        id=new_key(),
        visit=document.visit,
        document=document_id,
        how=how.strip(),
        to=to.strip(),
        by=act.by,
        at=act.at,
    )
    with edit("paper handed over", who=act.by, at=act.at, visit=document.visit) as doing:
        doing.add(row)
        if document.kind == "labels":
            stock_hand.hand_over(doing, act, document.visit)


def _is_the_last(labels: Document) -> None:
    """Refuse to hand over labels that newer ones took the place of: those are not checked."""
    last = read.find(Document, visit=labels.visit, kind="labels")[-1]
    if last.id != labels.id:
        raise Refusal(
            f"Version {last.version} of these labels took their place.",
            "Put the new labels on, and hand those over.",
        )


def take_payment(
    act: Act, visit_id: str, amount_minor: int, how: str, reference: str, folder: Path
) -> Issued:
    """Take a payment, then make its receipt: the payment stands even if the paper can not."""
    payment = charges.pay(act, visit_id, amount_minor, how, reference)
    return issue_receipt(act, payment, folder)


def issue_receipt(act: Act, payment_id: str, folder: Path) -> Issued:
    """Make the receipt of a payment; its number is that of the payment, so it has only one."""
    payment = read.one(Payment, payment_id)
    number = receipt_number(payment)
    data = receipt_data(payment, number)
    size = letterhead.paper(read.find(Practice)[0])
    paper = Drawn("receipt", number, receipt_paper.pdf(data, size), receipt_paper.text(data))
    with edit("receipt", who=act.by, at=act.at, visit=payment.visit) as doing:
        return store(doing, act, folder, opened(payment.visit), paper)


def receipt_number(payment: Payment) -> str:
    """Return the number of a payment's receipt: its year, and its place among all payments."""
    [[place]] = query('SELECT count(*) FROM "payment" WHERE "id" <= ?', (payment.id,))
    return f"R{payment.at.year}-{place:04d}"


def receipt_data(payment: Payment, number: str) -> receipt_paper.Receipt:
    """Return a payment as its receipt takes it: what came before, and what is left."""
    practice, bill = read.find(Practice)[0], charges.bill(payment.visit)
    taken = [p for p in bill.payments if p.id <= payment.id]
    paid = [Paid(letterhead.wall(p.at, practice).date(), p.how, p.amount_minor) for p in taken]
    by = read.first(Person, id=payment.by)
    return receipt_paper.Receipt(
        number=number,
        practice=letterhead.head(practice),
        client=letterhead.party(opened(payment.visit).client),
        issued=letterhead.wall(payment.at, practice),
        invoice_number=bill.invoice.number if bill.invoice else "to follow",
        gross=bill.invoice.gross_minor if bill.invoice else bill.totals.gross,
        payment=paid[-1],
        currency=letterhead.currency(practice),
        earlier=tuple(paid[:-1]),
        received_by=by.name if by else "",
    )
