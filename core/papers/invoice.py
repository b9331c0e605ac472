"""The invoice, and the credit note that is the only way to correct one."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from core.errors import Refusal
from core.papers.blocks import (
    Beside,
    Block,
    Heading,
    KeyValues,
    Paragraph,
    Sheet,
    Table,
    Totals,
    twin,
)
from core.papers.blocks import pdf as draw
from core.papers.parts import Currency, PaperSize, Party, Practice, amount, day


@dataclass(frozen=True)
class InvoiceLine:
    """One charge.

    Parameters
    ----------
    what : str
        What was done or sold; a discount says its reason here.
    quantity : Decimal
        How many.
    unit_price, amount : int
        Minor units; negative on a discount or a credit note.
    tax_class : str
        As the practice names it, for example ``goods`` or ``no tax``.
    unit : str
        Unit of the quantity; may be empty.
    """

    what: str
    quantity: Decimal
    unit_price: int
    tax_class: str
    amount: int
    unit: str = ""


@dataclass(frozen=True)
class TaxLine:
    """One rate of tax: its name with the rate, the base it is taken of, and the tax."""

    label: str
    base: int
    tax: int


@dataclass(frozen=True)
class Payment:
    """A payment received: the date, how, and minor units."""

    on: date
    how: str
    amount: int


@dataclass(frozen=True)
class Invoice:
    """An invoice as issued; with `credits` it is a credit note for that invoice.

    Parameters
    ----------
    number : str
        From the gapless series of the practice.
    practice : Practice
        Who bills.
    client : Party
        Who owes, with postal address.
    issued : datetime
        Aware, in the practice's zone; its date is printed.
    visited : date
        Date of the service.
    system : str
        The water and its fish.
    lines : tuple of InvoiceLine
        In the order of the record.
    net, gross : int
        Minor units, as worked out by billing.
    taxes : tuple of TaxLine
        A line for each rate.
    currency : Currency
        Of every amount.
    payments : tuple of Payment
        What was paid up to the issue.
    terms : str
        When and how to pay.
    due : date or None
        Last day to pay.
    veterinarian, estimate, credits : str
        Who prescribed; number of the estimate; number of the invoice credited.
    """

    number: str
    practice: Practice
    client: Party
    issued: datetime
    visited: date
    system: str
    lines: tuple[InvoiceLine, ...]
    net: int
    taxes: tuple[TaxLine, ...]
    gross: int
    currency: Currency
    payments: tuple[Payment, ...] = ()
    terms: str = ""
    due: date | None = None
    veterinarian: str = ""
    estimate: str = ""
    credits: str = ""

    @property
    def balance(self) -> int:
        """What is still owed, in minor units: gross less all payments."""
        return self.gross - sum(payment.amount for payment in self.payments)


def pdf(invoice: Invoice, paper: PaperSize = "A4") -> bytes:
    """Draw an invoice.

    Raises
    ------
    Refusal
        When its figures do not add up, or it has no number, client or line.
    """
    return draw(sheet(invoice), paper)


def text(invoice: Invoice) -> str:
    """Write an invoice as plain text, in the order of the PDF; raises as `pdf` does."""
    return twin(sheet(invoice))


def sheet(invoice: Invoice) -> Sheet:
    """Lay an invoice out as blocks; raises as `pdf` does."""
    _check(invoice)
    kind = "Credit note" if invoice.credits else "Invoice"
    return Sheet(
        practice=invoice.practice,
        title=f"{kind} {invoice.number}",
        subject=f"{invoice.client.name}, {invoice.system}",
        issued=invoice.issued,
        blocks=(_parties(invoice), _lines(invoice), _totals(invoice), *_terms(invoice)),
    )


def _check(invoice: Invoice) -> None:
    whose = f"Invoice {invoice.number or 'without a number'}"
    if not (invoice.number and invoice.client.name and invoice.lines):
        raise Refusal(f"{whose} can not print.", "It needs a number, a client and a line.")
    if invoice.net + sum(tax.tax for tax in invoice.taxes) != invoice.gross:
        raise Refusal(f"{whose} can not print: net and tax do not make its total.")
    # Prices may be kept with or without tax; the lines then make the gross or the net.
    if sum(line.amount for line in invoice.lines) not in (invoice.net, invoice.gross):
        raise Refusal(f"{whose} can not print: its lines do not make its total.")


def _parties(invoice: Invoice) -> Beside:
    client = (
        Paragraph(invoice.client.name, strong=True),
        *(Paragraph(line) for line in invoice.client.address),
    )
    facts = KeyValues(
        (
            ("Date of issue", day(invoice.issued)),
            ("Date of visit", day(invoice.visited)),
            ("System", invoice.system),
            ("Veterinarian", invoice.veterinarian),
            ("Estimate", invoice.estimate),
            ("Credit for invoice", invoice.credits),
            ("Pay by", day(invoice.due) if invoice.due else ""),
        )
    )
    return Beside(client, (facts,))


def _lines(invoice: Invoice) -> Table:
    bare = invoice.currency.bare
    return Table(
        heads=("What", "Tax", "Quantity", "Unit price", f"Amount ({invoice.currency.code})"),
        rows=tuple(
            (
                line.what,
                line.tax_class,
                f"{amount(line.quantity)} {line.unit}".strip(),
                bare(line.unit_price),
                bare(line.amount),
            )
            for line in invoice.lines
        ),
        shares=(9, 2.6, 2.2, 2.4, 3),
        right=(2, 3, 4),
    )


def _totals(invoice: Invoice) -> Totals:
    show = invoice.currency.show
    taxes = tuple(
        (f"{tax.label}, on {show(tax.base)}", show(tax.tax), False) for tax in invoice.taxes
    )
    paid = tuple(
        (f"Paid {day(payment.on)}, {payment.how}", show(-payment.amount), False)
        for payment in invoice.payments
    )
    return Totals(
        (
            ("Net", show(invoice.net), False),
            *taxes,
            ("Total", show(invoice.gross), True),
            *paid,
            ("Balance due" if invoice.balance > 0 else "Balance", show(invoice.balance), True),
        )
    )


def _terms(invoice: Invoice) -> tuple[Block, ...]:
    if not invoice.terms:
        return ()
    return (Heading("Terms"), Paragraph(invoice.terms))
