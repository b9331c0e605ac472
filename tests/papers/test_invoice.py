from __future__ import annotations

from dataclasses import replace

import pytest

from core.errors import Refusal
from core.papers import invoice, receipt
from core.papers.parts import Currency
from tests.papers.paper_samples import RECEIPT, bill, pages, squeezed


def test_every_line_the_client_and_the_totals_are_read_back():
    made = bill(6)
    text = squeezed(pages(invoice.pdf(made))[0])
    for line in made.lines:
        assert line.what in text
    for part in ("Casimir Dunnock", "Long Pond House", "Invoice 2025-0042", "18 000 L", "2.5 pcs"):
        assert part in text
    # 6 lines of 10.01 to 10.06 are 60.21; with the kit 92.21; tax 2.24.
    assert "Net £92.21" in text
    assert "7 % on goods, on £32.00 £2.24" in text
    assert "Total £94.45" in text
    assert "Paid Tue 25 Nov 2025, card -£20.00" in text
    assert "Balance due £74.45" in text
    assert "Pay by Thu 25 Dec 2025" in text
    assert "within 30 days" in text


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_forty_lines_take_two_pages_and_the_head_is_repeated(paper):
    found = pages(invoice.pdf(bill(40), paper))
    assert len(found) == 2
    for text in found:
        assert "Quantity" in text
        assert "Amount (GBP)" in text
    for number in range(1, 41):
        assert sum(f"Work number {number} on" in text for text in found) == 1


def test_a_credit_note_names_its_invoice():
    text = invoice.text(replace(bill(), credits="2025-0040"))
    assert "Credit note 2025-0042" in text
    assert "Credit for invoice: 2025-0040" in text


@pytest.mark.parametrize(
    "change",
    [{"number": ""}, {"lines": ()}, {"gross": 1}, {"net": 5, "gross": 229, "lines": bill().lines}],
)
def test_an_invoice_that_does_not_add_up_is_refused(change):
    with pytest.raises(Refusal):
        invoice.pdf(replace(bill(), **change))


def test_prices_kept_with_tax_may_make_the_gross():
    made = bill()
    withtax = (*made.lines[:-1], replace(made.lines[-1], unit_price=1370, amount=3424))
    assert "Total: £74.34" in invoice.text(replace(made, lines=withtax))


def test_other_currencies():
    yen = Currency("JPY", exponent=0)
    assert "Net: 7210 JPY" in invoice.text(replace(bill(), currency=yen))
    assert Currency("KWD", exponent=3, point=",").bare(12345678) == "12\u00a0345,678"
    assert Currency("EUR").bare(5) == "0.05"


def test_the_receipt_leaves_what_is_left():
    # Deposit 100 and payment 250 of 613.92 leave 263.92.
    text = squeezed(pages(receipt.pdf(RECEIPT))[0])
    assert "Received: £250.00" in text
    assert "Paid before, Thu 20 Nov 2025, cash -£100.00" in text
    assert "Balance £263.92" in text
    with pytest.raises(Refusal, match="number"):
        receipt.pdf(replace(RECEIPT, number=""))
