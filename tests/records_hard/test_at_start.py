"""The app is started on a file that it must not write to: one sentence, and nothing is touched."""

from __future__ import annotations

import os
import resource
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.records_hard.spoilt import SPOILT
from tests.small import build
from tests.terminal import ROOT, start_app


def started(file: Path, *arguments: str, room: int | None = None) -> tuple[int, str, str]:
    """Start the app without a terminal; return its exit code and what it said."""

    def less_room() -> None:
        if room is not None:
            resource.setrlimit(resource.RLIMIT_FSIZE, (room, room))

    ran = subprocess.run(
        [sys.executable, "-m", "tui.cli", *arguments],
        cwd=ROOT,
        env={**os.environ, "FINROUNDS_DATABASE": f"sqlite:///{file}"},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        timeout=50,
        preexec_fn=less_room,
    )
    return ran.returncode, ran.stdout, ran.stderr


@pytest.fixture(scope="module")
def good(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give a closed file of records."""
    file = tmp_path_factory.mktemp("good") / "practice.db"
    build(file)
    return file


@pytest.mark.parametrize(
    ("spoil", "words"), SPOILT.items(), ids=lambda s: getattr(s, "__name__", "")
)
def test_what_is_spoilt_ends_the_start_with_a_sentence(
    good: Path, tmp_path: Path, spoil: Callable[[Path], None], words: str
) -> None:
    file = Path(shutil.copy(good, tmp_path / "practice.db"))
    spoil(file)
    before = file.read_bytes()
    code, out, said = started(file)
    assert (code, out) == (1, "")
    assert words in said
    assert len(said.splitlines()) == 1
    assert file.read_bytes() == before
    assert {path.name for path in tmp_path.iterdir()} <= {file.name, "papers"}


def test_a_disk_that_is_full_at_the_first_start_is_told(tmp_path: Path) -> None:
    code, out, said = started(tmp_path / "practice.db", room=8192)
    assert (code, out) == (1, "")
    assert len(said.splitlines()) == 1
    assert "can not be opened" in said


def test_a_second_copy_is_told_of_the_first_and_a_reading_command_is_not(tmp_path: Path) -> None:
    file = tmp_path / "practice.db"
    build(file)
    with start_app(file) as first:
        first.wait("test visit")
        code, out, said = started(file)
        assert (code, out) == (1, "")
        assert said.startswith(f"Open already. The records in {file} are open in another copy of ")
        assert f"(process {first.process.pid})" in said
        assert started(file, "paperwork")[0] == 0
    with start_app(file) as again:
        again.wait("test visit")
