"""A migration that fails leaves the records as they were, and says where the backup lies."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.errors import Refusal
from core.records import engine, files, migrate
from core.records.models import MODELS, database
from core.records.tables import Client, Practice, Visit
from tests.core.records import checks
from tests.records_keep.released import NUMBERS, put
from tests.records_keep.test_released import counts, shape


def half_way() -> None:
    MODELS["setting"].create_table()
    engine.execute('DROP TRIGGER "kept_visit_delete"')
    engine.execute('DROP INDEX "visit_day"')
    engine.execute('SELECT * FROM "nowhere"')


def test_what_fails_half_way_leaves_the_records_as_they_were(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = put(1, tmp_path)
    bytes_before, before = file.read_bytes(), (counts(file), shape(file))
    monkeypatch.setattr(migrate, "MIGRATIONS", (migrate.MIGRATIONS[0], half_way))
    monkeypatch.setattr(migrate, "VERSION", 2)
    with pytest.raises(migrate.NotRaised) as told:
        engine.open_records(file)
    assert (counts(file), shape(file)) == before
    [kept] = (tmp_path / "backups").glob("*.db")
    assert str(kept) in told.value.todo
    assert "they are as they were" in told.value.sentence
    assert files.proved(kept).edits == 651
    # The version that does not fail goes on from there.
    monkeypatch.undo()
    engine.open_records(file)
    with engine.connection():
        checks.all_hold()
    assert bytes_before[:16] == file.read_bytes()[:16]


def test_without_room_for_the_backup_nothing_is_raised(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = put(1, tmp_path)
    before = shape(file)

    def full(part: Path) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(files, "flush", full)
    with pytest.raises(Refusal, match="No space left"):
        engine.open_records(file)
    assert shape(file) == before
    assert list((tmp_path / "backups").iterdir()) == []


def test_records_that_are_up_to_date_are_not_backed_up_at_each_start(tmp_path: Path) -> None:
    file = put(NUMBERS[-1], tmp_path)
    engine.open_records(file)
    made = set((tmp_path / "backups").iterdir())
    engine.open_records(file)
    assert set((tmp_path / "backups").iterdir()) == made


def test_newer_records_are_refused_and_not_touched(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = put(1, tmp_path)
    engine.open_records(file)
    before = file.read_bytes()
    monkeypatch.setattr(migrate, "VERSION", 1)
    with pytest.raises(Refusal, match="newer version"):
        engine.open_records(file)
    assert file.read_bytes() == before


@pytest.mark.parametrize(
    ("row", "column", "default"),
    [(Practice, "opens", "08:00"), (Practice, "invented", 0), (Visit, "recheck_of", None)],
)
def test_a_column_of_a_later_schema_comes_with_its_default(
    records: Path, row: type[Client], column: str, default: object
) -> None:
    before = shape(records)
    engine.execute(f'ALTER TABLE "{row.table}" DROP COLUMN "{column}"')
    assert shape(records) != before
    migrate._add_column(row, column)
    assert shape(records) == before
    found = next(c for c in database.get_columns(row.table) if c.name == column)
    assert str(found.default).strip("'") == str(default)
