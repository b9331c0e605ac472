"""Proving the records: a changed byte is found, and told where it lies."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.records import verify
from core.records.models import EXEMPT, JOURNAL, MODELS, database
from core.records.place import Place
from core.records.tables import Client
from tests.core.records.outside import owner
from tests.small import Small


def test_nothing_is_wrong_with_records_as_they_were_made(practice: Small) -> None:
    assert verify.broken() == []


def test_a_changed_row_is_told_with_its_column_and_both_values(
    records: Place, practice: Small
) -> None:
    with owner(records, "client") as say:
        say("UPDATE client SET phone = '666'")
    [told] = verify.broken()
    assert told.startswith(f"Row {practice.client} of client: phone is '666', and the journal")
    assert "tells '555 0100' (edit 4 of device " in told


def test_a_row_put_in_or_taken_away_is_told(records: Place, practice: Small) -> None:
    with owner(records, "tax_class") as say:
        say("INSERT INTO tax_class (id, code, name, rate_percent) VALUES ('x', 'c', 'n', '1')")
    with owner(records, "visit") as say:
        say("DELETE FROM visit")
    assert sorted(verify.broken()) == [
        f"Row {practice.visit} of visit is gone; the journal has it.",
        "Row x of tax_class stands there, and the journal does not have it.",
    ]


def test_a_changed_line_is_told_with_its_edit(records: Place, practice: Small) -> None:
    with owner(records, "edit_line") as say:
        say("UPDATE edit_line SET change = replace(change, 'Clara', 'Klara')")
    chain, row = verify.broken()
    assert chain.startswith("Edit 4 of device ")
    assert "(client, 2026-11-25T08:30:00.000000Z, by setup) was changed after it was made" in chain
    assert "name is 'Clara Test', and the journal tells 'Klara Test'" in row


def test_a_line_made_unreadable_is_told(records: Place, practice: Small) -> None:
    with owner(records, "edit_line") as say:
        say("UPDATE edit_line SET change = '{' WHERE in_table = 'client'")
    assert any("was changed after it was made" in told for told in verify.broken())


def test_a_gap_and_a_lost_end_are_told(records: Place, practice: Small) -> None:
    with owner(records, "edit") as say:
        say("DELETE FROM edit WHERE count IN (3, (SELECT max(count) FROM edit))")
    told = verify.broken_chain()
    assert any("does not follow on edit 2: what lay between is missing" in one for one in told)
    assert any("and the device says that it ends at edit 8" in one for one in told)
    assert sum("belongs to edit" in one for one in told) == 2


def test_every_table_is_journalled_or_exempt_with_a_reason(records: Place) -> None:
    there = set(database.get_tables())
    ours = {model._meta.table_name for model in (*MODELS.values(), *JOURNAL)}
    outside = there - ours
    assert {model._meta.table_name for model in EXEMPT} <= outside
    assert [table for table in sorted(outside) if not verify.exempt(table)] == []
    assert verify.exempt("client") == ""
    assert Client.table in ours


def test_the_parts_that_it_reads_in_do_not_matter(
    monkeypatch: pytest.MonkeyPatch, records: Place, practice: Small, tmp_path: Path
) -> None:
    with owner(records, "client") as say:
        say("UPDATE client SET phone = '666'")
    whole = verify.broken()
    for part in (1, 2, 3):
        monkeypatch.setattr(verify, "PART", part)
        assert verify.broken() == whole
