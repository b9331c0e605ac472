"""What a driver says, in the words that a person is told; and what is no such trouble is left."""

from __future__ import annotations

import errno
import sqlite3
import threading
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any

import psycopg
import pytest

from core.errors import Refusal
from core.practice.desk import Desk
from core.practice.keep import Act
from core.practice.setup import add_client
from core.records import engine, fileguard, trouble
from core.records.engine import query
from core.records.read import find
from core.records.tables import Client
from core.records.writer import Writer
from tests.conftest import MOMENT
from tests.core.records.checks import all_hold, edits
from tests.records_hard.spoilt import PAGE
from tests.servers import Server
from tests.servers import opened as opened_at
from tests.small import build


def put(name: str) -> str:
    return add_client(Act("setup", MOMENT), name)


def spoken(writer: Writer, write: Callable[..., object] = put, *values: Any) -> str:
    """Return what is said of a write that is refused, as one sentence and one more."""
    refused = writer.submit(write, *values or ("Clara",)).exception(timeout=30)
    assert isinstance(refused, trouble.NotSaved)
    assert refused.title == "Not saved"
    assert refused.todo
    return refused.sentence


@pytest.fixture
def writer(records: Path) -> Any:
    found = Writer()
    yield found
    found.close()


def test_read_only_is_told_and_gone_on_with(writer: Writer) -> None:
    writer.submit(query, "PRAGMA query_only = 1").result(timeout=30)
    assert "their file or its disk is read-only" in spoken(writer)
    writer.submit(query, "PRAGMA query_only = 0").result(timeout=30)
    writer.submit(put, "Clara").result(timeout=30)
    all_hold()


def test_held_by_another_program_is_told_and_gone_on_with(writer: Writer, records: Path) -> None:
    writer.submit(query, "PRAGMA busy_timeout = 10").result(timeout=30)
    with closing(sqlite3.connect(records, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        assert "Another program is holding the records" in spoken(writer)
        other.execute("ROLLBACK")
    writer.submit(put, "Clara").result(timeout=30)
    assert len(edits()) == 1
    all_hold()


def test_a_page_that_goes_bad_while_the_app_runs_is_told(tmp_path: Path) -> None:
    file = tmp_path / "practice.db"
    engine.open_records(file)
    content = bytearray(file.read_bytes())
    content[PAGE:] = b"\xff" * (len(content) - PAGE)
    writer = Writer()
    writer.submit(query, "SELECT 1").result(timeout=30)
    file.write_bytes(content)
    assert spoken(writer) == "The records are damaged: this was not saved."
    writer.close()


def test_a_mistake_of_the_program_is_no_trouble_of_the_disk(writer: Writer) -> None:
    assert trouble.said(ZeroDivisionError("in the middle")) is None
    assert trouble.said(Refusal("Not so.")) is None
    assert trouble.said(FileNotFoundError(errno.ENOENT, "not there")) is None
    wrong = writer.submit(query, "SELECT a FROM nowhere").exception(timeout=30)
    assert "no such table" in str(wrong)
    assert not isinstance(wrong, Refusal)


def test_a_mistake_made_while_a_trouble_is_handled_stays_a_mistake() -> None:
    mistake = KeyError("told")
    mistake.__context__ = OSError(errno.ENOSPC, "full")
    assert trouble.said(mistake) is None


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (errno.ENOSPC, "The disk is full"),
        (errno.EDQUOT, "The disk is full"),
        (errno.EIO, "The disk did not do its part"),
        (errno.EROFS, "read-only"),
        (errno.EACCES, "read-only"),
    ],
)
def test_a_disk_below_a_paper_says_the_same(number: int, words: str) -> None:
    refused = trouble.said(OSError(number, "so says the system"))
    assert refused is not None
    assert words in refused.sentence


@pytest.mark.parametrize(
    ("state", "words"),
    [
        ("53100", "The disk is full"),
        ("25006", "read-only"),
        ("55P03", "Another program is holding the records"),
        ("40P01", "Another program is holding the records"),
        ("58030", "The disk did not do its part"),
        ("57P01", "The connection to the shared records broke"),
        ("08006", "The connection to the shared records broke"),
        ("XX001", "The records are damaged"),
    ],
)
def test_each_state_of_a_server_has_its_sentence(state: str, words: str) -> None:
    refused = trouble.said(psycopg.errors.lookup(state)("in the server's own words"))
    assert refused is not None
    assert refused.sentence.startswith(words) or words in refused.sentence


def test_a_server_that_hangs_up_in_the_middle_of_a_write_is_told(server: Server) -> None:
    place = server.records()
    begun, ended = threading.Event(), threading.Event()

    def slow(name: str) -> None:
        query("SELECT 1")
        begun.set()
        assert ended.wait(timeout=30)
        put(name)

    with opened_at(place):
        writer = Writer()
        writer.submit(put, "before").result(timeout=30)
        waiting = writer.submit(slow, "lost")
        assert begun.wait(timeout=30)
        others = "SELECT pg_terminate_backend(pid) FROM pg_stat_activity"
        server.run(f"{others} WHERE datname = '{place.folder.name}'")
        ended.set()
        refused = waiting.exception(timeout=30)
        writer.close()
    server.drop(place)
    assert isinstance(refused, trouble.Lost)
    assert "broke while this was being saved" in refused.sentence


def test_what_can_not_be_read_is_told_as_that() -> None:
    damaged = trouble.said(sqlite3.DatabaseError("database disk image is malformed"), reading=True)
    assert isinstance(damaged, trouble.NotRead)
    assert damaged.sentence == "The records are damaged: this could not be read."


def test_a_damaged_page_that_no_look_at_the_start_has_found_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "practice.db"
    build(file)
    with closing(sqlite3.connect(file)) as raw:
        [[root]] = raw.execute("SELECT rootpage FROM sqlite_master WHERE name = 'client'")
    content = bytearray(file.read_bytes())
    content[(root - 1) * PAGE : root * PAGE] = b"\xff" * PAGE
    file.write_bytes(content)
    with pytest.raises(fileguard.Damaged):
        Desk(file)
    monkeypatch.setattr(fileguard, "WHOLE", 0)
    desk = Desk(file)
    with pytest.raises(trouble.NotRead, match="damaged: this could not be read"):
        desk.look(find, Client)
    desk.close()
    assert file.read_bytes() == content
