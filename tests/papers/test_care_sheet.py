from __future__ import annotations

from dataclasses import replace

import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from core.errors import Refusal
from core.papers import care_sheet
from core.papers.parts import Party, day
from tests.papers.paper_samples import CARE, pages, squeezed


def test_every_plan_date_stands_once_and_in_order():
    text = squeezed(pages(care_sheet.pdf(CARE))[0])
    dates = sorted({day(step.on): step.on for step in CARE.steps}.items(), key=lambda each: each[1])
    assert [text.count(shown) for shown, _ in dates] == [1] * len(dates)
    places = [text.index(shown) for shown, _ in dates]
    assert places == sorted(places)


def test_a_box_is_drawn_for_each_thing_the_owner_does():
    page = pypdfium2.PdfDocument(care_sheet.pdf(CARE))[0]
    squares = 0
    for item in page.get_objects([pdfium.FPDF_PAGEOBJ_PATH]):
        left, bottom, right, top = item.get_bounds()
        squares += abs((right - left) - (top - bottom)) < 0.1 and 6 < right - left < 12
    mine = sum(not step.by_practice for step in CARE.steps) + len(CARE.today)
    assert squares == mine == care_sheet.text(CARE).count("[ ]")


def test_all_parts_are_there():
    text = squeezed(pages(care_sheet.pdf(CARE))[0])
    listed = (*CARE.stop_rules, *CARE.emergency_signs, *CARE.avoid, *CARE.watch, *CARE.cautions)
    for part in (CARE.found, CARE.system, CARE.phone, CARE.after_hours, *listed, *CARE.today):
        assert part in text
    assert "Care sheet CS-0007, version 2" in text
    assert "The ten sedated trout: not to be eaten by anyone before Tue 16 Dec 2025." in text


@pytest.mark.parametrize(
    ("change", "named"),
    [
        ({"stop_rules": ()}, "a stop rule"),
        ({"stop_rules": (" ",)}, "a stop rule"),
        ({"emergency_signs": ()}, "an emergency sign"),
        ({"phone": ""}, "a phone number"),
        ({"found": ""}, "what was found"),
        ({"system": ""}, "the system"),
        ({"number": ""}, "its number"),
        ({"client": Party("")}, "the client"),
    ],
)
def test_a_sheet_that_lacks_something_is_refused_and_names_it(change, named):
    care = replace(CARE, **change)
    assert care_sheet.missing(care) == (named,)
    for make in (care_sheet.pdf, care_sheet.text):
        with pytest.raises(Refusal, match=named):
            make(care)


def test_a_superseded_sheet_says_so_on_every_page():
    old = replace(CARE, superseded_by="CS-0008", watch=("look " * 1200,))
    found = pages(care_sheet.pdf(old))
    assert len(found) > 1
    assert all("OUT OF DATE: replaced by care sheet CS-0008" in text for text in found)
    assert "OUT OF DATE" in care_sheet.text(old)
    assert "OUT OF DATE" not in care_sheet.text(CARE)
