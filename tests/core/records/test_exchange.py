"""Everything handed out and taken in again gives the same records, from each engine to each."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from core.errors import Refusal
from core.practice import setup
from core.practice.export import export
from core.practice.issued import Drawn, store
from core.practice.keep import Act
from core.practice.take_in import take_in
from core.records import engine, exchange, journal, read
from core.records.place import Place
from core.records.tables import TABLES, Client
from tests.engines import ENGINES
from tests.servers import Server, new_records, opened
from tests.small import fill

AT = datetime(2026, 11, 25, 8, 30, tzinfo=UTC)


@dataclass(frozen=True)
class Held:
    """An export, and what stood in the records that it was made of."""

    folder: Path
    rows: dict[str, list[object]]
    edits: list[exchange.Edit]
    state: dict[str, object]


@pytest.fixture
def held(new_place: Place, tmp_path: Path) -> Held:
    """Give an export of a small practice with a struck row, a correction and a paper."""
    act = Act("setup", AT)
    with opened(new_place) as place:
        small = fill(act, AT.date())
        setup.add_client(act, "=1+1 'Ølaf\", 山田\nx")
        with journal.edit("client", who="setup", at=AT + timedelta(minutes=1)) as doing:
            doing.change(Client, small.client, phone="+44 7700 900123")
            doing.strike(Client, setup.add_client(act, "Twice"), "there twice")
        with journal.edit("paper", who=small.vet, at=AT) as doing:
            drawn = Drawn("day summary", "1", b"%PDF of the day", "the day")
            store(doing, Act(small.vet, AT), place.papers, None, drawn)
        made = export(tmp_path / "out", place.papers, AT, lambda _: None)
        return Held(made.folder, everything(), list(exchange.edits()), exchange.state())


@pytest.fixture
def empty(held: Held, new_place: Place, server: Server) -> Iterator[Place]:
    """Give empty, open records on the same engine, once those that were exported are let go."""
    on = "sqlite" if new_place.file is not None else "postgresql"
    with new_records(on, server) as new, opened(new) as place:
        yield place


def everything() -> dict[str, list[object]]:
    return {row.table: list(exchange.rows(row)) for row in TABLES}


def test_an_export_taken_in_gives_the_same_records_on_either_engine(
    held: Held, server: Server
) -> None:
    for on in ENGINES:
        with new_records(on, server) as new, opened(new) as place:
            made = take_in(held.folder, place.papers, lambda _: None)
            assert everything() == held.rows
            assert list(exchange.edits()) == held.edits
            assert exchange.state() == held.state
            [paper] = held.rows["document"]
            assert (place.papers / vars(paper)["file"]).read_bytes() == b"%PDF of the day"
            rows = sum(len(found) for found in held.rows.values())
            assert (
                f"{rows} rows, {len(held.edits)} edits, 1 papers, written on one machine"
                in made.text
            )
            assert "system.volume_l: 9000.0" in made.text


def test_work_goes_on_after_it_and_a_second_time_is_refused(held: Held, empty: Place) -> None:
    take_in(held.folder, empty.papers, lambda _: None)
    setup.add_client(Act("setup", AT), "Afterwards")
    assert [c.name for c in read.find(Client)][-1] == "Afterwards"
    assert len(exchange.devices()) == 2
    with pytest.raises(Refusal, match="not empty"):
        take_in(held.folder, empty.papers, lambda _: None)


def test_what_came_out_otherwise_is_all_taken_back(held: Held, empty: Place) -> None:
    for what in held.state:
        proved = {**held.state, what: "something else"}
        with pytest.raises(Refusal, match=f"The {what} came out as"):
            exchange.take_in(held.edits, proved)
        assert exchange.is_empty()
    assert exchange.counts() == dict.fromkeys(exchange.counts(), 0)


def test_text_that_no_form_would_take_is_told_from_a_file(held: Held) -> None:
    assert all(exchange.readable(edit) for edit in held.edits)
    values, [(table, row, act, body), *rest] = held.edits[0]
    body = body.replace("Practice of the Tests", "\\u001b[31mred")
    assert not exchange.readable((values, [(table, row, act, body), *rest]))


def test_rows_are_read_as_they_stood_at_one_moment(records: Place) -> None:
    setup.add_client(Act("setup", AT), "Before")
    with exchange.steady():
        before = exchange.counts()["client"]
        later(records)
        assert exchange.counts()["client"] == before == 1
    assert exchange.counts()["client"] == 2


def later(place: Place) -> None:
    """Add a client on a thread of its own, as another screen would."""
    from concurrent.futures import ThreadPoolExecutor

    def write() -> None:
        with engine.connection():
            setup.add_client(Act("setup", AT), "Meanwhile")

    with ThreadPoolExecutor(1) as pool:
        pool.submit(write).result(timeout=20)


def test_an_edit_is_the_same_after_a_turn_through_json(held: Held) -> None:
    for edit in held.edits:
        line = exchange.as_json(edit)
        assert "\n" not in line
        assert exchange.from_json(line) == edit
        assert isinstance(json.loads(line)["lines"][0]["change"], dict)


def test_a_change_written_in_another_way_is_kept_to_the_letter() -> None:
    values = dict.fromkeys(journal.EDIT_COLUMNS, "x")
    edit: exchange.Edit = (values, [("client", "1", "add", '{"name": [null, "a"]}')])
    assert exchange.from_json(exchange.as_json(edit)) == edit
