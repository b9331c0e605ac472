"""Labels fitted whole into their box: the type shrinks down to a floor, then it is refused.

Loads ReportLab: import it inside functions only.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from io import BytesIO

from reportlab.lib.colors import Color
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Paragraph

from core.errors import Refusal
from core.papers.blocks import Sheet
from core.papers.fonts import LOCK, REGULAR, bound, markup, register, width
from core.papers.label_box import FLOOR, Field, Fields, Grid, Line
from core.papers.parts import PaperSize
from core.papers.style import SIZES, bare_canvas

CEILING = 9.5
STEP = 0.25
EDGE = 2.5 * mm
GAP = " · "
"""Between fields that share a line."""

# Chinese, Japanese and Korean break between any two characters.
_BREAK = re.compile("[ \n\t\u3000-\u9fff\uac00-\ud7a3\uff00-\uffef]")

Fitted = list[Paragraph]


def draw_roll(about: Sheet, labels: Sequence[Fields], grid: Grid) -> bytes:
    """Draw each label on its own page; see `label_box.roll`."""
    with LOCK:
        register()
        out = BytesIO()
        canvas = bare_canvas(out, (grid.wide * mm, grid.high * mm), about)
        for lines in fit(labels, grid):
            _draw(canvas, lines, 0, 0, grid)
            canvas.showPage()
        canvas.save()
        return out.getvalue()


def draw_sheets(
    about: Sheet, labels: Sequence[Fields], grid: Grid, paper: PaperSize, first: int
) -> bytes:
    """Draw labels on sheets with lines to cut along; see `label_box.sheets`."""
    with LOCK:
        register()
        out = BytesIO()
        canvas = bare_canvas(out, SIZES[paper], about)
        spots = _spots(grid, SIZES[paper])
        for number, lines in enumerate(fit(labels, grid), start=first - 1):
            if number % len(spots) == 0 and number > first - 1:
                canvas.showPage()
            x, y = spots[number % len(spots)]
            _cut_lines(canvas, x, y, grid)
            _draw(canvas, lines, x, y, grid)
        canvas.showPage()
        canvas.save()
        return out.getvalue()


def fit(labels: Sequence[Fields], grid: Grid) -> list[Fitted]:
    """Return each label's lines as paragraphs, all in the largest type that fits them all.

    Raises
    ------
    Refusal
        When one does not fit at `FLOOR` points: the sentence names the field.
    """
    size = CEILING
    while size >= FLOOR:
        fitted = [_at(label, size, grid) for label in labels]
        if all(fitted):
            return [lines for lines in fitted if lines]
        size -= STEP
    across = grid.wide * mm - 2 * EDGE
    raise next(_does_not_fit(label, across) for label in labels if not _at(label, FLOOR, grid))


def _at(label: Fields, size: float, grid: Grid) -> Fitted | None:
    """Return a label's lines at a size in points, or nothing when they do not fit."""
    across, high = grid.wide * mm - 2 * EDGE, grid.high * mm - 2 * EDGE
    if _too_wide(label, size, across):
        return None
    lines = [_line(line, size) for line in label]
    return lines if sum(line.wrap(across, high)[1] for line in lines) <= high else None


def _line(line: Line, size: float) -> Paragraph:
    style = ParagraphStyle("label", fontName=REGULAR, fontSize=size, leading=size * 1.16)
    return Paragraph(GAP.join(_inline(field) for field in line), style)


def _inline(field: Field) -> str:
    text = markup(field.text, field.strong)
    shown = f"<b>{text}</b>" if field.strong else text
    return f"{markup(field.name)}: {shown}" if field.named else shown


def _too_wide(label: Fields, size: float, across: float) -> list[Field]:
    """Return the fields with a word that one line can not hold: words are never cut."""
    return [
        field
        for line in label
        for field in line
        if any(width(word, size, field.strong) > across for word in _words(field.printed))
    ]


def _words(text: str) -> list[str]:
    return _BREAK.split(bound(text))


def _does_not_fit(label: Fields, across: float) -> Refusal:
    tall = [field for line in label for field in line]
    worst = _too_wide(label, FLOOR, across) or [
        max(tall, key=lambda field: width(field.printed, FLOOR, field.strong))
    ]
    return Refusal(
        f"The label can not hold '{worst[0].name}' at {FLOOR:g} points, the smallest type allowed.",
        "Shorten it, or print it as a sheet of its own.",
    )


def _draw(canvas: Canvas, lines: Fitted, x: float, y: float, grid: Grid) -> None:
    top = y + grid.high * mm - EDGE
    for line in lines:
        top -= line.height
        line.drawOn(canvas, x + EDGE, top)


def _spots(grid: Grid, page: tuple[float, float]) -> list[tuple[float, float]]:
    """Return the lower left corners on a sheet, row by row from the top."""
    wide, high = grid.wide * mm, grid.high * mm
    between = (page[0] - grid.columns * wide) / (grid.columns + 1)
    above = (page[1] - grid.rows * high) / 2
    return [
        (between + column * (wide + between), page[1] - above - (row + 1) * high)
        for row in range(grid.rows)
        for column in range(grid.columns)
    ]


def _cut_lines(canvas: Canvas, x: float, y: float, grid: Grid) -> None:
    canvas.setStrokeColor(Color(0.7, 0.7, 0.7))
    canvas.setLineWidth(0.3)
    canvas.rect(x, y, grid.wide * mm, grid.high * mm)
