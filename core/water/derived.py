"""Figures worked out from the readings of one water, each only where its formula holds."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from core.errors import Refusal
from core.water.ammonia import unionised_ammonia_mg_l
from core.water.carbonate import carbon_dioxide_mg_l
from core.water.nitrogen import chloride_for_nitrite_mg_l, from_nitrogen
from core.water.oxygen import percent_saturation, pressure_at_elevation_kpa, saturation_mg_l
from core.water.readings import FIELDS, WaterReadings, is_below
from core.water.salinity import specific_gravity
from core.water.targets import SystemKind

CHLORIDE_RATIO = 10.0
"""Chloride to nitrite (as the ion) by weight, the cautious one of the sources (SRAC 462)."""

CHLORIDE_FLOOR_MG_L = 100.0
"""The same source's *at least*."""


@dataclass(frozen=True)
class Figure:
    """A figure that was worked out, or why it was not."""

    value: float | None
    unit: str
    why_not: str = ""
    at_most: bool = False
    """It stands on a reading under the kit's lowest step: the true figure is at most this."""


@dataclass(frozen=True)
class Derived:
    """What follows from the readings of one water."""

    toxic_ammonia: Figure
    saturation: Figure
    oxygen_percent: Figure
    carbon_dioxide: Figure
    nitrite_as_ion: Figure
    nitrate_as_ion: Figure
    chloride_wanted: Figure
    specific_gravity: Figure
    """At the water's own temperature against pure water of 4 °C."""


Needs = Mapping[str, float | None]


def _figure(unit: str, needs: Needs, work: Callable[[], float], at_most: bool = False) -> Figure:
    missing = [name for name, value in needs.items() if value is None]
    if missing:
        return Figure(None, unit, f"No figure: {' and '.join(missing)} not measured.")
    try:
        return Figure(work(), unit, at_most=at_most)
    except Refusal as refusal:
        return Figure(None, unit, refusal.sentence)


def _given(value: float | None) -> float:
    if value is None:
        raise TypeError("asked for a figure before its inputs were checked")
    return value


def salinity_of(readings: WaterReadings, kind: SystemKind) -> float | None:
    """Return the salinity to reckon with: measured, or 0 for fresh water, else None."""
    if readings.practical_salinity is not None:
        return readings.practical_salinity
    return 0.0 if kind.water == "fresh" else None


def derive(readings: WaterReadings, kind: SystemKind, elevation_m: float = 0.0) -> Derived:
    """Work out every figure whose readings are there and inside the range of its formula.

    Parameters
    ----------
    readings : WaterReadings
        What was measured.
    kind : SystemKind
        The kind of system; in fresh water a salinity not measured counts as 0.
    elevation_m : float
        Elevation of the water in m.

    Returns
    -------
    Derived
        Each figure, or the sentence why there is none.
    """
    temperature, ph = readings.temperature_c, readings.ph
    salt, oxygen, tan = salinity_of(readings, kind), readings.oxygen_mg_l, readings.tan_mg_l
    nitrite, nitrate = readings.nitrite_mg_l, readings.nitrate_mg_l
    hardness = readings.alkalinity_mg_l
    place = {"temperature": temperature, "salinity": salt}

    def held() -> float:
        return saturation_mg_l(
            _given(temperature), _given(salt), pressure_at_elevation_kpa(elevation_m)
        )

    def percent() -> float:
        pressure = pressure_at_elevation_kpa(elevation_m)
        return percent_saturation(_given(oxygen), _given(temperature), _given(salt), pressure)

    def toxic() -> float:
        return unionised_ammonia_mg_l(_given(tan), _given(temperature), _given(ph), _given(salt))

    def dioxide() -> float:
        return carbon_dioxide_mg_l(_given(temperature), _given(ph), _given(hardness), _given(salt))

    def below(reading: str) -> bool:
        return is_below(readings, reading)

    low_nitrite = below("nitrite")
    ammonia_needs = {"ammonia": tan, "pH": ph, **place}
    dioxide_needs = {"alkalinity": hardness, "pH": ph, **place}
    return Derived(
        toxic_ammonia=_figure("mg/L", ammonia_needs, toxic, below("ammonia")),
        saturation=_figure("mg/L", place, held),
        oxygen_percent=_figure("%", {"oxygen": oxygen, **place}, percent, below("oxygen")),
        carbon_dioxide=_figure("mg/L", dioxide_needs, dioxide, below("alkalinity")),
        nitrite_as_ion=_figure(
            "mg/L", {"nitrite": nitrite}, lambda: from_nitrogen(_given(nitrite), "NO2"), low_nitrite
        ),
        nitrate_as_ion=_figure(
            "mg/L",
            {"nitrate": nitrate},
            lambda: from_nitrogen(_given(nitrate), "NO3"),
            below("nitrate"),
        ),
        chloride_wanted=_figure(
            "mg/L", {"nitrite": nitrite}, lambda: chloride_wanted_mg_l(_given(nitrite)), low_nitrite
        ),
        specific_gravity=_figure(
            "", place, lambda: specific_gravity(_given(salt), _given(temperature), 4.0)
        ),
    )


def chloride_wanted_mg_l(nitrite_mg_l: float, ratio: float = CHLORIDE_RATIO) -> float:
    """Return the chloride to reach against nitrite: by ratio, and never under the floor.

    Parameters
    ----------
    nitrite_mg_l : float
        Nitrite in mg/L **as N**, as it is kept in a record.
    ratio : float
        Chloride to nitrite (as the ion) by weight.

    Examples
    --------
    >>> chloride_wanted_mg_l(0.6), round(chloride_wanted_mg_l(5.0))
    (100.0, 164)
    """
    by_ratio = chloride_for_nitrite_mg_l(from_nitrogen(nitrite_mg_l, "NO2"), ratio)
    return max(CHLORIDE_FLOOR_MG_L, by_ratio)


def measured(readings: WaterReadings) -> tuple[str, ...]:
    """Return the names of the readings that were measured, in the order they are taken."""
    return tuple(name for name, field in FIELDS.items() if getattr(readings, field) is not None)
