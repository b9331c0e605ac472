"""Products as the practice has them on the shelf: an agent in a strength."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from core.dosing.arithmetic import AnyStrength
from core.dosing.quantities import strength


@dataclass(frozen=True)
class Product:
    """A product of the shelf; `agent` is the name of a medicine."""

    key: str
    name: str
    agent: str
    strength: AnyStrength


def from_table(table: Mapping[str, Mapping[str, Any]]) -> dict[str, Product]:
    """Return the products of the catalogue by their key.

    Raises
    ------
    core.errors.BadInput
        For a strength that can not be, or one in plain percent.
    """
    return {
        key: Product(key, row["name"], row["agent"], strength(row["strength"], row["unit"]))
        for key, row in table.items()
    }
