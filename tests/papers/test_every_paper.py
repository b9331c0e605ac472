from __future__ import annotations

import hashlib
import io
import os
import subprocess
import sys
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pypdf
import pytest

import core
from core.errors import BadInput
from core.papers import care_sheet, invoice, label, sample_labels, visit_record
from core.papers.blocks import Sheet, pdf
from core.papers.parts import Party
from tests.papers.paper_samples import (
    CARE,
    LABEL,
    NAMES,
    NOW,
    PAPERS,
    PRACTICE,
    RECORD,
    SAMPLES,
    bill,
    body,
    boxes,
    figures,
    fonts,
    pages,
    squeezed,
)

ROOT = Path(str(core.__file__)).parents[1]
MM = 72 / 25.4
EACH = pytest.mark.parametrize("name", PAPERS)
BOTH = pytest.mark.parametrize("paper", ["A4", "Letter"])


@EACH
@BOTH
def test_twin_has_the_same_figures_in_the_same_order(name, paper):
    module, data = PAPERS[name]
    drawn, twin = body(module.pdf(data, paper)), module.text(data)
    assert len(figures(twin)) > 10
    assert figures(drawn) == figures(twin)


@EACH
def test_twin_has_every_text_of_the_paper(name):
    module, data = PAPERS[name]
    drawn, twin = squeezed(body(module.pdf(data))).replace(" ", ""), module.text(data)
    for line in twin.splitlines():
        for cell in line.removeprefix("! ").removeprefix("- ").removeprefix("[ ] ").split("; "):
            value = cell.split(": ", 1)[-1].strip()
            assert value.replace(" ", "") in drawn


@EACH
@BOTH
def test_nothing_stands_outside_the_margins(name, paper):
    module, data = PAPERS[name]
    for wide, high, rectangles in boxes(module.pdf(data, paper)):
        assert (wide < 600) == (paper == "A4")
        assert rectangles
        for left, bottom, right, top in rectangles:
            assert left >= 17.5 * MM
            assert right <= wide - 17.5 * MM
            assert bottom >= 7.5 * MM
            assert top <= high - 6 * MM


@EACH
@BOTH
def test_no_text_lies_upon_another(name, paper):
    module, data = PAPERS[name]
    for _, _, rectangles in boxes(module.pdf(data, paper)):
        for n, (left, bottom, right, top) in enumerate(rectangles):
            for other in rectangles[n + 1 :]:
                across = min(right, other[2]) - max(left, other[0])
                upright = min(top, other[3]) - max(bottom, other[1])
                assert across < 1 or upright < 2


@EACH
def test_pages_are_counted(name):
    module, data = PAPERS[name]
    found = pages(module.pdf(data))
    for number, text in enumerate(found, start=1):
        assert f"page {number} of {len(found)}" in text


@EACH
def test_fonts_are_embedded_subsets_and_none_is_helvetica(name):
    module, data = PAPERS[name]
    found = fonts(module.pdf(data))
    assert found
    assert all(found.values())
    assert all("+FiraSans-" in font for font in found)


@EACH
def test_properties_and_issue_time(name):
    module, data = PAPERS[name]
    reader = pypdf.PdfReader(io.BytesIO(module.pdf(data)))
    shown = reader.metadata
    assert shown is not None
    assert shown.title == module.sheet(data).title
    assert shown.author == PRACTICE.name
    assert shown.subject
    assert shown.creation_date == NOW.astimezone(shown.creation_date.tzinfo)
    assert reader.trailer["/Root"]["/Lang"] == "en-GB"


def every_byte() -> str:
    papers = [module.pdf(data) for module, data in PAPERS.values()]
    papers += [label.pdf(LABEL), label.sheet_pdf([LABEL], "Letter", 3)]
    papers += [sample_labels.pdf(SAMPLES), invoice.pdf(bill(2, Party("王小明 さくら 김철수 שלום")))]
    return hashlib.sha256(b"".join(papers)).hexdigest()


def test_same_data_same_bytes_here_and_in_another_process():
    here = every_byte()
    assert every_byte() == here
    code = f"from {__name__} import every_byte; print(every_byte())"
    more = {
        "PYTHONPATH": str(ROOT),
        "PYTHONHASHSEED": "7",
        "TZ": "Pacific/Apia",
        "SOURCE_DATE_EPOCH": "9",
    }
    done = subprocess.run(
        [sys.executable, "-c", code], env={**os.environ, **more}, capture_output=True, text=True
    )
    assert done.stdout.strip() == here, done.stderr


def test_another_issue_time_gives_other_bytes():
    assert invoice.pdf(bill()) != invoice.pdf(
        invoice.Invoice(**{**vars(bill()), "issued": NOW.replace(minute=41)})
    )


def test_a_time_without_zone_is_refused():
    naive = Sheet(PRACTICE, "Title", "Subject", datetime(2025, 1, 1), ())  # noqa: DTZ001
    with pytest.raises(BadInput, match="zone"):
        pdf(naive)


def test_dataclasses_load_without_reportlab():
    names = "blocks care_sheet day_summary files fonts invoice label label_box parts receipt"
    code = (
        "import sys, importlib\n"
        f"for n in '{names} sample_labels visit_data visit_record'.split():\n"
        "    importlib.import_module('core.papers.' + n)\n"
        "print({m.split('.')[0] for m in sys.modules} "
        "& {'reportlab', 'PIL', 'textual', 'pint', 'peewee', 'numpy'})"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True)
    assert done.stdout.strip() == "set()", done.stderr


@BOTH
def test_names_of_many_lands_and_markup_come_back_as_typed(paper):
    name = " / ".join(NAMES)
    client = Party(name, (name, "a" * 300))
    text = squeezed(" ".join(pages(invoice.pdf(bill(3, client), paper))))
    for part in NAMES[:4]:
        assert part in text
    assert "a" * 300 in text.replace(" ", "")
    assert "\ufffd" not in text


LONG = {
    "words": "word " * 6000,
    "one word": "ß" * 9000,
    "han": "王小明" * 3000,
    "lines": "line\n" * 900,
}


@pytest.mark.parametrize("word", LONG.values(), ids=LONG)
def test_very_long_texts_flow_over_pages_and_are_all_there(word):
    long = visit_record.VisitRecord(
        **{
            **vars(RECORD),
            "complaint": word,
            "history": (("Note", word),),
            "system": (("System", "pond"), ("Note", word[:2000])),
        }
    )
    found = pages(visit_record.pdf(long))
    assert len(found) > 4
    drawn = "".join(found)
    letter = word[0]
    assert drawn.count(letter) >= 2 * word.count(letter)


@BOTH
def test_care_sheet_fits_one_page_and_its_table_at_most_the_back_of_it(paper):
    assert len(pages(care_sheet.pdf(replace(CARE, readings=None), paper))) == 1
    assert len(pages(care_sheet.pdf(CARE, paper))) <= 2
