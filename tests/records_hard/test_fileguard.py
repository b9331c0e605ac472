"""Before a file is opened for writing: what is refused, in which words, and nothing touched."""

from __future__ import annotations

import os
import random
import shutil
import signal
import sqlite3
import subprocess
import sys
import time
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from core.errors import Refusal
from core.records import engine, fileguard, passphrase
from core.records.migrate import VERSION
from tests.core.records.checks import all_hold
from tests.records_hard.spoilt import PAGE, SPOILT, noise
from tests.records_hard.work import begun, step
from tests.small import build
from tests.terminal import ROOT


@pytest.fixture(scope="module")
def good(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give a closed file of records that must not be changed."""
    file = tmp_path_factory.mktemp("good") / "practice.db"
    build(file)
    return file


@pytest.fixture
def file(good: Path, tmp_path: Path) -> Path:
    """Give a copy of it, alone in its folder."""
    return Path(shutil.copy(good, tmp_path / "records.db"))


def everything(folder: Path) -> dict[str, bytes]:
    """Return all files of a folder, by name."""
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()}


def look(file: Path) -> None:
    fileguard.look_before(file, VERSION, sealed=passphrase.sealed(file))


@pytest.mark.parametrize(
    ("spoil", "said"), SPOILT.items(), ids=lambda s: getattr(s, "__name__", "")
)
def test_what_is_spoilt_is_refused_and_left(
    file: Path, spoil: Callable[[Path], None], said: str
) -> None:
    spoil(file)
    before = everything(file.parent)
    with pytest.raises(Refusal) as refused:
        look(file)
    assert said in refused.value.sentence
    assert str(file) in refused.value.sentence
    assert refused.value.todo
    assert everything(file.parent) == before


def test_what_is_good_passes_and_is_left(file: Path) -> None:
    before = everything(file.parent)
    look(file)
    look(file.parent / "not there yet.db")
    assert everything(file.parent) == before


def test_an_encrypted_file_is_left_to_its_passphrase(tmp_path: Path) -> None:
    file = tmp_path / "records.db"
    file.write_bytes(random.Random(9).randbytes(PAGE * 30))
    look(file)
    with pytest.raises(fileguard.NotOurs, match="its beginning is damaged"):
        fileguard.look_before(file, VERSION)


def test_the_newest_backup_is_named(file: Path) -> None:
    noise(file)
    with pytest.raises(fileguard.Damaged, match="there is no backup beside it"):
        look(file)
    kept = file.parent / "backups"
    kept.mkdir()
    for day in ("2026-11-24", "2026-11-25", "2026-11-23"):
        shutil.copy(file, kept / f"{day}.db")
    with pytest.raises(fileguard.Damaged, match=r"newest backup is 2026-11-25\.db") as refused:
        look(file)
    assert f"finrounds restore {kept / '2026-11-25.db'}" in str(refused.value)


def test_a_log_is_read_with_its_file(tmp_path: Path) -> None:
    """Killed while the log is brought into the file: only both together are whole."""
    file, left = tmp_path / "records.db", tmp_path / "left"
    left.mkdir()
    engine.open_records(file)
    size = file.stat().st_size
    with engine.connection():
        made = begun()
        for number in range(24):
            step(made, number)
        log = Path(shutil.copy(tmp_path / "records.db-wal", left))
    assert size < file.stat().st_size
    killed = left / file.name
    killed.write_bytes(file.read_bytes()[:size])
    before = {killed.name: killed.read_bytes(), log.name: log.read_bytes()}
    look(killed)
    assert before.items() <= everything(left).items()
    log.unlink()
    with pytest.raises(fileguard.Damaged, match="its end is missing"):
        look(killed)


def test_an_empty_file_is_what_a_first_start_leaves(tmp_path: Path) -> None:
    file = tmp_path / "new.db"
    file.touch()
    look(file)
    engine.open_records(file)
    with engine.connection():
        all_hold()


def test_a_first_write_that_was_cut_off_is_taken_back(tmp_path: Path) -> None:
    file, left = tmp_path / "new.db", tmp_path / "left.db"
    with closing(sqlite3.connect(file, isolation_level=None)) as begun:
        begun.execute("PRAGMA cache_size = 1")
        begun.execute("PRAGMA cache_spill = 1")
        begun.execute("BEGIN")
        begun.execute("CREATE TABLE filler (words TEXT)")
        begun.executemany("INSERT INTO filler VALUES (?)", [("w" * 3000,)] * 50)
        left.write_bytes(bytes(512) + file.read_bytes()[512:PAGE])
        shutil.copy(tmp_path / "new.db-journal", tmp_path / "left.db-journal")
    look(left)
    engine.open_records(left)
    with engine.connection():
        all_hold()


def test_a_file_in_which_nothing_is_made_yet_passes(tmp_path: Path) -> None:
    file = tmp_path / "new.db"
    with closing(sqlite3.connect(file)) as begun:
        begun.execute("PRAGMA journal_mode = wal")
    assert file.stat().st_size
    look(file)


def test_a_large_file_is_not_read_whole(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    noise(file)
    monkeypatch.setattr(fileguard, "WHOLE", file.stat().st_size - 1)
    look(file)


AS_ANYBODY = """
import os, sys
from pathlib import Path
from core.errors import Refusal
from core.records import engine, fileguard, migrate, models, passphrase
os.chdir(sys.argv[1])
if os.geteuid() == 0:
    os.setuid(65534)
try:
    engine.open_records(Path("records.db"))
except Refusal as error:
    print(error)
"""
"""The rights of a file do not bind root, so it is looked at as somebody without any."""


@pytest.mark.parametrize(("rights", "what"), [("file", "the file"), ("folder", "its folder")])
def test_what_is_read_only_is_refused_and_left(file: Path, rights: str, what: str) -> None:
    file.chmod(0o444 if rights == "file" else 0o666)
    file.parent.chmod(0o555 if rights == "folder" else 0o777)
    before = everything(file.parent)
    command = [sys.executable, "-c", AS_ANYBODY, str(file.parent)]
    ran = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, timeout=50)
    file.parent.chmod(0o755)
    assert f"records.db can not be written: {what} is read-only. Make it writable" in ran.stdout
    assert (ran.stderr, everything(file.parent)) == ("", before)


HOLDING = """
import sys
from pathlib import Path
from core.records import fileguard
held = fileguard.hold(Path(sys.argv[1]))
print("held", flush=True)
sys.stdin.read()
"""


def test_a_file_is_held_by_one_copy_until_it_ends_however_it_ends(file: Path) -> None:
    command = [sys.executable, "-c", HOLDING, str(file)]
    with subprocess.Popen(
        command, cwd=ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as other:
        assert other.stdout is not None
        assert other.stdout.readline() == "held\n"
        with pytest.raises(fileguard.Held, match=rf"copy of Finrounds \(process {other.pid}\)"):
            fileguard.hold(file)
        other.send_signal(signal.SIGKILL)
        other.wait(timeout=20)
    fileguard.hold(file).release()


def test_a_file_let_go_can_be_held_again(file: Path) -> None:
    first = fileguard.hold(file)
    with pytest.raises(fileguard.Held, match=rf"process {os.getpid()}\)"):
        fileguard.hold(file)
    first.release()
    fileguard.hold(file).release()


def test_where_no_lock_can_be_is_told(file: Path) -> None:
    with pytest.raises(Refusal, match="can not be held"):
        fileguard.hold(file / "records.db")


def test_looking_at_a_file_as_large_as_is_read_whole_is_quick(tmp_path: Path) -> None:
    """Three seconds would be felt at each start; it takes a tenth of one."""
    file = tmp_path / "large.db"
    with closing(sqlite3.connect(file)) as large, large:
        large.execute("CREATE TABLE schema_step (number INTEGER PRIMARY KEY, at TEXT)")
        large.execute("CREATE TABLE filler (words TEXT)")
        count = fileguard.WHOLE // 1100
        large.executemany("INSERT INTO filler VALUES (?)", [("w" * 1000,)] * count)
    assert fileguard.WHOLE * 0.8 < file.stat().st_size <= fileguard.WHOLE
    start = time.perf_counter()
    look(file)
    assert time.perf_counter() - start < 3
