"""Results of tests that were sent out, which may come after the visit is signed."""

from __future__ import annotations

from core.errors import Refusal
from core.practice import sent_tests, sign
from core.practice.door import edit
from core.practice.keep import Act
from core.records import read
from core.records.keys import new_key
from core.records.tables import OwnerTold, SentTest, TestResult, Visit


def enter_result(
    act: Act, test_id: str, value: str, *, told: str = "", addendum: bool = False
) -> str:
    """Enter the result of a test that was sent out; return its id.

    Parameters
    ----------
    told : str
        How the owner was told; "" when not yet: the day's list then says so.
    addendum : bool
        Whether it is also written to the signed record as an addendum.

    Raises
    ------
    BadInput
        Without a result.
    """
    test = read.one(SentTest, test_id)
    with edit("result", who=act.by, at=act.at, visit=test.visit):
        result = sent_tests.enter_result(act, test_id, value)
        if told.strip():
            tell_owner(act, result, told)
        if addendum:
            words = f"{test.name}: {value.strip()}"
            sign.add_addendum(act, test.visit, words, "the result came")
    return result


def signed(visit_id: str) -> bool:
    """Return whether a visit is signed."""
    return read.one(Visit, visit_id).signed_at is not None


def tell_owner(act: Act, result_id: str, how: str) -> None:
    """Note that the owner was told a result, and how.

    Raises
    ------
    Refusal
        Without a word on how.
    """
    if not how.strip():
        raise Refusal("Say how the owner was told.", "For example: by telephone.")
    result = read.one(TestResult, result_id)
    row = OwnerTold(
        id=new_key(), visit=result.visit, result=result_id, how=how.strip(), by=act.by, at=act.at
    )
    with edit("owner told", who=act.by, at=act.at, visit=result.visit) as doing:
        doing.add(row)
