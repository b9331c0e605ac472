"""Every test here that asks for records runs on both engines."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from core.records.place import Place
from tests.engines import ENGINES
from tests.servers import Server, new_records, opened


@pytest.fixture(params=ENGINES)
def new_place(request: pytest.FixtureRequest, server: Server) -> Iterator[Place]:
    """Give a place for new records, on each engine."""
    with new_records(request.param, server) as place:
        yield place


@pytest.fixture
def records(new_place: Place) -> Iterator[Place]:
    """Give new, open, empty records on each engine, with a connection on this thread."""
    with opened(new_place) as place:
        yield place


@pytest.fixture(scope="module", params=ENGINES)
def records_of_module(request: pytest.FixtureRequest, server: Server) -> Iterator[Place]:
    """Give the same, for every test of a module that wants no others: it is quicker."""
    with new_records(request.param, server) as new, opened(new) as place:
        yield place
