"""Every test here that asks for records runs on both engines."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from core.records.place import Place, place_of
from tests.engines import ENGINES
from tests.servers import Server, opened


@contextmanager
def _new(request: pytest.FixtureRequest, folder: Path) -> Iterator[Place]:
    if request.param == "sqlite":
        yield place_of(folder / "practice.db")
        return
    server: Server = request.getfixturevalue("server")
    place = server.records()
    yield place
    server.drop(place)


@pytest.fixture(params=ENGINES)
def new_place(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Place]:
    """Give a place for new records, on each engine."""
    with _new(request, tmp_path) as place:
        yield place


@pytest.fixture
def records(new_place: Place) -> Iterator[Place]:
    """Give new, open, empty records on each engine, with a connection on this thread."""
    with opened(new_place) as place:
        yield place


@pytest.fixture(scope="module", params=ENGINES)
def records_of_module(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Place]:
    """Give the same, for every test of a module that wants no others: it is quicker."""
    with _new(request, tmp_path_factory.mktemp("records")) as new, opened(new) as place:
        yield place
