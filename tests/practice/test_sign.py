"""Signing closes the record; what is missing is named; later words are addenda."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from core.errors import Refusal
from core.practice import (
    assessment,
    documents,
    keep,
    problem_list,
    record_plan,
    sign,
    visits,
    water,
)
from core.practice.keep import Act
from core.practice.record_rows import VisitRows
from core.records import read
from core.records.journal import Closed, edit
from core.records.keys import new_key
from core.records.models import database
from core.records.tables import Addendum, DepthMark, Handling, Reading, StageMark, Visit
from tests.conftest import MOMENT
from tests.small import Small


def vet(practice: Small) -> Act:
    return Act(practice.vet, MOMENT)


def settle(practice: Small) -> None:
    for stage in sign.WALKED:
        keep.mark_stage(vet(practice), practice.visit, stage, "passed over", "a test")


def test_each_stage_neither_done_nor_passed_over_is_named(practice: Small) -> None:
    named = [m.what for m in sign.missing(practice.visit) if m.blocks]
    assert len([n for n in named if "not begun" in n]) == len(sign.WALKED)
    settle(practice)
    assert not [m for m in sign.missing(practice.visit) if m.blocks]


def test_signing_needs_a_veterinarian_and_nothing_missing(practice: Small) -> None:
    with pytest.raises(Refusal, match=r"Missing: .*History: not begun"):
        sign.sign(vet(practice), practice.visit)
    settle(practice)
    with pytest.raises(Refusal, match="Only a veterinarian signs"):
        sign.sign(Act(practice.technician, MOMENT), practice.visit)
    assert read.one(Visit, practice.visit).signed_at is None
    digest = sign.sign(vet(practice), practice.visit)
    visit = read.one(Visit, practice.visit)
    assert (visit.state, visit.signed_by, visit.sign_hash) == ("signed", practice.vet, digest)
    with pytest.raises(Refusal, match="signed already"):
        sign.sign(vet(practice), practice.visit)


def test_an_unfinished_euthanasia_can_not_be_signed(practice: Small) -> None:
    settle(practice)
    fish = Handling(
        id=new_key(),
        visit=practice.visit,
        system=practice.system,
        number=1,
        label="fish 1",
        at=MOMENT,
    )
    first = DepthMark(
        id=new_key(), visit=practice.visit, handling=fish.id, event="first step", at=MOMENT
    )
    with edit("hand", who=practice.vet, at=MOMENT, visit=practice.visit) as doing:
        doing.add(fish)
        doing.add(first)
    with pytest.raises(Refusal, match="second step of the euthanasia"):
        sign.sign(vet(practice), practice.visit)


def test_a_signed_record_is_frozen_and_its_hash_tells_a_change(practice: Small) -> None:
    act = vet(practice)
    measured = water.Measured("ph", 7.6, "7.6")
    water.record_reading(act, practice.visit, practice.system, measured)
    settle(practice)
    digest = sign.sign(act, practice.visit)
    with pytest.raises(Closed, match="signed"):
        water.record_reading(act, practice.visit, practice.system, water.Measured("ph", 8.0, "8.0"))
    with pytest.raises(Closed, match="signed"):
        keep.mark_stage(act, practice.visit, "Water", "begun")
    assert read.find(Reading, visit=practice.visit)[0].typed == "7.6"
    assert sign.record_hash(practice.visit) == digest
    assert sign.verify(practice.visit)
    database.execute_sql('DROP TRIGGER "door_reading_update"')
    database.execute_sql('DROP TRIGGER "signed_reading_update"')
    database.execute_sql('UPDATE "reading" SET "typed" = \'7.7\'')
    assert not sign.verify(practice.visit)


def test_an_addendum_has_author_time_reason_and_only_grows(practice: Small) -> None:
    act = vet(practice)
    with pytest.raises(Refusal, match="not signed yet"):
        sign.add_addendum(act, practice.visit, "late words", "result came")
    settle(practice)
    sign.sign(act, practice.visit)
    with pytest.raises(Refusal, match="words and a reason"):
        sign.add_addendum(act, practice.visit, "late words", "  ")
    key = sign.add_addendum(act, practice.visit, "PCR negative", "result came")
    row = read.one(Addendum, key)
    assert (row.by, row.at, row.why) == (practice.vet, MOMENT, "result came")
    with pytest.raises(Closed), edit("x", who=practice.vet, at=MOMENT) as doing:
        doing.change(Addendum, key, words="PCR positive")


def test_the_record_rebuilt_from_its_rows_has_the_same_bytes(
    practice: Small, tmp_path: Path
) -> None:
    act = vet(practice)
    water.record_reading(act, practice.visit, practice.system, water.Measured("ph", 7.6, "7.6"))
    settle(practice)
    sign.sign(act, practice.visit)
    first = documents.issue_record(act, practice.visit, tmp_path / "a")
    again = documents.issue_record(act, practice.visit, tmp_path / "b")
    assert first.document.id == again.document.id, "the same bytes are the same paper"
    sign.add_addendum(act, practice.visit, "PCR negative", "result came")
    later = documents.issue_record(act, practice.visit, tmp_path / "a")
    assert later.document.version == 2
    assert "PCR negative" in later.text
    assert "version 2" in later.text


def test_begun_stages_are_finished_in_one_act(practice: Small) -> None:
    keep.mark_stage(vet(practice), practice.visit, "Water", "begun")
    sign.finish_begun(vet(practice), practice.visit)
    marks = {m.stage: m.state for m in read.find(StageMark, visit=practice.visit)}
    assert marks == {"Water": "done"}


def test_a_suspected_listed_disease_waits_for_the_call_to_the_authority(practice: Small) -> None:
    act = vet(practice)
    where = (practice.visit, practice.system)
    problem_list.name_problem(act, *where, problem="khv", state="suspected")
    settle(practice)
    missing = {m.what: m.blocks for m in sign.missing(practice.visit)}
    assert missing["the authority was not rung about a suspected listed disease"]
    assert any(what.startswith("caution: Suspected listed disease") for what in missing)
    with pytest.raises(Refusal, match="the authority was not rung"):
        sign.sign(act, practice.visit)
    assessment.record_authority_call(act, *where, "the state office", "keep all in place")
    assert sign.sign(act, practice.visit)


def test_a_call_made_when_it_was_first_suspected_stands_at_the_next_visit(
    practice: Small,
) -> None:
    act = vet(practice)
    where = (practice.visit, practice.system)
    problem_list.name_problem(act, *where, problem="khv", state="suspected")
    assessment.record_authority_call(act, *where, "the state office", "keep all in place")
    day = MOMENT.date() + timedelta(days=2)
    later = visits.book(act, practice.system, day, "10:00", practice.vet, "again")
    assert not [m for m in sign.missing(later) if "authority" in m.what and m.blocks]


def test_the_record_says_what_stands_for_and_against_a_problem(practice: Small) -> None:
    act = vet(practice)
    water.record_reading(
        act, practice.visit, practice.system, water.Measured("temperature", 22.0, "22")
    )
    problem_list.name_problem(
        act, practice.visit, practice.system, problem="khv", state="suspected"
    )
    [found] = record_plan.problems(VisitRows(practice.visit))
    assert found.speaks_for
    assert found.missing
    seen = assessment.view(practice.visit, practice.system).lines[0].evidence
    assert seen is not None
    assert found.speaks_for == assessment.for_words(seen)
    assert found.speaks_against == assessment.against_words(seen)


@pytest.mark.parametrize("state", ["done", "passed over", "begun"])
def test_only_signing_makes_the_last_stage_done(practice: Small, state: str) -> None:
    with pytest.raises(Refusal, match="Only signing"):
        keep.mark_stage(vet(practice), practice.visit, "Sign", state, "a test")
    assert read.find(StageMark, visit=practice.visit, stage="Sign") == ()
    settle(practice)
    sign.sign(vet(practice), practice.visit)
    assert read.find(StageMark, visit=practice.visit, stage="Sign")[0].state == "done"


def test_addenda_are_listed_with_who_when_and_why(practice: Small) -> None:
    settle(practice)
    sign.sign(vet(practice), practice.visit)
    assert sign.addenda(practice.visit) == ()
    sign.add_addendum(vet(practice), practice.visit, "culture grew Aeromonas", "result came in")
    [one] = sign.addenda(practice.visit)
    assert (one.words, one.why, one.by) == ("culture grew Aeromonas", "result came in", "Vera Test")
    assert one.at == MOMENT
