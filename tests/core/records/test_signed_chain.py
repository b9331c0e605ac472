"""Signed records stand in a chain: one changed byte of any of them is found and located."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import pytest

from core.practice import sign, signatures
from core.practice.keep import Act
from core.practice.sign import WALKED
from core.records import read
from core.records.engine import query
from core.records.journal import edit
from core.records.keys import new_key
from core.records.migrate import VERSION
from core.records.place import Place
from core.records.signed import closing_tables, names, record_hash, rows_of, signed_rows
from core.records.tables import TABLES, Client, Person, Reading, Row, Signature, StageMark, Visit
from tests.conftest import MOMENT
from tests.core.records.rows import one_of_each, sample
from tests.core.records.tamper import Below, below, one_byte

LEFT_OUT = {"signature", "proposed", "hold", "access_mark"}


@dataclass(frozen=True)
class Signed:
    """Three visits signed one after another on this device, each with a row of every table."""

    visits: list[str]
    vet: str


@pytest.fixture
def signed(records: Place) -> Signed:
    return make()


def make(count: int = 3, schema: int = VERSION) -> Signed:
    """Sign visits that have a row of every table there was under a schema number."""
    visits = []
    for number in range(count):
        rows = one_of_each(full=True)
        person = sample(Person, {}, id=rows["person"].id, name="Vera Moss", role="veterinarian")
        client = sample(Client, {}, id=rows["client"].id, name=f"Client {number}", address="x")
        state = replace(rows["problem_state"], state="suspected")
        rows |= {"person": person, "client": client, "problem_state": state}
        with edit("test", who="setup", at=MOMENT) as doing:
            for row in rows.values():
                if row.table not in LEFT_OUT and row.brought_by <= schema:
                    doing.add(row)
            for stage in WALKED:
                doing.add(StageMark(id=new_key(), visit=rows["visit"].id, stage=stage,
                                    state="done"))  # fmt: skip
        sign.sign(Act(rows["person"].id, MOMENT), rows["visit"].id)
        visits.append(rows["visit"].id)
    return Signed(visits, person.id)


def test_each_signature_carries_the_hash_of_the_one_before(signed: Signed) -> None:
    links = read.find(Signature, order="count")
    assert [link.count for link in links] == [1, 2, 3]
    assert [link.visit for link in links] == signed.visits
    assert [link.before for link in links] == ["", links[0].chain, links[1].chain]
    assert len({link.device for link in links}) == 1
    for link in links:
        visit = read.one(Visit, link.visit)
        assert link.record_hash == visit.sign_hash == record_hash(visit.id)
        assert (link.by, link.at) == (visit.signed_by, visit.signed_at)
    [(_, kinds)] = query(
        'SELECT e."id", count(*) FROM "edit" e JOIN "edit_line" l ON l."edit" = e."id" '
        "WHERE e.\"kind\" = 'sign' AND e.\"visit\" = ? AND l.\"in_table\" IN ('visit', 'signature')"
        ' GROUP BY e."id"',
        (signed.visits[0],),
    )
    assert kinds == 2, "the signature and its link are one edit"
    assert signatures.check() == []
    shown = signatures.link(signed.visits[1])
    assert shown is not None
    assert shown.short == links[1].chain[:12]
    assert shown.words.startswith(f"{links[1].chain[:12]}, record 2 signed on device ")


def test_every_table_that_closes_with_the_visit_is_in_the_signed_record(signed: Signed) -> None:
    closing = {kind.table for kind in TABLES if kind.closing == "visit"}
    assert {table for table, _ in signed_rows(signed.visits[0])} == closing


def test_one_changed_byte_anywhere_is_found_and_located(records: Place) -> None:
    """Every column of every table that closes with the visit.

    On SQLite one after another, each on its own; over the longer way to PostgreSQL the columns
    of a row together, those aside by which it is found, and each must be named.
    """
    tried, [visit] = 0, make(1).visits
    alone = records.file is not None
    with below(records) as run:
        for kind in (*closing_tables(), Visit):
            key = "id" if kind is Visit else "visit"
            row = rows_of(kind, **{key: visit})[0]
            filled = [n for n in names(kind.table) if row[n] is not None and (kind, n) != VISIT_ID]
            keys = [n for n in filled if alone or n in ("id", "visit")]
            rest = [n for n in filled if n not in keys]
            for columns in (*([n] for n in keys), *([rest] if rest else [])):
                change(run, kind, row, columns)
            tried += len(filled)
    assert tried > 150
    assert signatures.check() == []


VISIT_ID = (Visit, "id")


def change(run: Below, kind: type[Row], row: dict[str, Any], columns: list[str]) -> None:
    """Change a byte in each of some columns, look what is found, and put all of them back."""
    new = {column: one_byte(row[column]) for column in columns}
    sets = ", ".join(f'"{column}" = ?' for column in columns)
    sql = f'UPDATE "{kind.table}" SET {sets} WHERE "id" = ?'
    run(sql, *new.values(), row["id"])
    found = signatures.check()
    run(sql, *(row[column] for column in columns), new.get("id", row["id"]))
    where = f"{kind.table} {row['id']}"
    for column in columns:
        old, now = row[column], new[column]
        assert any(
            f"{where}, {column}: it holds {now!r}, the journal says {old!r}"[:80] in line
            or f"visit, {column}: it holds {now}, the signature says {old}" in line
            or (column == "id" and f"{where} is gone" in line)
            or (column == "state" and "the visit says it is not" in line)
            for line in found
        ), f"{where}, {column}: {found}"
    assert all("link 1 of device" in line or "Chain" in line for line in found), found
    assert kind is Visit or all("Visit of Client 0 on 2026-11-25" in line for line in found)


def test_a_row_put_in_taken_out_or_moved_is_located(records: Place, signed: Signed) -> None:
    mine = read.find(Reading, visit=signed.visits[0])[0]
    columns = ", ".join(f'"{name}"' for name in names("reading") if name != "id")
    copy = f'INSERT INTO "reading" ("id", {columns}) SELECT \'put in\', {columns} FROM "reading"'
    tries = [
        (copy + ' WHERE "id" = ?', (mine.id,), "reading put in was put there beside the journal"),
        ('UPDATE "reading" SET "id" = \'away\' WHERE "id" = \'put in\'', (), "reading away was"),
        ('DELETE FROM "reading" WHERE "id" = \'away\'', (), ""),
        (
            'UPDATE "reading" SET "visit" = ? WHERE "id" = ?',
            (signed.visits[2], mine.id),
            f"reading {mine.id}, visit: it holds '{signed.visits[2]}'",
        ),
        ('DELETE FROM "reading" WHERE "id" = ?', (mine.id,), f"reading {mine.id} is gone"),
    ]
    with below(records) as run:
        for sql, values, expected in tries:
            run(sql, *values)
            found = signatures.check()
            assert any(expected in line for line in found) if expected else found == [], found


def test_who_changes_the_journal_too_is_located_by_its_hash(records: Place, signed: Signed) -> None:
    mine = read.find(Reading, visit=signed.visits[0])[0]
    with below(records) as run:
        run('UPDATE "reading" SET "typed" = ? WHERE "id" = ?', "9.9", mine.id)
        run(
            'UPDATE "edit_line" SET "change" = replace("change", ?, ?) WHERE "row" = ?',
            '"typed":[null,"some words, é"]',
            '"typed":[null,"9.9"]',
            mine.id,
        )
    [found] = signatures.check()
    assert found.startswith("Visit of Client 0 on 2026-11-25 (link 1 of device ")
    assert f"reading {mine.id}" in found
    assert "was changed in the journal too (edit 1 of device " in found


def test_a_changed_missing_or_struck_link_is_named(records: Place, signed: Signed) -> None:
    links = {link.count: link for link in read.find(Signature)}

    def found(sql: str, *values: Any) -> str:
        run(sql, *values)
        return "\n".join(signatures.check())

    with below(records) as run:
        for column in ("record_hash", "before", "by", "at", "chain"):
            old = rows_of(Signature, id=links[2].id)[0][column]
            set_it = f'UPDATE "signature" SET "{column}" = ? WHERE "id" = ?'
            said = found(set_it, one_byte(old), links[2].id)
            assert ", link 2: the link itself was changed (Visit of Client 1" in said
            assert (", link 3: it does not follow on" in said) == (column == "chain")
            run(set_it, old, links[2].id)
        said = found('UPDATE "signature" SET "struck" = ? WHERE "id" = ?', "no", links[2].id)
        assert ", link 2: it was struck" in said
        run('UPDATE "signature" SET "struck" = NULL')
        assert signatures.check() == []
        said = found('DELETE FROM "signature" WHERE "id" = ?', links[2].id)
        assert ", link 3: link 2 is missing before it." in said
        assert "Client 1 on 2026-11-25: it was signed, and no signature for it stands" in said
        said = found('DELETE FROM "signature" WHERE "id" = ?', links[3].id)
        assert f"signature {links[3].id}, which the journal has, is gone" in said
        assert "Client 2 on 2026-11-25: it was signed, and no signature for it stands" in said


def test_a_record_whose_signature_was_taken_off_is_named(records: Place, signed: Signed) -> None:
    with below(records) as run:
        run('UPDATE "visit" SET "state" = \'open\', "signed_at" = NULL, "sign_hash" = NULL')
    said = [line for line in signatures.check() if "the visit says it is not" in line]
    assert len(said) == 3


def test_a_record_signed_before_there_were_chains_is_checked_by_its_own_hash(
    records: Place,
) -> None:
    visit = make(schema=1).visits[2]
    mine = read.find(Reading, visit=visit)[0]
    with below(records) as run:
        run('DELETE FROM "signature" WHERE "visit" = ?', visit)
        run("DELETE FROM \"edit_line\" WHERE \"in_table\" = 'signature' AND \"row\" NOT IN "
            '(SELECT "id" FROM "signature")')  # fmt: skip
        run('UPDATE "edit" SET "schema" = 1 WHERE "visit" = ?', visit)
        assert signatures.check() == []
        assert signatures.link(visit) is None
        run('UPDATE "reading" SET "value" = 99.5 WHERE "id" = ?', mine.id)
    [found] = signatures.check()
    assert f"Client 2 on 2026-11-25: reading {mine.id}, value: it holds 99.5" in found


def test_a_byte_that_is_no_text_any_more_is_located_too(tmp_path: Any) -> None:
    """SQLite keeps any byte; PostgreSQL itself refuses what is no text."""
    from core.records.place import place_of
    from tests.servers import opened

    with opened(place_of(tmp_path / "practice.db")) as place:
        visit = make().visits[0]
        mine = read.find(Reading, visit=visit)[0]
        with below(place) as run:
            run('UPDATE "reading" SET "typed" = CAST(? AS TEXT) WHERE "id" = ?', b"7\xff6", mine.id)
        [found] = signatures.check()
        assert f"reading {mine.id}, typed: it holds" in found
