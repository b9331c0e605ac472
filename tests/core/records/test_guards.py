"""What the database refuses: every write that is not the journal's own line of this moment."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import peewee as pw
import pytest

from core.records import engine
from core.records.journal import edit
from core.records.keys import new_key
from core.records.models import JOURNAL, MODELS, database
from core.records.place import Place
from core.records.tables import TABLES, Client
from tests.conftest import MOMENT
from tests.core.records.checks import all_hold, edits, held
from tests.core.records.outside import REFUSALS, program, triggers
from tests.core.records.rows import one_of_each

Model: Any = MODELS["client"]


def sql(statement: str | dict[str, str], *values: object) -> Callable[[str], object]:
    def run(row: str) -> object:
        said = statement if isinstance(statement, str) else statement[engine.kind()]
        return engine.execute(
            said.replace("ROW", row), [new_key() if v is new_key else v for v in values]
        )

    return run


def _own_save(row: str) -> object:
    found = Model.get_by_id(row)
    found.name = "mine"
    return found.save()


def _bulk_update(row: str) -> object:
    found = Model.get_by_id(row)
    found.name = "mine"
    return Model.bulk_update([found], ["name"])


COLUMNS = "id, name, phone, email, address, note"
VALUES = "'x', '', '', '', ''"
WRITES: dict[str, Callable[[str], object]] = {
    "insert": sql(f"INSERT INTO client ({COLUMNS}) VALUES (?, {VALUES})", new_key),
    "insert or replace": sql(
        {
            "sqlite": f"INSERT OR REPLACE INTO client ({COLUMNS}) VALUES ('ROW', {VALUES})",
            "postgresql": "MERGE INTO client USING (SELECT 'ROW' AS key) AS new ON id = new.key "
            "WHEN MATCHED THEN UPDATE SET name = 'x'",
        }
    ),
    "insert or ignore": sql(
        {
            "sqlite": f"INSERT OR IGNORE INTO client ({COLUMNS}) VALUES (?, {VALUES})",
            "postgresql": f"INSERT INTO client ({COLUMNS}) VALUES (?, {VALUES}) "
            "ON CONFLICT DO NOTHING",
        },
        new_key,
    ),
    "upsert": sql(
        f"INSERT INTO client ({COLUMNS}) VALUES ('ROW', {VALUES}) "
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
def row(records: Place) -> str:
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
        # A savepoint: PostgreSQL takes nothing more in a transaction after an error in it.
        with pytest.raises(pw.DatabaseError, match=REFUSED), database.atomic():
            WRITES[write](row)
        doing.change(Client, row, phone="555")
    all_hold()
    assert (
        held()["client", row] | {"name": "through the door", "phone": "555"}
        == held()["client", row]
    )
    assert len(held()) == 1


def test_every_table_has_its_door(records: Place) -> None:
    with program(records) as say:
        found = {name for name, _ in triggers(records, say)}
    for table in (kind.table for kind in TABLES):
        doors = {f"door_{table}_{act}" for act in ("insert", "update", "delete")}
        emptied = {f"kept_{table}_truncate"} if records.file is None else set()
        assert doors | {f"kept_{table}_delete"} | emptied <= found


GROWS: dict[str, dict[str, str]] = {
    "every row": {
        "sqlite": "UPDATE {0} SET rowid = rowid + 100",
        "postgresql": "TRUNCATE {0}",
    },
    "update": {"": "UPDATE {0} SET {1} = 'x'"},
    "delete": {"": "DELETE FROM {0}"},
    "insert": {"": "INSERT INTO {0} SELECT * FROM {0}"},
    "insert or replace": {
        "sqlite": "INSERT OR REPLACE INTO {0} SELECT * FROM {0}",
        "postgresql": "INSERT INTO {0} SELECT * FROM {0} ON CONFLICT DO NOTHING",
    },
    "replace": {
        "sqlite": "REPLACE INTO {0} SELECT * FROM {0}",
        "postgresql": "WITH gone AS (DELETE FROM {0} RETURNING *) INSERT INTO {0} TABLE gone",
    },
}


@pytest.mark.parametrize("table", [m._meta.table_name for m in JOURNAL])
@pytest.mark.parametrize("way", GROWS)
@pytest.mark.parametrize("inside", [False, True])
def test_the_journal_only_grows(table: str, way: str, inside: bool, row: str) -> None:
    statement = GROWS[way].get("") or GROWS[way][engine.kind()]
    done = statement.format(table, "hash" if table == "edit" else "change")
    stood = edits()
    if inside:
        refused = pytest.raises(pw.DatabaseError, match="finrounds:")
        with edit("test", who="x", at=MOMENT), refused, database.atomic():
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
def test_another_program_is_refused(statement: str, row: str, records: Place) -> None:
    stood = held(), edits()
    with program(records) as say:
        with pytest.raises(REFUSALS, match=r"journal_writes|finrounds:"):
            say(statement)
        assert say("SELECT name FROM client") == [("stands",)]
    assert (held(), edits()) == stood


def test_another_program_empties_no_table(records: Place) -> None:
    with edit("test", who="x", at=MOMENT) as doing:
        for one in one_of_each().values():
            doing.add(one)
    stood = held(), edits()
    with program(records) as say:
        for table in [kind.table for kind in TABLES] + [m._meta.table_name for m in JOURNAL]:
            ways = [f"DELETE FROM {table}"]
            if records.file is None:
                ways += [f"TRUNCATE {table} CASCADE", f"COPY {table} FROM PROGRAM 'echo x'"]
            for way in ways:
                with pytest.raises(REFUSALS):
                    say(way)
    assert (held(), edits()) == stood


def test_an_open_edit_lets_no_other_program_in(row: str, records: Place) -> None:
    with edit("test", who="x", at=MOMENT) as doing:
        doing.change(Client, row, name="through the door")
        with program(records) as say:
            say(IMPATIENT[engine.kind()])
            with pytest.raises(REFUSALS, match=r"lock|journal_writes"):
                say(f"UPDATE client SET phone = 'x' WHERE id = '{row}'")
    assert held()["client", row]["phone"] == ""
    all_hold()


IMPATIENT = {"sqlite": "PRAGMA busy_timeout = 50", "postgresql": "SET lock_timeout = 50"}
