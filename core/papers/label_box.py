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
class Small:
    """A label before it is drawn.

    Parameters
    ----------
    lines : Fields
        All of it.
    again : Fields
        What stands again on a second label when one can not hold all; without it nothing goes
        over to a second one.
    """

    lines: Fields
    again: Fields = ()


@dataclass(frozen=True)
class Grid:
    """The size of a label in mm, and how many stand beside and below each other on a sheet.

    Parameters
    ----------
    wide, high : float
        Of one label, in mm.
    columns, rows : int
        One of each is a roll.
    gap : float or None
        Between two columns, in mm; None spreads them evenly.
    paper : str
        ``A4`` or ``Letter`` when the sheet is cut from one of them; "" for any.
    cut : bool
        Print lines to cut along.
    """

    wide: float
    high: float
    columns: int
    rows: int
    gap: float | None = None
    paper: str = ""
    cut: bool = True


def kept(lines: Sequence[Line]) -> Fields:
    """Drop fields without text, and lines without fields."""
    filled = (tuple(field for field in line if field.text.strip()) for line in lines)
    return tuple(line for line in filled if line)


def roll(about: Sheet, labels: Sequence[Small], grid: Grid) -> bytes:
    """Draw each label on a page of its own size, as a label printer takes them."""
    from core.papers.fit import draw_roll

    return draw_roll(about, labels, grid)


def sheets(
    about: Sheet, labels: Sequence[Small], grid: Grid, paper: PaperSize, first: int
) -> bytes:
    """Draw labels on sheets, beginning at a place counted from 1 at the top left.

    A grid cut from a paper of its own is drawn on that, and a roll one label a page.

    Raises
    ------
    BadInput
        When the sheet has no such place.
    """
    from core.papers.fit import draw_sheets

    places = grid.columns * grid.rows
    if places == 1:
        return roll(about, labels, grid)
    if grid.paper:
        paper = "Letter" if grid.paper == "Letter" else "A4"
    if not 1 <= first <= places:
        raise BadInput(f"A sheet has places 1 to {places}, not {first}.")
    return draw_sheets(about, labels, grid, paper, first)


def lines_of(labels: Sequence[Fields]) -> str:
    """Write labels as plain text, in the order of the PDF."""
    one = ("\n".join(field.printed for line in label for field in line) for label in labels)
    return "\n\n".join(one) + "\n"
