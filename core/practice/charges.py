"""Charges: what was done offers its lines from the price list; the invoice and what is paid."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from core.billing.charges import ChargeLine, Done, offers
from core.billing.invoice import Rounding, TaxRules, Totals, totals
from core.catalogue import load
from core.errors import Refusal
from core.practice import course_cost, own_rows
from core.practice.door import edit
from core.practice.keep import Act, begin_stage, ever
from core.practice.names import name
from core.records import read
from core.records.journal import OpenEdit
from core.records.keys import new_key
from core.records.tables import (
    Charge,
    DepthMark,
    Handling,
    Invoice,
    Payment,
    Practice,
    Price,
    Reading,
    SentTest,
    Slide,
    TaxClass,
    Treatment,
    Visit,
    Weighing,
)

FOUND_HERE = ("here", "inlet", "outlet")
"""Places whose readings make a water panel; the tap is read beside it."""


@dataclass(frozen=True)
class Bill:
    """The charges of a visit: lines, what else was done, totals, and what is paid."""

    charges: tuple[Charge, ...]
    offered: tuple[ChargeLine, ...]
    """Lines that what was done offers and that are not on the bill yet."""
    unpriced: tuple[str, ...]
    """What was done and no price answers."""
    totals: Totals
    invoice: Invoice | None
    payments: tuple[Payment, ...]

    @property
    def paid_minor(self) -> int:
        """All that was taken."""
        return sum(p.amount_minor for p in self.payments)

    @property
    def owed_minor(self) -> int:
        """What is still to be paid, of the invoice or of the lines so far."""
        gross = self.invoice.gross_minor if self.invoice else self.totals.gross
        return gross - self.paid_minor


def bill(visit_id: str) -> Bill:
    """Return the charges of a visit as they stand."""
    charges = read.find(Charge, visit=visit_id, order="position, id")
    own_rows.read_again()
    done = tuple(_done(visit_id))
    found = offers(done, course_cost.fees())
    return Bill(
        charges,
        tuple(_not_on_bill(visit_id, done, found.lines)),
        tuple(_named(d.kind) for d in found.unpriced),
        totals([as_line(c) for c in charges], tax_rules()),
        read.first(Invoice, visit=visit_id),
        read.find(Payment, visit=visit_id),
    )


def _not_on_bill(
    visit_id: str, done: tuple[Done, ...], lines: tuple[ChargeLine, ...]
) -> Iterator[ChargeLine]:
    """Give the lines that are not on the bill, and of those that are what was done since.

    Where something that a line was made from is no longer done, what is new may stand for it:
    that is for the person who charges, and nothing is offered.
    """
    on_bill: dict[str, set[str]] = {}
    for charge in ever(Charge, visit=visit_id):
        if charge.origins:
            on_bill.setdefault(charge.code, set()).update(charge.origins.split())
    for line in lines:
        charged = on_bill.get(line.code)
        if charged is None:
            yield line
        elif charged < set(line.origins):
            before = offers([d for d in done if d.record in charged], course_cost.fees()).lines
            had = sum((o.quantity for o in before if o.code == line.code), Decimal(0))
            if line.quantity > had:
                new = tuple(o for o in line.origins if o not in charged)
                yield replace(line, quantity=line.quantity - had, origins=new)


def _named(kind: str) -> str:
    """Return a kind of thing done in words: a medicine by its own name."""
    what, _, key = kind.partition(":")
    return name("product", key) if what == "medicine" else kind.replace(".", ", ")


def as_line(charge: Charge) -> ChargeLine:
    """Return a charge as billing takes it; its `amount` is what it comes to."""
    origins = tuple(charge.origins.split())
    return ChargeLine(
        charge.code, charge.words, charge.quantity, charge.unit_minor, charge.tax_class, origins
    )


def tax_rules() -> TaxRules:
    """Return the practice's tax classes and where it rounds."""
    practice = read.find(Practice)[0]
    rounding: Rounding = "line" if practice.tax_rounding == "line" else "once"
    rates = {t.code: t.rate_percent for t in read.find(TaxClass)}
    return TaxRules(rates, rounding, "practice setting")


def price_list() -> tuple[Price, ...]:
    """Return the practice's price list."""
    return read.find(Price)


def _done(visit_id: str) -> Iterator[Done]:
    visit = read.one(Visit, visit_id)
    yield Done("visit", f"visit:{visit.id}")
    kinds = load.table("visit_types")["visit_type"]
    yield Done(kinds.get(visit.kind, kinds["new"])["fee"], f"visit:{visit.id}")
    yield from _water_done(visit)
    yield from _hand_done(visit_id)
    for slide in read.find(Slide, visit=visit_id):
        yield Done("slide", f"slide:{slide.id}")
    # Weighing is part of the examination; measuring a stock and reckoning its weight is not.
    if lengths := read.find(Weighing, visit=visit_id, how="from length"):
        yield Done("lengths", f"weighing:{lengths[0].id}")
    for test in read.find(SentTest, visit=visit_id):
        yield Done(f"lab.{test.name.split()[0].lower()}", f"sent_test:{test.id}")
        if test.where:
            yield Done("lab.parcel", f"sent_test:{test.id}")
    for given in read.find(Treatment, visit=visit_id, act="dispensed"):
        yield Done("dispensing", f"treatment:{given.id}")
        yield course_cost.done_of(given)


def _water_done(visit: Visit) -> Iterator[Done]:
    panels: dict[tuple[str, str], str] = {}
    for reading in read.find(Reading, visit=visit.id):
        if reading.place in FOUND_HERE:
            panels.setdefault((reading.system, reading.place), reading.id)
    for reading_id in panels.values():
        yield Done("water.panel", f"reading:{reading_id}")
    for system in {system for system, _ in panels} - {visit.system}:
        yield Done("exam.further", f"system:{system}")


def _hand_done(visit_id: str) -> Iterator[Done]:
    ended = {m.handling for m in read.find(DepthMark, visit=visit_id, event="second step")}
    sedated = {h.id for h in read.find(Handling, visit=visit_id) if h.agent}
    for fish in read.find(Handling, visit=visit_id):
        if fish.id in ended:
            yield Done("euthanasia", f"handling:{fish.id}")
        elif fish.agent:
            kind = "sedation.fish" if fish.count == 1 else "sedation.group"
            yield Done(kind, f"handling:{fish.id}")
    for given in read.find(Treatment, visit=visit_id, act="given here"):
        if given.route.startswith("injection") and given.handling not in sedated:
            yield Done("injection", f"treatment:{given.id}")


def _begin(doing: OpenEdit, visit_id: str) -> None:
    """Note that the stage was begun; a signed visit is charged without that."""
    if read.one(Visit, visit_id).signed_at is None:
        begin_stage(doing, visit_id, "Charges")


def take_offers(act: Act, visit_id: str, codes: tuple[str, ...] = ()) -> None:
    """Put the lines that the stages offer on the bill: all of them, or those named."""
    lines = [o for o in bill(visit_id).offered if not codes or o.code in codes]
    with edit("charges", who=act.by, at=act.at, visit=visit_id) as doing:
        _begin(doing, visit_id)
        for line in lines:
            doing.add(_charge(visit_id, line))


def add_manual(
    act: Act,
    visit_id: str,
    words: str,
    quantity: Decimal,
    unit_minor: int,
    tax_class: str,
    code: str = "",
) -> str:
    """Put a line on the bill by hand; it says that no record stands behind it.

    Raises
    ------
    Refusal
        When the tax class has no rate.
    """
    if tax_class not in tax_rules().percent:
        raise Refusal(f"There is no tax class {tax_class}.", "Choose one of the practice's own.")
    line = ChargeLine(code, words, quantity, unit_minor, tax_class)
    with edit("charge by hand", who=act.by, at=act.at, visit=visit_id) as doing:
        _begin(doing, visit_id)
        row = _charge(visit_id, line)
        doing.add(row)
    return row.id


def _charge(visit_id: str, line: ChargeLine) -> Charge:
    order = [*load.table("prices")["price"]]
    return Charge(
        id=new_key(),
        visit=visit_id,
        position=order.index(line.code) if line.code in order else len(order),
        code=line.code,
        words=line.description,
        quantity=line.quantity,
        unit_minor=line.unit_price,
        tax_class=line.tax_class,
        origins=" ".join(line.origins),
    )


def strike_charge(act: Act, charge_id: str, why: str) -> None:
    """Take a line off the bill, with the reason; refused once it is invoiced."""
    charge = read.one(Charge, charge_id)
    with edit("charge struck", who=act.by, at=act.at, visit=charge.visit) as doing:
        doing.strike(Charge, charge_id, why)


def set_quantity(act: Act, charge_id: str, quantity: Decimal) -> None:
    """Change how many of a line are charged."""
    charge = read.one(Charge, charge_id)
    if quantity <= 0:
        raise Refusal("The quantity must be above zero.", "Strike the line to take it off.")
    with edit("charge", who=act.by, at=act.at, visit=charge.visit) as doing:
        doing.change(Charge, charge_id, quantity=quantity)


def pay(act: Act, visit_id: str, amount_minor: int, how: str, reference: str = "") -> str:
    """Take a payment, of all or of a part; return its id.

    Raises
    ------
    Refusal
        For nothing, or for more than is owed.
    """
    owed = bill(visit_id).owed_minor
    if amount_minor <= 0:
        raise Refusal("A payment is above zero.", "Type the amount that was taken.")
    if amount_minor > owed:
        raise Refusal("That is more than is owed.", "Take at most what is owed.")
    payment = Payment(
        id=new_key(),
        visit=visit_id,
        client=read.one(Visit, visit_id).client,
        amount_minor=amount_minor,
        how=how,
        reference=reference,
        by=act.by,
        at=act.at,
    )
    with edit("payment", who=act.by, at=act.at, visit=visit_id) as doing:
        doing.add(payment)
    return payment.id


def next_number(day: date) -> str:
    """Return the number of the next invoice: the year and a count without gaps."""
    return f"{day.year}-{len(read.find(Invoice, struck=True)) + 1:04d}"
