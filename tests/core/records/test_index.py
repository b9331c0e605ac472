"""The search index: what it finds, that it follows the rows, and that nothing typed can harm it."""

from __future__ import annotations

import random
from collections.abc import Iterable
from dataclasses import replace

import peewee as pw
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from core.practice import setup
from core.practice.keep import Act
from core.records import engine, index
from core.records.engine import execute, query
from core.records.fields import NOT_TEXT
from core.records.index import Hit
from core.records.index_documents import Document, document
from core.records.journal import edit
from core.records.keys import new_key
from core.records.models import database
from core.records.tables import Client, FishGroup, Invoice, Problem, Row, Site, System
from tests import slips
from tests.conftest import MOMENT
from tests.small import Small

pytestmark = pytest.mark.usefixtures("records")
ACT = Act("setup", MOMENT)


def add(*rows: Row) -> None:
    with edit("test", who="setup", at=MOMENT) as doing:
        for row in rows:
            doing.add(row)


def client(name: str, **more: str) -> str:
    return setup.add_client(ACT, name, **more)


def change(kind: type[Row], row: str, **columns: object) -> None:
    with edit("test", who="setup", at=MOMENT) as doing:
        doing.change(kind, row, **columns)


def rows(text: str) -> list[str]:
    return [hit.row for hit in index.search(text)]


def finds(text: str, row: str) -> bool:
    return row in rows(text)


def invented() -> dict[str, str]:
    """Make a few clients with names near each other; return their ids by name."""
    names = ("Odile Fennimar", "Otto Fennimore", "Zoë O'Dwyer-Ærø", "Jörg Müller", "Li Ng")
    return {
        name: client(
            name, phone=f"0770 090 01{n}3", email=f"m{n}@pond.example", address=f"{n} Weir"
        )
        for n, name in enumerate(names)
    }


def test_two_letters_find_and_one_does_not() -> None:
    made = invented()
    assert rows("fe") == [made["Odile Fennimar"], made["Otto Fennimore"]]
    assert rows("Ng") == [made["Li Ng"]]
    assert rows("f") == rows("") == rows(" \t\n") == []


MEANT = (
    ("fennimar", "Odile Fennimar"),
    ("FENNIMAR odile", "Odile Fennimar"),
    ("odile weir", "Odile Fennimar"),
    ("fenniamr", "Odile Fennimar"),
    ("fenimar", "Odile Fennimar"),
    ("fennnimar", "Odile Fennimar"),
    ("fennimsr", "Odile Fennimar"),
    ("efnnimar", "Odile Fennimar"),
    ("odlie fenimar", "Odile Fennimar"),
    ("fenimo", "Otto Fennimore"),
    ("muller", "Jörg Müller"),
    ("mueller jorg", "Jörg Müller"),
    ("MÜLLER", "Jörg Müller"),
    ("zoe", "Zoë O'Dwyer-Ærø"),
    ("o’dwyer", "Zoë O'Dwyer-Ærø"),
    ("odwyer", "Zoë O'Dwyer-Ærø"),
    ("o dwyer", "Zoë O'Dwyer-Ærø"),
    ("dwyer-aero", "Zoë O'Dwyer-Ærø"),
    ("m3@pond.example", "Jörg Müller"),
    ("li ngg", "Li Ng"),
)


def test_slips_and_accents_are_forgiven() -> None:
    made = invented()
    wrong = [(typed, meant) for typed, meant in MEANT if rows(typed)[:1] != [made[meant]]]
    assert wrong == []


WRITTEN = ("07700 900123", "+44 7700 900-124", "0044 (0)7700.900.125")
FORMS = (
    *("0770090012{}", "+44 7700 90012{}", "+44770090012{}", "0044 7700 90012{}", "90012{}"),
    *("+44 (0)7700 90012{}", "07700.900.12{}", "7700-900-12{}", "900 12{}", "012{}", "tel 90012{}"),
    *("٠٧٧٠٠ ٩٠٠١٢{}", "Fennimar 90012{}"),
)


def test_digits_find_a_phone_in_any_form() -> None:
    client("Other", phone="07700 911129")
    made = [client("Tel Fennimar", phone=written) for written in WRITTEN]
    for form in FORMS:
        found = [rows(form.format(last))[:1] for last in (3, 4, 5)]
        assert found == [[row] for row in made], form
    assert set(made) <= set(rows("7700 90"))


def test_what_is_found_leads_to_client_and_visit(practice: Small) -> None:
    small, problem, invoice = practice, new_key(), new_key()
    change(FishGroup, small.group, name="Splash", tag="K-0012")
    add(
        Problem(
            id=problem,
            visit=small.visit,
            client=small.client,
            system=small.system,
            problem="low_oxygen",
            words="gasping at dawn",
        ),
        Invoice(
            id=invoice,
            visit=small.visit,
            client=small.client,
            number="2026-0042",
            day=MOMENT.date(),
            net_minor=1,
            tax_minor=0,
            gross_minor=1,
            by=small.vet,
            at=MOMENT,
        ),
    )

    def hit(text: str) -> Hit:
        return replace(index.search(text)[0], likeness=1.0)

    assert hit("clara") == Hit("client", small.client, small.client, "", 1.0)
    assert hit("home") == Hit("site", small.site, small.client, "", 1.0)
    for text in ("splash", "k-0012", "koi"):
        assert hit(text) == Hit("fish_group", small.group, small.client, "", 1.0)
    for text in ("gasping", "low oxygen"):
        assert hit(text) == Hit("problem", problem, small.client, small.visit, 1.0)
    for text in ("2026-0042", "20260042", "0042", "42"):
        assert hit(text) == Hit("invoice", invoice, small.client, small.visit, 1.0)
    assert index.check() == []


def test_a_name_of_the_catalogue_finds_what_bears_its_key(practice: Small) -> None:
    named = (("koi", "Nishikigoi"), ("goldfish", "long body"))
    for text in ("nishikigoi", "nishikogi", "nish", "clara nish"):
        hits = index.search(text, named=named)
        assert practice.group in [hit.row for hit in hits] or "clara" in text
    assert index.search("body", named=named) == ()


def test_the_index_follows_every_edit(practice: Small) -> None:
    one = client("Odile Fennimar", phone="555 0101")
    assert finds("fennimar", one)
    change(Client, one, name="Odile Marsh")
    assert not finds("fennimar", one)
    assert not finds("fenimar", one)
    assert finds("odile mrash", one)
    change(Client, one, note="has a dog")
    change(Client, one, struck="made twice")
    assert rows("odile marsh") == []
    assert query('SELECT count(*) FROM "search_slip" WHERE "word" = ?', ("odile",)) == [(0,)]
    change(Client, one, struck=None)
    assert finds("odile", one)
    assert index.check() == []


def test_a_word_stays_while_another_has_it() -> None:
    one, other = client("Odile Marsh"), client("Odile Reed")
    change(Client, one, struck="made twice")
    assert rows("oidle") == [other]
    assert index.check() == []


def test_fish_follow_their_water_to_another_owner(practice: Small) -> None:
    other = client("Odile Fennimar")
    site = setup.add_site(ACT, other, "farm")

    def owner() -> str:
        return next(h.client for h in index.search("koi") if h.row == practice.group)

    change(System, practice.system, site=site)
    assert owner() == other
    change(Site, site, client=practice.client)
    assert owner() == practice.client
    assert index.check() == []


def test_an_edit_that_is_not_kept_leaves_no_trace() -> None:
    made = invented()
    before = held()
    with pytest.raises(ZeroDivisionError):
        _begin_and_fail(made["Li Ng"])
    assert held() == before
    assert index.check() == []


def _begin_and_fail(row: str) -> None:
    with database.atomic():
        client("Nobody Atall")
        change(Client, row, name="Changed")
        assert rows("nobody")
        raise ZeroDivisionError


def held() -> list[list[object]]:
    tables = {"search_document": '"row", "words", "client"', "search_slip": '"slip", "word"'}
    return [sorted(query(f'SELECT {names} FROM "{t}"')) for t, names in tables.items()]


def test_an_edit_of_other_tables_asks_the_database_nothing(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    asked: list[str] = []
    monkeypatch.setattr(database.obj, "execute_sql", lambda sql, *_, **__: asked.append(sql))
    lines = [("reading", new_key(), "add", "{}"), ("system", new_key(), "change", '{"name":[1,2]}')]
    index.follow([*lines, ("site_mark", new_key(), "change", '{"site":[1,2]}')])
    assert asked == []


def test_made_anew_it_is_what_it_was(practice: Small) -> None:
    invented()
    before = held()
    with database.atomic():
        index.rebuild()
    assert held() == before
    assert index.check() == []


SPOILT = {
    "gone": 'DELETE FROM "search_document" WHERE "name" = \'li ng\'',
    "other": 'UPDATE "search_document" SET "rest" = \'x\' WHERE "name" = \'li ng\'',
    "slip": 'DELETE FROM "search_slip" WHERE "word" = \'fennimar\'',
    "more": "INSERT INTO \"search_slip\" VALUES ('zzz', 'zzzz')",
}


def test_what_is_spoilt_is_found() -> None:
    invented()
    for how, spoil in SPOILT.items():
        assert index.check() == []
        with database.atomic():
            execute(spoil)
        assert len(index.check()) == 1, how
        with database.atomic():
            index.rebuild()
    assert index.check() == []


def test_damaged_words_are_found_unless_the_records_are_only_read() -> None:
    invented()
    if engine.kind() == "postgresql":
        # The database makes them from the documents itself, and lets nobody else do so.
        with pytest.raises(pw.DatabaseError, match="vector"):
            execute('UPDATE "search_document" SET "vector" = NULL')
        return
    execute('INSERT INTO "search_text" ("rowid", "words") VALUES (99, \'nobody\')')
    assert ["damaged" in told for told in index.check()] == [True]
    execute("PRAGMA query_only = 1")
    assert index.check() == []
    execute("PRAGMA query_only = 0")
    with database.atomic():
        index.rebuild()
    assert index.check() == []


def test_a_document_of_no_row_is_found() -> None:
    index.fill(iter([document("client", "nobody", "nobody", "", "Nobody", "")]))
    assert index.check() == [
        "The index has client nobody, which does not count.",
        "The index has the wrong slips for the word nobody.",
    ]


def test_the_order_does_not_hang_on_the_order_of_making() -> None:
    names = ["Ann Reed", "Anna Reed", "Anne Reed", "Annabel Reed", "Reed Ann", "Hanna Reeds"]
    made = {name: new_key() for name in names}
    found = set()
    for seed in range(3):
        execute('DELETE FROM "search_document"')
        order = random.Random(seed).sample(names, len(names))
        index.fill(document("client", made[n], made[n], "", n, "") for n in order)
        by_id = {row: name for name, row in made.items()}
        found.add(tuple(by_id[row] for row in rows("ann reed")))
    assert found == {
        ("Ann Reed", "Reed Ann", "Anna Reed", "Anne Reed", "Annabel Reed"),
    }


HOSTILE = (
    *('"', "'", "\\", "*", "''", '"" OR ""', "fen*", "^fen", "name:fen", "-fen", "+", "(", "{a b}"),
    *("AND", "OR NOT", "NEAR(a b, 2)", "fen AND", "a & b", "a | !b", "a <-> b", "fen:*", "a:*B"),
    *("'; DROP TABLE client; --", "' OR '1'='1", "x') UNION SELECT 1 --", "?", "%s %(a)s", "$1"),
    *("fen\x00nimar", "\x1b[31mfen\x1b[0m", "\x1b]0;title\x07", "\u202efen", "\ud800", "\ufeff"),
    *("=koi", "==", "_", "fen\r\nnimar", "𝔉𝔢𝔫", "е́", "李", "٣٤", "½", "ﬁ", "İ", "ß" * 50),
    *("0" * 400, "+", "+ (", "1" * 30 + " 2", "a " * 300, "f" * 1_000_000, "fen " * 250_000),
)


def test_nothing_typed_is_read_as_anything_but_words() -> None:
    made = invented()
    for typed in HOSTILE:
        assert set(rows(typed)) <= set(made.values()), repr(typed[:20])
    assert query('SELECT count(*) FROM "client"') == [(len(made),)]
    assert index.check() == []


def test_hostile_names_are_held_and_found() -> None:
    # What the door takes: control characters are refused before they come here.
    names = [NOT_TEXT.sub("", text) or "x" for text in HOSTILE]
    for text in names:
        client(f"Quill {text[:2500]}", address=text[:2500], phone=text[:2500])
    assert len(index.search("quill", most=100)) == len(names)
    assert len(index.search("quill drop")) >= 1
    assert index.check() == []


@given(st.text(max_size=60))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_text_gives_an_answer(text: str) -> None:
    assert index.search(text) == index.search(text)


LEAST_FOUND = 0.95
FIRST = 5


def documents_of(known: Iterable[slips.Someone]) -> Iterable[Document]:
    for one in known:
        row = one.client
        rest = f"{row.email} {row.address}"
        yield document("client", row.id, row.id, "", row.name, rest, row.phone)


def test_of_50_000_clients_the_one_meant_is_among_the_first_five() -> None:
    """How long one key takes is measured in `tests/bench/find.py`."""
    known = slips.people(50_000)
    with database.atomic():
        index.fill(iter(documents_of(known)))
    if engine.kind() == "postgresql":
        execute("ANALYZE")
    asked = slips.made(known, 200)
    found = [(kind, meant in rows(text)[:FIRST]) for kind, text, meant in asked]
    shares = slips.shares(found)
    print(", ".join(f"{kind} {share:.1%}" for kind, share in shares.items()))
    assert len(found) == 200
    assert set(shares) == {"all", *slips.SLIPS}
    assert shares["all"] >= LEAST_FOUND
    assert all(share >= LEAST_FOUND - 0.05 for share in shares.values())
