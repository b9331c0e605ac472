"""The stock of a water: which fish are in it now, and what the visit knows of their weight."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from core.feeding.biomass import StockGroup
from core.practice.fish import Sized, StockLine, line_of, note_of
from core.practice.moves import held
from core.records import read
from core.records.engine import query
from core.records.tables import FishGroup, Handling, Weighing


@dataclass(frozen=True)
class Here:
    """A group with as many of its fish as are in this water now; None when nobody knows."""

    group: FishGroup
    alive: int | None


def fish_here(system_id: str) -> tuple[Here, ...]:
    """Return the fish that live in a water or were moved to it, those moved away left out."""
    return tuple(
        Here(one.group, one.number)
        for one in held(system_id)
        if one.group.struck is None and one.number != 0
    )


def kept_lines(visit_id: str, here: Sequence[Here]) -> tuple[StockLine, ...]:
    """Return the lines of the stock that the visit has, for the fish in this water."""
    groups = {h.group.id: h.group for h in here}
    rows = read.find(Weighing, visit=visit_id)
    return tuple(_kept(groups[row.group], row) for row in rows if row.group in groups)


def _kept(group: FishGroup, row: Weighing) -> StockLine:
    low = row.count if row.count is not None else row.count_low
    high = row.count if row.count is not None else row.count_high
    stock = StockGroup(
        row.count, row.weight_g, row.how == "weighed", low, high, row.error_percent, group.name
    )
    return StockLine(
        group, stock, row.length_cm, row.how, note_of(group, stock, row.length_cm, row.how), row
    )


_UNTAKEN = """
SELECT h."id" FROM "handling" h
LEFT JOIN "weighing" w ON w."handling" = h."id" AND w."struck" IS NULL
WHERE h."visit" = ? AND h."system" = ? AND h."struck" IS NULL AND h."group" IS NOT NULL
  AND (h."weight_g" IS NOT NULL OR h."length_cm" IS NOT NULL) AND w."id" IS NULL
ORDER BY h."number"
"""


def untaken(visit_id: str, system_id: str) -> tuple[Handling, ...]:
    """Return the fish weighed or measured in hand that are on no line of the stock yet."""
    return tuple(read.one(Handling, key) for (key,) in query(_UNTAKEN, (visit_id, system_id)))


def in_hand(group: FishGroup, handled: Handling) -> StockLine:
    """Return a fish, or a scoop of them, from In hand as a line; its weight is that of them all.

    Raises
    ------
    BadInput
        When it was only measured and its length gives no weight.
    """
    how = handled.weight_how or "weighed"
    known = handled.weight_g if how != "from length" else None
    each = None if known is None else known / handled.count
    length, count = handled.length_cm, handled.count
    sized = Sized(
        count, count, count, each, length if each is None else None, handled.label or group.name
    )
    line = line_of(group, sized, count)
    if each is None:
        return line
    stock = replace(line.stock, weighed=how == "weighed")
    return StockLine(group, stock, length, how, note_of(group, stock, length, how))
