"""Taking back and doing again: what comes back, what stands in the way, what is never undone."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest

from core.errors import Refusal
from core.practice import changed as story_of
from core.practice.keep import Act
from core.practice.undo import do_again, last, take_back
from core.practice.visits import move
from core.records import edits, never, read, undo, verify
from core.records.journal import OpenEdit, edit, replay
from core.records.keys import new_key
from core.records.never import NEVER, NeverUndone
from core.records.tables import (
    TABLES,
    Client,
    Reading,
    Row,
    Sample,
    Signature,
    Site,
    StageMark,
    Visit,
)
from core.records.turns import TAKEN_BACK, references
from core.records.undo import ONE_EACH, StandsOn
from tests.conftest import MOMENT
from tests.core.records.checks import all_hold, held
from tests.core.records.rows import columns, ids_of, one_of_each, sample
from tests.small import Small

pytestmark = pytest.mark.usefixtures("records")


def do(write: Callable[[OpenEdit], Any], kind: str = "test", visit: str | None = None) -> str:
    with edit(kind, who="ana", at=MOMENT, visit=visit) as doing:
        write(doing)
        return doing.id


def back(edit_id: str) -> str:
    return undo.undo(edit_id, who="ana", at=MOMENT + timedelta(minutes=1))


def added(*rows: Row) -> str:
    def each(doing: OpenEdit) -> None:
        for row in rows:
            doing.add(row)

    return do(each)


def changed(row: Row, **new: Any) -> str:
    return do(lambda doing: doing.change(type(row), row.id, **new))


def now(row: Row) -> Row:
    return read.one(type(row), row.id)


def client(name: str = "A") -> Client:
    return Client(id=new_key(), name=name, phone="1")


def test_a_change_gets_its_old_values_and_again_its_new_ones() -> None:
    row = client()
    added(row)
    first = changed(row, name="B", note="x")
    taken = back(first)
    assert now(row) == row
    assert edits.one(taken).reverses == first
    assert edits.taken_back([first, taken]) == {first}
    back(taken)
    assert now(row) == replace(row, name="B", note="x")
    assert edits.taken_back([first, taken]) == {taken}
    all_hold()


def test_an_added_row_is_struck_and_lifted_again() -> None:
    row = client()
    taken = back(added(row))
    assert now(row) == replace(row, struck=TAKEN_BACK)
    assert read.find(Client) == ()
    back(taken)
    assert now(row) == row
    all_hold()


def test_a_row_added_and_changed_in_one_edit_comes_back_as_one() -> None:
    row, other = client(), client("other")

    def both(doing: OpenEdit) -> None:
        doing.add(row)
        doing.change(Client, row.id, name="B")
        doing.change(Client, row.id, name="C")
        doing.add(other)

    taken = back(do(both))
    assert {r.struck for r in read.find(Client, struck=True)} == {TAKEN_BACK}
    back(taken)
    assert now(row) == replace(row, name="C")
    all_hold()


def test_nothing_is_taken_back_twice_nor_what_is_not_there() -> None:
    first = added(client())
    back(first)
    with pytest.raises(Refusal, match="taken back already"):
        back(first)
    with pytest.raises(Refusal, match="not in the records"):
        back("no such")


def test_a_later_change_of_the_same_column_stands_on_it_until_it_is_taken_back() -> None:
    row = client()
    added(row)
    first = changed(row, name="B")
    changed(row, phone="2")
    later = changed(row, name="C")
    with pytest.raises(StandsOn, match="changed since") as told:
        back(first)
    assert (told.value.column, told.value.edit) == ("name", edits.one(later))
    back(later)
    back(first)
    assert now(row) == replace(row, phone="2")
    all_hold()


def test_a_value_typed_back_by_hand_stands_too() -> None:
    row = client()
    added(row)
    first = changed(row, name="B")
    changed(row, name="C")
    changed(row, name="B")
    with pytest.raises(StandsOn, match="changed since"):
        back(first)


def test_an_added_row_that_was_changed_since_is_not_struck() -> None:
    row = client()
    first = added(row)
    changed(row, note="worth keeping")
    with pytest.raises(StandsOn, match="changed since"):
        back(first)


def test_a_row_that_others_refer_to_is_not_struck_until_they_are() -> None:
    row = client()
    first = added(row)
    second = added(Site(id=new_key(), client=row.id, name="home"))
    with pytest.raises(StandsOn, match="refers to it") as told:
        back(first)
    assert told.value.table == "site"
    back(second)
    back(first)
    all_hold()


def test_rows_that_refer_to_each_other_come_back_together() -> None:
    row = client()
    taken = back(added(row, Site(id=new_key(), client=row.id, name="home")))
    assert read.find(Site) == ()
    back(taken)
    assert len(read.find(Site)) == len(read.find(Client)) == 1


def test_a_row_is_not_lifted_to_one_that_is_struck() -> None:
    row = client()
    added(row)
    site = Site(id=new_key(), client=row.id, name="home")
    taken = back(added(site))
    do(lambda doing: doing.strike(Client, row.id, "moved away"))
    with pytest.raises(StandsOn, match="belongs to is struck"):
        back(taken)


def test_striking_is_taken_back_and_refused_again_when_something_leads_to_the_row() -> None:
    row = client()
    added(row)
    lifted = back(do(lambda doing: doing.strike(Client, row.id, "typed twice")))
    assert now(row) == row
    added(Site(id=new_key(), client=row.id, name="home"))
    with pytest.raises(StandsOn, match="refers to it"):
        back(lifted)


def test_an_answer_is_not_lifted_beside_a_newer_one(practice: Small) -> None:
    taken = back(added(reading(practice)))
    added(reading(practice))
    with pytest.raises(StandsOn, match="in its place"):
        back(taken)


def reading(small: Small, **more: Any) -> Reading:
    given: dict[str, Any] = {"analyte": "ph", "value": 7.9, "typed": "7.9", "at": MOMENT, **more}
    return Reading(id=new_key(), visit=small.visit, system=small.system, **given)


def begin(small: Small, row: Row, stage: str = "Water") -> str:
    def both(doing: OpenEdit) -> None:
        if read.first(StageMark, visit=small.visit, stage=stage) is None:
            doing.add(StageMark(id=new_key(), visit=small.visit, stage=stage, state="begun"))
        doing.change(Visit, small.visit, state="open")
        doing.add(row)

    return do(both, "reading", small.visit)


def test_what_was_begun_ends_with_the_only_thing_done(practice: Small) -> None:
    first = begin(practice, reading(practice))
    taken = back(first)
    assert read.one(Visit, practice.visit).state == "booked"
    assert read.find(StageMark, visit=practice.visit) == ()
    back(taken)
    assert read.one(Visit, practice.visit).state == "open"
    assert [m.stage for m in read.find(StageMark, visit=practice.visit)] == ["Water"]
    all_hold()


def test_what_was_begun_stays_when_somebody_went_on(practice: Small) -> None:
    first = begin(practice, reading(practice))
    begin(practice, reading(practice, analyte="oxygen"))
    taken = back(first)
    assert read.one(Visit, practice.visit).state == "open"
    assert len(read.find(StageMark, visit=practice.visit)) == 1
    assert [r.analyte for r in read.find(Reading)] == ["oxygen"]
    back(taken)
    assert len(read.find(Reading)) == 2
    all_hold()


def test_a_signed_visit_keeps_what_it_has(practice: Small) -> None:
    first = begin(practice, reading(practice))
    signed = do(
        lambda doing: doing.change(Visit, practice.visit, signed_at=MOMENT, state="signed"),
        "sign",
        practice.visit,
    )
    with pytest.raises(NeverUndone, match="This visit is signed") as told:
        back(first)
    assert told.value.todo == "Write an addendum."
    with pytest.raises(NeverUndone, match="This visit is signed"):
        back(signed)
    link = Signature(
        id=new_key(),
        visit=practice.visit,
        device="a",
        count=1,
        record_hash="h",
        before="",
        chain="c",
        by=practice.vet,
        at=MOMENT,
    )
    chained = do(lambda doing: doing.add(link), "sign", practice.visit)
    with pytest.raises(NeverUndone, match="signature is never taken back"):
        back(chained)


TREATMENTS = {"given here": True, "dispensed": True, "prescribed": False, "advised": False}


@pytest.mark.parametrize("act", TREATMENTS)
def test_the_drug_log_stays(act: str) -> None:
    rows = one_of_each()
    rows["treatment"] = replace(rows["treatment"], act=act)  # type: ignore[call-arg]
    treatment = rows.pop("treatment")
    # A trial refers to its treatment, which is not there yet.
    del rows["trial_run"]
    added(*rows.values())
    first = added(treatment)
    if not TREATMENTS[act]:
        back(first)
        return
    with pytest.raises(NeverUndone, match="drug log"):
        back(first)
    struck = do(lambda doing: doing.strike(type(treatment), treatment.id, "spilled"))
    with pytest.raises(NeverUndone, match="drug log"):
        back(struck)


def test_every_table_is_taken_back_or_has_its_sentence() -> None:
    rows = one_of_each(full=True)
    ids = ids_of(rows)
    added(*rows.values())
    kept = {}
    for kind in TABLES:
        # Not a drug-log line, not signed: those have tests of their own.
        first = added(sample(kind, ids, **_other(kind)))
        try:
            back(first)
        except NeverUndone as error:
            kept[kind.table] = error.sentence
        assert verify.broken() == []
    grows = {kind.table for kind in TABLES if kind.closing == "grows"}
    assert set(kept) == grows | {"practice", "person", "proposed", "hold"}
    assert set(kept.values()) <= {rule.sentence for rule in NEVER if rule.todo}
    all_hold()


def _other(kind: type[Row]) -> dict[str, Any]:
    return {name: "another" for name in ("act", "code", "key") if name in columns(kind)}


def test_every_rule_speaks_of_what_is_there() -> None:
    tables = {kind.table: set(columns(kind)) for kind in TABLES}
    for rule in NEVER:
        assert rule.tables | rule.made <= set(tables)
        assert all(column in tables[table] for table, column in rule.columns)
        assert all(column in tables[table] for table, (column, _) in rule.rows.items())
    assert all(set(names) <= tables[table] for table, names in ONE_EACH.items())
    assert never.of_edit("first start", ()) is not None
    assert references("slide") == {"visit": "visit", "sample": "sample"}


def test_fifty_random_edits_are_all_rebuilt_from_the_journal(practice: Small) -> None:
    dice = random.Random(20261125)
    rows = one_of_each()
    added(*rows.values())
    done: list[str] = []
    tables = (Client, Site, Sample, Reading)
    for number in range(50):
        what = dice.choice(("add", "change", "strike", "undo"))
        kind = dice.choice(tables)
        found = read.find(kind, struck=True)
        if what == "add" or not found:
            done.append(added(sample(kind, ids_of(rows))))
        elif what == "undo" and done:
            _try(done, dice.choice(done))
        else:
            row = dice.choice(found)
            new = {"struck": "why"} if what == "strike" else _new(kind, number)
            done.append(changed(row, **new) if now(row) != replace(row, **new) else added(client()))
    assert len(done) >= 30
    assert replay() == held()
    assert verify.broken() == []


def _new(kind: type[Row], number: int) -> dict[str, Any]:
    column = "name" if kind in (Client, Site) else "why" if kind is Sample else "typed"
    return {column: f"value {number}"}


def _try(done: list[str], which: str) -> None:
    try:
        done.append(back(which))
    except Refusal:
        return


def test_the_story_and_the_last_acts_are_the_same_on_each_engine(practice: Small) -> None:
    act = Act(practice.vet, MOMENT + timedelta(minutes=1))
    move(act, practice.visit, MOMENT.date(), "11:30")
    moved = "the visit of 25 Nov: time from 10:30 to 11:30"
    assert take_back(act).words == do_again(act).words == moved
    assert [(one.words, one.taken_back) for one in last(practice.vet)] == [(moved, False)]
    story = story_of.of_visit(practice.visit)
    assert [one.words for one in story.said][:3] == [
        f"did again: {moved}",
        f"took back: {moved}",
        moved,
    ]
    assert not any(one.elsewhere for one in story.said)
    whole = story_of.of_client(practice.client)
    assert "new client Clara Test, 555 0100" in [one.words for one in whole.said]
    assert len(story_of.of_row("visit", practice.visit).said) == 4
    assert [one.words for one in story_of.of_person(practice.vet).said] == [
        one.words for one in story.said[:3]
    ]
