"""Tests sent out: what, where to, when it is due, and the result when it came."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from core.errors import BadInput, Refusal
from core.practice.door import edit
from core.practice.keep import Act, begin_stage
from core.practice.kept import local_day
from core.records import read
from core.records.keys import new_key
from core.records.tables import Sample, SentTest, TestResult

KINDS = ("culture", "PCR", "histology", "cytology", "toxicology", "water", "other")
"""The first word of a test's name; prices and the list of results look at it."""


@dataclass(frozen=True)
class Awaited:
    """A test sent out, with the results that came for it, the last of which counts."""

    test: SentTest
    sample: str
    results: tuple[TestResult, ...]

    @property
    def late(self) -> bool:
        """Whether nothing came yet."""
        return not self.results


def awaited(visit_id: str) -> tuple[Awaited, ...]:
    """Return the tests that a visit sent out."""
    numbers = {s.id: s.number for s in read.find(Sample, visit=visit_id)}
    results: dict[str, list[TestResult]] = {}
    for result in read.find(TestResult, visit=visit_id, order="at, id"):
        results.setdefault(result.test, []).append(result)
    return tuple(
        Awaited(test, numbers.get(test.sample or "", ""), tuple(results.get(test.id, ())))
        for test in read.find(SentTest, visit=visit_id)
    )


@dataclass(frozen=True)
class Sending:
    """A test as it is sent out."""

    kind: str
    what: str = ""
    sample: str | None = None
    where: str = ""
    due: date | None = None


def send(act: Act, visit_id: str, system_id: str, sending: Sending) -> str:
    """Record a test as sent out; return its id.

    Raises
    ------
    BadInput
        For a kind that is none, or a due day before today.
    Refusal
        When its sample was not got.
    """
    if sending.kind not in KINDS:
        raise BadInput("This is no kind of test.", f"One of {', '.join(KINDS)}.")
    today = local_day(act.at)
    if sending.due is not None and sending.due < today:
        raise BadInput("The result can not be due before today.", "Give the day it is due.")
    if sending.sample and not read.one(Sample, sending.sample).got:
        raise Refusal("That sample was not got.", "Choose another.")
    row = SentTest(
        id=new_key(),
        visit=visit_id,
        system=system_id,
        sample=sending.sample,
        name=f"{sending.kind} {sending.what.strip()}".strip(),
        where=sending.where.strip(),
        day=today,
        due=sending.due,
    )
    with edit("test sent", who=act.by, at=act.at, visit=visit_id) as doing:
        begin_stage(doing, visit_id, "Biopsy")
        doing.add(row)
    return row.id


def enter_result(act: Act, test_id: str, value: str) -> str:
    """Add the result of a test, also after the visit is signed; what came before stays.

    Raises
    ------
    BadInput
        Without words.
    """
    if not value.strip():
        raise BadInput("The result is empty.", "Type what the laboratory says.")
    test = read.one(SentTest, test_id)
    row = TestResult(
        id=new_key(), visit=test.visit, test=test_id, value=value.strip(), by=act.by, at=act.at
    )
    with edit("result", who=act.by, at=act.at, visit=test.visit) as doing:
        doing.add(row)
    return row.id


def strike_test(act: Act, test_id: str, why: str) -> None:
    """Strike a test that was not sent after all.

    Raises
    ------
    Refusal
        When a result came for it.
    """
    row = read.one(SentTest, test_id)
    if read.find(TestResult, test=test_id):
        raise Refusal("A result came for this test.", "It stays in the record.")
    with edit("test struck", who=act.by, at=act.at, visit=row.visit) as doing:
        doing.strike(SentTest, test_id, why)
