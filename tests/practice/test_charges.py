"""Charges and the invoice: offered from what was done, traced, taxed by class, never changed."""

from __future__ import annotations

import hashlib
from decimal import Decimal
from pathlib import Path

import pypdf
import pytest

from core.errors import Refusal
from core.practice import charges, documents, keep, setup, water
from core.practice.keep import Act
from core.records import read
from core.records.journal import Closed, edit
from core.records.tables import Charge, Document, Invoice, Price, TaxClass
from tests.conftest import MOMENT
from tests.small import Small


@pytest.fixture
def priced(practice: Small, act: Act) -> Small:
    with edit("prices", who="setup", at=MOMENT) as doing:
        for row in (*setup.first_prices(), *taxes()):
            doing.add(row)
    return practice


def taxes() -> list[TaxClass]:
    rates = {"service": "0", "medicine": "0", "goods": "7"}
    return [
        TaxClass(id=f"tax-{code}", code=code, name=code, rate_percent=Decimal(rate))
        for code, rate in rates.items()
    ]


def vet(practice: Small) -> Act:
    return Act(practice.vet, MOMENT)


def measure(practice: Small, place: str = "here") -> None:
    measured = water.Measured("ph", 7.6, "7.6")
    water.record_reading(vet(practice), practice.visit, practice.system, measured, place)


def test_what_was_done_is_offered_and_leads_back_to_its_rows(priced: Small) -> None:
    measure(priced)
    measure(priced, "tap")
    offered = {o.code: o for o in charges.bill(priced.visit).offered}
    assert set(offered) == {"call_out", "exam", "water_panel"}
    assert offered["water_panel"].quantity == 1, "the tap is read beside the water, not charged"
    charges.take_offers(vet(priced), priced.visit)
    rows = read.find(Charge, visit=priced.visit)
    assert sorted(r.code for r in rows) == ["call_out", "exam", "water_panel"]
    for row in rows:
        table, _, key = row.origins.split()[0].partition(":")
        kind = {"visit": "visit", "reading": "reading"}[table]
        assert kind == table
        assert len(key) == 36
    assert charges.bill(priced.visit).offered == ()


def test_a_struck_line_is_not_offered_again(priced: Small) -> None:
    measure(priced)
    charges.take_offers(vet(priced), priced.visit)
    panel = read.first(Charge, visit=priced.visit, code="water_panel")
    assert panel is not None
    charges.strike_charge(vet(priced), panel.id, "included in the check")
    assert "water_panel" not in [c.code for c in charges.bill(priced.visit).charges]
    assert charges.bill(priced.visit).offered == ()


def test_tax_is_by_class_and_a_manual_line_says_so(priced: Small) -> None:
    act = vet(priced)
    charges.take_offers(act, priced.visit)
    charges.add_manual(act, priced.visit, "Water test kit", Decimal(1), 3200, "goods")
    bill = charges.bill(priced.visit)
    assert bill.totals.net == 6000 + 15000 + 3200
    assert bill.totals.tax == 224, "7 % of 32.00, rounded once"
    manual = next(c for c in bill.charges if c.words == "Water test kit")
    assert manual.origins == ""
    with pytest.raises(Refusal, match="no tax class"):
        charges.add_manual(act, priced.visit, "x", Decimal(1), 100, "luxury")


def test_an_invoice_is_numbered_without_gap_stored_and_never_changes(
    priced: Small, tmp_path: Path
) -> None:
    act = vet(priced)
    charges.take_offers(act, priced.visit)
    issued = documents.issue_invoice(act, priced.visit, tmp_path / "papers")
    assert issued.document.number == "2026-0001"
    data = issued.file.read_bytes()
    assert hashlib.sha256(data).hexdigest() == issued.document.sha256
    text = "".join(page.extract_text() for page in pypdf.PdfReader(issued.file).pages)
    for wanted in ("2026-0001", "Clara Test", "Call-out", "60.00", "210.00"):
        assert wanted in text
    charge = read.find(Charge, visit=priced.visit)[0]
    with pytest.raises(Closed, match="issued invoice"):
        charges.set_quantity(act, charge.id, Decimal(3))
    with pytest.raises(Refusal, match="issued already"):
        documents.issue_invoice(act, priced.visit, tmp_path / "papers")
    assert issued.file.read_bytes() == data
    assert len(read.find(Invoice)) == 1


def test_old_invoices_keep_old_prices(priced: Small, tmp_path: Path) -> None:
    act = vet(priced)
    charges.take_offers(act, priced.visit)
    documents.issue_invoice(act, priced.visit, tmp_path)
    price = read.first(Price, code="call_out")
    assert price is not None
    with edit("price", who=priced.vet, at=MOMENT) as doing:
        doing.change(Price, price.id, unit_minor=9900)
    assert charges.bill(priced.visit).totals.gross == 21000


def test_part_payment_and_what_is_owed(priced: Small, tmp_path: Path) -> None:
    act = vet(priced)
    charges.take_offers(act, priced.visit)
    charges.pay(act, priced.visit, 10000, "cash")
    documents.issue_invoice(act, priced.visit, tmp_path)
    charges.pay(act, priced.visit, 5000, "card", "1234")
    assert charges.bill(priced.visit).owed_minor == 6000
    for wrong, words in ((6001, "more than is owed"), (0, "above zero"), (-5, "above zero")):
        with pytest.raises(Refusal, match=words):
            charges.pay(act, priced.visit, wrong, "cash")


def test_nothing_on_the_bill_makes_no_invoice(priced: Small, tmp_path: Path) -> None:
    with pytest.raises(Refusal, match="Nothing is on the bill"):
        documents.issue_invoice(vet(priced), priced.visit, tmp_path)
    assert read.find(Document) == ()


def test_charges_stay_open_after_the_signature_until_the_invoice(priced: Small) -> None:
    from core.practice import sign
    from core.records.tables import Client

    act = vet(priced)
    with edit("client", who=priced.vet, at=MOMENT) as doing:
        doing.change(Client, priced.client, address="2 Invented Lane")
    for stage in sign.WALKED:
        keep.mark_stage(act, priced.visit, stage, "passed over", "a test")
    sign.sign(act, priced.visit)
    charges.take_offers(act, priced.visit)
    assert charges.bill(priced.visit).totals.gross == 21000
