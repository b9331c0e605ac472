"""The catalogue of kinds, limits and analytes holds together and can be reached."""

from __future__ import annotations

from typing import Any

import pytest

from core.catalogue.load import citations, table
from core.units import KINDS
from core.water.ammonia import unionised_fraction
from core.water.nitrogen import PER_NITROGEN
from core.water.oxygen import saturation_mg_l
from core.water.readings import FIELDS, WaterReadings
from core.water.targets import NAMES, UNITS, Limit, SystemKind, kinds

ALL = kinds(table("system_kinds"), table("targets"), citations())
LIMITS = [(kind, limit) for kind in ALL.values() for limit in kind.limits.values()]
ANALYTES = table("analytes")


def name(value: object) -> str:
    if isinstance(value, SystemKind):
        return value.key
    return value.reading if isinstance(value, Limit) else str(value)


def top(kind: SystemKind, reading: str, default: float) -> float:
    """Return the highest that the kind's own limits let a reading be."""
    limit = kind.limits.get(reading)
    ends = (limit.high, limit.aim_high) if limit else ()
    return max((end for end in ends if end is not None), default=default)


@pytest.mark.parametrize(("kind", "limit"), LIMITS, ids=name)
def test_limit_is_ordered_and_sourced(kind: SystemKind, limit: Limit) -> None:
    ends = [limit.low, limit.aim_low, limit.aim_high, limit.high]
    given = [end for end in ends if end is not None]
    assert given, (kind.key, limit)
    assert given == sorted(given), (kind.key, limit)
    assert limit.unit == UNITS.get(limit.reading, "mg/L")
    assert limit.source in table("sources")
    assert limit.how_known in ("read", "from memory", "common practice, no source")
    assert limit.custom in (None, "limit", "aim")
    for side in ("limit", "aim"):
        assert limit.origin(side).strip()


@pytest.mark.parametrize("kind", ALL.values(), ids=name)
def test_oxygen_limits_can_be_reached_in_the_kinds_own_water(kind: SystemKind) -> None:
    hottest, saltiest = top(kind, "temperature", 31.0), top(kind, "salinity", 0.0)
    held = saturation_mg_l(hottest, saltiest)
    limit, percent = kind.limits["oxygen"], kind.limits["oxygen_percent"]
    for end in (limit.low, limit.aim_low):
        assert end is None or end < 0.97 * held, (kind.key, end, held)
    for end in (percent.low, percent.aim_low):
        assert end is None or end < 100
    assert percent.aim_high is not None
    assert percent.aim_high > 100


@pytest.mark.parametrize("kind", ALL.values(), ids=name)
def test_toxic_limit_is_stricter_than_the_total_in_the_kinds_own_water(kind: SystemKind) -> None:
    total, toxic = kind.limits["ammonia"].high, kind.limits["toxic_ammonia"].high
    assert total is not None
    assert toxic is not None
    assert 0 < toxic < total
    warm = kind.limits["temperature"].aim_high or 25.0
    ph = kind.limits["ph"].aim_high or 8.0
    salt = kind.limits["salinity"].aim_high or 0.0
    # A total at which the limit would break must exist: the toxic part is a share of the total.
    assert toxic / unionised_fraction(warm, min(ph, 9.0), salt) > toxic


@pytest.mark.parametrize("kind", ALL.values(), ids=name)
def test_every_kind_has_the_limits_that_every_fish_needs(kind: SystemKind) -> None:
    needed = {"oxygen", "oxygen_percent", "temperature", "ph", "salinity", "chlorine"}
    assert needed | {"toxic_ammonia", "ammonia", "nitrite"} <= set(kind.limits)
    assert list(kind.limits) == [reading for reading in NAMES if reading in kind.limits]
    assert kind.water in ("fresh", "brackish", "marine")
    assert kind.flow in ("still or recirculated", "flowing")


def test_every_set_of_limits_is_used() -> None:
    used = {target for row in table("system_kinds").values() for target in row["targets"]}
    assert used == set(table("targets"))


@pytest.mark.parametrize("row", ANALYTES.values(), ids=lambda row: row["label"])
def test_analyte_is_whole(row: dict[str, Any]) -> None:
    assert row["field"] in FIELDS.values()
    assert row["kind"] in KINDS
    spellings = KINDS[row["kind"]].spellings
    assert all(unit == "" or unit.lower() in spellings for unit in row["units"])
    (hard_low, hard_high), (soft_low, soft_high) = row["hard"], row["soft"]
    assert hard_low <= soft_low < soft_high <= hard_high
    assert all(0 < step < soft_high for step in row["steps"])
    assert set(row.get("bases", ["N"])) - {"N"} <= set(PER_NITROGEN)
    assert row["example"]


def test_analytes_are_ordered_meter_first_and_cover_every_field() -> None:
    ordered = sorted(ANALYTES, key=lambda key: int(ANALYTES[key]["order"]))
    assert ordered == list(ANALYTES)
    assert ordered[:5] == ["oxygen", "temperature", "ph", "salinity", "chlorine"]
    fields = {row["field"] for row in ANALYTES.values()}
    assert fields == set(WaterReadings.__dataclass_fields__) - {"below"}


def test_nitrogen_kits_say_their_basis() -> None:
    with_bases = {key for key, row in ANALYTES.items() if "bases" in row}
    assert with_bases == {"ammonia", "nitrite", "nitrate"}
