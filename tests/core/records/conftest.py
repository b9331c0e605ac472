"""Every test here that asks for records runs on both engines."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from core.records.place import Place, place_of
from tests.servers import Server, opened

ENGINES = ("sqlite", "postgresql")


@pytest.fixture(params=ENGINES)
def new_place(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Place]:
    """Give a place for new records, on each engine."""
    if request.param == "sqlite":
        yield place_of(tmp_path / "practice.db")
        return
    server: Server = request.getfixturevalue("server")
    place = server.records()
    yield place
    server.drop(place)


@pytest.fixture
def records(new_place: Place) -> Iterator[Place]:
    """Give new, open, empty records on each engine, with a connection on this thread."""
    with opened(new_place) as place:
        yield place
