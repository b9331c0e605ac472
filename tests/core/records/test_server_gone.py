"""A server that stops answering: a sentence, nothing half, and on it goes when it is back."""

from __future__ import annotations

import pytest

from core.practice.desk import Desk
from core.records import engine, read
from core.records.journal import edit
from core.records.keys import new_key
from core.records.tables import Client
from core.records.trouble import NotRead, NotSaved
from tests.conftest import MOMENT
from tests.core.records.checks import all_hold
from tests.servers import Server, close

CUT_OFF = (
    "SELECT pg_terminate_backend(pid) FROM pg_stat_activity "
    "WHERE datname = '{}' AND pid <> pg_backend_pid()"
)


def put(name: str) -> None:
    with edit("test", who="x", at=MOMENT) as doing:
        doing.add(Client(id=new_key(), name=name))


def names() -> list[str]:
    return [row.name for row in read.find(Client, order="id")]


def test_it_is_stopped_and_started_again(tmp_path_factory: pytest.TempPathFactory) -> None:
    server = Server(tmp_path_factory.mktemp("another"))
    desk = Desk(server.records())
    desk.save(put, "before").result(timeout=10)
    assert desk.look(names) == ["before"]
    server.halt()
    for _ in range(3):
        with pytest.raises(NotRead, match=r"does not answer: this could not be read"):
            desk.look(names)
        with pytest.raises(NotSaved, match=r"does not answer: this was not saved.*stays"):
            desk.save(put, "meanwhile").result(timeout=10)
    server.go_on()
    assert desk.look(names) == ["before"]
    desk.save(put, "after").result(timeout=10)
    assert desk.look(names) == ["before", "after"]
    desk.look(all_hold)
    desk.close()
    close()
    server.stop()


def test_the_connection_breaks_in_the_middle_of_an_edit(server: Server) -> None:
    place = server.records()
    desk = Desk(place)

    def broken() -> None:
        with edit("test", who="x", at=MOMENT) as doing:
            doing.add(Client(id=new_key(), name="half"))
            server.run(CUT_OFF.format(place.folder.name))
            doing.add(Client(id=new_key(), name="other half"))

    for _ in range(2):
        with pytest.raises(NotSaved, match=r"connection to the shared records broke"):
            desk.save(broken).result(timeout=10)
        desk.save(put, "whole").result(timeout=10)
    assert desk.look(names) == ["whole", "whole"]
    desk.look(all_hold)
    desk.close()
    close()
    server.drop(place)


def test_connections_that_died_while_they_waited_are_not_used(server: Server) -> None:
    place = server.records()
    desk = Desk(place)
    desk.save(put, "before").result(timeout=10)
    for _ in range(3):
        assert desk.look(names) == ["before"]
        server.run(CUT_OFF.format(place.folder.name))
    desk.save(put, "after").result(timeout=10)
    assert desk.look(names) == ["before", "after"]
    assert engine.kind() == "postgresql"
    desk.close()
    close()
    server.drop(place)
