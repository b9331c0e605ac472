"""The ordered list of what to do first, and the figures that could not be worked out."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.catalogue.load import citations, table
from core.water.ammonia import unionised_ammonia_mg_l
from core.water.derived import derive, measured
from core.water.first import do_first
from core.water.readings import WaterReadings
from core.water.situation import NO_SALT, FirstStep, Presence
from core.water.targets import SystemKind, kinds

ALL = kinds(table("system_kinds"), table("targets"), citations())
Kinds = dict[str, SystemKind]
NITRITE = WaterReadings(temperature_c=20.0, ph=7.5, nitrite_mg_l=0.6, chloride_mg_l=18.0)


def text(steps: tuple[FirstStep, ...]) -> str:
    return "\n".join(f"{step.action} {step.figure}" for step in steps)


@pytest.mark.parametrize("presence", NO_SALT)
def test_no_salt_where_it_would_harm(system_kinds: Kinds, presence: Presence) -> None:
    pond = system_kinds["goldfish_pond"]
    assert "Plain salt" in text(do_first(NITRITE, pond, 1000.0))
    spared = text(do_first(NITRITE, pond, 1000.0, present=frozenset({presence})))
    assert "Plain salt" not in spared
    assert presence in spared
    assert "Change" in spared


def test_no_salt_into_the_sea(system_kinds: Kinds) -> None:
    sea = replace(NITRITE, practical_salinity=33.0, chloride_mg_l=None)
    got = text(do_first(sea, system_kinds["marine_fish_only"], 1000.0))
    assert "Plain salt" not in got
    assert "sea water" in got


def test_enough_chloride_asks_for_no_salt(system_kinds: Kinds) -> None:
    got = text(do_first(replace(NITRITE, chloride_mg_l=400.0), system_kinds["koi_pond"], 1000.0))
    assert "Keep the chloride up" in got
    assert "Plain salt" not in got


def test_chloride_not_measured_is_said(system_kinds: Kinds) -> None:
    got = text(do_first(replace(NITRITE, chloride_mg_l=None), system_kinds["koi_pond"], 1000.0))
    assert "counts as none" in got


def test_chlorine_comes_with_its_thiosulfate(system_kinds: Kinds) -> None:
    got = do_first(WaterReadings(chlorine_mg_l=0.5), system_kinds["koi_pond"], 1000.0)
    assert got[0].amount == pytest.approx(3.5)
    assert "for all" in got[0].figure
    without = do_first(WaterReadings(chlorine_mg_l=0.5), system_kinds["koi_pond"])
    assert "for each 100 L" in without[0].figure


def test_chlorine_under_the_lowest_step_is_watched_and_not_bound(system_kinds: Kinds) -> None:
    low = WaterReadings(chlorine_mg_l=0.1, below=frozenset({"chlorine_mg_l"}))
    [step] = do_first(low, system_kinds["koi_pond"], 1000.0)
    assert step.action == "Watch the fish after new water"
    assert "under 0.100 mg/L, the lowest step of this kit" in step.figure
    assert step.amount is None
    assert "thiosulfate" not in text((step,))


def test_new_water_with_as_much_ammonia_is_said_not_to_help(system_kinds: Kinds) -> None:
    readings = WaterReadings(temperature_c=25.0, ph=8.0, tan_mg_l=2.0)
    got = do_first(readings, system_kinds["koi_pond"], tap=WaterReadings(tan_mg_l=3.0))
    assert "Find better new water" in text(got)


def test_much_ammonia_takes_several_changes(system_kinds: Kinds) -> None:
    readings = WaterReadings(temperature_c=25.0, ph=8.0, tan_mg_l=4.0)
    got = text(do_first(readings, system_kinds["koi_pond"]))
    assert "Change 50 %" in got
    assert "4 such changes" in got


def test_alkalinity_waits_for_the_ammonia(system_kinds: Kinds) -> None:
    low = WaterReadings(temperature_c=20.0, ph=7.4, alkalinity_mg_l=40.0)
    pond = system_kinds["koi_pond"]
    assert "Sodium bicarbonate, dissolved, in 3 equal parts" in text(do_first(low, pond, 1000.0))
    toxic = text(do_first(replace(low, tan_mg_l=4.0), pond, 1000.0))
    assert "Sodium bicarbonate" not in toxic
    assert "only when the ammonia is down" in toxic


@given(
    st.sampled_from(list(ALL.values())),
    st.floats(10, 32),
    st.floats(4.6, 6.9),
    st.floats(1.1, 20),
    st.floats(0, 200),
    st.floats(0, 5),
)
def test_nothing_raises_the_ph_of_a_sour_water_full_of_ammonia(  # type: ignore[no-untyped-def]
    kind, temperature, ph, tan, alkalinity, nitrite
) -> None:
    readings = WaterReadings(
        temperature_c=temperature,
        ph=ph,
        tan_mg_l=tan,
        alkalinity_mg_l=alkalinity,
        nitrite_mg_l=nitrite,
        practical_salinity=None if kind.water == "fresh" else 20.0,
    )
    toxic_if = unionised_ammonia_mg_l(tan, temperature, 7.6, readings.practical_salinity or 0.0)
    got = do_first(readings, kind, 100.0)
    if toxic_if > (kind.limits["toxic_ammonia"].high or 0):
        words = text(got)
        assert "Do NOT raise the pH" in words
        assert "Sodium bicarbonate" not in words
        assert "pH back" not in words
        assert "Change 50" not in words


readings_of = st.builds(
    WaterReadings,
    temperature_c=st.none() | st.floats(-2, 45),
    oxygen_mg_l=st.none() | st.floats(0, 40),
    ph=st.none() | st.floats(0, 14),
    practical_salinity=st.none() | st.floats(0, 42),
    chlorine_mg_l=st.none() | st.floats(0, 20),
    tan_mg_l=st.none() | st.floats(0, 200),
    nitrite_mg_l=st.none() | st.floats(0, 100),
    nitrate_mg_l=st.none() | st.floats(0, 200),
    alkalinity_mg_l=st.none() | st.floats(0, 2000),
    hardness_mg_l=st.none() | st.floats(0, 500),
    chloride_mg_l=st.none() | st.floats(0, 500),
    below=st.sets(st.sampled_from(["tan_mg_l", "nitrite_mg_l", "chlorine_mg_l"])).map(frozenset),
)


@given(readings_of, st.sampled_from(list(ALL.values())), st.floats(0, 3000))
def test_every_water_gets_a_list_whose_lines_carry_their_limit(  # type: ignore[no-untyped-def]
    readings, kind, elevation
) -> None:
    steps = do_first(readings, kind, 1000.0, elevation, tap=readings)
    for step in steps:
        assert step.limit is not None
        assert step.because
        assert step.how_known


@given(readings_of, st.sampled_from(list(ALL.values())))
def test_each_derived_figure_is_there_or_says_why_not(readings, kind) -> None:  # type: ignore[no-untyped-def]
    found = derive(readings, kind)
    for name in found.__dataclass_fields__:
        figure = getattr(found, name)
        assert (figure.value is None) == bool(figure.why_not), name


def test_a_missing_reading_is_named(system_kinds: Kinds) -> None:
    found = derive(WaterReadings(tan_mg_l=1.0, ph=8.1), system_kinds["marine_reef"])
    assert found.toxic_ammonia.why_not == "No figure: temperature and salinity not measured."
    assert measured(WaterReadings(tan_mg_l=1.0, ph=8.1)) == ("ph", "ammonia")


def test_a_figure_out_of_range_is_withheld_with_its_range(system_kinds: Kinds) -> None:
    sour = WaterReadings(temperature_c=20.0, ph=9.4, alkalinity_mg_l=300.0)
    found = derive(sour, system_kinds["rift_lake_tanganyika"])
    assert found.carbon_dioxide.value is None
    assert "holds from 5.5 to 8.5" in found.carbon_dioxide.why_not
