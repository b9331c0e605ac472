"""The dialogs of the Paperwork desk: a result, a payment, a paper handed over, an owner told."""

from __future__ import annotations

from core import clock
from core.billing.money import read_money
from core.practice import paperwork, results
from core.practice.charges import Bill
from core.practice.issued import Issued
from core.practice.keep import Act
from core.practice.owing import Owing
from tui.widgets import answers as answered
from tui.widgets.dialog import Answers, FormDialog
from tui.widgets.field import Choice, Field
from tui.widgets.row import Widths
from tui.workup.charges import PAID_BY

TOLD = (
    Choice("t", "by telephone", "by telephone"),
    Choice("e", "by e-mail", "by e-mail"),
    Choice("h", "in person", "in person"),
    Choice("n", "", "not yet"),
)
HANDED = (
    Choice("h", "by hand", "by hand"),
    Choice("e", "by e-mail", "by e-mail"),
    Choice("l", "left there", "left there"),
    Choice("t", "by post", "by post"),
)
YES_NO = (Choice("y", "yes", "yes"), Choice("n", "no", "no"))
WIDTHS = Widths(label=16, value=32)


class _Ask(FormDialog):
    def act(self) -> Act:
        """Who is doing something now."""
        return Act(self.app.worker.id, clock.now())


def _keys(_: Answers) -> str:
    return "f keeps it. Esc leaves."


class EnterResult(_Ask):
    """The result of a test that was sent out."""

    def __init__(self, line: Owing, *, signed: bool) -> None:
        self.test = line.row
        fields = [
            Field("value", "Result", example="no growth after 5 days", required=True),
            Field("told", "Owner told", "choice", choices=TOLD, required=True),
        ]
        if signed:
            hint = "this visit is signed: shall it be added?"
            fields.append(
                Field("addendum", "Addendum", "choice", choices=YES_NO, hint=hint, required=True)
            )
        title = f"{line.client}: {line.what}"
        super().__init__(title, fields, self.write, _keys, widths=WIDTHS)

    async def write(self, answers: Answers) -> None:
        """Write the result."""
        await self.app.save(
            results.enter_result,
            self.act(),
            self.test,
            answered.words(answers, "value"),
            told=answered.words(answers, "told"),
            addendum=answered.words(answers, "addendum") == "yes",
        )


class TellOwner(_Ask):
    """How the owner was told a result."""

    def __init__(self, line: Owing) -> None:
        self.result = line.row
        fields = [Field("told", "Told", "choice", choices=TOLD[:-1], required=True)]
        super().__init__(f"{line.client}: {line.what}", fields, self.write, _keys, widths=WIDTHS)

    async def write(self, answers: Answers) -> None:
        """Write that the owner was told."""
        await self.app.save(
            results.tell_owner, self.act(), self.result, answered.words(answers, "told")
        )


class HandOver(_Ask):
    """How a paper was handed over, and to whom."""

    def __init__(self, document: str, title: str) -> None:
        self.document = document
        fields = [
            Field("how", "How", "choice", choices=HANDED, required=True),
            Field("to", "To whom", example="the owner", required=True),
        ]
        super().__init__(title, fields, self.write, _keys, widths=WIDTHS)

    async def write(self, answers: Answers) -> None:
        """Write the delivery."""
        how, to = answered.words(answers, "how"), answered.words(answers, "to")
        await self.app.save(paperwork.deliver, self.act(), self.document, how, to)


class TakePayment(_Ask):
    """A payment, of all or of a part; its receipt is made with it."""

    def __init__(self, visit: str, client: str, bill: Bill, owed: str) -> None:
        self.visit = visit
        self.issued: Issued | None = None
        of = f"invoice {bill.invoice.number}" if bill.invoice else "not invoiced yet"
        fields = [
            Field("amount", "Amount taken", "money", low=0, high=9999999, example=owed,
                  hint=f"{owed} is owed", required=True),
            Field("how", "How", "choice", choices=PAID_BY, required=True),
            Field("reference", "Reference", example="last digits, cheque number"),
        ]  # fmt: skip
        title = f"Payment of {client}, {of}: {owed} is owed"
        super().__init__(title, fields, self.write, _keys, widths=WIDTHS)

    async def write(self, answers: Answers) -> None:
        """Write the payment and make its receipt."""
        minor = read_money(answers["amount"].text, self.app.practice.currency_exponent)
        self.issued = await self.app.save(
            paperwork.take_payment,
            self.act(),
            self.visit,
            minor,
            answered.words(answers, "how"),
            answered.words(answers, "reference"),
            self.app.desk.papers,
        )
