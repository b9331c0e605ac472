from __future__ import annotations

import pytest

from core.errors import Refusal
from core.scheduling.stages import (
    NOT_BEGUN,
    Kind,
    Stage,
    StageState,
    current,
    done,
    emptied,
    entered,
    passed_over,
    unsettled,
    waiting,
)


def test_states_in_words() -> None:
    states = [NOT_BEGUN, entered(NOT_BEGUN), waiting("culture"), done(),
              passed_over(NOT_BEGUN, "no access to tanks 5-6")]  # fmt: skip
    assert [s.said for s in states] == [
        "not begun",
        "begun",
        "waiting for culture",
        "done",
        "passed over: no access to tanks 5-6",
    ]


@pytest.mark.parametrize(
    ("kind", "about"),
    [(Kind.WAITING, ""), (Kind.WAITING, " "), (Kind.PASSED_OVER, ""), (Kind.DONE, "x")],
)
def test_waiting_and_passed_over_say_why_and_others_do_not(kind: Kind, about: str) -> None:
    with pytest.raises(Refusal):
        StageState(kind, about)


def test_entering_a_passed_over_stage_begins_it_and_a_waiting_one_goes_on_waiting() -> None:
    assert entered(passed_over(NOT_BEGUN, "dark")).kind is Kind.BEGUN
    assert entered(waiting("PCR")) == waiting("PCR")
    assert entered(done()) == done()


def test_a_stage_with_records_is_not_passed_over() -> None:
    for state in (entered(NOT_BEGUN), done(), waiting("PCR")):
        with pytest.raises(Refusal, match="stays"):
            passed_over(state, "no time")


def test_striking_the_last_record_leaves_a_stage_not_begun() -> None:
    assert emptied(entered(NOT_BEGUN)) == NOT_BEGUN
    skipped = passed_over(NOT_BEGUN, "no access")
    assert emptied(skipped) == skipped


def test_the_current_stage_is_the_first_unsettled_one_in_the_order_of_work() -> None:
    assert current({}) is Stage.HISTORY
    states = {stage: done() for stage in Stage if stage is not Stage.SIGN}
    assert current(states) is Stage.SIGN
    states[Stage.BIOPSY] = waiting("culture")
    assert unsettled(states) == ()
    states[Stage.WATER] = entered(NOT_BEGUN)
    del states[Stage.PLAN]
    assert [stage for stage, _ in unsettled(states)] == [Stage.WATER, Stage.PLAN]
    assert current(states) is Stage.WATER
