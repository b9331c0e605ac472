"""A random walk over the tables: whatever is done, the journal alone tells the same story."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from datetime import date, datetime, timedelta
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.records import read
from core.records.journal import edit
from core.records.tables import (
    Answer,
    Charge,
    Client,
    Figure,
    FishGroup,
    Person,
    Practice,
    Reading,
    Row,
    Site,
    System,
    TaxClass,
    Visit,
)
from tests.conftest import MOMENT
from tests.core.records.checks import all_hold
from tests.core.records.rows import CLOSES, columns, sample
from tests.engines import ENGINES
from tests.servers import Server, new_records, opened

KINDS: tuple[type[Row], ...] = (
    Practice,
    TaxClass,
    Person,
    Client,
    Site,
    System,
    FishGroup,
    Visit,
    Reading,
    Answer,
    Figure,
    Charge,
)
VALUES: dict[type, st.SearchStrategy[Any]] = {
    str: st.text(
        st.characters(codec="utf-8", exclude_categories=("Cc",), include_characters="\t\n"),
        max_size=30,
    ),
    int: st.integers(-(2**63), 2**63 - 1),
    float: st.floats(allow_nan=False, allow_infinity=False) | st.integers(-999, 999),
    bool: st.booleans(),
    date: st.dates(date(1900, 1, 1)),
    datetime: st.integers(-(2**51), 2**52).map(lambda n: MOMENT + timedelta(microseconds=n)),
    Decimal: st.decimals(allow_nan=False, allow_infinity=False, places=4),
}
FREE = {
    kind: {n: c for n, c in columns(kind).items() if c[1] is None and n not in CLOSES}
    for kind in KINDS
}
"""Columns that may hold anything: no references, nothing that closes the row."""


@st.composite
def acts(draw: st.DrawFn) -> tuple[str, int, int, dict[str, Any]]:
    """One act: what, on which table, on which of its rows, with which new values."""
    number = draw(st.integers(0, len(KINDS) - 1))
    free = FREE[KINDS[number]]
    names = draw(st.sets(st.sampled_from(sorted(free)), max_size=3))
    new = {
        n: draw(VALUES[free[n][0]] | st.none() if free[n][2] else VALUES[free[n][0]]) for n in names
    }
    what = draw(st.sampled_from(["add", "add", "change", "change", "again", "strike", "fail"]))
    return what, number, draw(st.integers(0, 9)), new


class Walk:
    """The records as they should be, kept as plain dataclasses beside the file."""

    def __init__(self) -> None:
        self.rows: dict[type[Row], list[Row]] = {kind: [] for kind in KINDS}

    def do(self, step: int, what: str, kind: type[Row], at: int, new: dict[str, Any]) -> None:
        rows = self.rows[kind]
        if what == "add" or not rows:
            rows.append(self._add(step, kind, new))
            return
        row = rows[at % len(rows)]
        if what == "fail":
            with suppress(ZeroDivisionError), self._edit(step) as doing:
                if new:
                    doing.change(kind, row.id, **new)
                doing.add(sample(kind, self._ids()))
                _ = 1 // 0
            return
        if what == "again":
            new = {name: getattr(row, name) for name in new}
        elif what == "strike":
            new = {"struck": "a reason"}
        with self._edit(step) as doing:
            if new:
                doing.change(kind, row.id, **new)
        rows[at % len(rows)] = replace(row, **new)

    def _edit(self, step: int) -> Any:
        return edit("walk", who="x", at=MOMENT + timedelta(seconds=step % 3))

    def _add(self, step: int, kind: type[Row], new: dict[str, Any]) -> Row:
        row = sample(kind, self._ids(), **new)
        with self._edit(step) as doing:
            doing.add(row)
        return row

    def _ids(self) -> dict[str, str]:
        return {kind.table: rows[-1].id for kind, rows in self.rows.items() if rows}


@pytest.mark.parametrize("on", ENGINES)
@settings(max_examples=20)
@given(walk=st.lists(acts(), max_size=30))
def test_the_replayed_journal_gives_the_rows(
    on: str, server: Server, walk: list[tuple[str, int, int, dict[str, Any]]]
) -> None:
    with new_records(on, server) as place, opened(place):
        told = Walk()
        for kind in KINDS:  # one of each first, so that later ones have whom to refer to
            told.do(0, "add", kind, 0, {})
        for step, (what, number, at, new) in enumerate(walk):
            told.do(step, what, KINDS[number], at, new)
        all_hold()
        for kind, rows in told.rows.items():
            assert {r.id: r for r in rows} == {
                r.id: r for r in read.find(kind, struck=True, order="id")
            }
