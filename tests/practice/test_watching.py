"""Watching: signs and breaths of each fish, group and water, never mixed."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import BadInput
from core.practice import breaths, moves, setup, watching
from core.practice.keep import Act
from core.practice.watching import Subject, WatchingView
from core.records import read
from core.records.journal import Closed, edit
from core.records.tables import Sign, Visit
from tests.small import Small


def view(practice: Small) -> WatchingView:
    return watching.view(practice.visit, practice.system)


def subject(practice: Small, label: str) -> Subject:
    return next(s for s in view(practice).subjects if s.label.startswith(label))


def five(act: Act, practice: Small) -> list[Subject]:
    """Look at five fish of a group of five, each by itself."""
    group = setup.add_group(act, practice.system, "tetra", "tetras", count=5)
    held = next(h for h in view(practice).held if h.group.id == group)
    ids = [watching.add_fish(act, practice.visit, practice.system, held, n) for n in range(1, 6)]
    return [next(s for s in view(practice).subjects if s.id == key) for key in ids]


def see(act: Act, practice: Small, who: Subject, sign: str, state: str) -> None:
    watching.record_sign(act, practice.visit, practice.system, who, sign, state)


def test_a_sign_of_fish_two_of_five_is_of_no_other(act: Act, practice: Small) -> None:
    fish = five(act, practice)
    assert fish[1].label == "tetras 2 of 5"
    see(act, practice, fish[1], "gasping", "seen")
    found = view(practice)
    with_it = [s.subject.label for s in found.seen if "gasping" in s.rows]
    assert with_it == ["tetras 2 of 5"]
    (words,) = found.words
    assert words.startswith("tetras 2 of 5: seen: gasping")
    group = subject(practice, "tetras")
    assert group.kind == "group"
    see(act, practice, group, "gasping", "not seen")
    see(act, practice, fish[0], "gasping", "not looked")
    states = {s.subject.label: s.rows["gasping"].state for s in view(practice).seen if s.words}
    assert states == {
        "tetras": "not seen",
        "tetras 1 of 5": "not looked",
        "tetras 2 of 5": "seen",
    }


def test_three_answers_store_three_values_and_read_differently(act: Act, practice: Small) -> None:
    koi = subject(practice, "koi")
    koi = next(s for s in view(practice).subjects if s.kind == "group")
    words = []
    for state in ("seen", "not seen", "not looked"):
        see(act, practice, koi, "flashing", state)
        (row,) = read.find(Sign)
        assert row.state == state
        words += view(practice).words
    assert len(set(words)) == 3
    water = subject(practice, "koi pond")
    words = []
    for state in ("ok", "problem", "not seen"):
        see(act, practice, water, "air", state)
        words.append(next(w for w in view(practice).words if w.startswith("koi pond")))
    assert len(set(words)) == 3


def test_signs_and_walk_items_are_of_their_own_kind_of_subject(act: Act, practice: Small) -> None:
    water, group = view(practice).subjects
    assert (water.kind, group.kind) == ("system", "group")
    for who, sign, state in [
        (water, "gasping", "seen"),
        (water, "air", "seen"),
        (group, "air", "ok"),
        (group, "isolated", "seen"),
        (group, "gasping", "problem"),
    ]:
        with pytest.raises(BadInput, match="can not be noted"):
            see(act, practice, who, sign, state)
    assert read.find(Sign) == ()


def test_thirty_taps_in_twenty_seconds_are_ninety_a_minute(act: Act, practice: Small) -> None:
    group = view(practice).subjects[1]
    taps = tuple(1000.0 + n * 20 / 30 for n in range(30))
    where = (practice.visit, practice.system, group)
    assert breaths.record_tapped(act, *where, taps) == pytest.approx(90)
    (row,) = read.find(Sign)
    assert (row.sign, row.subject, row.subject_id) == ("breaths", "group", practice.group)
    assert row.value == pytest.approx(90)
    figure = view(practice).figures[practice.group]
    assert "breaths a minute = taps x 60 / seconds" in figure.working
    assert view(practice).words == ("koi: 90 breaths a minute (30 taps, the last after 19.3 s)",)


@pytest.mark.parametrize(("text", "rate"), [("90", 90), ("30 in 20", 90), ("30 in 20 s", 90)])
def test_breaths_are_typed_as_a_number_or_as_a_count(
    act: Act, practice: Small, text: str, rate: float
) -> None:
    water = view(practice).subjects[0]
    assert breaths.record_breaths(act, practice.visit, practice.system, water, text) == rate


@pytest.mark.parametrize("text", ["", "abc", "-3", "9.5", "1 2 3", "٣", "30 in 0", "5 kg", "99999"])
def test_what_are_no_breaths_is_refused(act: Act, practice: Small, text: str) -> None:
    water = view(practice).subjects[0]
    with pytest.raises(BadInput):
        breaths.record_breaths(act, practice.visit, practice.system, water, text)
    assert read.find(Sign) == ()


@given(st.integers(1, 120), st.integers(1, 60))
def test_a_typed_count_is_the_same_as_its_rate(count: int, seconds: int) -> None:
    value, steps = breaths.understand_breaths(f"{count} in {seconds}")
    assert value == pytest.approx(count * 60 / seconds)
    assert steps


def test_a_typed_number_takes_the_working_of_the_taps_away(act: Act, practice: Small) -> None:
    water = view(practice).subjects[0]
    where = (practice.visit, practice.system, water)
    breaths.record_tapped(act, *where, (0.0, 1.0, 2.0))
    breaths.record_breaths(act, *where, "72")
    assert view(practice).figures == {}
    (row,) = read.find(Sign)
    assert (row.value, row.note) == (72, "")


def test_a_note_stands_with_its_sign_and_stays(act: Act, practice: Small) -> None:
    group = view(practice).subjects[1]
    where = (practice.visit, practice.system, group)
    watching.record_note(act, *where, "flashing", "seen", "qwertyuiop on the left")
    see(act, practice, group, "flashing", "not seen")
    (row,) = read.find(Sign)
    assert (row.state, row.note) == ("not seen", "qwertyuiop on the left")
    assert "qwertyuiop on the left" in view(practice).words[0]


def test_no_fish_beyond_those_that_are_there(act: Act, practice: Small) -> None:
    (held,) = view(practice).held
    where = (practice.visit, practice.system, held)
    with pytest.raises(BadInput, match="12 of koi"):
        watching.add_fish(act, *where, 13)
    watching.add_fish(act, *where, 12, "red cap")
    assert watching.next_number(view(practice), practice.group) == 13
    assert view(practice).subjects[-1].label == "koi 12 of 12"


def test_fish_that_left_later_stay_in_the_record(act: Act, practice: Small) -> None:
    group = view(practice).subjects[1]
    see(act, practice, group, "thin", "seen")
    other = setup.add_system(act, practice.site, "tank", "quarantine_fresh")
    moved = moves.Moved(practice.group, practice.system, other, act.at.date(), 12)
    moves.add_move(act, practice.visit, moved)
    assert view(practice).held == ()
    assert view(practice).words == ("koi: seen: thin",)
    there = watching.view(practice.visit, other)
    assert [s.id for s in there.subjects] == [other, practice.group]
    assert there.words == ()


def test_a_sign_is_struck_with_a_reason(act: Act, practice: Small) -> None:
    group = view(practice).subjects[1]
    breaths.record_tapped(act, practice.visit, practice.system, group, (0.0, 1.0))
    (row,) = read.find(Sign)
    watching.strike_sign(act, row.id, "it was another fish")
    assert view(practice).words == ()
    assert view(practice).figures == {}
    assert read.one(Sign, row.id).struck == "it was another fish"


def test_signed_watching_is_shown_and_every_change_refused(act: Act, practice: Small) -> None:
    water, group = view(practice).subjects
    see(act, practice, water, "air", "problem")
    (row,) = read.find(Sign)
    before = view(practice).words
    with edit("sign", who=act.by, at=act.at, visit=practice.visit) as doing:
        doing.change(Visit, practice.visit, signed_at=act.at, state="signed")
    now = replace(act, at=act.at + timedelta(hours=1))
    (held,) = view(practice).held
    where = (practice.visit, practice.system)
    for attempt in (
        lambda: see(now, practice, water, "air", "ok"),
        lambda: see(now, practice, group, "thin", "seen"),
        lambda: watching.record_note(now, *where, water, "air", "problem", "x"),
        lambda: watching.add_fish(now, *where, held, 1),
        lambda: breaths.record_breaths(now, *where, group, "80"),
        lambda: breaths.record_tapped(now, *where, group, (0.0, 1.0)),
        lambda: watching.strike_sign(now, row.id, "no"),
    ):
        with pytest.raises(Closed, match="This visit is signed"):
            attempt()
    assert view(practice).words == before
