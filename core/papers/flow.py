"""Blocks turned into ReportLab flowables. Loads ReportLab: import it inside functions only."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from reportlab.lib.colors import Color, black
from reportlab.lib.enums import TA_RIGHT
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Flowable, HRFlowable, KeepTogether, Spacer
from reportlab.platypus import Paragraph as RichText
from reportlab.platypus import Table as Grid

from core.papers import blocks
from core.papers.fonts import BOLD, REGULAR, is_plain, markup, width

GREY = Color(0.33, 0.33, 0.33)
RULE = Color(0.6, 0.6, 0.6)
TINT = Color(0.92, 0.92, 0.92)
PAD = 3.0
LABEL_SHARE = 0.42

Cell = str | Flowable | list[Flowable]
Command = tuple[Any, ...]


@dataclass(frozen=True)
class Look:
    """The paragraph styles of one paper, all from the size of its running text."""

    size: float
    body: ParagraphStyle
    strong: ParagraphStyle
    large: ParagraphStyle
    small: ParagraphStyle
    heading: ParagraphStyle
    label: ParagraphStyle
    right: ParagraphStyle
    strong_right: ParagraphStyle
    bullet: ParagraphStyle

    @property
    def leading(self) -> float:
        """Distance of two lines of running text, in points."""
        return self.body.leading


def flowables(wanted: Sequence[blocks.Block], across: float, size: float) -> list[Flowable]:
    """Turn blocks into flowables for a column so many points wide."""
    look = look_of(size)
    return [piece for block in wanted for piece in _pieces(block, across, look)]


def rule() -> Flowable:
    """Return a thin line across the page."""
    return HRFlowable(width="100%", thickness=0.6, color=black, spaceBefore=4, spaceAfter=6)


def title(text: str) -> list[Flowable]:
    """Return the name of the paper as its largest line."""
    style = ParagraphStyle("title", fontName=BOLD, fontSize=15, leading=18, spaceAfter=4)
    return [RichText(markup(text, bold=True), style)]


@cache
def look_of(size: float) -> Look:
    """Return the styles for running text of a size in points."""
    body = ParagraphStyle(
        "body", fontName=REGULAR, fontSize=size, leading=size * 1.28, bulletFontName=REGULAR
    )
    return Look(
        size,
        body,
        _like(body, "strong", fontName=BOLD),
        _like(body, "large", fontName=BOLD, fontSize=size * 1.8, leading=size * 2.2),
        _like(body, "small", fontSize=size - 1.5, leading=(size - 1.5) * 1.25),
        _like(
            body,
            "heading",
            fontName=BOLD,
            fontSize=size + 1.5,
            leading=size * 1.45,
            spaceBefore=7,
            spaceAfter=2.5,
            keepWithNext=1,
        ),
        _like(body, "label", textColor=GREY),
        _like(body, "right", alignment=TA_RIGHT),
        _like(body, "strong-right", fontName=BOLD, alignment=TA_RIGHT),
        _like(body, "bullet", leftIndent=10, bulletIndent=1, spaceAfter=1.5),
    )


class TickBox(Flowable):
    """An empty square to tick with a pen: no font here has one."""

    def __init__(self, side: float, leading: float) -> None:
        super().__init__()
        self.width = self.side = side
        self.height = leading

    def draw(self) -> None:
        """Draw the square on the line of the text beside it."""
        self.canv.setLineWidth(0.9)
        self.canv.rect(0, (self.height - self.side) / 2 - 0.6, self.side, self.side)


class CarryingGrid(Grid):
    """A table that carries the last figure of a column to the head of its next page."""

    carried = 0
    brought = ""

    def onSplit(self, T: Any, byRow: int = 1) -> None:
        """Put what the part before ended with into the head of the part after."""
        rows = T._cellvalues
        T.carried = self.carried
        if self.brought:
            rows[0] = list(rows[0])
            rows[0][self.carried] = f"{_said(rows[0][self.carried])}\n{self.brought} brought"
        self.brought = "" if self.brought else _said(rows[-1][self.carried])


def _said(cell: object) -> str:
    """Return the first line of a cell as plain text."""
    text = cell.getPlainText() if isinstance(cell, RichText) else str(cell)
    return text.partition("\n")[0]


def _like(parent: ParagraphStyle, name: str, **changes: Any) -> ParagraphStyle:
    return ParagraphStyle(name, parent=parent, **changes)


def _pieces(block: blocks.Block, across: float, look: Look) -> list[Flowable]:
    match block:
        case blocks.Heading(text):
            return [RichText(markup(text, bold=True), look.heading)]
        case blocks.Paragraph(text, strong, small):
            style = look.strong if strong else look.small if small else look.body
            return [RichText(markup(text, strong), style)]
        case blocks.KeyValues():
            return _key_values(block.filled(), across, look)
        case blocks.Beside():
            return [_beside(block, across, look), Spacer(0, 4)]
        case blocks.Table():
            return _table(block, across, look)
        case blocks.Totals(rows):
            return [KeepTogether([_totals(rows, across, look)])]
        case blocks.Notice():
            return [Spacer(0, 4), _notice(block, across, look), Spacer(0, 4)]
        case blocks.Bullets(items):
            return [RichText(markup(item), look.bullet, bulletText="•") for item in items]
        case blocks.Ticks():
            return _ticks(block, across, look) if block.rows else []


def _cell(text: str, room: float, style: ParagraphStyle) -> Cell:
    """Return a text bare when it fits on one line in the base font: that is drawn far quicker."""
    bold = style.fontName == BOLD
    if is_plain(text, bold) and "\n" not in text and width(text, style.fontSize, bold) <= room:
        return text
    return RichText(markup(text, bold), style)


def _grid(
    rows: list[list[Cell]],
    widths: Sequence[float],
    commands: list[Command],
    look: Look,
    carried: int | None = None,
    **more: Any,
) -> Grid:
    base: list[Command] = [
        ("FONT", (0, 0), (-1, -1), REGULAR, look.size, look.leading),
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (-1, -1), PAD),
        ("RIGHTPADDING", (0, 0), (-1, -1), PAD),
        ("TOPPADDING", (0, 0), (-1, -1), 1.8),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 2.4),
    ]
    about = {"colWidths": list(widths), "style": [*base, *commands], "splitInRow": 1, **more}
    if carried is None:
        return Grid(rows, **about)
    grid = CarryingGrid(rows, **about, longTableOptimize=0)  # its head grows on the second page
    grid.carried = carried
    return grid


def _key_values(rows: Sequence[tuple[str, str]], across: float, look: Look) -> list[Flowable]:
    if not rows:
        return []
    widest = (
        max(width(key, look.size) for key, _ in rows) + 2 * PAD if any(k for k, _ in rows) else 0
    )
    left = min(widest, across * LABEL_SHARE)
    room = across - left
    cells = [
        [_cell(key, left - 2 * PAD, look.label), _cell(value, room - 2 * PAD, look.body)]
        for key, value in rows
    ]
    close: list[Command] = [
        ("TOPPADDING", (0, 0), (-1, -1), 0),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 1),
        ("LEFTPADDING", (0, 0), (0, -1), 0),
    ]
    if not left:
        return [
            _grid([[row[1]] for row in cells], [across], close, look, hAlign="LEFT"),
            Spacer(0, 4),
        ]
    commands = [*close, ("TEXTCOLOR", (0, 0), (0, -1), GREY)]
    return [_grid(cells, [left, room], commands, look, hAlign="LEFT"), Spacer(0, 4)]


def _beside(block: blocks.Beside, across: float, look: Look) -> Flowable:
    half = across / 2
    sides: list[Cell] = [
        [piece for part in side for piece in _pieces(part, half - 2 * PAD, look)]
        for side in (block.left, block.right)
    ]
    return _grid([sides], [half, half], [("LEFTPADDING", (0, 0), (0, -1), 0)], look)


def _table(block: blocks.Table, across: float, look: Look) -> list[Flowable]:
    widths = [across * share / sum(block.shares) for share in block.shares]
    rows = [
        [
            _cell(text, widths[column] - 2 * PAD, _style(look, column in block.right, head))
            for column, text in enumerate(row)
        ]
        for head, row in [(True, block.heads), *((False, row) for row in block.rows)]
    ]
    commands: list[Command] = [
        ("FONT", (0, 0), (-1, 0), BOLD, look.size, look.leading),
        ("BACKGROUND", (0, 0), (-1, 0), TINT),
        ("LINEBELOW", (0, 0), (-1, -1), 0.4, RULE),
        *(("ALIGN", (column, 0), (column, -1), "RIGHT") for column in block.right),
    ]
    grid = _grid(rows, widths, commands, look, repeatRows=1, carried=block.carried)
    return [grid, Spacer(0, 4)]


def _style(look: Look, right: bool, head: bool) -> ParagraphStyle:
    if right:
        return look.strong_right if head else look.right
    return look.strong if head else look.body


def _totals(rows: Sequence[tuple[str, str, bool]], across: float, look: Look) -> Flowable:
    widths = (across * 0.42, across * 0.2)
    cells: list[list[Cell]] = []
    commands: list[Command] = [("ALIGN", (0, 0), (-1, -1), "RIGHT")]
    for number, (label, value, strong) in enumerate(rows):
        style = look.strong_right if strong else look.right
        cells.append(
            [
                _cell(text, room - 2 * PAD, style)
                for text, room in zip((label, value), widths, strict=True)
            ]
        )
        if strong:
            commands.append(("FONT", (0, number), (-1, number), BOLD, look.size, look.leading))
            commands.append(("LINEABOVE", (0, number), (-1, number), 0.7, black))
    return _grid(cells, widths, commands, look, hAlign="RIGHT")


def _notice(block: blocks.Notice, across: float, look: Look) -> Flowable:
    style = look.large if block.large else look.strong
    rows: list[list[Cell]] = [[RichText(markup(block.title, bold=True), style)]]
    rows += [[RichText(markup(line), look.body)] for line in block.lines]
    box: list[Command] = [
        ("BOX", (0, 0), (-1, -1), 1.3, black),
        ("LEFTPADDING", (0, 0), (-1, -1), 7),
        ("RIGHTPADDING", (0, 0), (-1, -1), 7),
        ("TOPPADDING", (0, 0), (-1, 0), 4),
        ("BOTTOMPADDING", (0, -1), (-1, -1), 6),
    ]
    return _grid(rows, [across], box, look)


def _ticks(block: blocks.Ticks, across: float, look: Look) -> list[Flowable]:
    dated = any(when for when, _ in block.rows)
    first = (
        max(width(when, look.size, bold=True) for when, _ in block.rows) + 3 * PAD if dated else 0
    )
    side = look.size * 0.85
    widths = [first, side + 3 * PAD, across - first - side - 3 * PAD]
    rows: list[list[Cell]] = []
    commands: list[Command] = [("FONT", (0, 0), (0, -1), BOLD, look.size, look.leading)]
    for when, ticks in block.rows:
        start = len(rows)
        for number, tick in enumerate(ticks):
            box: Cell = TickBox(side, look.leading) if tick.box else ""
            text = _cell(tick.text, widths[2] - 2 * PAD, look.body)
            rows.append(["" if number else when, box, text])
        if ticks:
            commands.append(("NOSPLIT", (0, start), (0, len(rows) - 1)))
            commands.append(("LINEBELOW", (0, len(rows) - 1), (-1, len(rows) - 1), 0.4, RULE))
    if not dated:
        rows, widths = [row[1:] for row in rows], widths[1:]
        commands = [command for command in commands if command[0] != "FONT"]
    return [_grid(rows, widths, commands, look), Spacer(0, 4)] if rows else []
