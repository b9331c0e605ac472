"""What was measured in one water, in canonical units."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType


@dataclass(frozen=True)
class WaterReadings:
    """Readings of one water at one time; None was not measured, 0 was measured as none."""

    temperature_c: float | None = None
    oxygen_mg_l: float | None = None
    ph: float | None = None
    practical_salinity: float | None = None
    chlorine_mg_l: float | None = None
    """Total chlorine, mg/L."""
    tan_mg_l: float | None = None
    """Total ammonia, mg/L as N."""
    nitrite_mg_l: float | None = None
    """Nitrite, mg/L as N."""
    nitrate_mg_l: float | None = None
    """Nitrate, mg/L as N."""
    alkalinity_mg_l: float | None = None
    """Alkalinity (KH), mg/L as CaCO3."""
    hardness_mg_l: float | None = None
    """Total hardness (GH), mg/L as CaCO3."""
    chloride_mg_l: float | None = None
    calcium_mg_l: float | None = None
    copper_mg_l: float | None = None
    """Free copper, mg/L."""
    below: frozenset[str] = frozenset()
    """Names of the fields that hold the kit's lowest step because the result was under it."""


FIELDS: Mapping[str, str] = MappingProxyType(
    {
        "oxygen": "oxygen_mg_l",
        "temperature": "temperature_c",
        "ph": "ph",
        "salinity": "practical_salinity",
        "chlorine": "chlorine_mg_l",
        "ammonia": "tan_mg_l",
        "nitrite": "nitrite_mg_l",
        "nitrate": "nitrate_mg_l",
        "alkalinity": "alkalinity_mg_l",
        "hardness": "hardness_mg_l",
        "chloride": "chloride_mg_l",
        "calcium": "calcium_mg_l",
        "copper": "copper_mg_l",
    }
)
"""Reading, as limits name it, to the field that holds it; in the order they are taken."""


def value_of(readings: WaterReadings, reading: str) -> float | None:
    """Return what was measured of one reading, None when it was not.

    Examples
    --------
    >>> value_of(WaterReadings(ph=7.6), "ph")
    7.6
    """
    found: float | None = getattr(readings, FIELDS[reading])
    return found


def is_below(readings: WaterReadings, reading: str) -> bool:
    """Say whether the reading was under the lowest step of its kit."""
    return FIELDS[reading] in readings.below
