"""A backup of either engine is one SQLite file that opens, proved, with every edit in it."""

from __future__ import annotations

import pytest

from core.practice.keep import Act
from core.records import backup, engine, exchange, files, verify
from core.records.place import Place, place_of
from tests.conftest import MOMENT
from tests.core.records import checks
from tests.servers import opened
from tests.small import fill


@pytest.fixture
def place(new_place: Place) -> Place:
    """Give small records on each engine, closed."""
    with opened(new_place):
        fill(Act("setup", MOMENT), MOMENT.date())
    return new_place


def test_it_opens_as_records_with_all_that_was_there(place: Place) -> None:
    with opened(place):
        was = exchange.state()
    made = backup.make(place, MOMENT)
    assert made.file == place.backups / "practice-2026-11-25-083000.db"
    assert [file.name for file in place.backups.iterdir()] == [made.file.name]
    assert files.proved(made.file) == made.facts
    with opened(place_of(made.file)):
        assert engine.kind() == "sqlite"
        assert exchange.state() == was
        assert was["counts"]["client"] == 1
        assert verify.broken() == []
        checks.all_hold()


def test_dated_ones_are_listed_and_kept_by_the_rule(place: Place) -> None:
    first = backup.make(place, MOMENT)
    second = backup.make(place, MOMENT.replace(hour=20))
    assert tuple(gone.file for gone in second.gone) == (first.file,)
    assert [one.file for one in backup.dated(place)] == [second.file]
