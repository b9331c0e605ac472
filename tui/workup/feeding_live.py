"""What follows from an answer of the feeding check while it is still being typed."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from core.practice.feeding import fed_columns
from core.practice.feeding_view import FeedingView
from core.practice.feeding_work import Inputs
from core.practice.fish import StockLine, line_of, understand_sized
from tui.widgets.field import Field, judge, unlikely
from tui.workup.feeding_rows import FOOD_KEYS
from tui.workup.feeding_words import food_columns

IN_WORDS = ("fed", "often", "gone")


def with_typed(seen: FeedingView, field: Field, text: str, today: date) -> tuple[Inputs, str]:
    """Return the inputs with what is being typed in them, and a note on it.

    Raises
    ------
    BadInput
        While it can not be read.
    """
    kind, _, rest = field.key.partition(" ")
    given = seen.inputs
    if kind in ("new", "line"):
        return _sized(seen, kind, rest, text)
    if kind in IN_WORDS:
        columns = fed_columns(kind, text, given.food.scoop_g if given.food else None)
        columns.pop("fed_typed", None)
        return replace(given, **columns), ""
    entry = judge(field, text, today)
    note = unlikely(field, entry)
    if kind == "target":
        return replace(given, target_percent=entry.number), note
    if kind == "deaths":
        return replace(given, new_deaths=int(entry.number)), note
    if kind in FOOD_KEYS and given.food is not None:
        return replace(given, food=replace(given.food, **food_columns({kind: entry}))), note
    return given, note


def _sized(seen: FeedingView, kind: str, rest: str, text: str) -> tuple[Inputs, str]:
    sized, given = understand_sized(text), seen.inputs
    if kind == "new":
        group = next(h.group for h in seen.here if h.group.id == rest)
        line = line_of(group, sized, seen.alive(rest))
        return replace(given, stock=(*given.stock, line)), line.note
    old = line_with(given, rest)
    line = line_of(old.group, sized, seen.alive(old.group.id))
    stock = tuple(line if one is old else one for one in given.stock)
    return replace(given, stock=stock), line.note


def line_with(given: Inputs, row_id: str) -> StockLine:
    """Return the line of the stock that a row of the records keeps."""
    return next(s for s in given.stock if s.weighing is not None and s.weighing.id == row_id)
