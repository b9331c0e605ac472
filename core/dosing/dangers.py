"""A danger that a source names and no single flag can say: several facts at once, or one to ask.

Everything a danger names must be true of the recipient. What is not known gives a caution.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Literal

ASKED: Mapping[str, str] = {
    "bad bottle": "the bottle is cloudy, has a white deposit or stood below 5 °C",
    "no air": "the water has no strong aeration",
    "bloom": "the water is green with algae or thick with plants",
    "no buffer": "the bath has no buffer",
    "no second step": "no second step is planned",
}
"""Facts that no record holds and that are asked with the order, as they are said when true."""


@dataclass(frozen=True)
class Danger:
    """One danger of a medicine, in its source's own ground.

    `says` is the ground, `source` the key of the catalogue where it was read and `how` how it is
    known. The rest are conditions; those that are empty are not asked about.
    """

    kind: Literal["stop", "caution"]
    subject: str
    says: str
    source: str
    how: str
    groups: tuple[str, ...] = ()
    systems: tuple[str, ...] = ()
    food_fish: bool = False
    above_c: float | None = None
    below_c: float | None = None
    over: float | None = None
    """The dose over which it is one, in the unit of the row; no danger before a dose is typed."""
    below_ph: float | None = None
    below_alkalinity_mg_l: float | None = None
    asks: tuple[str, ...] = ()


def from_rows(rows: Iterable[Mapping[str, Any]]) -> tuple[Danger, ...]:
    """Return the dangers of a row of the catalogue, as TOML gives them.

    Raises
    ------
    ValueError
        For a kind that is neither stop nor caution, or a fact that nobody asks.
    TypeError
        For a column that a danger does not have.
    """
    found = tuple(_from(row) for row in rows)
    for danger in found:
        if danger.kind not in ("stop", "caution") or set(danger.asks) - set(ASKED):
            raise ValueError(f"{danger.subject}: {danger.kind}, {danger.asks} is not known here")
    return found


def _from(row: Mapping[str, Any]) -> Danger:
    values: dict[str, Any] = {k: tuple(v) if isinstance(v, list) else v for k, v in row.items()}
    return Danger(**values)
