from __future__ import annotations

import io
from dataclasses import replace

import pypdf
import pytest

from core.errors import BadInput, Refusal
from core.papers import label, sample_labels
from tests.papers.paper_samples import (
    LABEL,
    PRACTICE,
    SAMPLES,
    boxes,
    fonts,
    pages,
    sizes,
    squeezed,
)

MM = 72 / 25.4
REQUIRED = {
    "number": "label number",
    "prescriber": "prescriber",
    "client": "client",
    "animals": "animals",
    "ingredients": "active ingredients",
    "strength": "strength",
    "quantity": "quantity",
    "dosage": "dosage",
    "frequency": "frequency",
    "route": "route",
    "duration": "duration",
    "cautions": "cautions",
    "withdrawal": "withdrawal time",
    "approved_by": "veterinarian's check",
}
OPTIONAL = {"product", "lot"}
OTHER = {"practice", "issued", "dispensed", "expires"}


def without(field: str) -> label.Label:
    parts = {"name": "", "address": (), "phone": ""}
    if field in parts:
        return replace(LABEL, practice=replace(PRACTICE, **{field: parts[field]}))
    return replace(LABEL, **{field: None if field in ("dispensed", "expires") else ""})


@pytest.mark.parametrize(
    ("field", "named"),
    [
        *REQUIRED.items(),
        ("name", "practice name"),
        ("address", "practice address"),
        ("phone", "practice phone"),
        ("dispensed", "date dispensed"),
        ("expires", "expiry date"),
    ],
)
def test_each_element_removed_blocks_printing_and_is_named(field, named):
    cut = without(field)
    assert label.missing(cut) == (named,)
    for make in (label.pdf, label.text, lambda one: label.sheet_pdf([one])):
        with pytest.raises(Refusal, match=named):
            make(cut)


def test_every_field_of_the_label_is_required_or_said_to_be_optional():
    assert set(REQUIRED) | OPTIONAL | OTHER == set(vars(LABEL))
    assert label.missing(LABEL) == ()


def test_every_element_is_read_back():
    text = squeezed(pages(label.pdf(LABEL))[0])
    for field in (*REQUIRED, *OPTIONAL):
        assert getattr(LABEL, field) in text
    for part in (PRACTICE.name, *PRACTICE.address, PRACTICE.phone, "25 Nov 2025", "25 May 2026"):
        assert part in text
    assert label.ALWAYS in text
    assert squeezed(label.text(LABEL)) == text.replace(" · ", " ")


@pytest.mark.parametrize("extra", [0, 100, 250, 400])
def test_type_shrinks_to_six_points_at_the_least_and_nothing_leaves_the_label(extra):
    data = label.pdf(replace(LABEL, cautions="Wear gloves. " * (extra // 13 + 1)))
    assert min(sizes(data)) >= 6
    ((wide, high, rectangles),) = boxes(data)
    assert (wide, high) == pytest.approx((90 * MM, 50 * MM), abs=0.01)
    for left, bottom, right, top in rectangles:
        assert 2 * MM < left < right < wide - 2 * MM
        assert 2 * MM < bottom < top < high - 2 * MM
    assert all("+FiraSans-" in font for font in fonts(data))


def test_a_short_label_is_larger_than_a_long_one():
    assert min(sizes(label.pdf(LABEL))) > min(sizes(label.pdf(replace(LABEL, cautions="x " * 250))))


@pytest.mark.parametrize(
    ("field", "value", "named"),
    [
        ("cautions", "Wear gloves. " * 200, "Cautions"),
        ("dosage", "one sachet " * 200, "Dosage"),
        ("animals", "a" * 200, "Animals"),
    ],
    ids=["tall", "strong", "one word"],
)
def test_what_does_not_fit_at_six_points_is_refused_and_named(field, value, named):
    with pytest.raises(Refusal, match=named):
        label.pdf(replace(LABEL, **{field: value}))


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_sheet_takes_ten_and_may_begin_anywhere(paper):
    found = boxes(label.sheet_pdf([LABEL] * 10, paper, first=4))
    assert [len(rectangles) > 0 for *_, rectangles in found] == [True, True]
    texts = pages(label.sheet_pdf([LABEL] * 10, paper, first=4))
    assert [text.count("LV2207") for text in texts] == [7, 3]
    assert len(pages(label.sheet_pdf([LABEL] * 10, paper))) == 1
    for wide, high, rectangles in found:
        assert all(
            box[0] > 0 and box[1] > 0 and box[2] < wide and box[3] < high for box in rectangles
        )
    with pytest.raises(BadInput, match="1 to 10"):
        label.sheet_pdf([LABEL], paper, first=11)
    with pytest.raises(Refusal):
        label.sheet_pdf([])


def test_sample_labels_are_numbered_and_in_order():
    texts = pages(sample_labels.pdf(SAMPLES))
    assert len(texts) == 2
    text = squeezed(" ".join(texts))
    places = [text.index(f"{one.number} ·") for one in SAMPLES.labels]
    assert places == sorted(places)
    assert len(pages(sample_labels.roll_pdf(SAMPLES))) == len(SAMPLES.labels)
    assert min(sizes(sample_labels.pdf(SAMPLES, "Letter"))) >= 6
    assert sample_labels.text(SAMPLES).count("Jory Brackwell") == 23


@pytest.mark.parametrize("numbers", [("", "2"), ("1", "1"), ()])
def test_sample_labels_without_a_number_of_their_own_are_refused(numbers):
    labels = tuple(replace(SAMPLES.labels[0], number=number) for number in numbers)
    with pytest.raises(Refusal):
        sample_labels.pdf(replace(SAMPLES, labels=labels))


def test_label_files_carry_title_and_practice():
    shown = pypdf.PdfReader(io.BytesIO(label.pdf(LABEL))).metadata
    assert shown is not None
    assert (shown.title, shown.author) == ("Label D-0031", PRACTICE.name)
