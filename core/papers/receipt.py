"""The receipt for a payment: what it was for, what came before, what is left."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from core.errors import Refusal
from core.papers.blocks import Beside, KeyValues, Paragraph, Sheet, Totals, twin
from core.papers.blocks import pdf as draw
from core.papers.invoice import Payment
from core.papers.parts import Currency, PaperSize, Party, Practice, day


@dataclass(frozen=True)
class Receipt:
    """A payment received.

    Parameters
    ----------
    number, invoice_number : str
        Of this receipt, and of what was paid.
    practice, client : Practice, Party
        Who received and who paid.
    issued : datetime
        Aware, in the practice's zone; its date is printed.
    gross : int
        Total of the invoice, minor units.
    earlier : tuple of Payment
        Paid before.
    payment : Payment
        The one received now.
    currency : Currency
        Of every amount.
    received_by : str
        Who took it.
    """

    number: str
    practice: Practice
    client: Party
    issued: datetime
    invoice_number: str
    gross: int
    payment: Payment
    currency: Currency
    earlier: tuple[Payment, ...] = ()
    received_by: str = ""

    @property
    def balance(self) -> int:
        """What is still owed after this payment, in minor units."""
        return self.gross - sum(paid.amount for paid in (*self.earlier, self.payment))


def pdf(receipt: Receipt, paper: PaperSize = "A4") -> bytes:
    """Draw a receipt.

    Raises
    ------
    Refusal
        Without a number, or for a payment of nothing.
    """
    return draw(sheet(receipt), paper)


def text(receipt: Receipt) -> str:
    """Write a receipt as plain text, in the order of the PDF; raises as `pdf` does."""
    return twin(sheet(receipt))


def sheet(receipt: Receipt) -> Sheet:
    """Lay a receipt out as blocks; raises as `pdf` does."""
    if not receipt.number or not receipt.payment.amount:
        raise Refusal("This receipt can not print.", "It needs a number and an amount.")
    show = receipt.currency.show
    earlier = tuple(
        (f"Paid before, {day(paid.on)}, {paid.how}", show(-paid.amount), False)
        for paid in receipt.earlier
    )
    now = receipt.payment
    return Sheet(
        practice=receipt.practice,
        title=f"Receipt {receipt.number}",
        subject=receipt.client.name,
        issued=receipt.issued,
        blocks=(
            _parties(receipt),
            Paragraph(f"Received: {show(now.amount)}, with thanks.", strong=True),
            Totals(
                (
                    (f"Invoice {receipt.invoice_number}", show(receipt.gross), False),
                    *earlier,
                    (f"Paid {day(now.on)}, {now.how}", show(-now.amount), False),
                    ("Balance", show(receipt.balance), True),
                )
            ),
        ),
    )


def _parties(receipt: Receipt) -> Beside:
    client = (
        Paragraph(receipt.client.name, strong=True),
        *(Paragraph(line) for line in receipt.client.address),
    )
    facts = KeyValues(
        (
            ("Date", day(receipt.issued)),
            ("For invoice", receipt.invoice_number),
            ("Received by", receipt.received_by),
        )
    )
    return Beside(client, (facts,))
