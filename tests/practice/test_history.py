"""The history: four things an answer can be, what is kept, losses, moves and what was tried."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.assessment.history import Said
from core.catalogue import load
from core.errors import BadInput, Refusal
from core.practice import (
    complaints,
    history,
    losses,
    moves,
    record_paper,
    setup,
    tried,
    visits,
)
from core.practice.history import Line
from core.practice.keep import Act
from core.practice.questions import asked_of, catalogue, family
from core.records import read
from core.records.engine import query
from core.records.journal import Closed, edit
from core.records.tables import Answer, FishGroup, Loss, System, Visit
from tests.small import Small

DAY = date(2026, 11, 25)


def line(practice: Small, key: str, visit: str = "") -> Line:
    found = history.view(visit or practice.visit, practice.system)
    return next(li for li in found.lines if li.asked.key == key)


def say(act: Act, practice: Small, key: str, state: str, value: str = "", visit: str = "") -> None:
    visit = visit or practice.visit
    asked = line(practice, key, visit).asked
    history.answer(act, visit, practice.system, asked, state, value)


def later(act: Act, practice: Small, days: int = 30) -> tuple[Act, str]:
    """Book the next visit and return it with an act on its day."""
    then = replace(act, at=act.at + timedelta(days=days))
    day = DAY + timedelta(days=days)
    return then, visits.book(then, practice.system, day, "10:30", practice.vet, "again")


def sign(act: Act, visit: str) -> None:
    with edit("sign", who=act.by, at=act.at, visit=visit) as doing:
        doing.change(Visit, visit, signed_at=act.at, signed_by=act.by, state="signed")


def test_value_no_unknown_and_not_asked_are_stored_and_worded_apart(
    act: Act, practice: Small
) -> None:
    keys = ("new_fish", "quarantine", "handled", "before")
    said = [("value", "yes"), ("no", ""), ("unknown", "")]
    for key, (state, value) in zip(keys[:3], said, strict=True):
        say(act, practice, key, state, value)
    lines = [line(practice, key) for key in keys]
    assert [li.said for li in lines] == [Said.VALUE, Said.NO, Said.UNKNOWN, Said.NOT_ASKED]
    assert [li.words for li in lines] == ["yes", "no", "unknown", "not asked"]
    stored = {a.question: (a.state, a.value) for a in read.find(Answer, visit=practice.visit)}
    assert stored == {
        "new_fish": ("value", "yes"),
        "quarantine": ("no", ""),
        "handled": ("unknown", ""),
    }
    printed = dict(record_paper.record_of(practice.visit).history)
    labels = [li.asked.question.label for li in lines]
    assert [printed[label] for label in labels[:3]] == ["yes", "no", "unknown"]
    assert labels[3] not in printed, "not asked is not printed as an answer"


def test_the_record_prints_answers_in_words_and_no_key_of_the_records(
    act: Act, practice: Small
) -> None:
    say(act, practice, "complaint", "value", "deaths_days")
    lines = history.view(practice.visit, practice.system).lines
    group = next(li for li in lines if practice.group in li.asked.key)
    history.confirm(act, practice.visit, practice.system, group)
    printed = dict(record_paper.record_of(practice.visit).history)
    assert "many dead over days" in printed.values()
    assert not [label for label in printed if practice.group in label or "_" in label]


def test_three_answers_to_one_question_leave_one_row_and_the_journal_all_three(
    act: Act, practice: Small
) -> None:
    said = [("value", "yes"), ("no", ""), ("unknown", "")]
    seen = []
    for state, value in said:
        say(act, practice, "spray", state, value)
        (row,) = read.find(Answer, question="spray")
        seen.append((row.state, row.value))
    assert seen == said
    sql = """SELECT "change" FROM "edit_line" WHERE "in_table" = 'answer' AND "row" = ?"""
    states = [json.loads(c[0])["state"] for c in query(sql, (row.id,))]
    assert states == [[None, "value"], ["value", "no"], ["no", "unknown"]]


@pytest.mark.parametrize(("state", "value"), [("value", " "), ("no", "x"), ("unknown", "x")])
def test_an_answer_is_one_thing(act: Act, practice: Small, state: str, value: str) -> None:
    with pytest.raises(BadInput):
        say(act, practice, "spray", state, value)
    assert read.find(Answer) == ()


def test_a_struck_answer_counts_as_not_asked(act: Act, practice: Small) -> None:
    say(act, practice, "spray", "no")
    row = line(practice, "spray").answer
    assert row is not None
    with pytest.raises(Refusal, match="reason"):
        history.strike_answer(act, row.id, " ")
    history.strike_answer(act, row.id, "asked of the other pond")
    assert line(practice, "spray").words == "not asked"
    assert read.one(Answer, row.id).struck == "asked of the other pond"


def test_who_tells_stands_with_each_answer(act: Act, practice: Small) -> None:
    say(act, practice, "spray", "no")
    say(act, practice, "told_by", "value", "neighbour")
    say(act, practice, "handled", "no")
    told = {a.question: a.told_by for a in read.find(Answer)}
    assert (told["spray"], told["handled"]) == ("", "neighbour")


def test_each_kind_of_system_is_asked_its_own_questions() -> None:
    kinds = load.table("system_kinds")
    systems = {kind: System(id=kind, site="s", name=kind, kind=kind) for kind in kinds}
    assert {family(s) for s in systems.values()} == {"pond", "tank", "marine", "farm"}
    asked = {kind: {a.key for a in asked_of(s, ())} for kind, s in systems.items()}
    assert "market_date" in asked["trout_flowing"] - asked["koi_pond"]
    assert "heater_fault" in asked["marine_reef"] - asked["koi_pond"]
    assert "food_fish" not in asked["marine_reef"]
    eaten = replace(systems["koi_pond"], food_fish=True)
    assert {"market_date", "medicated"} <= {a.key for a in asked_of(eaten, ())}
    for kind, system in systems.items():
        keys = [a.key for a in asked_of(system, ())]
        assert len(keys) == len(set(keys)), kind


def test_every_question_is_of_a_column_or_a_list_that_is_there() -> None:
    columns = set(System.__dataclass_fields__)
    for key, asked in catalogue().items():
        assert asked.column == "" or asked.column in columns, key
        assert asked.column == "" or asked.question.kept, key
        assert asked.opens in ("", "losses", "tried", "complaints"), key
        if asked.question.kind == "number":
            assert asked.low is not None, key
            assert asked.high is not None, key


def test_what_is_kept_is_offered_with_its_day_and_confirmed(act: Act, practice: Small) -> None:
    say(act, practice, "uv", "value", "yes")
    then, second = later(act, practice)
    uv, volume = line(practice, "uv", second), line(practice, "volume", second)
    assert uv.waits
    assert uv.stood_words == "yes"
    assert uv.stood is not None
    assert uv.stood.day == DAY
    assert (uv.words, volume.stood_words) == ("not asked", "9000 L")
    history.confirm(then, second, practice.system, uv)
    history.confirm(then, second, practice.system, volume)
    uv, volume = line(practice, "uv", second), line(practice, "volume", second)
    assert (uv.waits, uv.words, uv.changed) == (False, "yes", False)
    assert (volume.waits, volume.words, volume.changed) == (False, "9000 L", False)
    assert volume.answer is not None
    assert volume.answer.at == then.at
    third, visit = later(act, practice, 60)
    assert third.at > then.at
    stood = line(practice, "uv", visit).stood
    assert stood is not None
    assert stood.day == DAY + timedelta(days=30), "the day on which it was last confirmed"


def test_a_change_keeps_the_old_value_with_its_date(act: Act, practice: Small) -> None:
    asked = line(practice, "volume").asked
    history.answer(act, practice.visit, practice.system, asked, "value", "9200 L", 9200.0)
    then, second = later(act, practice)
    history.answer(then, second, practice.system, asked, "value", "2000 gal", 7570.8)
    system = read.one(System, practice.system)
    assert (system.volume_l, system.volume_typed) == (7570.8, "2000 gal")
    changed = line(practice, "volume", second)
    assert changed.changed
    assert changed.stood_words == "9200 L"
    assert changed.stood is not None
    assert changed.stood.day == DAY
    sql = """SELECT e."at", l."change" FROM "edit_line" l JOIN "edit" e ON e."id" = l."edit"
             WHERE l."in_table" = 'system' AND l."row" = ? AND l."act" = 'change'"""
    old = [(at[:10], json.loads(c)["volume_l"]) for at, c in query(sql, (practice.system,))]
    assert old == [("2026-11-25", [9000.0, 9200.0]), ("2026-12-25", [9200.0, 7570.8])]
    assert line(practice, "volume").words == "9200 L", "the earlier visit still says its own"


@pytest.mark.parametrize(
    ("key", "state", "value", "column", "expected"),
    [
        ("food_fish", "value", "yes", "food_fish", True),
        ("food_fish", "no", "", "food_fish", False),
        ("food_fish", "unknown", "", "food_fish", True),
        ("inverts", "value", "yes", "invertebrates", "yes"),
        ("inverts", "unknown", "", "invertebrates", "unknown"),
        ("zeolite", "no", "", "zeolite", "no"),
        ("source", "value", "well", "source_water", "well"),
        ("filter", "value", "drum and beads", "filter", "drum and beads"),
        ("flow", "value", "flowing", "flow", "flowing"),
        ("flow", "unknown", "", "flow", "recirculated"),
        ("volume_known", "value", "by salt", "volume_how", "salt"),
        ("volume", "unknown", "", "volume_l", None),
    ],
)
def test_a_kept_answer_stands_on_the_system(
    act: Act, practice: Small, key: str, state: str, value: str, column: str, expected: object
) -> None:
    say(act, practice, key, state, value)
    assert getattr(read.one(System, practice.system), column) == expected


def test_fish_nobody_knows_to_be_eaten_are_handled_as_food(act: Act, practice: Small) -> None:
    say(act, practice, "food_fish", "unknown")
    found = line(practice, "food_fish")
    assert (found.words, found.said) == ("unknown", Said.UNKNOWN)
    assert history.FOOD_UNKNOWN in found.caution
    say(act, practice, "food_fish", "no")
    assert line(practice, "food_fish").caution == ""


def test_cautions_are_said_at_once_and_once(act: Act, practice: Small) -> None:
    assert history.view(practice.visit, practice.system).cautions == ()
    for key in ("skin_sores", "inverts", "zeolite"):
        say(act, practice, key, "value", "yes")
    cautions = history.view(practice.visit, practice.system).cautions
    assert len(cautions) == 3
    assert any("doctor" in c for c in cautions)
    assert any("copper" in c for c in cautions)


def test_numbers_of_fish_are_kept_for_groups_and_single_fish(act: Act, practice: Small) -> None:
    lady = setup.add_group(act, practice.system, "koi", "Lady", single=True)
    key = f"group {practice.group}"
    history.answer(
        act, practice.visit, practice.system, line(practice, key).asked, "value", "9", 9.0
    )
    say(act, practice, f"group {lady}", "no")
    assert read.one(FishGroup, practice.group).count == 9
    assert read.one(FishGroup, lady).count == 0
    changed = line(practice, key)
    assert (changed.stood_words, changed.words) == ("12", "9")


def test_nothing_is_confirmed_that_was_not_kept_or_twice(act: Act, practice: Small) -> None:
    with pytest.raises(Refusal, match="nothing is kept"):
        history.confirm(act, practice.visit, practice.system, line(practice, "uv"))
    history.confirm(act, practice.visit, practice.system, line(practice, "volume"))
    with pytest.raises(Refusal, match="already"):
        history.confirm(act, practice.visit, practice.system, line(practice, "volume"))


# -- losses -----------------------------------------------------------------------------------


def lost(act: Act, practice: Small, *told: losses.Told) -> losses.Summary:
    for one in told:
        losses.add_loss(act, practice.visit, practice.system, one)
    return history.view(practice.visit, practice.system).losses


def stock_of(act: Act, practice: Small, count: int) -> None:
    with edit("fish", who=act.by, at=act.at) as doing:
        doing.change(FishGroup, practice.group, count=count)


def days(*numbers: int) -> list[losses.Told]:
    first = DAY - timedelta(days=len(numbers))
    return [losses.Told(n, first + timedelta(days=k)) for k, n in enumerate(numbers)]


def test_losses_of_three_days_give_the_hand_rate(act: Act, practice: Small) -> None:
    stock_of(act, practice, 3200)
    found = lost(act, practice, *days(14, 22, 31))
    assert found.total is not None
    assert (found.dead, found.stock) == (67, 3200)
    assert found.total.per_day_most == found.total.per_day_least == pytest.approx(67 / 3)
    assert found.total.percent_most == pytest.approx(100 * 67 / 3200)
    shares = [li.percent for li in found.lines]
    expected = [100 * 14 / 3200, 100 * 22 / 3186, 100 * 31 / 3164]
    assert shares == [pytest.approx(x) for x in expected]
    assert "67 dead in 3 days, of 3200: 2.1 %" in found.sentence
    assert "22.3 a day" in found.sentence
    kept = history.view(practice.visit, practice.system).figures
    assert kept["losses a day"].value == pytest.approx(67 / 3)
    assert kept["losses of the stock"].value == pytest.approx(100 * 67 / 3200)
    assert "losses a day = dead / days" in kept["losses a day"].working


def test_five_of_twenty_two_in_three_days(act: Act, practice: Small) -> None:
    stock_of(act, practice, 22)
    found = lost(act, practice, *days(1, 1, 3))
    assert found.total is not None
    assert found.total.percent_most == pytest.approx(22.727, abs=0.001)
    assert found.total.per_day_most == pytest.approx(5 / 3)


def test_days_nobody_knows_stay_ranges(act: Act, practice: Small) -> None:
    stock_of(act, practice, 100)
    first, last = DAY - timedelta(days=9), DAY - timedelta(days=5)
    found = lost(
        act,
        practice,
        losses.Told(2, DAY - timedelta(days=6)),
        losses.Told(4, first, last, note="while away"),
        losses.Told(3, None, DAY - timedelta(days=6)),
    )
    assert found.total is not None
    assert (found.total.least, found.total.most) == (6, 9)
    assert found.total.percent_least == pytest.approx(6)
    assert found.total.percent_most == pytest.approx(9)
    assert "6 to 9 dead" in found.sentence
    assert [li.percent is None for li in found.lines] == [True, False, True]
    stored = {(r.number, r.day, r.day_to) for r in read.find(Loss)}
    assert (4, first, last) in stored
    assert (3, None, DAY - timedelta(days=6)) in stored
    assert set(history.view(practice.visit, practice.system).figures) == {
        "losses a day, at least",
        "losses a day, at most",
        "losses of the stock, at least",
        "losses of the stock, at most",
    }


def test_without_any_day_no_rate_is_invented(act: Act, practice: Small) -> None:
    found = lost(act, practice, losses.Told(4))
    assert found.total is None
    assert "no rate" in found.sentence
    assert history.view(practice.visit, practice.system).figures == {}


def test_the_stock_before_the_losses_is_what_stood_or_what_was_told(
    act: Act, practice: Small
) -> None:
    key = f"group {practice.group}"
    asked = line(practice, key).asked
    history.answer(act, practice.visit, practice.system, asked, "value", "7", 7.0)
    found = lost(act, practice, *days(5))
    assert (found.stock, found.stock_how) == (12, "as kept before this visit")
    say(act, practice, "stock_before", "value", "20")
    found = history.view(practice.visit, practice.system).losses
    assert (found.stock, found.stock_how) == (20, "as told")
    kept = history.view(practice.visit, practice.system).figures
    assert kept["losses of the stock"].value == pytest.approx(25)


def test_more_dead_than_there_were_is_said_and_no_share_given(act: Act, practice: Small) -> None:
    found = lost(act, practice, *days(13))
    assert "13 dead are more than the 12 fish kept" in found.sentence
    assert found.total is not None
    assert found.total.percent_most is None


def test_losses_of_one_group_are_a_share_of_that_group(act: Act, practice: Small) -> None:
    setup.add_group(act, practice.system, "goldfish", "goldfish", count=38)
    found = lost(act, practice, losses.Told(3, DAY, group=practice.group))
    assert found.stock == 12
    found = lost(act, practice, losses.Told(1, DAY))
    assert found.stock == 50


def test_a_loss_is_corrected_and_struck_and_its_figures_follow(act: Act, practice: Small) -> None:
    row = losses.add_loss(act, practice.visit, practice.system, losses.Told(4, DAY))
    assert line(practice, "deaths").words == "yes"
    losses.change_loss(act, row, losses.Told(6, DAY))
    kept = history.view(practice.visit, practice.system).figures
    assert kept["losses a day"].value == 6
    losses.strike_loss(act, row, "counted twice")
    assert history.view(practice.visit, practice.system).losses.lines == ()
    assert history.view(practice.visit, practice.system).figures == {}
    assert read.one(Loss, row).struck == "counted twice"


@pytest.mark.parametrize(
    ("told", "sentence"),
    [
        (losses.Told(0, DAY), "at least one"),
        (losses.Told(1, DAY + timedelta(days=1)), "still to come"),
        (losses.Told(1, DAY, DAY - timedelta(days=1)), "before its first"),
    ],
)
def test_what_can_not_be_is_refused(
    act: Act, practice: Small, told: losses.Told, sentence: str
) -> None:
    with pytest.raises(BadInput, match=sentence):
        losses.add_loss(act, practice.visit, practice.system, told)
    assert read.find(Loss) == ()


@given(st.lists(st.integers(1, 50), min_size=1, max_size=6), st.integers(300, 5000))
def test_shares_and_rates_are_those_of_the_sums(numbers: list[int], alive: int) -> None:
    rows = tuple(
        Loss(id=str(n), visit="v", system="s", day=told.day, number=told.number)
        for n, told in enumerate(days(*numbers))
    )
    group = FishGroup(id="g", system="s", species="koi", name="koi", count=alive)
    found = losses.summed(rows, (group,), {}, None)
    assert found.total is not None
    assert found.total.per_day_most == pytest.approx(sum(numbers) / len(numbers))
    assert found.total.percent_most == pytest.approx(100 * sum(numbers) / alive)
    left = alive
    for one in found.lines:
        assert one.percent == pytest.approx(100 * one.loss.number / left)
        left -= one.loss.number


# -- moves, tried, estimate, complaint --------------------------------------------------------


def test_moves_say_where_the_fish_are_now(act: Act, practice: Small) -> None:
    other = setup.add_system(act, practice.site, "hospital tank", "quarantine_fresh")
    moved = moves.Moved(practice.group, practice.system, other, DAY, 3, "treated apart")
    row = moves.add_move(act, practice.visit, moved)
    (told,) = history.view(practice.visit, practice.system).moves
    assert (told.group, told.source, told.target) == ("koi", "koi pond", "hospital tank")
    assert (told.day, told.move.number, told.move.why) == (DAY, 3, "treated apart")
    assert [(h.group.id, h.number) for h in moves.held(practice.system)] == [(practice.group, 9)]
    assert [(h.group.id, h.number) for h in moves.held(other)] == [(practice.group, 3)]
    moves.change_move(act, row, replace(moved, number=12))
    assert moves.held(practice.system) == ()
    moves.change_move(act, row, replace(moved, number=None))
    assert [h.number for h in (*moves.held(practice.system), *moves.held(other))] == [None, None]
    moves.strike_move(act, row, "another day")
    assert moves.held(other) == ()
    assert [h.number for h in moves.held(practice.system)] == [12]


def test_a_move_that_can_not_be_is_refused(act: Act, practice: Small) -> None:
    other = setup.add_system(act, practice.site, "hospital tank", "quarantine_fresh")
    here = moves.Moved(practice.group, practice.system, practice.system, DAY)
    for moved, sentence in [
        (here, "two different ones"),
        (replace(here, to_system=other, number=13), "12 of koi"),
        (replace(here, to_system=other, number=0), "At least one"),
        (replace(here, to_system=other, day=DAY + timedelta(days=2)), "still to come"),
    ]:
        with pytest.raises(BadInput, match=sentence):
            moves.add_move(act, practice.visit, moved)


def test_what_was_tried_keeps_what_is_not_known_empty(act: Act, practice: Small) -> None:
    row = tried.add_tried(act, practice.visit, practice.system, tried.Told("salt"))
    (told,) = history.view(practice.visit, practice.system).tried
    assert (told.agent, told.amount, told.day, told.since) == ("salt", "", None, "")
    assert line(practice, "tried").words == "yes"
    tried.change_tried(act, row, tried.Told("salt", "2 cups", DAY, "half changed"))
    (told,) = history.view(practice.visit, practice.system).tried
    assert (told.amount, told.day, told.since) == ("2 cups", DAY, "half changed")
    tried.strike_tried(act, row, "that was last year")
    assert history.view(practice.visit, practice.system).tried == ()
    with pytest.raises(BadInput, match="what was added"):
        tried.add_tried(act, practice.visit, practice.system, tried.Told(" "))


def test_the_estimate_is_accepted_by_somebody_at_a_moment(act: Act, practice: Small) -> None:
    with pytest.raises(Refusal, match="no estimate"):
        history.estimate_accepted(act, practice.visit, "Clara Test")
    history.estimate_amounts(act, practice.visit, low_minor=25000)
    history.estimate_amounts(act, practice.visit, high_minor=40000)
    history.estimate_accepted(act, practice.visit, "Clara Test")
    found = history.view(practice.visit, practice.system).estimate
    assert (found.low, found.high) == ("250.00", "400.00")
    assert (found.by, found.day) == ("Clara Test", DAY)
    assert read.one(Visit, practice.visit).estimate_at == act.at
    with pytest.raises(BadInput, match="below the lower"):
        history.estimate_amounts(act, practice.visit, high_minor=100)
    history.estimate_amounts(act, practice.visit, high_minor=45000)
    assert history.view(practice.visit, practice.system).estimate.by == "", "other amounts"


def test_a_complaint_names_tests_and_samples_and_no_diagnosis(act: Act, practice: Small) -> None:
    say(act, practice, "complaint", "value", "gasping")
    say(act, practice, "complaint_2", "value", "swollen")
    worth = history.view(practice.visit, practice.system).worth
    assert worth is not None
    assert worth.labels == ("gasping, breathing fast", "belly swollen, scales flat")
    assert worth.urgency == "emergency"
    assert worth.tests[0] == "Oxygen, now"
    assert worth.samples == ("Gill snip",)
    assert line(practice, "complaint").words == "gasping, breathing fast"


def test_every_complaint_can_be_said_in_words_that_name_no_problem() -> None:
    names = {row["name"].lower() for row in load.table("problems")["problem"].values()}
    for key in complaints.catalogue():
        worth = complaints.worth_doing([key])
        assert worth is not None
        said = {*worth.tests, *worth.samples, *worth.watch, *worth.ask}
        assert said
        assert not {s.lower() for s in said} & names, key


def test_a_signed_history_is_shown_and_every_change_refused(act: Act, practice: Small) -> None:
    other = setup.add_system(act, practice.site, "hospital tank", "quarantine_fresh")
    say(act, practice, "spray", "no")
    where = (practice.visit, practice.system)
    loss = losses.add_loss(act, *where, losses.Told(1, DAY))
    moved = moves.Moved(practice.group, practice.system, other, DAY, 1)
    move = moves.add_move(act, practice.visit, moved)
    told = tried.add_tried(act, *where, tried.Told("salt"))
    history.estimate_amounts(act, practice.visit, low_minor=100)
    before = history.view(*where)
    food = line(practice, "food_fish")
    spray = next(li.answer for li in before.lines if li.asked.key == "spray")
    assert spray is not None
    sign(act, practice.visit)
    now = replace(act, at=act.at + timedelta(hours=1))
    assert history.view(*where).lines == before.lines
    attempts = [
        lambda: say(now, practice, "spray", "unknown"),
        lambda: say(now, practice, "food_fish", "value", "yes"),
        lambda: history.confirm(now, *where, food),
        lambda: history.strike_answer(now, spray.id, "no"),
        lambda: losses.add_loss(now, *where, losses.Told(1, DAY)),
        lambda: losses.change_loss(now, loss, losses.Told(2, DAY)),
        lambda: losses.strike_loss(now, loss, "no"),
        lambda: moves.add_move(now, practice.visit, moved),
        lambda: moves.strike_move(now, move, "no"),
        lambda: tried.add_tried(now, *where, tried.Told("salt")),
        lambda: tried.strike_tried(now, told, "no"),
        lambda: history.estimate_amounts(now, practice.visit, low_minor=200),
        lambda: history.estimate_accepted(now, practice.visit, "Clara"),
    ]
    for attempt in attempts:
        with pytest.raises(Closed, match="This visit is signed"):
            attempt()
    assert history.view(*where).lines == before.lines
    assert read.one(System, practice.system).food_fish is False
