"""Issuing papers: the bytes are written whole under their hash, then the records say so."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from core.errors import Refusal
from core.papers import care_sheet as care_sheet_paper
from core.papers import invoice as invoice_paper
from core.papers import label, sample_labels, visit_record
from core.practice import care_paper, charges, label_paper, letterhead
from core.practice.door import edit
from core.practice.issued import Drawn, Issued, store
from core.practice.keep import Act
from core.practice.record_paper import record_of
from core.practice.record_rows import visit_number
from core.practice.visits import Opened, opened
from core.practice.who import must_be_vet
from core.records import read
from core.records.keys import new_key
from core.records.tables import Charge, Document, Invoice, Practice


def issue_invoice(act: Act, visit_id: str, folder: Path) -> Issued:
    """Issue the invoice of a visit: numbered without a gap, stored as issued.

    Raises
    ------
    Refusal
        When it was issued already, or nothing is on the bill.
    """
    bill = charges.bill(visit_id)
    if bill.invoice is not None:
        raise Refusal(
            f"The invoice {bill.invoice.number} was issued already.", "Correct it by a credit note."
        )
    if not bill.charges:
        raise Refusal("Nothing is on the bill yet.", "Take the offered lines first.")
    visit = opened(visit_id)
    practice = read.find(Practice)[0]
    day = letterhead.wall(act.at, practice).date()
    row = Invoice(
        id=new_key(),
        visit=visit_id,
        client=visit.client.id,
        number=charges.next_number(day),
        day=day,
        net_minor=bill.totals.net,
        tax_minor=bill.totals.tax,
        gross_minor=bill.totals.gross,
        by=act.by,
        at=act.at,
    )
    data = invoice_data(act, visit, bill, practice, row.number)
    paper = Drawn(
        "invoice",
        row.number,
        invoice_paper.pdf(data, letterhead.paper(practice)),
        invoice_paper.text(data),
    )
    with edit("invoice", who=act.by, at=act.at, visit=visit_id) as doing:
        doing.add(row)
        for charge in bill.charges:
            doing.change(Charge, charge.id, invoice=row.id)
        return store(doing, act, folder, visit, paper)


def issue_care_sheet(act: Act, visit_id: str, folder: Path) -> Issued:
    """Issue the owner's care sheet; a changed plan gets a new number.

    Raises
    ------
    Refusal
        When the plan lacks something that a sheet must have: it is named.
    """
    visit = opened(visit_id)
    practice = read.find(Practice)[0]
    earlier = read.find(Document, visit=visit_id, kind="care sheet")
    sheet = care_paper.care_sheet(visit_id, visit_number(visit), 1, act.at)
    content = care_paper.content_hash(sheet)
    version = len(earlier) + (not earlier or earlier[-1].content != content)
    sheet = replace(sheet, number=f"{visit_number(visit)}-{version}", version=version)
    paper = Drawn(
        "care sheet",
        sheet.number,
        care_sheet_paper.pdf(sheet, letterhead.paper(practice)),
        care_sheet_paper.text(sheet),
        content,
    )
    with edit("care sheet", who=act.by, at=act.at, visit=visit_id) as doing:
        return store(doing, act, folder, visit, paper)


def care_sheet_state(visit_id: str) -> str:
    """Return whether the care sheet still says what the plan says, in words."""
    earlier = read.find(Document, visit=visit_id, kind="care sheet")
    if not earlier:
        return "no care sheet yet"
    last = earlier[-1]
    sheet = care_paper.care_sheet(visit_id, last.number, last.version, last.at)
    if care_paper.content_hash(sheet) == last.content:
        return f"care sheet {last.number} is up to date"
    return f"care sheet {last.number} is OUT OF DATE: the plan has changed since"


def issue_record(act: Act, visit_id: str, folder: Path) -> Issued:
    """Issue the visit record; built again from the same rows it has the same bytes."""
    visit = opened(visit_id)
    practice = read.find(Practice)[0]
    record = record_of(visit_id)
    paper = Drawn(
        "visit record",
        record.number,
        visit_record.pdf(record, letterhead.paper(practice)),
        visit_record.text(record),
    )
    with edit("visit record", who=act.by, at=act.at, visit=visit_id) as doing:
        return store(doing, act, folder, visit, paper)


def issue_labels(act: Act, visit_id: str, folder: Path) -> Issued:
    """Issue the labels of what is dispensed; the veterinarian at work approves them.

    Raises
    ------
    Refusal
        When nothing is dispensed, a label lacks an element (it is named), or somebody other
        than a veterinarian approves.
    """
    must_be_vet(act.by, "approves a label")
    labels = label_paper.labels_of(act, visit_id)
    if not labels:
        raise Refusal("Nothing is dispensed at this visit.", "Add it in the Plan first.")
    visit = opened(visit_id)
    size = letterhead.paper(read.find(Practice)[0])
    data = label.sheet_pdf(labels, size, grid=label_paper.sizes()[label_paper.size()])
    text = "\n\n".join(label.text(one) for one in labels)
    content = label_paper.content_hash(labels)
    paper = Drawn("labels", visit_number(visit), data, text, content)
    with edit("labels", who=act.by, at=act.at, visit=visit_id) as doing:
        return store(doing, act, folder, visit, paper)


def issue_feed_directive(act: Act, visit_id: str, folder: Path) -> Issued:
    """Refuse: the form waits until its current legal text has been read.

    Raises
    ------
    Refusal
        Always, saying what was read and what is done instead.
    """
    raise Refusal(
        "The veterinary feed directive is not written here: the current text of 21 CFR 558.6 has "
        "not been read, only editions before its rewriting in 2015.",
        "Write it on the form that the authority accepts, and keep a copy.",
    )


def issue_sample_labels(act: Act, visit_id: str, folder: Path) -> Issued:
    """Issue the labels of the samples got at a visit."""
    visit = opened(visit_id)
    size = letterhead.paper(read.find(Practice)[0])
    labels = label_paper.sample_labels(act, visit_id)
    data, text = sample_labels.pdf(labels, size), sample_labels.text(labels)
    paper = Drawn("sample labels", visit_number(visit), data, text)
    with edit("sample labels", who=act.by, at=act.at, visit=visit_id) as doing:
        return store(doing, act, folder, visit, paper)


def invoice_data(
    act: Act, visit: Opened, bill: charges.Bill, practice: Practice, number: str
) -> invoice_paper.Invoice:
    """Return the invoice of a visit as the paper takes it."""
    return invoice_paper.Invoice(
        number=number,
        practice=letterhead.head(practice),
        client=letterhead.party(visit.client),
        issued=letterhead.wall(act.at, practice),
        visited=visit.visit.day,
        system=f"{visit.system.name}, {visit.site.name}",
        lines=tuple(_line(c) for c in bill.charges),
        net=bill.totals.net,
        taxes=tuple(
            invoice_paper.TaxLine(f"Tax {t.percent} %", t.taxable, t.tax)
            for t in bill.totals.tax_by_rate
        ),
        gross=bill.totals.gross,
        currency=letterhead.currency(practice),
        payments=tuple(
            invoice_paper.Payment(letterhead.wall(p.at, practice).date(), p.how, p.amount_minor)
            for p in bill.payments
        ),
        terms=practice.terms,
        veterinarian=visit.vet.name,
    )


def _line(charge: Charge) -> invoice_paper.InvoiceLine:
    return invoice_paper.InvoiceLine(
        charge.words,
        charge.quantity,
        charge.unit_minor,
        charge.tax_class,
        charges.as_line(charge).amount,
    )
