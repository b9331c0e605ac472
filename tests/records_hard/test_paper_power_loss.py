"""The power fails while papers are written: each is whole or absent, and no row is without one."""

from __future__ import annotations

import hashlib
import os
import random
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from types import SimpleNamespace

import pytest

from core import folders
from core.papers import files
from core.papers.files import write_whole
from core.practice import charges, documents
from core.practice.keep import Act
from core.records import engine
from core.records.read import find
from core.records.tables import Document
from core.records.writer import Writer
from tests.conftest import MOMENT
from tests.practice import planted
from tests.records_hard.conftest import Counted
from tests.records_hard.disk import Op, states
from tests.records_hard.recorder import recording
from tests.records_hard.test_power_loss import edits_after
from tests.records_hard.work import begun

PAPER = Path("practice", "papers", "record.pdf")
FIRST = b"%PDF first " + bytes(range(256)) * 20
SECOND = b"%PDF second " + bytes(reversed(range(256))) * 30


def written(root: Path, patch: pytest.MonkeyPatch) -> list[Op]:
    """Write a paper into folders that are not there yet, and then a new one of the same name."""
    root.mkdir()
    with recording(root, patch) as recorder:
        for data in (FIRST, SECOND):
            write_whole(root / PAPER, data)
            recorder.said("written")
    return recorder.log


def faults(log: list[Op], dice: random.Random) -> tuple[int, list[str]]:
    """Let the power fail all along a log, many times; return how often, and what was wrong."""
    count, wrong = 0, []
    for disk, how in (state for _ in range(20) for state in states(log, dice, share=1.0)):
        count += 1
        content = disk.after(dice, how).get(str(PAPER))
        newest = [FIRST, SECOND][len(disk.said) - 1 :] if disk.said else [None, FIRST, SECOND]
        if content not in (None, FIRST, SECOND):
            wrong.append("half")
        elif content not in newest:
            wrong.append("lost")
    return count, wrong


def test_a_paper_is_whole_or_absent(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, dice: random.Random, counted: Counted
) -> None:
    count, wrong = faults(written(tmp_path / "live", monkeypatch), dice)
    counted(f"power, a paper: {count} states, {len(wrong)} wrong")
    assert wrong == []


def quiet(_: object) -> None:
    """Sync nothing."""


def test_a_paper_without_its_own_sync_is_found_half(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, dice: random.Random
) -> None:
    without = SimpleNamespace(**{**vars(os), "fsync": quiet})
    monkeypatch.setattr(files, "os", without)
    log = written(tmp_path / "live", monkeypatch)
    assert "half" in faults(log, dice)[1]


def only_made(folder: Path) -> None:
    """Make a folder without waiting for its name to be on the disk."""
    folder.mkdir(parents=True, exist_ok=True)


@pytest.mark.parametrize(("step", "without"), [("flush", quiet), ("make", only_made)])
def test_a_paper_whose_folder_was_not_synced_is_found_lost(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    dice: random.Random,
    step: str,
    without: Callable[[Path], None],
) -> None:
    monkeypatch.setattr(folders, step, without)
    assert "lost" in faults(written(tmp_path / "live", monkeypatch), dice)[1]


def invoiced(root: Path, patch: pytest.MonkeyPatch) -> list[Op]:
    """Issue an invoice from records that are made in the same moment."""
    root.mkdir()
    with recording(root, patch, wal_autocheckpoint=30) as recorder:
        engine.open_records(root / "practice.db")
        writer = Writer()
        made = writer.submit(begun).result(timeout=30)
        act = Act(made.vet, MOMENT)
        writer.submit(planted.taxes, act).result(timeout=30)
        line = ("a thing", Decimal(1), 1000, "goods")
        writer.submit(charges.add_manual, act, made.visit, *line).result(timeout=30)
        issued = writer.submit(documents.issue_invoice, act, made.visit, root / "papers").result(
            timeout=30
        )
        recorder.said(issued.document.file)
        writer.close()
    return recorder.log


def test_a_row_of_a_paper_always_has_its_paper(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, dice: random.Random, counted: Counted
) -> None:
    log = invoiced(tmp_path / "live", monkeypatch)
    rows = count = 0
    for disk, how in states(log, dice):
        if "papers" not in disk.made:
            continue
        count += 1
        left = disk.after(dice, how)
        assert edits_after(left, tmp_path / "after") is not None
        with engine.connection():
            papers = find(Document)
        rows += len(papers)
        for paper in papers:
            found = left[f"papers/{paper.file}"]
            assert hashlib.sha256(found).hexdigest() == paper.sha256
        assert {p.file for p in papers} >= set(disk.said)
    counted(f"power, an invoice: {count} states, its row was there in {rows}, its paper in all")
    assert 0 < rows < count
