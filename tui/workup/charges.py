"""Charges: the lines that the stages offer, what is added by hand, the invoice and payments."""

from __future__ import annotations

from decimal import Decimal

from core.billing.charges import ChargeLine
from core.billing.money import read_money
from core.practice import charges, documents, letterhead
from core.practice.visits import Opened
from core.records.tables import Charge, Price, System
from tui.keys import bind
from tui.saying import counted
from tui.widgets.dialog import Answers, FormDialog, reason
from tui.widgets.field import Choice, Entry, Field
from tui.widgets.row import Shown, Widths
from tui.workup import invoice_ask
from tui.workup.stage import Stage

PAID_BY = (
    Choice("c", "cash", "cash"),
    Choice("k", "card", "card"),
    Choice("q", "cheque", "cheque"),
    Choice("t", "transfer", "transfer"),
)


class ChargesStage(Stage):
    """The bill of the visit."""

    TITLE = "Charges"
    WIDTHS = Widths(label=34, value=6, aside=20)
    BINDINGS = [
        bind("take_all"),
        bind("add"),
        bind("strike", show=False),
        bind("invoice"),
        bind("pay"),
    ]

    def __init__(self, opened: Opened, system: System) -> None:
        super().__init__(opened, system)
        self.bill: charges.Bill | None = None
        self.prices: tuple[Price, ...] = ()

    async def load(self) -> None:
        self.bill = await self.app.look(charges.bill, self.visit_id)
        self.prices = await self.app.look(charges.price_list)

    def _money(self, minor: int) -> str:
        return letterhead.currency(self.app.practice).bare(minor)

    def fields(self) -> list[Field]:
        assert self.bill is not None
        lines = [
            Field(f"charge {c.id}", c.words, "quantity", low=0.01, high=9999, example="2")
            for c in self.bill.charges
        ]
        offered = [Field(f"offer {o.code}", o.description, "act") for o in self.bill.offered]
        return lines + offered or [
            Field(
                "none",
                "Nothing to charge yet",
                "act",
                hint="a adds a line by hand or from the list",
            )
        ]

    def shown(self, field: Field) -> Shown:
        kind, _, key = field.key.partition(" ")
        if kind == "charge":
            charge = self._charge(key)
            return Shown(
                format(charge.quantity.normalize(), "f") if charge else "",
                aside=self._price(charge) if charge else "",
                note=self._note(charge) if charge else "",
            )
        offer = self._offer(key)
        if offer is None:
            return Shown()
        price = f"{self._money(offer.unit_price):>8} {self._money(offer.amount):>9}"
        return Shown("", "offer", price, f"{offer.quantity} offered; enter takes it")

    def _price(self, charge: Charge) -> str:
        amount = charges.as_line(charge).amount
        return f"{self._money(charge.unit_minor):>8} {self._money(amount):>9}"

    def _note(self, charge: Charge) -> str:
        return f"{charge.tax_class}; {self._origin(charge).replace('_', ' ')}"

    def _origin(self, charge: Charge) -> str:
        """Return the record behind a line, the price list, or that it is in own words."""
        if charge.origins:
            return charge.origins.split(":")[0]
        return "from the price list" if charge.code in {p.code for p in self.prices} else "by hand"

    def _charge(self, key: str) -> Charge | None:
        assert self.bill is not None
        return next((c for c in self.bill.charges if c.id == key), None)

    def _offer(self, key: str) -> ChargeLine | None:
        assert self.bill is not None
        return next((o for o in self.bill.offered if o.code == key), None)

    async def keep(self, field: Field, entry: Entry) -> None:
        kind, _, key = field.key.partition(" ")
        if kind == "charge":
            quantity = Decimal(str(entry.value))
            await self.app.save(charges.set_quantity, self.act(), key, quantity)
        elif kind == "offer":
            await self.app.save(charges.take_offers, self.act(), self.visit_id, (key,))
            await self.changed()

    def below(self) -> str:
        assert self.bill is not None
        bill = self.bill
        tax = " ".join(f"+ {t.percent} % {self._money(t.tax)}" for t in bill.totals.tax_by_rate)
        money = letterhead.currency(self.app.practice).show
        head = f"Net {self._money(bill.totals.net)} {tax}  Total {money(bill.totals.gross)}"
        paid = f"Paid {self._money(bill.paid_minor)}, owed {money(bill.owed_minor)}"
        number = f"Invoice {bill.invoice.number} issued. " if bill.invoice else "Not invoiced. "
        offers = (
            f"  {counted(len(bill.offered), 'line')} offered: v takes all." if bill.offered else ""
        )
        missing = f"\nDone but without a price: {', '.join(bill.unpriced)}" if bill.unpriced else ""
        return f"{head}{offers}\n{number}{paid}{missing}"

    async def action_take_all(self) -> None:
        await self.app.save(charges.take_offers, self.act(), self.visit_id)
        await self.changed()

    def action_add(self) -> None:
        listed = tuple(Choice("", p.code, p.name) for p in self.prices)
        classes = sorted({p.tax_class for p in self.prices})
        taxes = tuple(Choice(c[0], c, c) for c in classes)

        def fields(answers: Answers) -> list[Field]:
            found = [
                Field(
                    "code",
                    "From the price list",
                    "pick",
                    choices=(Choice("", "", "by hand"), *listed),
                ),
                Field("quantity", "How many", "quantity", low=0.01, high=9999, example="1"),
            ]
            if not answers.get("code") or not answers["code"].words:
                found += [
                    Field("words", "In words", example="Salt, bag", required=True),
                    Field("price", "Price of one", "money", low=-99999, high=99999, required=True),
                    Field("tax", "Tax class", "choice", choices=taxes, required=True),
                ]
            return found

        async def done(answers: Answers) -> None:
            code = answers["code"].words if "code" in answers else ""
            listed_price = next((p for p in self.prices if p.code == code), None)
            exponent = self.app.practice.currency_exponent
            quantity = answers["quantity"].value if "quantity" in answers else 1
            await self.app.save(
                charges.add_manual,
                self.act(),
                self.visit_id,
                listed_price.name if listed_price else answers["words"].words,
                Decimal(str(quantity)),
                listed_price.unit_minor
                if listed_price
                else read_money(answers["price"].text, exponent),
                listed_price.tax_class if listed_price else answers["tax"].words,
                code,
            )

        self.ask(FormDialog("Add a line to the bill", fields, done))

    def action_strike(self) -> None:
        charge = self._charge(self.form.field.key.partition(" ")[2])
        if charge is None:
            return

        async def done(why: str) -> None:
            await self.app.save(charges.strike_charge, self.act(), charge.id, why)

        self.ask(reason(f"Take off the bill: {charge.words}", done, "included in the check"))

    def action_pay(self) -> None:
        assert self.bill is not None
        owed = self._money(self.bill.owed_minor).replace("\u00a0", "")
        fields = [
            Field(
                "amount",
                "Amount taken",
                "money",
                low=0,
                high=9999999,
                example=owed,
                required=True,
                hint=f"{owed} is owed",
            ),
            Field("how", "How", "choice", choices=PAID_BY, required=True),
            Field("reference", "Reference", example="last digits, cheque number"),
        ]

        async def done(answers: Answers) -> None:
            minor = read_money(answers["amount"].text, self.app.practice.currency_exponent)
            reference = answers["reference"].words if "reference" in answers else ""
            await self.app.save(
                charges.pay, self.act(), self.visit_id, minor, answers["how"].words, reference
            )

        self.ask(FormDialog("Payment", fields, done))

    async def action_invoice(self) -> None:
        await self.may("invoice")
        await invoice_ask.issue(self.app, self.visit_id, self._issue)

    async def _issue(self) -> None:
        issued = await self.app.save(
            documents.issue_invoice, self.act(), self.visit_id, self.app.desk.papers
        )
        self.app.notify(str(issued.file), title=f"Invoice {issued.document.number}", markup=False)
        await self.changed()
