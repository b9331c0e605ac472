"""Food by the temperature of the water, in percent and in grams for the fish that live there."""

from __future__ import annotations

from collections.abc import Iterator

from core.feeding.biomass import biomass_g
from core.feeding.ration import FeedingRate, ration_g
from core.numbers import plain
from core.papers.preventive import Rations
from core.practice import stock
from core.practice.feeding_target import rates
from core.practice.fish import StockLine, species
from core.practice.treatment_said import short
from core.practice.visits import Opened
from core.records import read
from core.records.tables import System, Visit


def stocked(visit: Opened, system: System) -> tuple[StockLine, ...]:
    """Return the weighed stock of a water: of this visit, or else of the last that weighed it."""
    here = stock.fish_here(system.id)
    earlier = read.find(Visit, system=system.id, order="day, id")
    before = [v.id for v in earlier if v.day < visit.visit.day]
    for visit_id in (visit.visit.id, *reversed(before)):
        if lines := stock.kept_lines(visit_id, here):
            return lines
    return ()


def rations(visit: Opened, system: System) -> Rations:
    """Return the table of a food plan: each row of the rates for these fish, with its grams."""
    found = stocked(visit, system)
    stages = {(h.group.species, h.group.stage) for h in stock.fish_here(system.id)}
    rows = [row for one in sorted(stages) for row in _rows(*one, found)]
    note = "" if found else "The fish are not weighed: the grams follow once they are."
    if not rows:
        note = "No rate is on record for these fish: the veterinarian sets it."
    return Rations(tuple(dict.fromkeys(rows)), note)


def _rows(kind: str, stage: str, found: tuple[StockLine, ...]) -> Iterator[tuple[str, ...]]:
    one = species().get(kind)
    if one is None or not one.feeding_group:
        return
    mine = [
        line.stock for line in found if line.group.species == kind and line.group.stage == stage
    ]
    weight = biomass_g(mine) if mine else None
    each = sum(s.mean_weight_g for s in mine) / len(mine) if mine else None
    for rate in sorted(_rates(one.feeding_group, stage, each), key=_coldest):
        percent = _span(rate.percent_low, rate.percent_high, " %")
        yield (
            _temperature(rate),
            f"{percent}, aim {plain(rate.percent_target)} %",
            "" if weight is None else f"{short(ration_g(weight, rate.percent_target))} g",
            rate.meals,
            rate.how,
        )


def _rates(group: str, stage: str, each_g: float | None) -> Iterator[FeedingRate]:
    for rate in rates():
        if rate.group != group or rate.stage != stage or rate.maintenance:
            continue
        low, high = rate.weight_low_g, rate.weight_high_g
        if each_g is None or ((low is None or each_g >= low) and (high is None or each_g <= high)):
            yield rate


def _coldest(rate: FeedingRate) -> float:
    return -99.0 if rate.temperature_low_c is None else rate.temperature_low_c


def _temperature(rate: FeedingRate) -> str:
    low, high = rate.temperature_low_c, rate.temperature_high_c
    if low is None and high is None:
        return "any"
    if low is None or high is None:
        return f"under {plain(high or 0)} °C" if low is None else f"over {plain(low)} °C"
    return _span(low, high, " °C")


def _span(low: float, high: float, unit: str) -> str:
    return f"{plain(low)}{unit}" if low == high else f"{plain(low)} to {plain(high)}{unit}"
