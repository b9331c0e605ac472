from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.assessment.catalogue import ProblemKind, Test
from core.assessment.problems import (
    Fact,
    Problem,
    State,
    StatusChange,
    change_state,
    evidence,
    movement_stop,
    name_problem,
    next_tests,
)
from core.catalogue.load import table
from core.errors import BadInput, Refusal

NOW = datetime(2026, 11, 25, 16, tzinfo=UTC)
KINDS = {k: ProblemKind.from_row(k, r) for k, r in table("problems")["problem"].items()}
TESTS = {k: Test.from_row(k, r) for k, r in table("problems")["test"].items()}


def called(state: State, why: str = "", minutes: int = 0) -> StatusChange:
    return StatusChange(state, NOW + timedelta(minutes=minutes), "vet", why)


def test_evidence_stands_only_on_what_was_recorded() -> None:
    got = evidence(KINDS["gill_flukes"], [])
    assert got.lines_for == got.lines_against == ()
    assert {line.clue.fact for line in got.missing} == {
        "found.gill_fluke", "found.hyperplasia", "sign.flashing", "sign.flare_one_side",
        "history.new_fish", "slide.gill",
    }  # fmt: skip


def test_evidence_lines_point_at_their_record() -> None:
    facts = [
        Fact("found.gill_fluke", "seen", words="2+ on two of three", record="finding 7"),
        Fact("slide.gill", "clear", record="slide A3-3a"),
        Fact("sign.flashing", "not seen"),
    ]
    got = evidence(KINDS["gill_flukes"], facts)
    assert [line.fact.record for line in got.lines_for if line.fact] == ["finding 7"]
    assert [line.fact.record for line in got.lines_against if line.fact] == ["slide A3-3a"]
    assert {line.clue.fact for line in got.missing} == {
        "found.hyperplasia", "sign.flare_one_side", "history.new_fish"
    }  # fmt: skip


def test_a_reading_counts_inside_its_closed_range() -> None:
    khv = KINDS["khv"]

    def at(temperature: float) -> tuple[int, int]:
        got = evidence(khv, [Fact("water.temperature", "good", temperature)])
        return len(got.lines_for), len(got.lines_against)

    assert [at(c) for c in (11.0, 12.0, 14.0, 16.0, 19.2, 28.0, 29.0, 30.0)] == [
        (0, 1), (0, 1), (0, 0), (1, 0), (1, 0), (1, 0), (0, 0), (0, 1)
    ]  # fmt: skip


@pytest.mark.parametrize("state", ["unknown", "not asked", "not measured", ""])
def test_unknown_and_not_asked_are_missing_and_not_against(state: str) -> None:
    got = evidence(KINDS["khv"], [Fact("history.quarantine", state)])
    assert "history.quarantine" in {line.clue.fact for line in got.missing}
    answered = evidence(KINDS["khv"], [Fact("history.quarantine", "yes")])
    assert "history.quarantine" not in {line.clue.fact for line in answered.missing}


def test_water_trouble_and_flukes_may_both_be_true() -> None:
    facts = [Fact("water.nitrite", "act", 0.6), Fact("found.gill_fluke", "seen")]
    assert evidence(KINDS["nitrite_harm"], facts).lines_for
    assert evidence(KINDS["gill_flukes"], facts).lines_for


ANY_FACT = st.builds(
    Fact,
    st.sampled_from(sorted({c.fact for k in KINDS.values() for c in k.clues_for})),
    st.sampled_from(["seen", "yes", "no", "act", "good", "clear", "unknown", ""]),
    st.one_of(st.none(), st.floats(-5, 200)),
)


@given(st.sampled_from(sorted(KINDS)), st.lists(ANY_FACT, max_size=12))
def test_every_line_rests_on_a_recorded_fact_of_its_clue(kind: str, facts: list[Fact]) -> None:
    got = evidence(KINDS[kind], facts)
    for line in (*got.lines_for, *got.lines_against):
        assert line.fact in facts
        assert line.fact is not None
        assert line.fact.key == line.clue.fact
    assert all(line.fact is None for line in got.missing)


def test_the_next_test_bears_on_most_problems_and_leaves_out_what_is_done() -> None:
    kinds = [KINDS[k] for k in ("gill_flukes", "chilodonella", "costia", "khv")]
    first, *_ = next_tests(kinds, [], TESTS)
    assert first.test.key == "gill_snip"
    assert first.problems == ("gill_flukes", "chilodonella", "costia")
    after = next_tests(kinds, [Fact("slide.gill", "clear")], TESTS)
    assert [n.test.key for n in after] == ["skin_scrape", "khv_pcr"]


def test_a_problem_keeps_every_state_it_had() -> None:
    problem = name_problem(KINDS["khv"], called(State.SUSPECTED))
    problem = change_state(problem, called(State.RULED_OUT, "PCR negative", 10))
    problem = change_state(problem, called(State.SUSPECTED, "second swab positive", 20))
    assert [c.state for c in problem.history] == [
        State.SUSPECTED, State.RULED_OUT, State.SUSPECTED
    ]  # fmt: skip
    assert problem.open


def test_states_that_are_refused() -> None:
    problem = name_problem(KINDS["ich"], called(State.SUSPECTED))
    for change in (
        called(State.SUSPECTED, "again"),
        called(State.RULED_OUT),
        called(State.IMPROVING),
        called(State.RESOLVED, "gone"),
        called(State.CONFIRMED, minutes=-5),
    ):
        with pytest.raises(Refusal):
            change_state(problem, change)
    with pytest.raises(Refusal, match="suspected first"):
        name_problem(KINDS["ich"], called(State.RESOLVED))
    with pytest.raises(BadInput):
        Problem("ich", "white spot", ())


def test_a_carried_problem_may_improve_and_be_resolved() -> None:
    carried = Problem("capsalids", "capsalid flukes", (called(State.CONFIRMED),), carried=True)
    better = change_state(carried, called(State.IMPROVING, minutes=1))
    assert better.open
    assert not change_state(better, called(State.RESOLVED, minutes=2)).open


def test_the_suspicion_of_a_listed_disease_stops_movement_until_ruled_out() -> None:
    suspected = name_problem(KINDS["khv"], called(State.SUSPECTED))
    (sentence,) = movement_stop([suspected], KINDS)
    assert "leaves this site" in sentence
    cleared = change_state(suspected, called(State.RULED_OUT, "PCR negative", 1))
    assert movement_stop([cleared], KINDS) == ()
    assert movement_stop([name_problem(KINDS["ich"], called(State.CONFIRMED))], KINDS) == ()
