from __future__ import annotations

import io
import re
from dataclasses import replace
from itertools import pairwise

import pypdf
import pytest

from core.catalogue.load import table
from core.dosing.labels import ELEMENTS, NOT_READ
from core.errors import BadInput, Refusal
from core.papers import label, sample_labels
from core.practice.label_paper import sizes
from tests.papers.paper_samples import (
    LABEL,
    PRACTICE,
    SAMPLES,
    boxes,
    fonts,
    pages,
    squeezed,
)
from tests.papers.paper_samples import sizes as sizes_of

MM = 72 / 25.4
REQUIRED = {
    "prescriber": ("name of the veterinarian", "21 CFR 530.12"),
    "ingredients": ("established name of each active substance", "21 CFR 530.12"),
    "animals": ("which animal or group it is for", "21 CFR 530.12"),
    "dosage": ("dose", "21 CFR 530.12"),
    "frequency": ("how often", "21 CFR 530.12"),
    "route": ("by which route", "21 CFR 530.12"),
    "duration": ("for how long", "21 CFR 530.12"),
    "cautions": ("cautions", "21 CFR 530.12"),
    "withdrawal": ("withdrawal time", "21 CFR 530.12"),
    "client": ("name of the client", "Texas"),
    "species": ("species", "Texas"),
    "strength": ("strength", "Texas"),
    "quantity": ("quantity", "Texas"),
    "approved_by": ("check of the veterinarian before it is handed over", "Washington"),
    "lot": ("batch", "common practice"),
    "number": ("number of the label", "common practice"),
}
"""Every element that is a text, with the rule that asks for it as it was read."""
DATED = {"dispensed": ("date dispensed", "Texas"), "expires": ("expiry date", "Maryland")}
OF_PRACTICE = {
    "name": ("name of the practice", "common practice"),
    "address": ("address of the veterinarian", "21 CFR 530.12"),
    "phone": ("telephone of the veterinarian", "Texas"),
}
OF_PHARMACY = {
    "pharmacy": ("name of the dispensing pharmacy", "21 CFR 530.12"),
    "pharmacy_address": ("address of the dispensing pharmacy", "21 CFR 530.12"),
}
OPTIONAL = {"product"}
OTHER = {"practice", "issued"}
FULL = replace(LABEL, pharmacy="Bridge Pharmacy", pharmacy_address="2 Weir Lane")


def without(field: str) -> label.Label:
    if field in OF_PRACTICE:
        empty = () if field == "address" else ""
        return replace(FULL, practice=replace(PRACTICE, **{field: empty}))
    return replace(FULL, **{field: None if field in DATED else " "})


@pytest.mark.parametrize(
    ("field", "named"), [*(REQUIRED | DATED | OF_PRACTICE | OF_PHARMACY).items()]
)
def test_each_element_removed_blocks_printing_and_is_named_with_its_rule(field, named):
    cut = without(field)
    (found,) = label.missing(cut)
    assert found.startswith(f"{named[0]} (")
    assert named[1] in found
    for make in (label.pdf, label.text, lambda one: label.sheet_pdf([one])):
        with pytest.raises(Refusal, match=named[0]):
            make(cut)


def test_the_list_is_whole():
    listed = REQUIRED | DATED | OF_PRACTICE | OF_PHARMACY
    assert set(REQUIRED | DATED | OF_PHARMACY) | OPTIONAL | OTHER == set(vars(LABEL))
    asked = {element.words for element in ELEMENTS} | {"name of the practice"}
    assert {words for words, _ in listed.values()} == asked
    assert label.missing(FULL) == label.missing(LABEL) == ()
    assert {element.source for element in ELEMENTS} <= set(table("sources"))
    assert len(NOT_READ) == 3


def test_every_element_is_read_back():
    text = squeezed(pages(label.pdf(LABEL))[0])
    for field in REQUIRED:
        assert getattr(LABEL, field) in text
    for part in (PRACTICE.name, *PRACTICE.address, PRACTICE.phone, "25 Nov 2025", "25 May 2026"):
        assert part in text
    assert label.ALWAYS in text
    assert squeezed(label.text(LABEL)) == text.replace(" · ", " ")


@pytest.mark.parametrize("extra", [0, 100, 250, 400])
def test_type_shrinks_to_six_points_at_the_least_and_nothing_leaves_the_label(extra):
    data = label.pdf(replace(LABEL, cautions="Wear gloves. " * (extra // 13 + 1)))
    assert min(sizes_of(data)) >= 6
    ((wide, high, rectangles),) = boxes(data)
    assert (wide, high) == pytest.approx((90 * MM, 50 * MM), abs=0.01)
    for left, bottom, right, top in rectangles:
        assert 2 * MM < left < right < wide - 2 * MM
        assert 2 * MM < bottom < top < high - 2 * MM
    assert all("+FiraSans-" in font for font in fonts(data))


def test_a_short_label_is_larger_than_a_long_one():
    assert min(sizes_of(label.pdf(LABEL))) > min(
        sizes_of(label.pdf(replace(LABEL, cautions="x " * 250)))
    )


@pytest.mark.parametrize(
    ("field", "value", "named"),
    [
        ("cautions", "Wear gloves. " * 600, "Cautions"),
        ("dosage", "one sachet " * 600, "Dosage"),
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
    assert min(sizes_of(sample_labels.pdf(SAMPLES, "Letter"))) >= 6
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


SIZES = sizes()
LONG = replace(
    LABEL,
    client="Aquaculture Research Station of the Upper Valley, Department of Warmwater Fishes",
    animals="fry of the third spawning " * 6 + "in the raceways behind the weir",
    dosage="Stir one sachet into a bucket of its own water, pour it slowly over the inlet. " * 9,
)


def inside(data, grid):
    """Hold that every letter stands inside its label, at six points or more, in its own line."""
    assert min(sizes_of(data)) >= 6
    for wide, high, rectangles in boxes(data):
        assert (wide, high) == pytest.approx((grid.wide * MM, grid.high * MM), abs=0.01)
        for left, bottom, right, top in rectangles:
            assert 2 * MM < left < right < wide - 2 * MM
            assert 2 * MM < bottom < top < high - 2 * MM
    for lines in baselines(data):
        near = [a - b for a, b in pairwise(lines)]
        assert all(gap >= 6 for gap in near), "no line stands on another"


def baselines(data):
    """Return for each page the heights of its lines, from the top."""
    found = []
    for page in pypdf.PdfReader(io.BytesIO(data)).pages:
        at = set()

        def seen(text, _, matrix, *__, at=at):
            if text.strip():
                at.add(round(matrix[5], 2))

        page.extract_text(visitor_text=seen)
        found.append(sorted(at, reverse=True))
    return found


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("which", [LABEL, LONG], ids=["usual", "long"])
def test_every_size_holds_the_label_on_one_or_several(size, which):
    grid = SIZES[size]
    data = label.pdf(which, grid)
    inside(data, grid)
    texts = [squeezed(text) for text in pages(data)]
    for number, text in enumerate(texts, start=1):
        if len(texts) > 1:
            assert f"Label {number} of {len(texts)}: " in text
            assert which.number in text or number == 1
    whole = squeezed(" ".join(texts))
    for part in (which.client, which.ingredients, which.frequency, which.withdrawal, which.lot):
        assert part in whole
    assert len(re.findall(r"\bbucket\b", whole)) == which.dosage.count("bucket")


def test_a_long_label_goes_on_to_a_second_and_is_named():
    assert len(pages(label.pdf(LONG, SIZES["90 x 50 mm"]))) == 2
    assert len(pages(label.pdf(LABEL, SIZES["90 x 50 mm"]))) == 1
    assert "Label 1 of 2" not in label.text(LONG)


@pytest.mark.parametrize("size", SIZES)
def test_the_labels_of_a_sheet_stand_on_it_side_by_side(size):
    grid = SIZES[size]
    each = len(pages(label.pdf(LABEL, grid)))
    count = grid.columns * grid.rows // each
    found = boxes(label.sheet_pdf([LABEL] * count, grid=grid))
    assert len(found) == 1
    wide, high, rectangles = found[0]
    if grid.paper:
        assert (wide, high) == pytest.approx(
            {"A4": (595.3, 841.9), "Letter": (612, 792)}[grid.paper], abs=0.1
        )
    assert grid.columns * grid.wide + (grid.columns - 1) * (grid.gap or 0) <= wide / MM + 0.01
    assert all(b[0] > 0 and b[1] > 0 and b[2] < wide and b[3] < high for b in rectangles)
