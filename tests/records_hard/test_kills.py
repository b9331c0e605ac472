"""A process killed at any moment of its writing: all that it said to be saved is there.

The kills of one file follow on each other, so that each start has to put right what the last
kill left. That the writes would outlive a power failure is asked in `test_power_loss`.
"""

from __future__ import annotations

import os
import random
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from core.records import engine
from core.records.engine import query
from tests.records_hard.conftest import Counted
from tests.records_hard.work import whole
from tests.terminal import ROOT

FILES, KILLS = 10, 20
WORDS = ("number", "open", "saved", "saved")
"""From what a writer says the time is counted: a quarter of the kills fall into the opening."""


@dataclass(frozen=True)
class Moment:
    """So long after a writer has said a word so often."""

    word: str
    times: int
    after_s: float


def moment(dice: random.Random) -> Moment:
    """Choose a moment; on a slow machine, too, most are among its writes."""
    word = dice.choice(WORDS)
    if word == "saved":
        return Moment(word, dice.randint(1, 12), dice.uniform(0, 0.01))
    return Moment(word, 1, dice.uniform(0, 0.04))


class Writing:
    """The process that forks writers."""

    def __init__(self) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-m", "tests.records_hard.writing"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
            cwd=ROOT,
        )

    def kill(self, file: Path, when: Moment) -> list[str]:
        """Let a writer work on a file and kill it; return the edits it said to be saved."""
        stdin, stdout = self.process.stdin, self.process.stdout
        assert stdin is not None
        assert stdout is not None
        stdin.write(f"{file}\n")
        stdin.flush()
        said, process, times = [], 0, when.times
        for line in stdout:
            word, _, rest = line.strip().partition(" ")
            if word == "gone":
                assert int(rest) == -signal.SIGKILL
                return said
            if word == "number":
                process = int(rest)
            if word == "saved":
                said.append(rest)
            times -= word == when.word
            if times == 0:
                times = -1
                time.sleep(when.after_s)
                os.kill(process, signal.SIGKILL)
        raise AssertionError("the writing process has ended")

    def close(self) -> None:
        self.process.communicate()


@pytest.fixture
def writing() -> Iterator[Writing]:
    found = Writing()
    yield found
    found.close()


def edits_in(file: Path, folder: Path) -> set[str]:
    """Open a copy of what a kill has left; return its edits when everything holds."""
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir()
    for left in file.parent.glob(f"{file.name}*"):
        if not left.name.endswith("-shm"):
            shutil.copy(left, folder / left.name)
    engine.open_records(folder / file.name)
    with engine.connection():
        whole()
        return {found for (found,) in query('SELECT "id" FROM "edit"')}


def test_what_was_said_to_be_saved_is_there_after_200_kills(
    tmp_path: Path, writing: Writing, dice: random.Random, counted: Counted
) -> None:
    saved = unsaid = idle = 0
    for number in range(FILES):
        file, said = tmp_path / f"{number}.db", set[str]()
        for _ in range(KILLS):
            new = writing.kill(file, moment(dice))
            said.update(new)
            idle += not new
            there = edits_in(file, tmp_path / "copy")
            assert said <= there
        saved += len(said)
        unsaid += len(there - said)
    kills = FILES * KILLS
    counted(
        f"kills: {kills} of {FILES} files, {saved} edits said to be saved, all there, "
        f"and {unsaid} more; {idle} writers were killed before they had saved any"
    )
    assert saved > kills > idle > 0
