from __future__ import annotations

import pytest

from core.assessment.catalogue import Complaint, ProblemKind
from core.assessment.complaints import worth_knowing
from core.catalogue.load import table

KINDS = {k: ProblemKind.from_row(k, r) for k, r in table("problems")["problem"].items()}
COMPLAINTS = {k: Complaint.from_row(k, r) for k, r in table("complaints")["complaint"].items()}


def test_gasping_asks_for_water_and_the_filter_first() -> None:
    gasping = COMPLAINTS["gasping"]
    assert worth_knowing(gasping, KINDS, "history")[:2] == ("new_fish", "filter_new")
    assert worth_knowing(gasping, KINDS, "water")[0] == "oxygen"
    assert worth_knowing(gasping, KINDS, "slide") == ("gill",)
    assert gasping.tests[0] == "oxygen"


def test_a_health_check_has_no_suspicion_of_its_own() -> None:
    assert worth_knowing(COMPLAINTS["check"], KINDS, "history") == ()
    assert COMPLAINTS["check"].tests


@pytest.mark.parametrize("complaint", COMPLAINTS.values(), ids=COMPLAINTS.keys())
def test_what_is_worth_asking_is_a_question_and_comes_once(complaint: Complaint) -> None:
    asked = worth_knowing(complaint, KINDS, "history")
    assert set(asked) <= set(table("questions")["question"])
    assert len(set(asked)) == len(asked)
