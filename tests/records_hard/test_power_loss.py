"""The power fails at any moment: every edit that was said to be saved is there, nothing is half.

A killed process can not show this, for its writes outlive it in the system's page cache. So all
that the app asks of the disk is noted, and its files are made again as they may be after a
power failure at that moment; then the app opens them.
"""

from __future__ import annotations

import random
import shutil
from dataclasses import dataclass, field
from pathlib import Path

import peewee as pw
import pytest

from core.errors import Refusal
from core.records import engine
from core.records.engine import query
from core.records.writer import Writer
from tests.records_hard.conftest import Counted
from tests.records_hard.disk import HOWS, Op, Synced, states
from tests.records_hard.recorder import recording
from tests.records_hard.work import begun, step, whole

FULL, NORMAL, OFF = 2, 1, 0
OFTEN = 30
"""Pages after which the log is brought into the file: a few edits, so that it happens often."""
EDITS = 40


@dataclass
class Found:
    """What was found after all the power failures of one run."""

    states: int = 0
    """Different sets of files that a power failure may leave."""
    said: int = 0
    lost: int = 0
    """States in which an edit was missing that was said to be saved."""
    broken: int = 0
    """States in which the records could not be opened, or did not hold together."""
    _there: dict[int, set[str] | None] = field(default_factory=dict, repr=False)

    def check(self, files: dict[str, bytes], said: list[str], folder: Path) -> None:
        self.said = len(said)
        state = hash(tuple(sorted(files.items())))
        if state not in self._there:
            self.states += 1
            self._there[state] = edits_after(files, folder)
            self.broken += self._there[state] is None
        there = self._there[state]
        self.lost += there is not None and not there.issuperset(said)


def edits_after(files: dict[str, bytes], folder: Path) -> set[str] | None:
    """Open records as they were left; return the ids of their edits, None when they are broken."""
    shutil.rmtree(folder, ignore_errors=True)
    for path, content in files.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_bytes(content)
    try:
        engine.open_records(folder / "practice.db")
        with engine.connection():
            whole()
            return {found for (found,) in query('SELECT "id" FROM "edit"')}
    except (pw.DatabaseError, Refusal, AssertionError) as error:
        print(f"broken: {error}")
        return None


def recorded(root: Path, patch: pytest.MonkeyPatch, synchronous: int) -> list[Op]:
    """Work on records of the app's own from their first moment; return all that the disk saw."""
    how = {"synchronous": synchronous, "wal_autocheckpoint": OFTEN}
    with recording(root, patch, **how) as recorder:
        engine.open_records(root / "practice.db")
        writer = Writer()
        made = writer.submit(begun).result(timeout=30)
        for number in range(EDITS):
            recorder.said(writer.submit(step, made, number).result(timeout=30))
        writer.close()
    return recorder.log


def failed(log: list[Op], dice: random.Random, folder: Path, *hows: str) -> Found:
    """Let the power fail all along a log."""
    found = Found()
    for disk, how in states(log, dice, hows or HOWS):
        found.check(disk.after(dice, how), disk.said, folder)
    return found


def test_every_edit_said_to_be_saved_outlives_a_power_failure(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, dice: random.Random, counted: Counted
) -> None:
    log = recorded(tmp_path / "live", monkeypatch, FULL)
    found = failed(log, dice, tmp_path / "after")
    syncs = sum(isinstance(op, Synced) for op in log)
    counted(f"power, synchronous FULL: {len(log)} things asked, {syncs} syncs, {found}")
    assert found.said == EDITS
    assert found.states > 250
    assert (found.lost, found.broken) == (0, 0)


def test_without_a_sync_at_each_commit_losses_are_found(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, dice: random.Random, counted: Counted
) -> None:
    log = recorded(tmp_path / "live", monkeypatch, NORMAL)
    found = failed(log, dice, tmp_path / "after", "nothing")
    counted(f"power, synchronous NORMAL: {found}")
    assert found.lost > EDITS / 2
    assert found.broken == 0


def test_without_any_sync_broken_records_are_found(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, dice: random.Random, counted: Counted
) -> None:
    log = recorded(tmp_path / "live", monkeypatch, OFF)
    found = failed(log, dice, tmp_path / "after", "torn")
    counted(f"power, synchronous OFF: {found}")
    assert found.broken > 0
