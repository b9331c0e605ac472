from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from core.errors import Refusal
from core.papers import care_sheet
from core.papers.blocks import Table
from core.papers.care_sheet import Step
from core.papers.parts import Party, day
from tests.papers.paper_samples import CARE, pages, squeezed

LATER = Step(CARE.visited + timedelta(days=8), "Feed 2 g.")


def test_every_plan_date_stands_once_and_in_order():
    text = squeezed(pages(care_sheet.pdf(CARE))[0])
    every = {CARE.visited, *(step.on for step in CARE.steps)}
    dates = [day(on) for on in sorted(every)]
    assert [text.count(shown) for shown in dates] == [1] * len(dates)
    places = [text.index(shown) for shown in dates]
    assert places == sorted(places)


def test_a_box_is_drawn_for_each_thing_the_owner_does():
    page = pypdfium2.PdfDocument(care_sheet.pdf(CARE))[0]
    squares = 0
    for item in page.get_objects([pdfium.FPDF_PAGEOBJ_PATH]):
        left, bottom, right, top = item.get_bounds()
        squares += abs((right - left) - (top - bottom)) < 0.1 and 6 < right - left < 12
    mine = sum(not step.by_practice for step in CARE.steps) + len(CARE.today)
    assert squares == mine == care_sheet.text(CARE).count("[ ]")


def test_today_comes_before_this_week_and_that_before_later():
    text = care_sheet.text(replace(CARE, steps=(*CARE.steps, LATER)))
    order = [
        "What to do for your fish",
        "Do today, Tue 25 Nov 2025",
        "Feed nothing.",
        "Ring +44 1632 960 111",
        "This week",
        "We come to look again.",
        "Later",
        "Feed 2 g.",
        "Your own readings",
    ]
    places = [text.index(part) for part in order]
    assert places == sorted(places)


def test_a_sheet_issued_another_day_does_not_call_the_visit_today():
    late = replace(CARE, issued=CARE.issued + timedelta(days=1))
    assert "Do on the day of our visit, Tue 25 Nov 2025" in care_sheet.text(late)
    assert "Do today" not in care_sheet.text(late)


def test_the_number_to_ring_is_in_large_type():
    found = pypdfium2.PdfDocument(care_sheet.pdf(CARE))[0].get_textpage()
    at = found.get_text_range().index("Ring +44")
    assert pdfium.FPDFText_GetFontSize(found.raw, at) >= 18


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_all_of_today_stands_on_the_first_page_of_a_long_sheet(paper):
    many = tuple(Step(CARE.visited + timedelta(days=n), f"Dose {n} of it.") for n in range(1, 60))
    first, *rest = pages(care_sheet.pdf(replace(CARE, steps=many), paper))
    assert rest
    for part in (*(s.do for s in CARE.today), *CARE.avoid, *CARE.stop_rules, "Ring +44"):
        assert part in squeezed(first)


def test_the_owner_has_empty_lines_to_write_in():
    blocks = care_sheet.sheet(CARE).blocks
    [table] = [block for block in blocks if isinstance(block, Table)]
    assert table.rows[0] == ("at our visit", "26.0", "5.9", "3.0")
    assert table.rows[1:] == (("",) * 4,) * care_sheet.LINES_TO_WRITE


def test_all_parts_are_there():
    text = squeezed(" ".join(pages(care_sheet.pdf(CARE))))
    listed = (*CARE.stop_rules, *CARE.emergency_signs, *CARE.avoid, *CARE.watch, *CARE.cautions)
    more = (*CARE.found, *CARE.forgotten, *CARE.dead, *(step.do for step in CARE.today))
    for part in (CARE.system, CARE.phone, CARE.after_hours, CARE.closing, *listed, *more):
        assert part in text
    assert "What to do for your fish" in text
    assert "Care sheet CS-0007, version 2" in text
    assert "The ten sedated trout: not to be eaten by anyone before Tue 16 Dec 2025." in text


@pytest.mark.parametrize(
    ("change", "named"),
    [
        ({"stop_rules": ()}, "a stop rule"),
        ({"stop_rules": (" ",)}, "a stop rule"),
        ({"emergency_signs": ()}, "an emergency sign"),
        ({"phone": ""}, "a phone number"),
        ({"found": ()}, "what was found"),
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
