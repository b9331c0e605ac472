"""The one writer thread: in order, errors to whoever waits for them, and nothing left behind."""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator

import pytest

from core.errors import Refusal
from core.records.journal import edit
from core.records.keys import new_key
from core.records.tables import Client
from core.records.writer import Writer
from tests.conftest import MOMENT
from tests.core.records.checks import all_hold, entries


@pytest.fixture
def writer(records: object) -> Iterator[Writer]:
    found = Writer()
    yield found
    found.close()


def put(name: str, pause: float = 0.0) -> str:
    time.sleep(pause)
    row = Client(id=new_key(), name=name)
    with edit("test", who="x", at=MOMENT) as doing:
        doing.add(row)
    return name


def names() -> list[str]:
    return [value for _, value in entries("client", "name")]


def test_writes_are_done_in_the_order_in_which_they_came(writer: Writer) -> None:
    wanted = [f"{n}" for n in range(120)]
    futures = [writer.submit(put, name, 0.002 * (n % 3 == 0)) for n, name in enumerate(wanted)]
    assert [f.result(timeout=20) for f in futures] == wanted
    assert names() == wanted
    all_hold()


def test_done_means_that_another_connection_sees_it(writer: Writer) -> None:
    for n in range(20):
        writer.submit(put, f"{n}").result(timeout=10)
        assert names()[-1] == f"{n}"


def test_all_are_done_by_one_thread_that_is_not_ours(writer: Writer) -> None:
    threads = {writer.submit(threading.get_ident).result(timeout=10) for _ in range(20)}
    assert len(threads) == 1
    assert threading.get_ident() not in threads


def fail() -> None:
    with edit("test", who="x", at=MOMENT) as doing:
        doing.add(Client(id=new_key(), name="half"))
        raise ZeroDivisionError("in the middle")


def test_an_error_reaches_its_waiter_only(writer: Writer) -> None:
    before, bad, after = writer.submit(put, "a"), writer.submit(fail), writer.submit(put, "b")
    assert before.result(timeout=10) == "a"
    assert after.result(timeout=10) == "b"
    with pytest.raises(ZeroDivisionError, match="in the middle"):
        bad.result(timeout=10)
    assert names() == ["a", "b"]
    all_hold()


def test_a_write_that_nobody_wants_any_more_is_not_done(writer: Writer) -> None:
    first = writer.submit(put, "a", 0.2)
    second, third = writer.submit(put, "b"), writer.submit(put, "c")
    assert second.cancel()
    third.result(timeout=10)
    assert first.done()
    assert names() == ["a", "c"]


def test_closing_finishes_what_is_queued(writer: Writer) -> None:
    futures = [writer.submit(put, f"{n}", 0.01) for n in range(30)]
    writer.close()
    assert all(f.done() for f in futures)
    assert names() == [f"{n}" for n in range(30)]


def test_after_closing_nothing_is_taken(writer: Writer) -> None:
    writer.close()
    writer.close()
    with pytest.raises(Refusal, match="being closed"):
        writer.submit(put, "late")
