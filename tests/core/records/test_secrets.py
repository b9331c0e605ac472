"""What opens the app, on both engines: kept as it is put, and outside the journal."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from core.records import journal, secrets
from core.records.engine import query
from core.records.place import Place
from core.records.secrets import Kept

NOW = datetime(2026, 11, 25, 8, 30, tzinfo=UTC)


def test_nothing_is_kept_of_who_has_set_nothing(records: Place) -> None:
    assert secrets.of("somebody") == Kept()
    assert not secrets.anybody()


def test_what_is_put_is_kept_and_putting_it_again_forgets_wrong_tries(records: Place) -> None:
    secrets.keep("a", "hash one", "code one")
    secrets.keep("b", "hash two", "code two")
    secrets.count("a", 6, NOW + timedelta(seconds=60))
    assert secrets.of("a") == Kept("hash one", "code one", 6, NOW + timedelta(seconds=60))
    assert secrets.of("b") == Kept("hash two", "code two")
    secrets.keep("a", "hash three", "code three")
    assert secrets.of("a") == Kept("hash three", "code three")
    assert secrets.anybody()


def test_no_hash_is_in_the_journal(records: Place) -> None:
    secrets.keep("a", "hash one", "code one")
    secrets.count("a", 1, None)
    assert journal.replay() == {}
    assert query('SELECT count(*) FROM "edit_line"') == [(0,)]
