"""What the trade knows of a species or group, as one frozen row."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class LengthWeight:
    """Coefficients of W (g) = a L (cm) ^ b.

    Attributes
    ----------
    a, b : float
        Coefficients; no unit.
    length_type : str
        TL total, FL to the fork, SL standard; for seahorses the height.
    quality : str
        A fitted to measured fish, B one equation of the species, C weak or borrowed.
    shortest_cm, longest_cm : float or None
        The fish measured, where known.
    note, source, how : str
        A warning, the key of the source, and how the row is known.
    """

    a: float
    b: float
    length_type: str
    quality: str
    shortest_cm: float | None
    longest_cm: float | None
    note: str
    source: str
    how: str


@dataclass(frozen=True)
class Species:
    """A species or group that is kept and treated alike.

    Attributes
    ----------
    key : str
        Short name by which records refer to it.
    scientific, common, group : str
        Names, and the group by which medicines and rations are kept apart.
    water : str
        ``fresh`` or ``marine``.
    scaleless, food_fish, salt_sensitive, copper_sensitive, invertebrate : bool
        What treatment must respect; `food_fish` means usually eaten.
    feeding_group : str
        Group of the feeding rates that fits; empty when none does.
    length_weight : LengthWeight or None
        None when the animal is weighed or counted only.
    standard_weight : str
        Name of its standard-weight equation; empty when there is none.
    note, source, how : str
        A caution, the key of the source of the flags, and how they are known.
    """

    key: str
    scientific: str
    common: str
    group: str
    water: str
    scaleless: bool
    food_fish: bool
    salt_sensitive: bool
    copper_sensitive: bool
    invertebrate: bool
    feeding_group: str
    length_weight: LengthWeight | None
    standard_weight: str
    note: str
    source: str
    how: str


def species_from(rows: Mapping[str, Mapping[str, Any]]) -> dict[str, Species]:
    """Return the species of a catalogue table, by key.

    Parameters
    ----------
    rows : mapping
        Key to the fields of `Species`; flags left out are False, ``length_weight`` is a
        table of its own.
    """
    return {key: _species(key, row) for key, row in rows.items()}


def _species(key: str, row: Mapping[str, Any]) -> Species:
    measured = row.get("length_weight")
    return Species(
        key,
        str(row["scientific"]),
        str(row["common"]),
        str(row["group"]),
        str(row["water"]),
        scaleless=bool(row.get("scaleless", False)),
        food_fish=bool(row.get("food_fish", False)),
        salt_sensitive=bool(row.get("salt_sensitive", False)),
        copper_sensitive=bool(row.get("copper_sensitive", False)),
        invertebrate=bool(row.get("invertebrate", False)),
        feeding_group=str(row.get("feeding_group", "")),
        length_weight=None if measured is None else _length_weight(measured),
        standard_weight=str(row.get("standard_weight", "")),
        note=str(row.get("note", "")),
        source=str(row["source"]),
        how=str(row["how"]),
    )


def _length_weight(row: Mapping[str, Any]) -> LengthWeight:
    return LengthWeight(
        float(row["a"]),
        float(row["b"]),
        str(row["length_type"]),
        str(row["quality"]),
        row.get("shortest_cm"),
        row.get("longest_cm"),
        str(row.get("note", "")),
        str(row["source"]),
        str(row["how"]),
    )
