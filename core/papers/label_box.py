"""Small labels before they are drawn: fields in lines, and the sheet they stand on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from core.errors import BadInput
from core.papers.blocks import Sheet
from core.papers.parts import PaperSize

FLOOR = 6.0
"""No type on a label is smaller, in points."""


@dataclass(frozen=True)
class Field:
    """One element of a label.

    Parameters
    ----------
    name : str
        What it is, in words; used to name it when it does not fit.
    text : str
        What is printed.
    named : bool
        True to print the name before the text.
    strong : bool
        True for bold type.
    """

    name: str
    text: str
    named: bool = True
    strong: bool = False

    @property
    def printed(self) -> str:
        """The text as it stands on the label."""
        return f"{self.name}: {self.text}" if self.named else self.text


Line = tuple[Field, ...]
"""Fields that share a line of the label."""

Fields = tuple[Line, ...]
"""A whole label, line by line."""


@dataclass(frozen=True)
class Grid:
    """The size of a label in mm, and how many stand beside and below each other on a sheet."""

    wide: float
    high: float
    columns: int
    rows: int


def kept(lines: Sequence[Line]) -> Fields:
    """Drop fields without text, and lines without fields."""
    filled = (tuple(field for field in line if field.text.strip()) for line in lines)
    return tuple(line for line in filled if line)


def roll(about: Sheet, labels: Sequence[Fields], grid: Grid) -> bytes:
    """Draw each label on a page of its own size, as a label printer takes them."""
    from core.papers.fit import draw_roll

    return draw_roll(about, labels, grid)


def sheets(
    about: Sheet, labels: Sequence[Fields], grid: Grid, paper: PaperSize, first: int
) -> bytes:
    """Draw labels on sheets, beginning at a place counted from 1 at the top left.

    Raises
    ------
    BadInput
        When the sheet has no such place.
    """
    from core.papers.fit import draw_sheets

    places = grid.columns * grid.rows
    if not 1 <= first <= places:
        raise BadInput(f"A sheet has places 1 to {places}, not {first}.")
    return draw_sheets(about, labels, grid, paper, first)


def lines_of(labels: Sequence[Fields]) -> str:
    """Write labels as plain text, in the order of the PDF."""
    one = ("\n".join(field.printed for line in label for field in line) for label in labels)
    return "\n\n".join(one) + "\n"
