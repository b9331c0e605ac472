"""What changed, told of the finished demonstration: words of people, never of the database."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from importlib import resources
from unittest.mock import patch

import pytest

from core.practice import changed, undo
from core.practice.changed import Changed
from core.practice.record_words import HIDDEN, leads_to, words
from core.records import engine, read
from core.records.engine import query
from core.records.models import ROWS, columns
from core.records.tables import Client, Person, Visit
from tests.demo.conftest import D, Demo

ID = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}")
MADE_UP = re.compile(r"\b[a-z0-9]+(?:_[a-z0-9]+)+\b")
"""A word with an underscore: nobody writes so but a programmer."""
SHOWS = {"name", "kind", "unit", "row"}
SPECIAL = {"minor", "sign", "subject", "question", "answer", "reading", "place", "got"}
SPECIAL |= {"normal", "hundred", HIDDEN}


def catalogue_keys() -> set[str]:
    """Return every key of the catalogue that no person would write."""
    found: set[str] = set()

    def walk(node: object) -> None:
        if isinstance(node, dict):
            for key, value in node.items():
                found.add(key)
                walk(value)

    for file in resources.files("core.catalogue").iterdir():
        if file.name.endswith(".toml"):
            walk(tomllib.loads(file.read_text("utf-8")))
    return {key for key in found if "_" in key or re.search(r"[a-z]-[a-z]+-?", key)}


def every_story() -> Iterator[Changed]:
    for visit in read.find(Visit, struck=True):
        yield changed.of_visit(visit.id, most=10_000)
    for client in read.find(Client):
        yield changed.of_client(client.id, most=10_000)


def test_every_table_and_every_column_has_its_word() -> None:
    known = words()
    assert set(known) == set(ROWS)
    for table, told in known.items():
        names = set(columns(table))
        assert set(told.columns) == names, table
        assert set(told.show) <= names, table
        assert set(told.told_by) <= set(ROWS)
        assert told.main in ("", *names)
        asked = set(re.findall(r"\{(\w+)\}", told.one + told.added + told.changed))
        assert asked <= names, table
        assert not [c for c in asked if told.hides(c)], table
        assert set(leads_to(table).values()) <= set(ROWS)
        for how in told.show.values():
            assert how in SPECIAL or how.partition(":")[0] in SHOWS, how


def test_no_id_no_key_and_no_none_is_in_any_sentence(demo: Demo) -> None:
    keys = catalogue_keys()
    assert {"gill_flukes", "koi_pond", "tricaine-sedation"} <= keys
    said = [one.words for story in every_story() for one in story.said]
    assert len(said) > 1500
    for sentence in said:
        assert not ID.search(sentence), sentence
        assert not MADE_UP.search(sentence), sentence
        assert "None" not in sentence, sentence
        found = set(re.findall(r"[a-z0-9_-]+", sentence)) & keys
        assert not found, (found, sentence)
        assert "  " not in sentence
        assert not sentence.endswith((": ", ", ", ":", ","))


def test_every_edit_of_a_visit_is_told_once(demo: Demo) -> None:
    visit = demo.visit("a3")
    told = [one.edit for one in changed.of_visit(visit, most=10_000).said]
    there = {e for (e,) in query('SELECT "id" FROM "edit" WHERE "visit" = ?', (visit,))}
    assert len(told) == len(set(told))
    assert there <= set(told)


def test_a_story_reads_as_people_speak(demo: Demo) -> None:
    text = changed.of_visit(demo.visit("a3"), most=10_000).text(D)
    head, *_ = text.split(": ")
    assert head == "Wed 25 Nov, Marlo Tregg"
    for part in (
        "pH here from 8.2 to 8",
        "problem Filter not ripe, or set back: confirmed",
        "Biscuit: weight 238 g, taken as weighed",
        "given here: ceftazidime, injection IM, 20 mg/kg, 0.19 mL",
        "the visit of 25 Nov from open to signed",
        "dispensed: praziquantel",
        "USD",
    ):
        assert part in text


def test_it_takes_as_many_statements_for_one_edit_as_for_many(demo: Demo) -> None:
    client = read.one(Visit, demo.visit("a3")).client
    counts = []
    for most in (20, 10_000):
        with patch.object(engine, "execute", wraps=engine.execute) as asked:
            changed.of_client(client, most=most)
        counts.append(asked.call_count)
    assert counts[1] <= 2 * len(ROWS)
    assert counts[1] <= counts[0] + len(ROWS)


def test_pages_follow_on_each_other(demo: Demo) -> None:
    client = read.one(Visit, demo.visit("a3")).client
    whole = [one.edit for one in changed.of_client(client, most=10_000).said]
    found: list[str] = []
    before = ""
    while True:
        page = changed.of_client(client, before, most=30)
        found += [one.edit for one in page.said]
        before = page.before
        if not before:
            break
    assert found == whole


def test_the_last_acts_of_a_person_are_twenty_in_words(demo: Demo) -> None:
    vet = next(p for p in read.find(Person) if p.name == "Marlo Tregg")
    acts = undo.last(vet.id)
    assert len(acts) == undo.MOST
    assert all(one.words and not one.taken_back for one in acts)
    here = undo.last(vet.id, demo.visit("a3"), most=3)
    assert {one.visit for one in here} == {demo.visit("a3")}
    assert [one.words for one in changed.of_person(vet.id, most=3).said] == [
        one.words for one in acts[:3]
    ]


@pytest.mark.parametrize("table", ["visit", "reading"])
def test_the_story_of_one_row(demo: Demo, table: str) -> None:
    [(row,)] = query(f'SELECT max("id") FROM "{table}"')
    story = changed.of_row(table, row)
    assert story.said
    assert not story.before
