"""The logs as papers that are kept: issued, the same while nothing changes, then superseded."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path

import pytest

from core.errors import Refusal
from core.practice import day_paper, log_documents, shelf, stock_log
from core.practice.issued import Issued
from core.practice.keep import Act
from core.practice.log_documents import KINDS, drawn, keep
from core.practice.paperwork import deliver, end_of_day
from core.practice.shelf import NewProduct, Received
from core.records import read
from core.records.tables import Document
from tests.conftest import MOMENT
from tests.papers.paper_samples import pages
from tests.read_rows import all_read
from tests.small import Small

DAY = MOMENT.date()
YEAR = (date(2026, 1, 1), DAY)
DRUG = NewProduct("butorphanol", "butorphanol 10 mg/mL", 10.0, "mg/mL", 50.0, "mL", controlled=True)


@pytest.fixture
def vet(practice: Small) -> Act:
    act = Act(practice.vet, MOMENT)
    all_read(act)
    return act


@pytest.fixture
def lot(vet: Act) -> str:
    product = shelf.add_product(vet, DRUG)
    return shelf.receive(vet, product, Received("B-1", Decimal("50.00"), DAY + timedelta(90)))


def issued(act: Act, folder: Path, kind: str = "drug log") -> Issued:
    return keep(act, drawn(act, kind, *YEAR), folder)


@pytest.mark.parametrize("kind", KINDS)
def test_each_log_is_kept_as_it_was_issued(vet: Act, lot: str, tmp_path: Path, kind: str) -> None:
    found = issued(vet, tmp_path, kind)
    row = found.document
    assert (row.kind, row.number, row.version) == (kind, "2026-01-01_2026-11-25", 1)
    assert (row.visit, row.client, row.supersedes, row.by) == (None, None, None, vet.by)
    text = " ".join(" ".join(pages(found.file.read_bytes())).split())
    assert KINDS[kind].title in text or "Antimicrobial" in text
    [line] = [p for p in end_of_day(DAY).papers if p.kind == kind]
    assert (line.id, line.file) == (row.id, found.file.name)
    with pytest.raises(Refusal, match="practice's own"):
        deliver(vet, row.id, "by hand", "inspector")


def test_the_same_lines_are_the_same_paper_and_others_supersede_it(
    vet: Act, lot: str, tmp_path: Path
) -> None:
    first = issued(vet, tmp_path)
    before = first.file.read_bytes()
    later = Act(vet.by, MOMENT + timedelta(hours=2))
    assert issued(later, tmp_path).document.id == first.document.id
    stock_log.waste(later, lot, Decimal("0.05"), "left in the needle", "Tim Test")
    second = issued(later, tmp_path)
    assert (second.document.version, second.document.supersedes) == (2, first.document.id)
    assert first.file.read_bytes() == before, "what was issued stays as it was"
    assert second.file != first.file
    papers = {p.id: p.superseded for p in end_of_day(DAY).papers if p.kind == "drug log"}
    assert papers == {first.document.id: True, second.document.id: False}
    other = keep(later, drawn(later, "drug log", DAY, DAY), tmp_path)
    assert (other.document.version, other.document.supersedes) == (1, None), "other days"


def test_as_text_it_says_when_the_records_have_gone_on(vet: Act, lot: str, tmp_path: Path) -> None:
    row = issued(vet, tmp_path).document
    assert day_paper.twin(row.id).startswith("Practice of the Tests")
    stock_log.count(vet, lot, Decimal(50))
    told = day_paper.twin(row.id)
    assert told.startswith("The records say something else by now")
    assert "found 50.00" in told


def test_days_that_can_not_be_are_refused(vet: Act, lot: str, tmp_path: Path) -> None:
    with pytest.raises(Refusal, match="before the first"):
        drawn(vet, "drug log", DAY, DAY - timedelta(1))
    with pytest.raises(Refusal, match="not come yet"):
        drawn(vet, "drug log", DAY, DAY + timedelta(1))
    assert read.find(Document) == ()
    assert log_documents.days_of(log_documents.number_of(*YEAR)) == YEAR
