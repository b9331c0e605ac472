"""Two who write in the same place: the second is told, and nothing is lost silently."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import timedelta

import pytest

from core.practice.keep import put
from core.practice.meanwhile import ChangedMeanwhile, News, knowing, news
from core.records import meanwhile, read
from core.records.journal import edit
from core.records.keys import new_key
from core.records.tables import Client, Person, Practice
from tests.conftest import MOMENT
from tests.core.records.checks import all_hold

pytestmark = pytest.mark.usefixtures("records")


@contextmanager
def elsewhere() -> Iterator[None]:
    """Let what is written inside count as another desk's."""
    before = set(meanwhile._own)
    yield
    meanwhile._own.clear()
    meanwhile._own.update(before)


@pytest.fixture
def client() -> str:
    row = Client(id=new_key(), name="Clara Test", phone="555")
    people = [
        Person(id=new_key(), name="Ana Elsewhere", role="reception"),
        Practice(
            id=new_key(), name="p", address="a", phone="1", currency="EUR", zone="Europe/Lisbon"
        ),
    ]
    with edit("test", who="setup", at=MOMENT) as doing:
        for each in (row, *people):
            doing.add(each)
    return row.id


def ring(client: str, phone: str, who: str = "x", **more: str) -> None:
    with edit("phone", who=who, at=MOMENT + timedelta(minutes=5)) as doing:
        doing.change(Client, client, phone=phone, **more)


def ana() -> str:
    return read.find(Person)[0].id


def test_the_second_is_told_who_when_and_both_values(client: str) -> None:
    seen = meanwhile.now()
    with elsewhere():
        ring(client, "777", ana())
    with pytest.raises(ChangedMeanwhile) as told:
        knowing(seen, lambda: ring(client, "888"))
    assert told.value.sentence == "Ana Elsewhere put 777 here at 08:35; yours is 888."
    assert read.one(Client, client).phone == "777"
    all_hold()


def test_who_saw_it_writes_over_it_and_the_journal_keeps_both(client: str) -> None:
    with elsewhere():
        ring(client, "777", ana())
    knowing(meanwhile.now(), lambda: ring(client, "888"))
    assert read.one(Client, client).phone == "888"
    all_hold()


def test_nobody_is_told_of_their_own(client: str) -> None:
    seen = meanwhile.now()
    ring(client, "777")
    knowing(seen, lambda: ring(client, "888"))
    assert read.one(Client, client).phone == "888"


def test_another_column_of_the_row_and_the_same_value_are_no_conflict(client: str) -> None:
    seen = meanwhile.now()
    with elsewhere():
        ring(client, "777", ana())
    knowing(seen, lambda: _rename(client))
    knowing(seen, lambda: ring(client, "777"))
    assert read.one(Client, client).name == "Clara Tested"


def _rename(client: str) -> None:
    with edit("name", who="x", at=MOMENT) as doing:
        doing.change(Client, client, name="Clara Tested")


def test_a_row_that_both_would_add_is_a_conflict_for_the_second(client: str) -> None:
    seen = meanwhile.now()

    def answer(name: str) -> None:
        with edit("answer", who=client, at=MOMENT) as doing:
            put(doing, Person, {"role": "technician"}, {"name": name})

    with elsewhere():
        answer("Tim")
    with pytest.raises(ChangedMeanwhile, match=r"put Tim here at .*; yours is Tom"):
        knowing(seen, lambda: answer("Tom"))
    assert [p.name for p in read.find(Person, role="technician")] == ["Tim"]


def test_what_was_saved_elsewhere_is_news_and_ones_own_is_not(client: str) -> None:
    seen = meanwhile.now()
    ring(client, "1")
    assert news(seen) == News(meanwhile.now(), 0)
    with elsewhere():
        ring(client, "2")
        ring(client, "3")
    assert news(seen) == News(meanwhile.now(), 2)
    assert news(meanwhile.now()).others == 0
