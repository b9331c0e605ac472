"""What a signature and an issued invoice close, for every table there is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import pytest

from core.records import read
from core.records.journal import Closed, edit
from core.records.keys import new_key
from core.records.place import Place
from core.records.tables import TABLES, Charge, Invoice, Row, Visit
from tests.conftest import MOMENT
from tests.core.records.checks import all_hold, edits, held
from tests.core.records.rows import ids_of, one_of_each, sample


@dataclass(frozen=True)
class Made:
    """Two sets of rows, one under a signed visit and one under an open one."""

    signed: dict[str, Row]
    open: dict[str, Row]


@pytest.fixture(scope="module")
def made(records_of_module: Place) -> Made:
    both = Made(one_of_each(), one_of_each())
    with edit("test", who="setup", at=MOMENT) as doing:
        for row in (*both.signed.values(), *both.open.values()):
            doing.add(row)
    with edit("sign", who="setup", at=MOMENT) as doing:
        doing.change(Visit, both.signed["visit"].id, state="signed", signed_at=MOMENT)
    return both


def attempt(kind: type[Row], row_id: str, **new: Any) -> None:
    with edit("test", who="x", at=MOMENT) as doing:
        doing.change(kind, row_id, **new)


def add(row: Row) -> None:
    with edit("test", who="x", at=MOMENT) as doing:
        doing.add(row)


def having(*closing: str) -> Any:
    kinds = [k for k in TABLES if k.closing in closing and k is not Visit]
    return pytest.mark.parametrize("kind", kinds, ids=lambda k: k.table)


@having("visit")
def test_under_a_signed_visit_nothing_is_added(kind: type[Row], made: Made) -> None:
    stood = held(), edits()
    with pytest.raises(Closed, match="signed"):
        add(sample(kind, ids_of(made.signed)))
    assert (held(), edits()) == stood


@having("visit")
def test_under_a_signed_visit_nothing_is_changed_struck_or_moved(
    kind: type[Row], made: Made
) -> None:
    stood = held(), edits()
    row = made.signed[kind.table]
    for new in ({"struck": "a reason"}, {"visit": made.open["visit"].id}):
        with pytest.raises(Closed, match="signed"):
            attempt(kind, row.id, **new)
    with pytest.raises(Closed, match="signed"):
        attempt(kind, made.open[kind.table].id, visit=made.signed["visit"].id)
    assert (held(), edits()) == stood


@having("visit")
def test_under_an_open_visit_rows_are_added_and_changed(kind: type[Row], made: Made) -> None:
    row = sample(kind, ids_of(made.open))
    add(row)
    attempt(kind, row.id, struck="a reason")
    assert read.one(kind, row.id).struck == "a reason"


def test_the_signed_visit_itself_is_closed(made: Made) -> None:
    visit = made.signed["visit"]
    for new in ({"reason": "other"}, {"signed_at": None}, {"struck": "x"}, {"state": "open"}):
        with pytest.raises(Closed, match="signed"):
            attempt(Visit, visit.id, **new)


@having("grows")
def test_what_only_grows_is_added_after_the_signature_and_never_changed(
    kind: type[Row], made: Made
) -> None:
    row = sample(kind, ids_of(made.signed))
    add(row)
    with pytest.raises(Closed, match="never changed"):
        attempt(kind, row.id, struck="a reason")
    with pytest.raises(Closed, match="never changed"):
        attempt(kind, made.open[kind.table].id, struck="a reason")
    assert read.one(kind, row.id) == row


@having("open", "invoice")
def test_what_stays_open_is_added_and_changed_after_the_signature(
    kind: type[Row], made: Made
) -> None:
    row = sample(kind, ids_of(made.signed))
    add(row)
    attempt(kind, row.id, struck="a reason")
    assert read.one(kind, row.id).struck == "a reason"


def test_an_issued_invoice_closes_its_charges(made: Made) -> None:
    ids = ids_of(made.signed)
    mine, other = sample(Charge, ids), sample(Charge, ids)
    invoice = sample(Invoice, ids)
    with edit("invoice", who="x", at=MOMENT) as doing:
        for row in (mine, other, invoice):
            doing.add(row)
        doing.change(Charge, mine.id, invoice=invoice.id)
    for new in ({"unit_minor": 1}, {"invoice": None}, {"struck": "no"}):
        with pytest.raises(Closed, match="credit note"):
            attempt(Charge, mine.id, **new)
    attempt(Charge, other.id, unit_minor=1)
    assert read.one(Charge, mine.id).invoice == invoice.id


def test_an_edit_that_meets_a_closed_row_leaves_nothing_of_itself(made: Made) -> None:
    stood = held(), edits()
    closed = sample(next(k for k in TABLES if k.table == "reading"), ids_of(made.signed))

    def both() -> None:
        with edit("test", who="x", at=MOMENT) as doing:
            doing.add(sample(Charge, ids_of(made.open), id=new_key()))
            doing.add(closed)

    with pytest.raises(Closed):
        both()
    assert (held(), edits()) == stood


def test_after_all_that_everything_holds(made: Made) -> None:
    assert made.signed["visit"].id in {row for _, row in held()}
    all_hold()


def test_every_table_is_tried_by_one_of_these() -> None:
    assert {k.closing for k in TABLES} == {"visit", "grows", "open", "invoice"}
