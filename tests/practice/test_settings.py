"""Settings by name."""

from __future__ import annotations

from pathlib import Path

from core.practice import settings
from core.practice.keep import Act
from core.records import journal, read
from core.records.engine import query
from core.records.tables import Setting


def test_a_setting_nobody_has_set_is_what_is_meant(records: Path) -> None:
    assert settings.get("idle_lock_min") == ""
    assert settings.get("idle_lock_min", "10") == "10"


def test_a_setting_is_one_row_and_the_journal_keeps_what_stood(records: Path, act: Act) -> None:
    settings.put(act, "keep_years.record", "7")
    settings.put(act, "keep_years.record", "10")
    (row,) = read.find(Setting)
    assert (row.key, row.value) == ("keep_years.record", "10")
    bodies = [b for (b,) in query('SELECT "change" FROM "edit_line" ORDER BY "edit"')]
    assert bodies[-1] == '{"value":["7","10"]}'
    assert journal.replay()["setting", row.id]["value"] == "10"


def test_the_same_value_again_is_no_edit(records: Path, act: Act) -> None:
    settings.put(act, "a", "1")
    settings.put(act, "a", "1")
    assert query('SELECT count(*) FROM "edit"') == [(1,)]


def test_settings_are_found_by_the_beginning_of_their_name(records: Path, act: Act) -> None:
    settings.put(act, "keep_years.record", "10")
    settings.put(act, "keep_years.money", "6")
    settings.put(act, "keep_year", "no")
    assert settings.under("keep_years.") == {"record": "10", "money": "6"}
