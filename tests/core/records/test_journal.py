"""The journal: what an edit leaves, what it does not, and that it can be proved."""

from __future__ import annotations

import threading
from contextlib import AbstractContextManager
from dataclasses import replace
from datetime import timedelta

import peewee as pw
import pytest

from core.errors import Refusal
from core.records import engine, read
from core.records.journal import OpenEdit, edit, replay
from core.records.keys import new_key
from core.records.migrate import VERSION
from core.records.place import Place
from core.records.tables import TABLES, Client, Row, Site
from tests.conftest import MOMENT
from tests.core.records.checks import all_hold, broken, edits, held, lines
from tests.core.records.outside import owner
from tests.core.records.rows import one_of_each, sample
from tests.small import Small


def opened(kind: str = "test") -> AbstractContextManager[OpenEdit]:
    return edit(kind, who="setup", at=MOMENT)


def add(*rows: Row, kind: str = "test") -> None:
    with opened(kind) as doing:
        for row in rows:
            doing.add(row)


def client(name: str = "A") -> Client:
    return Client(id=new_key(), name=name)


@pytest.mark.usefixtures("records")
def test_every_row_comes_back_as_it_went_in() -> None:
    for full in (False, True):
        rows = one_of_each(full=full)
        add(*rows.values())
        for kind in TABLES:
            assert read.one(kind, rows[kind.table].id) == rows[kind.table]
    all_hold()


@pytest.mark.usefixtures("records")
def test_an_edit_says_who_when_what_and_which_visit() -> None:
    with edit("reading", who="someone", at=MOMENT, visit="v", reverses="r") as doing:
        doing.add(client())
    (only,) = edits()
    said = {k: only[k] for k in ("who", "at", "kind", "visit", "reverses", "schema", "count")}
    assert said == {
        "who": "someone",
        "at": "2026-11-25T08:30:00.000000Z",
        "kind": "reading",
        "visit": "v",
        "reverses": "r",
        "schema": VERSION,
        "count": 1,
    }


@pytest.mark.usefixtures("records")
def test_a_change_notes_old_and_new_of_what_changed_only() -> None:
    row = client("old")
    add(row)
    with opened() as doing:
        assert doing.change(Client, row.id, name="new", phone="")
    last = edits()[-1]
    assert lines(last["id"]) == [("client", row.id, "change", '{"name":["old","new"]}')]
    assert read.one(Client, row.id) == replace(row, name="new")


@pytest.mark.usefixtures("records")
def test_equal_values_leave_no_line_and_no_edit() -> None:
    rows = one_of_each(full=True)
    add(*rows.values())
    before = len(edits())
    with opened() as doing:
        for kind in TABLES:
            same = {k: v for k, v in vars(rows[kind.table]).items() if k != "id"}
            assert not doing.change(kind, rows[kind.table].id, **same)
    assert len(edits()) == before


@pytest.mark.usefixtures("records")
def test_a_change_of_nothing_is_none() -> None:
    row = client()
    add(row)
    with opened() as doing:
        assert not doing.change(Client, row.id)
    assert len(edits()) == 1


@pytest.mark.usefixtures("records")
def test_an_edit_that_raises_leaves_nothing() -> None:
    row = client()
    add(row)
    stood = held(), edits()

    def half() -> None:
        with opened() as doing:
            doing.change(Client, row.id, name="B")
            doing.add(client("C"))
            raise RuntimeError("in the middle")

    with pytest.raises(RuntimeError, match="in the middle"):
        half()
    assert (held(), edits()) == stood
    add(client("D"))
    all_hold()


@pytest.mark.usefixtures("records")
def test_an_edit_inside_an_edit_joins_it() -> None:
    with opened("outer") as outer:
        outer.add(client("A"))
        with opened("inner") as inner:
            assert inner is outer
            inner.add(client("B"))
        outer.add(client("C"))
    (only,) = edits()
    assert only["kind"] == "outer"
    assert len(lines(only["id"])) == 3


@pytest.mark.usefixtures("records")
def test_when_the_outer_edit_raises_the_inner_one_goes_with_it() -> None:
    def half() -> None:
        with opened() as outer:
            add(client(), kind="inner")
            outer.add(client())
            raise RuntimeError("in the middle")

    with pytest.raises(RuntimeError, match="in the middle"):
        half()
    assert held() == {}
    assert edits() == []


@pytest.mark.usefixtures("records")
def test_a_row_that_refers_to_nothing_is_refused_and_leaves_nothing() -> None:
    with pytest.raises(pw.IntegrityError):
        add(client(), Site(id=new_key(), client="nobody", name="nowhere"))
    assert held() == {}
    assert edits() == []


@pytest.mark.usefixtures("records")
def test_striking_keeps_the_row_and_wants_a_reason() -> None:
    row = client()
    add(row)
    with pytest.raises(Refusal, match="reason"), opened() as doing:
        doing.strike(Client, row.id, "  ")
    with opened() as doing:
        doing.strike(Client, row.id, "typed twice")
    assert read.find(Client) == ()
    assert read.one(Client, row.id).struck == "typed twice"


@pytest.mark.usefixtures("records")
def test_changing_what_is_not_there_is_refused_with_a_sentence() -> None:
    with pytest.raises(Refusal, match="not in the records"), opened() as doing:
        doing.change(Client, "no such", name="B")


@pytest.mark.usefixtures("records")
def test_the_clock_never_goes_back_though_the_wall_clock_does() -> None:
    for hours in (0, -2, 3, -50, -50):
        with edit("test", who="x", at=MOMENT + timedelta(hours=hours)) as doing:
            doing.add(client())
    assert broken() == []
    assert replay() == held()


@pytest.mark.usefixtures("records")
def test_the_count_has_no_gap_though_two_threads_write_and_edits_fail() -> None:
    def work() -> None:
        with engine.connection():
            for n in range(15):
                add(client(f"{n}"))
                with pytest.raises(pw.IntegrityError):
                    add(client(), Site(id=new_key(), client="nobody", name="nowhere"))

    threads = [threading.Thread(target=work) for _ in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert [e["count"] for e in edits()] == list(range(1, 31))
    all_hold()


NUMBERS = ("count", "schema", "position")
COLUMNS_HASHED = [
    ("edit", column)
    for column in ("count", "clock", "at", "who", "kind", "schema", "visit", "reverses", "before")
] + [("edit_line", column) for column in ("in_table", "row", "act", "change", "position")]


@pytest.mark.parametrize(("table", "column"), COLUMNS_HASHED)
def test_a_changed_byte_is_found(records: Place, practice: Small, table: str, column: str) -> None:
    assert broken() == []
    key, of = ("count", "edit") if table == "edit" else ("edit", "edit_line")
    picked = f'SELECT "{key}" FROM {of} ORDER BY "{key}" LIMIT 1 OFFSET 3'
    other = f'"{column}" + 7' if column in NUMBERS else f"coalesce(\"{column}\", '') || 'x'"
    with owner(records, table) as say:
        say(f'UPDATE {table} SET "{column}" = {other} WHERE "{key}" = ({picked})')
    assert broken() != []


def test_an_edit_taken_out_is_found(records: Place, practice: Small) -> None:
    with owner(records, "edit") as say:
        say("DELETE FROM edit WHERE count = (SELECT max(count) FROM edit)")
    assert broken() != []


@pytest.mark.usefixtures("records")
def test_every_table_can_be_built_twice_from_its_annotations() -> None:
    rows = one_of_each()
    again = {k.table: sample(k, {t: r.id for t, r in rows.items()}) for k in TABLES}
    add(*rows.values(), *again.values())
    assert len(held()) == 2 * len(TABLES)
