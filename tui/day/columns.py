"""A day's visits as lines that fit the window: the time whole, the rest as there is room."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rich.cells import cell_len, set_cell_size
from rich.text import Text

from core.numbers import grouped
from core.practice.day import DayLine
from core.units import show
from tui.widgets.lines import ROOM, whole_figures

GAPS = (2, 1)
"""Cells between columns: with room, and without."""
HEADS = ("time", "rank", "client", "water", "why", "reached", "paid")
SHRINK = {"client": 10, "water": 10, "why": 8, "reached": 16}
"""Columns that may give way, and to how many cells."""


@dataclass(frozen=True)
class Cell:
    """What a column says when there is room, and when there is not."""

    long: str
    short: str
    tail: str = ""
    """The end of the words, which stays when the rest of them is cut."""


def cells(line: DayLine, lock: str, units: str) -> tuple[Cell, ...]:
    """Return a visit's columns in the order of `HEADS`."""
    volume = _volume(line, units)
    water = f"{line.system} {volume}".strip()
    who = line.client if line.site == "home" else f"{line.client}, {line.site}"
    rank = "LAST" if line.rank >= 4 else str(line.rank)
    return (
        Cell(f"{line.starts}-{_ends(line)}", line.starts),
        Cell(rank, rank),
        Cell(who, line.client),
        Cell(water, water, f" {volume}" if volume else ""),
        Cell(line.reason, line.reason),
        _reached(line, lock),
        Cell(line.payment, line.payment),
    )


def _volume(line: DayLine, units: str) -> str:
    if not line.volume_l:
        return ""
    return show(line.volume_l, "volume", "us" if units == "us" else "metric")


def _ends(line: DayLine) -> str:
    hours, minutes = line.starts.split(":")
    ends = int(hours) * 60 + int(minutes) + line.minutes
    return f"{ends // 60 % 24:02d}:{ends % 60:02d}"


def _reached(line: DayLine, lock: str) -> Cell:
    flag = "MOVE, " if lock and not line.off else ""
    waits = f", waits for {line.waiting}" if line.waiting else ""
    short = ", waiting" if line.waiting else ""
    return Cell(f"{flag}{line.stage}{waits}", f"{flag}{line.stage}{short}")


@dataclass(frozen=True)
class Layout:
    """How wide each column is, and whether it says the long or the short."""

    widths: tuple[int, ...]
    long: tuple[bool, ...]
    gap: int = 1

    def text(self, row: Sequence[Cell]) -> Text:
        """Return a visit as one line, with room for the mark of the current one."""
        parts = [
            _fit(cell.long if long else cell.short, width, cell.tail)
            for cell, width, long in zip(row, self.widths, self.long, strict=True)
        ]
        return Text(ROOM + (" " * self.gap).join(parts), no_wrap=True, overflow="ellipsis")


def layout(rows: Sequence[Sequence[Cell]], width: int) -> Layout:
    """Return the columns that fit a width, the least needed words given up first."""
    long = [True] * len(HEADS)
    for name in ("", "time", "client", "reached"):
        if name:
            long[HEADS.index(name)] = False
        widths = _needed(rows, long)
        if sum(widths) <= _room(width, GAPS[0]):
            return Layout(tuple(widths), tuple(long), GAPS[0])
    while sum(widths) > _room(width, GAPS[1]) and (at := _widest(widths)) is not None:
        widths[at] -= 1
    return Layout(tuple(widths), tuple(long), GAPS[1])


def _room(width: int, gap: int) -> int:
    return width - len(ROOM) - gap * (len(HEADS) - 1)


def heads(columns: Layout) -> Text:
    """Return the line over the list that names the columns."""
    return columns.text([Cell(name, name) for name in HEADS])


def _needed(rows: Sequence[Sequence[Cell]], long: Sequence[bool]) -> list[int]:
    widths = []
    for at, head in enumerate(HEADS):
        said = (row[at].long if long[at] else row[at].short for row in rows)
        widths.append(max([cell_len(head), *(cell_len(text) for text in said)]))
    return widths


def _widest(widths: Sequence[int]) -> int | None:
    may = [at for at, name in enumerate(HEADS) if widths[at] > SHRINK.get(name, 999)]
    return max(may, key=lambda at: widths[at], default=None)


def _fit(text: str, width: int, tail: str = "") -> str:
    flat = " ".join(text.split())
    if cell_len(flat) <= width:
        return set_cell_size(flat, width)
    kept = tail if tail and cell_len(tail) < width - 3 else ""
    head = whole_figures(set_cell_size(flat, width - 1 - cell_len(kept)))
    return set_cell_size(f"{head}…", width - cell_len(kept)) + kept


def count(lines: Sequence[DayLine]) -> str:
    """Return how many visits there are and how many are unpaid, in words."""
    unpaid = sum(line.owed_minor > 0 for line in lines)
    visits = f"{grouped(len(lines))} visit{'' if len(lines) == 1 else 's'}"
    return f"{visits}, {unpaid} unpaid" if unpaid else visits
