"""Proving the records: nothing is said of whole ones, and each kind of damage by its line."""

from __future__ import annotations

from datetime import timedelta

import pytest

from core.practice import check, documents, keep, sign
from core.practice.keep import Act
from core.records import backup, engine, health
from core.records.place import Place
from core.records.read import find
from core.records.tables import Document
from tests.conftest import MOMENT
from tests.core.records.outside import owner, program
from tests.servers import opened
from tests.small import Small, fill

LINES = (
    *("pages", "references", "guards", "journal, the chain of edits", "rows against the journal"),
    *("signed records", "outside the journal: device", "outside the journal: schema_step"),
    *("outside the journal: secret", "outside the journal: search"),
    *("papers as issued", "backups"),
)


@pytest.fixture
def whole(records: Place, practice: Small) -> Place:
    """Give small records with a signed visit and its printed record."""
    act = Act(practice.vet, MOMENT)
    for stage in sign.WALKED:
        keep.mark_stage(act, practice.visit, stage, "passed over", "a test")
    sign.sign(act, practice.visit)
    documents.issue_record(act, practice.visit, records.papers)
    return records


def wrong(place: Place) -> dict[str, tuple[str, ...]]:
    """Return what is wrong, by the first words of its line, the guards taken away aside."""
    found = check.check(place, MOMENT)
    return {
        line.what.split(" (")[0]: line.wrong
        for line in found
        if line.wrong and line.what != "guards"
    }


def test_each_thing_is_told_with_its_count(whole: Place) -> None:
    found = list(check.check(whole, MOMENT))
    assert [line.what.split(" (")[0] for line in found] == [*LINES]
    assert [line.wrong for line in found] == [()] * len(LINES)
    counts = {line.what.split(" (")[0]: line.count for line in found}
    edits = engine.query('SELECT count(*) FROM "edit"')[0][0]
    assert counts["journal, the chain of edits"] == f"{edits} edits"
    assert counts["signed records"] == "1 visits"
    assert counts["papers as issued"] == "1 papers"
    assert int(counts["pages"].split()[0]) > 2 * edits


def test_what_is_written_beside_the_journal_is_found(whole: Place) -> None:
    with owner(whole, "client") as say:
        say("UPDATE client SET note = '666'")
    [(line, told)] = wrong(whole).items()
    assert line == "rows against the journal"
    assert "note is '666'" in told[0]


def test_a_guard_that_was_taken_away_is_found(whole: Place) -> None:
    with owner(whole, "day_mark"):
        pass
    [guards] = [line for line in check.check(whole, MOMENT) if line.wrong]
    assert guards.what == "guards"
    assert "The guard door_day_mark_update is gone." in guards.wrong
    assert guards.count == f"{len(health.guards_wanted())} triggers"
    assert len(health.guards_wanted()) > 200


def test_a_changed_edit_is_found(whole: Place) -> None:
    with owner(whole, "edit") as say:
        say("UPDATE edit SET kind = 'forged' WHERE count = 3")
    assert list(wrong(whole)) == ["journal, the chain of edits"]


def test_a_changed_signed_record_is_found_and_located(whole: Place, practice: Small) -> None:
    with owner(whole, "stage_mark") as say:
        say("UPDATE stage_mark SET why = 'other' WHERE stage = 'Water'")
    found = wrong(whole)
    assert {*found} == {"rows against the journal", "signed records"}
    assert "Clara Test" in found["signed records"][0]


def test_a_stranger_with_a_pin_is_found(whole: Place) -> None:
    with owner(whole, "secret") as say:
        say(
            "INSERT INTO secret (person, pin_hash, recovery_hash, wrong) "
            "VALUES ('nobody', 'x', 'y', 0)"
        )
    assert wrong(whole) == {
        "outside the journal: secret": ("A PIN is kept for nobody, who is not in the records.",)
    }


def test_a_wrong_index_is_found_and_mended(whole: Place, practice: Small) -> None:
    with program(whole) as say:
        say(f"DELETE FROM search_document WHERE \"row\" = '{practice.client}'")
    assert list(wrong(whole)) == ["outside the journal: search"]
    health.mend_index()
    assert wrong(whole) == {}


def test_a_migration_that_did_not_run_is_found(whole: Place) -> None:
    with owner(whole, "schema_step") as say:
        say("DELETE FROM schema_step WHERE number = 1")
    assert list(wrong(whole)) == ["outside the journal: schema_step"]


def test_papers_that_are_gone_or_changed_are_found(whole: Place) -> None:
    [paper] = find(Document)
    file = whole.papers / paper.file
    data = file.read_bytes()
    file.write_bytes(data[:-1])
    assert wrong(whole) == {"papers as issued": (f"{paper.file} is not as it was issued.",)}
    file.unlink()
    assert wrong(whole) == {"papers as issued": (f"{paper.file} is not there.",)}


def test_a_row_that_refers_to_nothing_is_found(whole: Place) -> None:
    table = "attempt"
    with owner(whole, table) as say:
        if whole.file is not None:
            say("PRAGMA foreign_keys = 0")
        else:
            say("SET session_replication_role = replica")
        say(
            "INSERT INTO attempt (id, recheck, result, by, at) "
            "VALUES ('a', 'nowhere', 'rang', 'nobody', '2026-11-25T08:30:00.000000Z')"
        )
    assert wrong(whole)["references"] == (
        "Row a of attempt refers to recheck nowhere, which is not there.",
        "Row a of attempt refers to person nobody, which is not there.",
    )


def test_the_age_of_the_newest_backup_is_told(new_place: Place) -> None:
    def told(days: int) -> check.Checked:
        with opened(new_place):
            [*_, line] = check.check(new_place, MOMENT + timedelta(days=days))
        return line

    with opened(new_place):
        fill(Act("setup", MOMENT), MOMENT.date())
    assert told(0).count == "none yet"
    assert told(0).todo.startswith("finrounds backup makes one")
    made = backup.make(new_place, MOMENT)
    assert (told(0).count, told(0).todo) == (f"1, the newest {made.file.name}, of the last day", "")
    late = told(30)
    assert late.count == f"1, the newest {made.file.name}, 30 days old"
    assert late.todo == "finrounds backup makes a new one."
    with made.file.open("r+b") as file:
        file.truncate(40 * 4096)
    assert len(told(0).wrong) == 1
