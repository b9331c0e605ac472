"""Verdicts say nothing that their own numbers contradict."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.catalogue.load import citations, table
from core.water import verdict as module
from core.water.readings import WaterReadings
from core.water.targets import SystemKind, kinds, limit_from
from core.water.verdict import for_row, judge, judge_all

ALL = kinds(table("system_kinds"), table("targets"), citations())
limits = st.sampled_from([limit for kind in ALL.values() for limit in kind.limits.values()])


def inside(value: float, low: float | None, high: float | None) -> bool:
    return (low is None or value >= low) and (high is None or value <= high)


@given(limits, st.floats(0, 500))
def test_word_follows_the_numbers(limit, value) -> None:  # type: ignore[no-untyped-def]
    got = judge(limit.reading, value, limit)
    if not inside(value, limit.low, limit.high):
        assert got.word == "act"
    elif not inside(value, limit.aim_low, limit.aim_high):
        assert got.word == "watch"
    else:
        assert got.word == "good"


@given(limits, st.floats(0.0001, 500))
def test_figures_of_a_broken_limit_read_as_broken(limit, value) -> None:  # type: ignore[no-untyped-def]
    got = judge(limit.reading, value, limit)
    said = re.search(
        r"(\d[\d.]*)\D*? is (under|over) the (?:limit|aim) of (\d[\d.]*)", got.sentence
    )
    if got.word == "good":
        assert said is None
        return
    assert said is not None, got.sentence
    shown, bound = float(said[1]), float(said[3])
    assert shown < bound if said[2] == "under" else shown > bound, got.sentence


@given(limits, st.floats(0.0001, 500))
def test_under_the_lowest_step_is_good_only_when_the_step_is(limit, step) -> None:  # type: ignore[no-untyped-def]
    got = judge(limit.reading, step, limit, below=True)
    assert "lowest step" in got.sentence or got.word == "act" or "under the aim" in got.sentence
    if got.word == "good":
        assert inside(step, None, limit.high)
        assert inside(step, None, limit.aim_high)
        assert max(limit.low or 0, limit.aim_low or 0) <= 0
    if got.word == "act":
        assert limit.low is not None
        assert step <= limit.low


def test_each_sentence_names_number_and_source(system_kinds: dict[str, SystemKind]) -> None:
    limit = system_kinds["koi_pond"].limits["toxic_ammonia"]
    got = judge("toxic_ammonia", 0.05, limit)
    assert "over the limit of 0.02 mg/L" in got.sentence
    assert "Texas Parks and Wildlife" in got.sentence
    assert got.limit is limit


def test_no_limit_is_said(system_kinds: dict[str, SystemKind]) -> None:
    assert judge("chloride", 18.0, None).word == "no limit"
    bare = limit_from("chloride", {"unit": "mg/L", "source": "X", "how_known": "read"})
    assert judge("chloride", 18.0, bare).sentence == "Chloride 18 mg/L: no limit is set."


def test_where_the_lowest_step_does_not_settle_it(system_kinds: dict[str, SystemKind]) -> None:
    limit = system_kinds["koi_pond"].limits["chlorine"]
    got = judge("chlorine", 0.05, limit, below=True)
    assert got.word == "watch"
    assert "does not settle it" in got.sentence


def test_oxygen_is_judged_by_what_its_own_water_holds(
    system_kinds: dict[str, SystemKind],
) -> None:
    reef = system_kinds["marine_reef"]
    sea = WaterReadings(oxygen_mg_l=5.6, temperature_c=26.0, practical_salinity=35.0)
    cold = WaterReadings(oxygen_mg_l=5.6, temperature_c=10.0, practical_salinity=35.0)
    assert judge_all(sea, reef)["oxygen_percent"].word == "good"
    assert judge_all(cold, reef)["oxygen_percent"].word == "watch"
    up = judge_all(cold, reef, 2000.0)["oxygen_percent"].value
    assert up > judge_all(cold, reef)["oxygen_percent"].value
    assert "oxygen_percent" not in judge_all(WaterReadings(oxygen_mg_l=5.6), reef)


def test_a_row_shows_the_gravest_way_it_is_judged(system_kinds: dict[str, SystemKind]) -> None:
    soft = WaterReadings(temperature_c=26.0, ph=5.9, tan_mg_l=3.0)
    row = for_row(judge_all(soft, system_kinds["soft_water"]), "ammonia")
    assert row is not None
    assert (row.reading, row.word) == ("ammonia", "act")
    assert for_row({}, "ammonia") is None


def test_no_verdict_reads_the_criteria_for_natural_waters(
    system_kinds: dict[str, SystemKind], monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object, **__: object) -> float:
        raise AssertionError("a verdict read a criterion for natural waters")

    for name in ("acute_criterion_mg_l", "chronic_criterion_mg_l"):
        monkeypatch.setattr(f"core.water.ammonia.{name}", refuse)
        assert not hasattr(module, name)
    readings = WaterReadings(temperature_c=20.0, ph=8.0, tan_mg_l=1.5)
    assert judge_all(readings, system_kinds["koi_pond"])["toxic_ammonia"].word == "act"
    cited = {limit.source for kind in system_kinds.values() for limit in kind.limits.values()}
    assert "EPA13" not in cited
