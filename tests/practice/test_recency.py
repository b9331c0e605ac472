"""A visit lately enough to prescribe, trials on a few fish, the minutes of oxygen of a bath."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from core.errors import BadInput, Refusal
from core.practice import plan, plan_steps, recency, settings, treatment_words, trials, visits
from core.practice.care_paper import care_sheet
from core.practice.keep import Act, figures
from core.practice.treatments import Order, order_treatment, prepare
from core.records import read
from core.records.journal import edit
from core.records.keys import new_key
from core.records.tables import Treatment, TrialRun, Visit, Weighing
from tests.practice.plan_cases import MOMENT, Case, D, case


def pond(**more: Any) -> Case:
    made = case(volume_error_percent=10.0, **more)
    made.read(temperature=17.0, ph=8.0, oxygen=8.0)
    return made


def bath(made: Case, act: str = "prescribed") -> Order:
    order = made.order("praziquantel-prolonged", "2 mg/L", "prolonged bath", repeats=1)
    return replace(order, act=act, reason="flukes on the gills of all")


def months_on(count: int) -> datetime:
    year, month = divmod(D.month - 1 + count, 12)
    return datetime(D.year + year, month + 1, D.day, 9, 0, tzinfo=UTC)


@pytest.mark.parametrize("act", ["prescribed", "dispensed"])
def test_a_visit_of_13_months_ago_prescribes_nothing_and_one_of_11_does(
    records: Path, act: str
) -> None:
    made = pond()
    old = Act(made.act.by, months_on(13))
    with pytest.raises(Refusal, match="2026-11-25, longer ago than the 12 months") as error:
        order_treatment(old, made.visit, bath(made, act))
    assert "A call is not a visit" in error.value.sentence
    assert any(
        "12 months" in s for s in prepare(made.visit, bath(made, act), old.at.date()).refused
    )
    assert order_treatment(Act(made.act.by, months_on(11)), made.visit, bath(made, act))


def test_the_limit_is_the_practices_own_and_holds_to_the_day(records: Path) -> None:
    made = pond()
    order_treatment(Act(made.act.by, months_on(12)), made.visit, bath(made))
    day_after = Act(made.act.by, months_on(12) + timedelta(days=1))
    with pytest.raises(Refusal, match="12 months"):
        order_treatment(day_after, made.visit, bath(made))
    settings.put(Act("setup", MOMENT), recency.KEY, "6")
    with pytest.raises(Refusal, match="6 months"):
        order_treatment(Act(made.act.by, months_on(7)), made.visit, bath(made))
    assert recency.months() == 6


def test_what_is_given_here_or_advised_asks_for_no_older_visit(records: Path) -> None:
    made = pond()
    late = Act(made.act.by, months_on(13))
    for act in ("given here", "advised"):
        assert order_treatment(late, made.visit, bath(made, act))


def test_a_call_is_not_a_visit(records: Path) -> None:
    made = pond()
    call = visits.book(made.act, made.system, D, "15:00", made.act.by, "call", kind="phone")
    with edit("gone", who=made.act.by, at=MOMENT, visit=made.visit) as doing:
        doing.change(Visit, made.visit, state="no access", why="nobody at home")
    with pytest.raises(Refusal, match="No visit of this practice to these fish"):
        order_treatment(made.act, call, bath(made))
    seen = visits.book(
        made.act, made.system, date(2026, 10, 1), "10:00", made.act.by, "the visit before"
    )
    with edit("seen", who=made.act.by, at=MOMENT, visit=seen) as doing:
        doing.change(Visit, seen, state="open")
    assert order_treatment(made.act, call, bath(made))


def test_the_last_of_a_month_stays_the_last(records: Path) -> None:
    made = case(day=date(2028, 2, 29))
    assert recency.of(made.site, date(2029, 2, 28), made.visit).recent
    assert not recency.of(made.site, date(2029, 3, 1), made.visit).recent
    assert recency.of(made.site, date(2028, 2, 28), made.visit).last is None


def test_stop_caution_and_note_differ_in_words_and_in_what_they_ask(records: Path) -> None:
    made = pond(invertebrates="yes", plants="yes")
    salt = made.order("salt-prolonged", "2 g/L", "prolonged bath")
    ready = prepare(made.visit, salt)
    said = treatment_words.sentences(ready)
    assert any(s.startswith("STOP. Needs a reason in a sentence: Present: inv") for s in said)
    assert any(s.startswith("Caution. Needs a reason: Present: live plants") for s in said)
    assert ready.notes
    for reason, words in (("", "STOP"), ("shrimp", "in a sentence")):
        with pytest.raises(Refusal) as error:
            order_treatment(made.act, made.visit, replace(salt, reason=reason))
        assert words in f"{error.value.sentence} {error.value.todo}"
    why = "the shrimp were moved out"
    row = read.one(Treatment, order_treatment(made.act, made.visit, replace(salt, reason=why)))
    assert row.override.startswith(f"{why} (STOP gone past: invertebrates; gone past: plants")


def test_a_caution_takes_any_reason(records: Path) -> None:
    made = pond(plants="yes")
    salt = made.order("salt-prolonged", "2 g/L", "prolonged bath")
    with pytest.raises(Refusal, match=r"^This needs a reason"):
        order_treatment(made.act, made.visit, salt)
    row = order_treatment(made.act, made.visit, replace(salt, reason="potted"))
    assert read.one(Treatment, row).override.startswith("potted (gone past: plants")


def test_minutes_of_oxygen_are_shown_before_a_bath(records: Path) -> None:
    made = pond()
    unknown = prepare(made.visit, bath(made)).notes
    assert any("how long the oxygen lasts is not known" in s for s in unknown)
    weigh(made)
    [line] = [s for s in prepare(made.visit, bath(made)).notes if "If air and flow stop" in s]
    # 13 fish of 500 g use 300 mg/kg/h: (8 - 5) mg/L of 3390 L last 60 x 3 x 3390 / (300 x 6.5).
    assert "from 8.0 to 5 mg/L in about 310 min (from memory" in line
    assert line in treatment_words.sentences(prepare(made.visit, bath(made)))


def weigh(made: Case) -> None:
    with edit("weighing", who=made.act.by, at=MOMENT, visit=made.visit) as doing:
        row = Weighing(
            id=new_key(),
            visit=made.visit,
            system=made.system,
            group=made.group,
            count=13,
            weight_g=500.0,
            at=MOMENT,
        )
        doing.add(row)


def test_a_trial_is_asked_for_until_one_is_noted(records: Path) -> None:
    made = pond()
    order = made.order("permanganate-prolonged", "2 mg/L", "prolonged bath")
    key = order_treatment(made.act, made.visit, replace(order, reason="flukes on every gill"))
    assert "none is noted yet" in line_of(made, key).trial
    with pytest.raises(BadInput, match="at least one fish"):
        trials.add(made.act, key, 0)
    with pytest.raises(BadInput, match="above zero"):
        trials.add(made.act, key, 3, 0.0)
    trial = trials.note(made.technician, key, 3, 30.0, "")
    assert line_of(made, key).trial == "tried on 3 fish for 30 min: outcome awaited"
    with pytest.raises(BadInput, match="what was seen"):
        trials.set_outcome(made.act, trial, " ")
    assert trials.note(made.act, key, None, None, "all swim and eat") == trial
    assert read.one(TrialRun, trial).outcome == "all swim and eat"
    assert line_of(made, key).trial == "tried on 3 fish for 30 min: all swim and eat"
    plain = made.order("praziquantel-prolonged", "2 mg/L", "prolonged bath")
    assert line_of(made, order_treatment(made.act, made.visit, plain)).trial == ""


def line_of(made: Case, key: str) -> plan.TreatmentLine:
    rows = plan.view(made.visit, made.system).treatments
    return next(t for t in rows if t.treatment.id == key)


def test_what_goes_with_a_bath_reaches_the_plan_and_the_care_sheet(records: Path) -> None:
    made = pond()
    order = made.order("permanganate-prolonged", "2 mg/L", "prolonged bath", off_hours=24.0)
    wanted = replace(order, act="dispensed", reason="flukes on every gill")
    key = order_treatment(made.act, made.visit, wanted)
    offers = {o.origin: o for o in plan_steps.offers(made.visit, made.system)}
    kinds = {"stay": "do", "trial": "do", "ends": "stop", "drain": "do", "kit": "watch"}
    assert {k: offers[f"{k}:{key}"].kind for k in kinds} == kinds
    plan_steps.take_steps(made.act, made.visit, made.system)
    text = repr(care_sheet(made.visit, "1", 1, MOMENT))
    for words in (
        "Stay by while the water is pink",
        "try it on a few fish first",
        "dilute the bath at once",
        "Let it turn brown",
        "reads as chlorine",
        "UV and ozone off, carbon out, extra air on",
    ):
        assert words in text, words


def test_what_was_asked_is_kept_with_the_figure(records: Path) -> None:
    made = pond()
    asked = {"bad bottle": False, "no air": False, "bloom": False}
    order = made.order("formalin-prolonged", "20 uL/L", "prolonged bath", said=asked)
    wanted = replace(order, reason="the filter is turned off")
    key = order_treatment(made.act, made.visit, wanted)
    working = figures(made.visit, key)["amount"].working
    assert "Asked whether the water has no strong aeration: no." in working
    assert "oxygen" not in read.one(Treatment, key).override
