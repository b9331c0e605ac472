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
from pathlib import Path

import pytest

from core.records import engine
from core.records.engine import query
from tests.core.records.checks import all_hold
from tests.records_hard.conftest import Counted
from tests.terminal import ROOT

FILES, KILLS = 10, 20
LONGEST_S = 0.05
"""From the start of a writer, or from when it has opened the records, to its end."""
FROM = ("number", "open", "open", "open")
"""From what it says the time is counted: a quarter of the kills fall into the opening."""


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

    def kill(self, file: Path, start: str, after_s: float) -> list[str]:
        """Kill a writer some time after it says a word; return the edits it said to be saved."""
        stdin, stdout = self.process.stdin, self.process.stdout
        assert stdin is not None
        assert stdout is not None
        stdin.write(f"{file}\n")
        stdin.flush()
        said, process = [], 0
        for line in stdout:
            word, _, rest = line.strip().partition(" ")
            if word == "number":
                process = int(rest)
            if word == start:
                time.sleep(after_s)
                os.kill(process, signal.SIGKILL)
            if word == "saved":
                said.append(rest)
            if word == "gone":
                assert int(rest) == -signal.SIGKILL
                return said
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
        all_hold()
        return {found for (found,) in query('SELECT "id" FROM "edit"')}


def test_what_was_said_to_be_saved_is_there_after_200_kills(
    tmp_path: Path, writing: Writing, dice: random.Random, counted: Counted
) -> None:
    saved = unsaid = idle = 0
    for number in range(FILES):
        file, said = tmp_path / f"{number}.db", set[str]()
        for _ in range(KILLS):
            new = writing.kill(file, dice.choice(FROM), dice.uniform(0, LONGEST_S))
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
