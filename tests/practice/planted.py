"""Rows that the desks' tests plant in a small practice, and a counter of statements."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date, timedelta
from decimal import Decimal
from typing import TypeVar

from core.practice import charges, visits
from core.practice.keep import Act
from core.records import read
from core.records.journal import edit
from core.records.keys import new_key
from core.records.models import database
from core.records.tables import (
    Document,
    Invoice,
    Recheck,
    Row,
    SentTest,
    StageMark,
    TaxClass,
    Visit,
)
from tests.small import Small

T = TypeVar("T", bound=Row)


def add(act: Act, row: T) -> T:
    """Put one row into the records as an edit of its own."""
    with edit("planted", who=act.by, at=act.at) as doing:
        doing.add(row)
    return row


def taxes(act: Act) -> None:
    """Add the two classes of tax."""
    for code, rate in (("service", Decimal(0)), ("goods", Decimal(7))):
        add(act, TaxClass(id=new_key(), code=code, name=code, rate_percent=rate))


def recheck(act: Act, small: Small, target: date, *, kind: str = "visit", slack: int = 2) -> str:
    """Plan a recheck so many days on either side of a target."""
    row = Recheck(
        id=new_key(),
        visit=small.visit,
        client=small.client,
        system=small.system,
        kind=kind,
        reason=f"count of worms, {target}",
        earliest=target - timedelta(days=slack),
        target=target,
        latest=target + timedelta(days=slack),
    )
    return add(act, row).id


def bill(act: Act, visit: str, *lines: tuple[str, int, str]) -> None:
    """Put lines of words, minor units and tax class on the bill of a visit."""
    for words, minor, tax_class in lines:
        charges.add_manual(act, visit, words, Decimal(1), minor, tax_class)


def invoice(act: Act, visit: str, number: str, gross: int) -> None:
    """Issue an invoice without its paper."""
    found = read.one(Visit, visit)
    row = Invoice(
        id=new_key(),
        visit=visit,
        client=found.client,
        number=number,
        day=found.day,
        net_minor=gross,
        tax_minor=0,
        gross_minor=gross,
        by=act.by,
        at=act.at,
    )
    add(act, row)


def signed(act: Act, visit: str) -> None:
    """Sign a visit without asking what is missing."""
    with edit("sign", who=act.by, at=act.at, visit=visit) as doing:
        doing.change(
            Visit, visit, state="signed", signed_at=act.at, signed_by=act.by, sign_hash="-"
        )


def another(act: Act, small: Small, day: date, starts: str) -> str:
    """Book one more visit to the same water, whatever stands there."""
    return visits.book(act, small.system, day, starts, small.vet, "another", minutes=60)


def sent(act: Act, small: Small, visit: str, due: date) -> str:
    """Send a test out."""
    row = SentTest(
        id=new_key(),
        visit=visit,
        system=small.system,
        name="culture",
        where="the laboratory",
        day=act.at.date(),
        due=due,
    )
    return add(act, row).id


def waiting(act: Act, visit: str, stage: str, why: str) -> None:
    """Let a stage wait."""
    add(act, StageMark(id=new_key(), visit=visit, stage=stage, state="waiting", why=why))


def paper(act: Act, small: Small, visit: str, kind: str = "care sheet") -> str:
    """Issue a paper without its file."""
    row = Document(
        id=new_key(),
        visit=visit,
        client=small.client,
        kind=kind,
        number="7",
        file=f"{kind}-7.pdf",
        sha256="0" * 64,
        by=act.by,
        at=act.at,
    )
    return add(act, row).id


@contextmanager
def counted() -> Iterator[list[str]]:
    """Collect the statements that are run in the block."""
    said: list[str] = []
    connection = database.connection()
    connection.set_trace_callback(said.append)
    try:
        yield said
    finally:
        connection.set_trace_callback(None)
