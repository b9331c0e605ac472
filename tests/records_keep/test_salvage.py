"""A damaged file: what can be read comes over, what can not is said, and the file stays."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from core.errors import Refusal
from core.practice import check
from core.records import engine, files, index, salvage, verify
from core.records.place import Place, place_of
from core.records.readable import readable
from tests.conftest import MOMENT
from tests.core.records import checks
from tests.records_keep.released import put
from tests.records_keep.test_backup import spoil

PAGE = 4096


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """Give records with a history, of today's schema."""
    found = put(1, tmp_path)
    engine.open_records(found)
    with closing(sqlite3.connect(found)) as opened:
        opened.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    return found


def root_of(file: Path, name: str) -> int:
    """Return where the first page of a table or an index begins."""
    with closing(sqlite3.connect(file)) as opened:
        sql = "SELECT rootpage FROM sqlite_master WHERE name = ?"
        return (int(opened.execute(sql, (name,)).fetchone()[0]) - 1) * PAGE


def page_with(file: Path, words: str) -> int:
    """Return where a page begins that holds some words."""
    return file.read_bytes().index(words.encode()) // PAGE * PAGE


def holds() -> None:
    checks.all_hold()
    assert verify.broken() == []
    assert index.check() == []


def brought_over(file: Path) -> salvage.Salvaged:
    damaged = file.read_bytes()
    made = salvage.salvage(place_of(file), MOMENT)
    assert made.aside is not None
    assert made.aside.read_bytes() == damaged
    assert files.proved(file)
    assert sorted(f.name for f in file.parent.glob("*salvaging*")) == []
    engine.open_records(file)
    with engine.connection():
        holds()
    return made


def test_a_lost_index_costs_nothing(file: Path) -> None:
    spoil(file, root_of(file, "edit_line_in_table_row"))
    made = brought_over(file)
    assert (made.edits, made.of, made.rows, made.left_rows) == (651, 651, 0, 0)
    assert made.broken == ""


def test_a_lost_page_of_rows_costs_nothing_the_edits_have_them(file: Path) -> None:
    spoil(file, root_of(file, "client"))
    made = brought_over(file)
    assert (made.edits, made.rows, made.left_rows) == (651, 0, 0)
    with closing(sqlite3.connect(file)) as opened:
        names = {name for (name,) in opened.execute("SELECT name FROM client")}
    assert "Odile Fennimar" in names


def changed_edit(file: Path) -> int:
    """Change a word in an edit of half the way; return how many edits stand before it."""
    with closing(sqlite3.connect(file)) as opened:
        opened.execute('DROP TRIGGER "grows_edit_update"')
        sql = 'SELECT "id" FROM "edit" ORDER BY "clock" LIMIT 1 OFFSET 325'
        opened.execute(f'UPDATE "edit" SET "kind" = \'forged\' WHERE "id" = ({sql})')
        opened.commit()
    return 325


def lost_lines(file: Path) -> int:
    """Spoil a page of the lines; return how many edits stand before the first that lost one."""
    was = readable(file).lines
    spoil(file, page_with(file, '"Odile Fennimar"'))
    found = readable(file)
    return next(n for n, e in enumerate(found.edits) if found.lines.get(e["id"]) != was[e["id"]])


@pytest.mark.parametrize("breaking", [changed_edit, lost_lines])
def test_from_the_first_break_on_the_rows_come_without_their_edits(
    file: Path, breaking: Callable[[Path], int]
) -> None:
    with closing(sqlite3.connect(file)) as opened:
        tables = ("client", "visit", "invoice", "payment", "reading")
        before = {t: opened.execute(f"SELECT count(*) FROM {t}").fetchone()[0] for t in tables}
    until = breaking(file)
    made = brought_over(file)
    assert made.edits == until > 0
    assert made.broken.startswith(f"after edit {until} of device ")
    assert f"edit {until + 1} was changed, or a part of it can not be read" in made.broken
    assert made.rows > 0
    with closing(sqlite3.connect(file)) as opened:
        after = {t: opened.execute(f"SELECT count(*) FROM {t}").fetchone()[0] for t in tables}
        [kinds] = opened.execute('SELECT "kind" FROM "edit" ORDER BY "clock" DESC LIMIT 1')
    assert kinds == (salvage.KIND,)
    left = (
        [json.loads(line) for line in made.left.read_text("utf-8").splitlines()]
        if made.left
        else []
    )
    assert len(left) == made.left_rows
    for table in tables:
        waiting = len([row for row in left if row["table"] == table])
        assert after[table] + waiting >= before[table]


def test_whole_records_are_not_replaced(file: Path) -> None:
    before = file.read_bytes()
    with pytest.raises(Refusal, match="is whole"):
        salvage.salvage(place_of(file), MOMENT)
    assert file.read_bytes() == before
    assert not list(file.parent.glob("*set-aside*"))


def test_where_nothing_can_be_read_that_is_said(file: Path) -> None:
    spoil(file, 0, 20 * PAGE)
    before = file.read_bytes()
    with pytest.raises(Refusal, match=r"Nothing in .* can be read"):
        salvage.salvage(place_of(file), MOMENT)
    assert file.read_bytes() == before


def signed_lines(place: Place) -> dict[str, check.Checked]:
    """Return what `finrounds check` says about signatures and salvages, by what it looked at."""
    with engine.connection():
        return {
            line.what: line
            for line in check.check(place, MOMENT)
            if line.what.startswith(("signed", "salvage"))
        }


def test_the_check_blames_nobody_for_what_a_salvage_could_not_bring(file: Path) -> None:
    changed_edit(file)
    made = brought_over(file)
    lines = signed_lines(place_of(file))
    assert lines["signed records"].wrong == ()
    line = lines["salvage of 2026-11-25"]
    assert line.count == f"{made.rows} rows without their history"
    assert "Visit of Bettany Crisp on 2026-11-08 could not be brought over whole." in line.wrong
    # Signed before the break: its edits came over, and prove it.
    assert not [words for words in line.wrong if "Casimir Dunnock" in words]
    assert "The file was damaged" in line.todo
    assert "somebody" not in line.todo


def test_what_is_changed_after_a_salvage_is_still_told(file: Path) -> None:
    changed_edit(file)
    brought_over(file)
    engine.let_go()
    with closing(sqlite3.connect(file)) as opened:
        triggers = opened.execute(
            "SELECT name FROM sqlite_master WHERE type = 'trigger' AND tbl_name = 'visit'"
        ).fetchall()
        for (name,) in triggers:
            opened.execute(f'DROP TRIGGER "{name}"')
        sql = (
            'SELECT v."id" FROM "visit" v JOIN "client" c ON c."id" = v."client" '
            'WHERE c."name" = \'Casimir Dunnock\' AND v."signed_at" IS NOT NULL LIMIT 1'
        )
        opened.execute(f'UPDATE "visit" SET "reason" = \'x\' WHERE "id" = ({sql})')
        opened.commit()
    engine.open_records(file)
    lines = signed_lines(place_of(file))
    assert any("Casimir Dunnock" in words for words in lines["signed records"].wrong)
    assert lines["signed records"].todo == check.ASK


def test_records_without_a_salvage_have_no_line_of_it(file: Path) -> None:
    assert list(signed_lines(place_of(file))) == ["signed records"]
