from __future__ import annotations

from dataclasses import replace

import pytest

from core.errors import Refusal
from core.papers import day_summary, visit_record
from tests.papers.paper_samples import RECORD, SUMMARY, pages, squeezed

ORDER = (
    "Complaint",
    "History",
    "Watching",
    "Water",
    "Figures and their working",
    "In hand",
    "Samples",
    "Microscopy",
    "Results awaited",
    "Feeding check",
    "The ramp is held",
    "Feeding ramp",
    "Problems",
    "Treatment given here",
    "Treatment dispensed",
    "Treatment prescribed",
    "Treatment advised",
    "Rechecks",
    "Passed over",
    "Charges",
    "Signature",
    "Addendum",
)


def test_sections_stand_in_the_order_of_the_visit():
    lines = visit_record.text(RECORD).splitlines()
    places = [lines.index(name if name != "The ramp is held" else f"! {name}") for name in ORDER]
    assert places == sorted(places)


def test_figures_carry_formula_equation_working_and_source():
    text = squeezed(" ".join(pages(visit_record.pdf(RECORD))))
    figure = RECORD.figures[0]
    for part in (figure.value, figure.formula, figure.equation, figure.working, figure.source):
        assert part in text


def test_the_four_kinds_of_treatment_are_kept_apart():
    lines = visit_record.text(RECORD).splitlines()
    for treatment in RECORD.treatments:
        at = lines.index(f"Treatment {treatment.kind}")
        assert f"What: {treatment.what}" in lines[at + 1]


def test_weights_say_how_they_are_known_and_samples_why_not():
    text = visit_record.text(RECORD)
    assert "238 g weighed" in text
    assert "140 g estimated from length" in text
    assert "Got: not got; Why, or where it went: feed-and-wait" in text
    assert "Tap: 0.02 mg/L; Verdict: act; Limit: over 0.1 mg/L" in text


def test_signature_and_addendum_with_time_and_hash():
    text = squeezed(" ".join(pages(visit_record.pdf(RECORD))))
    assert "Signed by Marlo Tregg When Tue 25 Nov 2025 16:40 (UTC+01:00)" in text
    assert "9f2c" * 16 in text
    assert text.index("9f2c") < text.index("Culture grew nothing.") < text.index("ab12" * 16)
    assert "By Ines H. When Mon 1 Dec 2025 09:05 (UTC+00:00)" in text


def test_an_unsigned_record_says_so_on_every_page():
    found = pages(visit_record.pdf(replace(RECORD, signature=None, addenda=())))
    assert len(found) > 1
    assert all(visit_record.UNSIGNED in text for text in found)


def test_a_bare_visit_prints_too():
    bare = replace(
        RECORD,
        **{name: () for name, value in vars(RECORD).items() if isinstance(value, tuple)},
        feeding=None,
        signature=None,
        complaint="",
    )
    assert "Jory Brackwell" in pages(visit_record.pdf(bare))[0]


@pytest.mark.parametrize("change", [{"signature": None}, {"currency": None}])
def test_addenda_need_a_signature_and_charges_a_currency(change):
    with pytest.raises(Refusal):
        visit_record.pdf(replace(RECORD, **change))


def test_the_day_adds_up():
    text = squeezed(pages(day_summary.pdf(SUMMARY, "Letter"))[0])
    # 309.24 + 309.00 + 444.42 + 502.00; owed 244.42 + 502.00; taken 618.24 + 200.00
    assert "Charged £1564.66 Paid £818.24 Owed £746.42" in text
    assert "Jory Brackwell: £244.42" in text
    assert "Gill swab PCR, Casimir Dunnock, due Sun 30 Nov 2025" in text
    assert "Taken £818.24" in text
    quiet = day_summary.text(replace(SUMMARY, visits=(), unsigned=(), waiting=(), takings=()))
    for line in ("Every visit is signed.", "Nothing is waited for.", "Nothing was taken."):
        assert line in quiet
