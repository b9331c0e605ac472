"""What comes in after the signature is kept as a proposal, and a veterinarian settles it."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from concurrent.futures import Future
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from core.errors import Refusal
from core.practice import documents, keep, late, sign, visits, water
from core.practice.desk import Desk, Late
from core.practice.keep import Act
from core.practice.record_paper import record_of
from core.records import engine, read
from core.records.journal import Closed, edit, replay
from core.records.keys import new_key
from core.records.read import stored
from core.records.tables import (
    Addendum,
    DepthMark,
    Handling,
    Loss,
    Proposed,
    Reading,
    StageMark,
)
from tests.conftest import MOMENT
from tests.small import Small

LATER = MOMENT + timedelta(minutes=15)


@pytest.fixture
def signed(practice: Small) -> Small:
    act = Act(practice.vet, MOMENT)
    water.record_reading(act, practice.visit, practice.system, water.Measured("ph", 7.6, "7.6"))
    for stage in sign.WALKED:
        if read.first(StageMark, visit=practice.visit, stage=stage) is None:
            keep.mark_stage(act, practice.visit, stage, "passed over", "a test")
    sign.finish_begun(act, practice.visit)
    sign.sign(act, practice.visit)
    return practice


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    found = Desk(tmp_path / "practice.db")
    yield found
    found.close()


@pytest.fixture
def records(desk: Desk) -> Iterator[Path]:
    """Give the file of the desk's records, with a connection on this thread."""
    with engine.connection():
        yield desk.place.papers.parent


def tim(practice: Small) -> Act:
    return Act(practice.technician, LATER)


def measure(practice: Small, value: float = 7.9) -> Callable[[], str]:
    typed = water.Measured("ph", value, f"{value}")
    return lambda: water.record_reading(tim(practice), practice.visit, practice.system, typed)


def refused(future: Future[object]) -> Late:
    with pytest.raises(Late) as told:
        future.result(timeout=30)
    return told.value


def late_one(practice: Small) -> Proposed:
    with pytest.raises(Closed) as refused:
        measure(practice)()
    late.instead(refused.value, measure(practice))
    [row] = read.find(Proposed)
    return row


def test_a_reading_typed_too_late_is_kept_and_the_person_is_told(desk: Desk, signed: Small) -> None:
    stood = read.find(Reading, visit=signed.visit)
    told = refused(desk.save(measure(signed)))
    assert told.sentence == (
        "This visit was signed at 08:30 by Vera Test; what you entered is kept as a proposed "
        "addendum for the veterinarian."
    )
    assert read.find(Reading, visit=signed.visit) == stood
    assert sign.verify(signed.visit)
    [row] = read.find(Proposed)
    assert (row.visit, row.by, row.at, row.outcome) == (signed.visit, signed.technician, LATER, "")
    assert "pH here" in row.words
    assert "7.9" in row.words
    assert [line[0] for line in json.loads(row.body)["lines"]]
    [one] = late.proposals(signed.visit)
    assert (one.by, f"{one.at:%H:%M}", one.waits) == ("Tim Test", "08:45", True)


def test_the_same_entered_again_is_one_proposal_and_another_value_a_second(
    desk: Desk, signed: Small
) -> None:
    for value in (7.9, 7.9, 8.1):
        refused(desk.save(measure(signed, value)))
    assert [("7.9" in p.words, "8.1" in p.words) for p in read.find(Proposed)] == [
        (True, False),
        (False, True),
    ]


def test_all_of_an_edit_is_kept_not_only_the_line_that_was_refused_first(
    desk: Desk, signed: Small
) -> None:
    fish = Handling(
        id=new_key(),
        visit=signed.visit,
        system=signed.system,
        number=1,
        label="white koi",
        weight_g=820.0,
        at=LATER,
    )
    marks = [
        DepthMark(id=new_key(), visit=signed.visit, handling=fish.id, event=event, at=LATER)
        for event in ("into the bath", "out of the bath")
    ]

    def write() -> None:
        with edit("fish in hand", who=signed.technician, at=LATER, visit=signed.visit) as doing:
            doing.add(fish)
            for mark in marks:
                doing.add(mark)
            doing.change(Handling, fish.id, note="thin")

    refused(desk.save(write))
    [row] = read.find(Proposed)
    lines = json.loads(row.body)["lines"]
    assert [(table, act) for table, _, act, _ in lines] == [
        ("handling", "add"),
        ("depth_mark", "add"),
        ("depth_mark", "add"),
        ("handling", "change"),
    ]
    for words in ("white koi", "820", "into the bath", "out of the bath", "thin"):
        assert words in row.words
    assert read.find(Handling) == ()


def test_what_nobody_typed_is_refused_and_not_kept(desk: Desk, signed: Small) -> None:
    act = tim(signed)
    for write in (
        lambda: keep.mark_stage(act, signed.visit, "Water", "begun"),
        lambda: visits.move(act, signed.visit, MOMENT.date(), "15:00"),
    ):
        with pytest.raises(Closed, match="signed"):
            desk.save(write).result(timeout=30)
    assert read.find(Proposed) == ()


def test_a_sentence_of_another_day_says_the_day(desk: Desk, signed: Small) -> None:
    act = replace(tim(signed), at=MOMENT + timedelta(days=3))
    loss = Loss(id=new_key(), visit=signed.visit, system=signed.system, number=2)

    def write() -> None:
        with edit("loss", who=act.by, at=act.at, visit=signed.visit) as doing:
            doing.add(loss)

    told = refused(desk.save(write))
    assert told.sentence.startswith("This visit was signed at 25 Nov 2026 08:30 by Vera Test;")


def test_a_veterinarian_takes_it_as_an_addendum_with_both_times(signed: Small) -> None:
    row = late_one(signed)
    with pytest.raises(Refusal, match="Only a veterinarian settles"):
        late.take(tim(signed), row.id)
    taken = Act(signed.vet, LATER + timedelta(minutes=30))
    key = late.take(taken, row.id, "read from the notebook")
    addendum = read.one(Addendum, key)
    assert addendum.words == f"{row.words}. The veterinarian adds: read from the notebook"
    assert (addendum.by, addendum.at, addendum.why) == (taken.by, taken.at, late.WHY)
    settled = read.one(Proposed, row.id)
    assert (settled.outcome, settled.addendum) == ("addendum", key)
    assert (settled.settled_by, settled.settled_at) == (taken.by, taken.at)
    with pytest.raises(Refusal, match="settled already"):
        late.set_aside(taken, row.id, "twice")
    assert sign.verify(signed.visit)
    assert replay()["proposed", row.id] == {
        k: v for k, v in stored(settled).items() if v is not None
    }


def test_it_is_set_aside_with_a_reason_and_stays(signed: Small) -> None:
    row = late_one(signed)
    with pytest.raises(Refusal, match="with a reason"):
        late.set_aside(Act(signed.vet, LATER), row.id, " ")
    with pytest.raises(Refusal, match="Only a veterinarian"):
        late.set_aside(tim(signed), row.id, "no")
    late.set_aside(Act(signed.vet, LATER), row.id, "the wrong pond")
    [one] = late.proposals(signed.visit)
    assert (one.words, one.outcome, one.why, one.settled_by) == (
        row.words,
        "set aside",
        "the wrong pond",
        "Vera Test",
    )
    assert read.find(Addendum) == ()


def test_the_paper_says_what_waits_and_prints_what_was_taken(signed: Small, tmp_path: Path) -> None:
    act = Act(signed.vet, LATER + timedelta(minutes=30))
    first = documents.issue_record(act, signed.visit, tmp_path)
    assert "awaits the veterinarian" not in first.text
    row = late_one(signed)
    waiting = documents.issue_record(act, signed.visit, tmp_path)
    assert "1 entry that came in after signing awaits the veterinarian." in waiting.text
    late.take(act, row.id)
    sign.add_addendum(act, signed.visit, "PCR negative", "result came")
    taken = documents.issue_record(act, signed.visit, tmp_path).text
    assert "awaits the veterinarian" not in taken
    for words in (
        row.words,
        "Entered by: Tim Test, Wed 25 Nov 2026 08:45",
        "Taken by: Vera Test",
        "When: Wed 25 Nov 2026 09:15",
        f"Reason: {late.WHY}",
        "PCR negative",
        "result came",
    ):
        assert " ".join(words.split()) in " ".join(taken.split()), words
    assert [record_of(signed.visit).version, waiting.document.version] == [4, 2]
    chain = record_of(signed.visit).signature
    assert chain is not None
    assert chain.chain in taken


def test_an_edit_of_another_device_for_a_signed_visit_is_kept(signed: Small) -> None:
    reading = Reading(
        id=new_key(),
        visit=signed.visit,
        system=signed.system,
        analyte="nitrite",
        value=0.4,
        typed="0.4",
        at=MOMENT,
    )
    change = {n: [None, v] for n, v in stored(reading).items() if v is not None}
    lines = [("reading", reading.id, "add", json.dumps(change))]
    foreign = {
        "id": new_key(),
        "who": signed.technician,
        "at": "2026-11-25T08:20:00.000000Z",
        "kind": "reading",
        "visit": signed.visit,
    }
    key = late.receive_late(foreign, lines)
    assert late.receive_late(foreign, lines) == key, "the same again is the same proposal"
    row = read.one(Proposed, key)
    assert "Nitrite" in row.words
    assert (row.by, row.at) == (signed.technician, MOMENT - timedelta(minutes=10))
    assert json.loads(row.body)["edit"] == foreign["id"]
    assert read.find(Reading, analyte="nitrite") == ()
