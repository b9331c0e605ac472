"""The few shapes a paper is made of. PDF and plain-text twin are both drawn from them.

A paper is first turned into a `Sheet`, a list of blocks; `pdf` and `twin` walk the same list,
so that order and figures can not drift apart. Every text in a block is plain text: nothing a
person typed is ever read as markup. This module loads no ReportLab; `pdf` does, when called.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields
from datetime import datetime

from core.papers.parts import PaperSize, Practice


@dataclass(frozen=True)
class Heading:
    """A heading inside the paper."""

    text: str


@dataclass(frozen=True)
class Paragraph:
    """Running text; `strong` for bold, `small` for terms and sources."""

    text: str
    strong: bool = False
    small: bool = False


@dataclass(frozen=True)
class KeyValues:
    """Labels with their values; rows with an empty value are left out."""

    rows: tuple[tuple[str, str], ...]

    def filled(self) -> tuple[tuple[str, str], ...]:
        """Return the rows that have a value."""
        return tuple((key, value) for key, value in self.rows if value)


@dataclass(frozen=True)
class Beside:
    """Two groups of blocks side by side; read left, then right."""

    left: tuple[Block, ...]
    right: tuple[Block, ...]


@dataclass(frozen=True)
class Table:
    """A table whose head is repeated on each page.

    Parameters
    ----------
    heads : tuple of str
        Column heads.
    rows : tuple of tuple of str
        Cells, as many as heads.
    shares : tuple of float
        Relative widths of the columns.
    right : tuple of int
        Columns set to the right, as figures are.
    carried : int, optional
        Column whose last figure is carried to the head of the next page.
    """

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    shares: tuple[float, ...]
    right: tuple[int, ...] = ()
    carried: int | None = None


def headed(text: str, table: Table) -> tuple[Block, Block]:
    """Put a heading over a table: it stays with a short one, and a long one begins below it.

    What stays together goes to a new page as a whole, and would leave this one empty.
    """
    long = len(table.rows) > 12
    return (Paragraph(text, strong=True) if long else Heading(text), table)


@dataclass(frozen=True)
class Totals:
    """Labels and amounts at the right edge; the flag marks the lines that count."""

    rows: tuple[tuple[str, str, bool], ...]


@dataclass(frozen=True)
class Notice:
    """A box that must be seen: a title and lines of text; `large` for a title read from afar."""

    title: str
    lines: tuple[str, ...] = ()
    large: bool = False


@dataclass(frozen=True)
class Bullets:
    """A list of sentences."""

    items: tuple[str, ...]


@dataclass(frozen=True)
class Tick:
    """One thing to do, with a box to tick; without a box somebody else does it."""

    text: str
    box: bool = True


@dataclass(frozen=True)
class Ticks:
    """A tick list by day: each row is a day (or nothing) and what belongs to it."""

    rows: tuple[tuple[str, tuple[Tick, ...]], ...]


Block = Heading | Paragraph | KeyValues | Beside | Table | Totals | Notice | Bullets | Ticks


@dataclass(frozen=True)
class Sheet:
    """A whole paper before it is drawn.

    Parameters
    ----------
    practice : Practice
        Whose letterhead stands on top.
    title, subject : str
        Name of the paper and who or what it is about; also document properties.
    issued : datetime
        Aware; the only time that goes into the file's metadata.
    blocks : tuple of Block
        The paper from top to bottom.
    mark : str
        Words that stand on top of every page, for example that a newer version exists.
    text_size : float
        Size of running text in points.
    lying : bool
        Print on the paper laid on its side, for wide tables.
    """

    practice: Practice
    title: str
    subject: str
    issued: datetime
    blocks: tuple[Block, ...]
    mark: str = ""
    text_size: float = 9.5
    lying: bool = False


def pdf(sheet: Sheet, paper: PaperSize = "A4") -> bytes:
    """Draw a sheet; the same sheet gives the same bytes with the same library versions."""
    from core.papers.style import build

    return build(sheet, paper)


def twin(sheet: Sheet) -> str:
    """Write a sheet as plain text, in the order of the PDF, for reading aloud or for mail."""
    practice = sheet.practice
    head = [practice.name, *practice.address, *contact(practice), "", sheet.title]
    if sheet.mark:
        head.append(sheet.mark)
    body = (line for block in sheet.blocks for line in _lines(block))
    return "\n".join([*head, *body]).strip() + "\n"


def contact(practice: Practice) -> tuple[str, ...]:
    """Return the lines of a letterhead below the address."""
    reach = ", ".join(part for part in (practice.phone, practice.email) if part)
    return tuple(line for line in (reach, practice.registration) if line)


def words(block: Block | Sheet | Practice | Tick) -> Iterator[str]:
    """Yield every text of a block, for example to ask which characters can not be printed."""
    for field in fields(block):
        yield from _strings(getattr(block, field.name))


def _strings(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple):
        for part in value:
            yield from _strings(part)
    elif isinstance(value, Block | Tick | Practice):
        yield from words(value)


def _lines(block: Block) -> Iterator[str]:
    match block:
        case Heading(text):
            yield from ("", text)
        case Paragraph(text):
            yield text
        case KeyValues():
            yield from (f"{key}: {value}" for key, value in block.filled())
        case Beside(left, right):
            for part in (*left, *right):
                yield from _lines(part)
        case Table():
            # A row left empty is there to be written in by hand.
            yield from (_labelled(block.heads, row) for row in block.rows if any(row))
        case Totals(rows):
            yield from (f"{label}: {value}" for label, value, _ in rows)
        case Notice(title, lines, _):
            yield from ("", f"! {title}", *lines)
        case Bullets(items):
            yield from (f"- {item}" for item in items)
        case Ticks(rows):
            yield from _tick_lines(rows)


def _labelled(heads: tuple[str, ...], row: tuple[str, ...]) -> str:
    # Each cell with its head: a table in plain text loses its columns when it is read aloud.
    pairs = zip(heads, row, strict=True)
    return "; ".join(f"{head}: {cell}" if head else cell for head, cell in pairs if cell)


def _tick_lines(rows: tuple[tuple[str, tuple[Tick, ...]], ...]) -> Iterator[str]:
    for when, ticks in rows:
        if when:
            yield when
        yield from (f"[ ] {tick.text}" if tick.box else f"    {tick.text}" for tick in ticks)
