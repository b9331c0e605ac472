"""The papers of a day in a folder: as issued, whole, with what is missing named."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pypdf
import pytest

from core.errors import Refusal
from core.practice import day_set, documents, visits
from core.practice.keep import Act
from core.records import read
from core.records.tables import Document
from tests.conftest import MOMENT
from tests.practice.planted import bill, taxes
from tests.small import Small

DAY = MOMENT.date()


@pytest.fixture
def issued(practice: Small, act: Act, tmp_path: Path) -> Small:
    """Give a practice whose visit has an issued invoice, and a second visit with nothing."""
    taxes(act)
    bill(act, practice.visit, ("examination", 15_000, "service"))
    documents.issue_invoice(Act(practice.vet, MOMENT), practice.visit, tmp_path / "papers")
    visits.book(act, practice.system, DAY, "14:00", practice.vet, "second")
    return practice


def test_the_issued_papers_are_written_as_issued(issued: Small, tmp_path: Path) -> None:
    out = tmp_path / "new" / "folder"
    before = len(read.find(Document))
    made = day_set.write_set(DAY, tmp_path / "papers", out, MOMENT)
    assert sorted(f.name for f in out.iterdir()) == sorted(f.name for f in made.files)
    [invoice] = [f for f in made.files if f.name.startswith("invoice-")]
    [row] = read.find(Document, kind="invoice")
    assert hashlib.sha256(invoice.read_bytes()).hexdigest() == row.sha256
    [summary] = [f for f in made.files if f.name == f"day-summary-{DAY}.pdf"]
    assert "Clara Test" in "".join(p.extract_text() for p in pypdf.PdfReader(summary).pages)
    assert len(read.find(Document)) == before, "nothing is issued silently"


def test_the_list_says_for_each_visit_what_is_not_issued(issued: Small, tmp_path: Path) -> None:
    made = day_set.write_set(DAY, tmp_path / "papers", tmp_path / "out", MOMENT)
    [first, second] = day_set.sets(DAY)
    assert first.lacks == ("care sheet", "visit record (not signed)")
    assert second.lacks == (
        "invoice (nothing is charged)", "care sheet", "visit record (not signed)",
    )  # fmt: skip
    assert "10:30 Clara Test, koi pond: " in made.text
    assert "NOT ISSUED YET: care sheet, visit record (not signed)" in made.text
    assert (tmp_path / "out" / f"list-{DAY}.txt").read_text("utf-8") == made.text


def test_a_visit_nobody_drives_to_lacks_nothing(issued: Small, act: Act, tmp_path: Path) -> None:
    visits.cancel(act, day_set.sets(DAY)[1].line.visit, "they rang")
    assert day_set.sets(DAY)[1].lacks == ()


def test_a_paper_that_is_gone_or_changed_is_said(issued: Small, tmp_path: Path) -> None:
    [paper] = (tmp_path / "papers").glob("invoice-*.pdf")
    paper.write_bytes(b"not what was issued")
    made = day_set.write_set(DAY, tmp_path / "papers", tmp_path / "out", MOMENT)
    assert "is NOT as it was issued" in made.text
    paper.unlink()
    made = day_set.write_set(DAY, tmp_path / "papers", tmp_path / "again", MOMENT)
    assert "is not in" in made.text
    assert not [f for f in made.files if f.name.startswith("invoice")]


def test_a_folder_that_can_not_be_written_is_one_sentence(issued: Small, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(Refusal, match=r"can not be written to .*file/out: ") as refused:
        day_set.write_set(DAY, tmp_path / "papers", tmp_path / "file" / "out", MOMENT)
    assert refused.value.sentence.count(".") <= 2
