"""What has been paid and credited, what is owed, and what the client has too much."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from enum import Enum

from core.billing.money import money
from core.errors import BadInput, Refusal


class Entry(Enum):
    """Kind of an entry against an invoice."""

    DEPOSIT = "deposit"
    PAYMENT = "payment"
    CREDIT_NOTE = "credit note"
    WRITE_OFF = "write-off"
    REFUND = "refund"


@dataclass(frozen=True)
class Payment:
    """One entry against an invoice; the amount is always above zero, the kind gives its side.

    Raises
    ------
    BadInput
        For an amount of zero or less.
    """

    entry: Entry
    minor: int
    when: datetime
    method: str = ""
    reference: str = ""

    def __post_init__(self) -> None:
        if self.minor <= 0:
            raise BadInput(f"A {self.entry.value} is an amount above zero.", "For example 250.00.")


@dataclass(frozen=True)
class Balance:
    """What stands of an invoice, in minor units: owed or credit, never both."""

    gross: int
    paid: int
    credited: int
    owed: int
    credit: int

    @property
    def said(self) -> str:
        """Return the state of the invoice in words."""
        if self.credit:
            return "paid, client in credit"
        if not self.owed:
            return "paid"
        return "part paid" if self.paid or self.credited else "unpaid"


def balance(gross: int, entries: Iterable[Payment]) -> Balance:
    """Return what is still owed of an invoice, or what the client has too much.

    Parameters
    ----------
    gross : int
        Total of the invoice in minor units.
    entries : iterable of Payment
        Deposits, payments, credit notes, write-offs and refunds against it.

    Raises
    ------
    Refusal
        When more was refunded than was ever paid; a credit note is no money received.
    """
    held = tuple(entries)
    paid = sum(p.minor for p in held if p.entry in (Entry.DEPOSIT, Entry.PAYMENT))
    paid -= sum(p.minor for p in held if p.entry is Entry.REFUND)
    credited = sum(p.minor for p in held if p.entry in (Entry.CREDIT_NOTE, Entry.WRITE_OFF))
    if paid < 0:
        raise Refusal(f"{money(-paid)} more was refunded than was paid.")
    rest = gross - paid - credited
    return Balance(gross, paid, credited, max(rest, 0), max(-rest, 0))


def check_refund(standing: Balance, minor: int) -> None:
    """Refuse a refund of more than the client has too much.

    Raises
    ------
    Refusal
        Naming what can be refunded.
    """
    if minor > standing.credit:
        raise Refusal(
            f"The client has {money(standing.credit)} in credit, not {money(minor)}.",
            "Issue a credit note first, or refund less.",
        )


def check_credit_note(line_gross: int, already: int, minor: int) -> None:
    """Refuse a credit note of more than the line it corrects, less what was credited before.

    Parameters
    ----------
    line_gross : int
        The line with its tax, in minor units.
    already, minor : int
        Credited of it before, and now.

    Raises
    ------
    Refusal
        Naming what is left of the line.
    """
    if minor > line_gross - already:
        left = money(max(line_gross - already, 0))
        raise Refusal(f"Only {left} of this line is left to credit.", "Credit less.")
