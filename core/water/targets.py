"""Kinds of system and the limits their water is held against."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any, Literal

Water = Literal["fresh", "brackish", "marine"]
Flow = Literal["still or recirculated", "flowing"]
Side = Literal["limit", "aim"]
CUSTOM = "common practice, no source"

NAMES: Mapping[str, str] = MappingProxyType(
    {
        "oxygen": "Oxygen",
        "oxygen_percent": "Oxygen against what this water holds",
        "temperature": "Temperature",
        "ph": "pH",
        "salinity": "Salinity",
        "chlorine": "Chlorine",
        "toxic_ammonia": "Toxic ammonia, as N",
        "ammonia": "Total ammonia, as N",
        "nitrite": "Nitrite, as N",
        "nitrate": "Nitrate, as N",
        "carbon_dioxide": "Carbon dioxide",
        "alkalinity": "Alkalinity, as CaCO3",
        "hardness": "Hardness, as CaCO3",
        "chloride": "Chloride",
        "calcium": "Calcium",
        "copper": "Free copper",
    }
)
"""Every reading that may have a limit, with its name for a person, in the order shown."""

UNITS: Mapping[str, str] = MappingProxyType(
    {"oxygen_percent": "%", "temperature": "°C", "ph": "", "salinity": ""}
)
"""Unit of the readings that are not in mg/L."""


@dataclass(frozen=True)
class Limit:
    """The limits of one reading: outside low to high act, outside the aim watch."""

    reading: str
    low: float | None
    high: float | None
    aim_low: float | None
    aim_high: float | None
    unit: str
    source: str
    """Key of the sources catalogue."""
    how_known: str
    cite: str = ""
    """The source as it is cited, filled in by whoever read the catalogue."""
    note: str = ""
    custom: Side | None = None
    """The side, limit or aim, that is common practice and not the source's."""

    def origin(self, side: Side) -> str:
        """Return author and year of one side, and how it is known when it was not read there."""
        if side == self.custom or self.how_known == CUSTOM:
            return CUSTOM
        short = (self.cite or self.source).split(")", 1)[0]
        short += ")" if "(" in short else ""
        return short if self.how_known == "read" else f"{short}, {self.how_known}"


@dataclass(frozen=True)
class SystemKind:
    """One kind of system."""

    key: str
    name: str
    water: Water
    flow: Flow
    limits: Mapping[str, Limit]


def limit_from(reading: str, row: Mapping[str, Any], cite: str = "") -> Limit:
    """Build a limit from a catalogue row, or from a row that a practice changed.

    Parameters
    ----------
    reading : str
        A key of `NAMES`.
    row : mapping
        ``limit`` and ``aim`` as pairs (``""`` for an open end), ``unit``, ``source``,
        ``how_known``, and maybe ``note`` and ``custom`` (the side that is common practice).
    cite : str
        The citation of the source.

    Examples
    --------
    >>> row = {"limit": [5.0, ""], "unit": "mg/L", "source": "X", "how_known": "read"}
    >>> limit_from("oxygen", row).low
    5.0
    """
    low, high = _ends(row.get("limit"))
    aim_low, aim_high = _ends(row.get("aim"))
    return Limit(
        reading,
        low,
        high,
        aim_low,
        aim_high,
        str(row["unit"]),
        str(row["source"]),
        str(row["how_known"]),
        cite,
        str(row.get("note", "")),
        row.get("custom"),
    )


def _ends(pair: Iterable[Any] | None) -> tuple[float | None, float | None]:
    if pair is None:
        return None, None
    low, high = (None if end == "" else float(end) for end in pair)
    return low, high


def kinds(
    system_kinds: Mapping[str, Mapping[str, Any]],
    targets: Mapping[str, Mapping[str, Mapping[str, Any]]],
    citations: Mapping[str, str],
) -> dict[str, SystemKind]:
    """Build every kind of system from the catalogue tables.

    Parameters
    ----------
    system_kinds : mapping
        Key to ``name``, ``water``, ``flow`` and ``targets``: the sets of limits that hold, each
        overriding the ones before.
    targets : mapping
        Set to reading to row; see `limit_from`.
    citations : mapping
        Source key to citation.

    Returns
    -------
    dict
        Key to kind, in the order of the table.
    """
    return {
        key: SystemKind(
            key,
            str(row["name"]),
            row["water"],
            row["flow"],
            MappingProxyType(_merged(row["targets"], targets, citations)),
        )
        for key, row in system_kinds.items()
    }


def _merged(
    names: Iterable[str],
    targets: Mapping[str, Mapping[str, Mapping[str, Any]]],
    citations: Mapping[str, str],
) -> dict[str, Limit]:
    rows: dict[str, Mapping[str, Any]] = {}
    for name in names:
        rows.update(targets[name])
    return {
        reading: limit_from(reading, rows[reading], citations.get(rows[reading]["source"], ""))
        for reading in NAMES
        if reading in rows
    }
