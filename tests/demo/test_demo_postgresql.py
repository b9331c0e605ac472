"""The demonstration made on PostgreSQL tells the same, word for word, as the one in a file."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from core.practice import (
    arrival,
    changed,
    charges,
    copy,
    day,
    day_set,
    diary,
    feeding_view,
    find,
    history,
    paperwork,
    plan,
    problem_list,
    record_paper,
    stock,
    visits,
    water,
)
from core.records import exchange, read
from core.records.place import Place, place_of
from core.records.tables import Visit
from tests.core.records.checks import all_hold
from tests.demo.conftest import D, Demo, finish
from tests.servers import Server, opened

KEY = re.compile(
    r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}|\b20\d{6}-[0-9a-f]{4}"
    r"|[0-9a-f]{64}|(?<=-)[0-9a-f]{12}(?=\.pdf)|(?<=chain=')[0-9a-f]{12}|(?<=device )[0-9a-f]{8}"
)
"""Keys of rows and machines, hashes, and what numbers and names of files have of them."""
Told = dict[str, str]


@pytest.fixture(scope="module")
def told(finished_files: Demo) -> Told:
    with opened(finished_files.file):
        return views()


def test_made_there_every_view_says_the_same(
    server: Server, told: Told, finished_files: Demo
) -> None:
    place = server.records()
    finish(place)
    with opened(place):
        there = views()
        all_hold()
    server.drop(place)
    for name, words in told.items():
        assert without_keys(there[name]) == without_keys(words), name
    assert len(told) > 80


@pytest.fixture
def copied(server: Server, finished_files: Demo) -> Iterator[Place]:
    place = server.new()
    made = copy.copy(place_of(finished_files.file), place, lambda words: None)
    assert made.papers > 20
    assert "equal" in made.text
    yield place
    server.drop(place)


def test_carried_there_every_view_says_the_same_with_the_same_keys(
    copied: Place, told: Told, finished_files: Demo
) -> None:
    with opened(finished_files.file):
        stood = exchange.state()
    with opened(copied):
        assert exchange.state() == stood
        assert views() == told
        all_hold()
    there = {p.relative_to(copied.papers): p.read_bytes() for p in files(copied.papers)}
    here = finished_files.file.parent / "papers"
    assert there == {p.relative_to(here): p.read_bytes() for p in files(here)}


def files(folder: Path) -> list[Path]:
    return [path for path in folder.rglob("*") if path.is_file()]


def without_keys(words: str) -> str:
    """Put a number, in the order in which they come, in the place of each key of a row."""
    seen: dict[str, str] = {}
    return KEY.sub(lambda key: seen.setdefault(key[0], f"<{len(seen)}>"), words)


def views() -> Told:
    """Return what the screens and papers of the day are made of."""
    found: dict[str, object] = {
        "day": day.view(D),
        "arrival": arrival.before(D),
        "due": diary.due(D),
        "diary": diary.diary(D),
        "end of day": paperwork.end_of_day_text(paperwork.end_of_day(D)),
        "choices": visits.choices(),
        "sets": day_set.sets(D),
        "prices": charges.price_list(),
    }
    for word in ("larksp", "555", "koi", "ammonia", "broodstck"):
        found[f"find {word}"] = find.find(word, D)
    for visit in read.find(Visit, day=D, order="starts, id"):
        name, system = visit.starts, visit.system
        found[f"record {name}"] = record_paper.record_of(visit.id)
        found[f"bill {name}"] = charges.bill(visit.id)
        found[f"changed {name}"] = [
            (said.time, said.who, said.words) for said in changed.of_visit(visit.id).said
        ]
        found[f"stock {name}"] = stock.fish_here(system)
        for view in (history.view, water.view, plan.view, problem_list.lines_of, feeding_view.view):
            found[f"{view.__module__} {name}"] = view(visit.id, system)
    return {name: repr(view) for name, view in found.items()}
