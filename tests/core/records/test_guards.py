"""What the database refuses: every write that is not the journal's own line of this moment."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from pathlib import Path
from typing import Any

import peewee as pw
import pytest

from core.records.engine import query
from core.records.journal import edit
from core.records.keys import new_key
from core.records.models import JOURNAL, MODELS, database
from core.records.tables import TABLES, Client
from tests.conftest import MOMENT
from tests.core.records.checks import all_hold, edits, held

Model: Any = MODELS["client"]


def sql(statement: str, *values: object) -> Callable[[str], object]:
    return lambda row: database.execute_sql(
        statement.replace("ROW", row), [new_key() if v is new_key else v for v in values]
    )


def _own_save(row: str) -> object:
    found = Model.get_by_id(row)
    found.name = "mine"
    return found.save()


def _bulk_update(row: str) -> object:
    found = Model.get_by_id(row)
    found.name = "mine"
    return Model.bulk_update([found], ["name"])


COLUMNS = "id, name, phone, email, address, note"
WRITES: dict[str, Callable[[str], object]] = {
    "insert": sql(f"INSERT INTO client ({COLUMNS}) VALUES (?, 'x', '', '', '', '')", new_key),
    "insert or replace": sql(
        f"INSERT OR REPLACE INTO client ({COLUMNS}) VALUES ('ROW', 'x', '', '', '', '')"
    ),
    "insert or ignore": sql(
        f"INSERT OR IGNORE INTO client ({COLUMNS}) VALUES (?, 'x', '', '', '', '')", new_key
    ),
    "upsert": sql(
        f"INSERT INTO client ({COLUMNS}) VALUES ('ROW', 'x', '', '', '', '') "
        "ON CONFLICT (id) DO UPDATE SET name = 'x'"
    ),
    "insert from select": sql(
        f"INSERT INTO client ({COLUMNS}) SELECT 'k', name, '', '', '', '' FROM client"
    ),
    "update": sql("UPDATE client SET name = 'x'"),
    "update one": sql("UPDATE client SET name = 'x' WHERE id = 'ROW'"),
    "update the key": sql("UPDATE client SET id = 'other' WHERE id = 'ROW'"),
    "strike beside": sql("UPDATE client SET struck = 'x' WHERE id = 'ROW'"),
    "delete": sql("DELETE FROM client WHERE id = 'ROW'"),
    "delete all": sql("DELETE FROM client"),
    "model create": lambda _: Model.create(id=new_key(), name="x", **_empty()),
    "model save": lambda _: Model(id=new_key(), name="x", **_empty()).save(force_insert=True),
    "model save of a row": _own_save,
    "model update": lambda row: Model.update(name="x").where(Model.id == row).execute(),
    "model set by id": lambda row: Model.set_by_id(row, {"name": "x"}),
    "model insert many": lambda _: Model.insert_many(
        [{"id": new_key(), "name": n, **_empty()} for n in "xy"]
    ).execute(),
    "bulk create": lambda _: Model.bulk_create([Model(id=new_key(), name="x", **_empty())]),
    "bulk update": _bulk_update,
    "model delete": lambda row: Model.delete().where(Model.id == row).execute(),
    "delete instance": lambda row: Model.get_by_id(row).delete_instance(),
}


def _empty() -> dict[str, str]:
    return dict.fromkeys(("phone", "email", "address", "note"), "")


@pytest.fixture
def row(records: Path) -> str:
    found = Client(id=new_key(), name="stands")
    with edit("test", who="x", at=MOMENT) as doing:
        doing.add(found)
    return found.id


REFUSED = r"beside the journal|never deleted"


@pytest.mark.parametrize("write", WRITES)
def test_a_write_outside_an_edit_is_refused(write: str, row: str) -> None:
    stood = held(), edits()
    with pytest.raises(pw.DatabaseError, match=REFUSED):
        WRITES[write](row)
    assert (held(), edits()) == stood


@pytest.mark.parametrize("write", WRITES)
def test_a_write_inside_an_edit_is_refused_and_the_edit_goes_on(write: str, row: str) -> None:
    with edit("test", who="x", at=MOMENT) as doing:
        doing.change(Client, row, name="through the door")
        with pytest.raises(pw.DatabaseError, match=REFUSED):
            WRITES[write](row)
        doing.change(Client, row, phone="555")
    all_hold()
    assert (
        held()["client", row] | {"name": "through the door", "phone": "555"}
        == held()["client", row]
    )
    assert len(held()) == 1


@pytest.mark.parametrize("kind", TABLES, ids=lambda kind: kind.table)
def test_every_table_has_its_door(kind: type, records: Path) -> None:
    found = query(
        "SELECT name FROM sqlite_master WHERE type='trigger' AND tbl_name=?", (kind.table,)
    )
    names = {name for (name,) in found}
    doors = {f"door_{kind.table}_{act}" for act in ("insert", "update", "delete")}
    assert doors | {f"kept_{kind.table}_delete"} <= names


@pytest.mark.parametrize("table", [m._meta.table_name for m in JOURNAL])
@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE {0} SET rowid = rowid + 100",
        "UPDATE {0} SET {1} = 'x'",
        "DELETE FROM {0}",
        "INSERT INTO {0} SELECT * FROM {0}",
        "INSERT OR REPLACE INTO {0} SELECT * FROM {0}",
        "REPLACE INTO {0} SELECT * FROM {0}",
    ],
)
@pytest.mark.parametrize("inside", [False, True])
def test_the_journal_only_grows(table: str, statement: str, inside: bool, row: str) -> None:
    done = statement.format(table, "hash" if table == "edit" else "change")
    stood = edits()
    if inside:
        with edit("test", who="x", at=MOMENT), pytest.raises(pw.DatabaseError, match="finrounds:"):
            database.execute_sql(done)
    else:
        with pytest.raises(pw.DatabaseError, match="finrounds:"):
            database.execute_sql(done)
    assert edits() == stood
    all_hold()


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE client SET name = 'x'",
        "DELETE FROM client",
        "INSERT INTO client (id, name, phone, email, address, note) VALUES ('k','x','','','','')",
        "UPDATE edit SET who = 'me'",
        "DELETE FROM edit_line",
        "INSERT INTO edit_line SELECT * FROM edit_line",
    ],
)
def test_another_program_is_refused(statement: str, row: str, records: Path) -> None:
    stood = held(), edits()
    other = sqlite3.connect(records)
    try:
        with pytest.raises(sqlite3.Error, match=r"journal_writes|finrounds:"):
            other.execute(statement)
        assert other.execute("SELECT name FROM client").fetchall() == [("stands",)]
    finally:
        other.close()
    assert (held(), edits()) == stood
