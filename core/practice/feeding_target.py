"""What a ration is held against: the row of the table for these fish, or the vet's own target."""

from __future__ import annotations

import functools
from collections.abc import Mapping, Sequence
from dataclasses import replace

from core.catalogue import load
from core.errors import Refusal
from core.feeding import ration
from core.feeding.ration import FeedingRate, feeding_rates_from
from core.numbers import plain
from core.practice.fish import StockLine, species

OWN_BAND = 0.1
"""A target that stands on no row counts as met within a tenth of it: our choice."""
SICK = "sick or after treatment"


@functools.cache
def rates() -> tuple[FeedingRate, ...]:
    """Return the feeding rates of the catalogue."""
    return feeding_rates_from(load.table("feeding_rates")["rate"])


@functools.cache
def cites() -> Mapping[str, str]:
    """Return the citation of each source."""
    return load.citations()


def sick_rate() -> FeedingRate:
    """Return the row for fish that are sick or being treated."""
    return next(row for row in rates() if row.group == SICK)


def row_for(
    stock: Sequence[StockLine], temperature_c: float | None, own_percent: float | None
) -> tuple[FeedingRate | None, str]:
    """Return what the ration is held against, or why nothing is."""
    try:
        found = _table_row(stock, temperature_c)
    except Refusal as error:
        if own_percent is None:
            return None, f"{error.sentence} {error.todo}".strip()
        return _own(own_percent), ""
    return (found if own_percent is None else _set(found, own_percent)), ""


def _own(target: float) -> FeedingRate:
    low, high = target * (1 - OWN_BAND), target * (1 + OWN_BAND)
    source = "the veterinarian's target, met within a tenth"
    return FeedingRate(
        "this stock", "any", None, None, None, None, low, high, target, "", False, "", source,
        "set at this visit",
    )  # fmt: skip


def _set(row: FeedingRate, target: float) -> FeedingRate:
    """Return a row with the vet's own target; a range that had to give says so in its source."""
    low, high = min(row.percent_low, target), max(row.percent_high, target)
    if (low, high) == (row.percent_low, row.percent_high):
        return replace(row, percent_target=target)
    table = (
        f"target set by the veterinarian; the table has {plain(row.percent_low)} to "
        f"{plain(row.percent_high)} %: {cites().get(row.source, row.source)}"
    )
    return replace(row, percent_low=low, percent_high=high, percent_target=target, source=table)


def _table_row(stock: Sequence[StockLine], temperature_c: float | None) -> FeedingRate:
    if temperature_c is None:
        raise Refusal("The temperature of the water is not measured: no rate from the table.")
    if not stock:
        raise Refusal("No fish is weighed yet.")
    parts = [(_line_row(line, temperature_c), _mass(line)) for line in stock]
    return _mixed(parts)


def _mass(line: StockLine) -> float:
    return sum(line.stock.counts) / 2 * line.stock.mean_weight_g


def _line_row(line: StockLine, temperature_c: float) -> FeedingRate:
    kind = species().get(line.group.species)
    feeding_group = kind.feeding_group if kind else ""
    if not feeding_group:
        raise Refusal(f"No feeding rate is kept for {line.group.name}.", "Set a target yourself.")
    weight = line.stock.mean_weight_g
    return ration.target_for(rates(), feeding_group, line.group.stage, temperature_c, weight)


def _mixed(parts: Sequence[tuple[FeedingRate, float]]) -> FeedingRate:
    """Return the row of all, or the rows of several kinds of fish weighed by their mass."""
    first = parts[0][0]
    if all(row == first for row, _ in parts):
        return first
    whole = sum(mass for _, mass in parts)

    def mean(which: str) -> float:
        return round(sum(float(getattr(row, which)) * mass for row, mass in parts) / whole, 3)

    rows = dict.fromkeys(row for row, _ in parts)
    named = "; ".join(f"{r.group}: {cites().get(r.source, r.source)}, {r.how}" for r in rows)
    return FeedingRate(
        "mixed stock", "any", None, None, None, None, mean("percent_low"), mean("percent_high"),
        mean("percent_target"), first.meals, False, "", named, "rates weighed by mass",
    )  # fmt: skip
