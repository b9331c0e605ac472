"""Labels fitted into their box: the type shrinks down to a floor, then a second label goes on.

Loads ReportLab: import it inside functions only.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from io import BytesIO

from reportlab.lib.colors import Color
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Paragraph

from core.errors import Refusal
from core.papers.blocks import Sheet
from core.papers.fonts import LOCK, REGULAR, bound, markup, register, width
from core.papers.label_box import FLOOR, Field, Fields, Grid, Line, Small
from core.papers.parts import PaperSize
from core.papers.style import SIZES, bare_canvas

CEILING = 9.5
STEP = 0.25
MOST = 3
"""Labels that one medicine may take; what needs more is a sheet of its own."""
EDGE = 2.5 * mm
GAP = " · "
"""Between fields that share a line."""

# Chinese, Japanese and Korean break between any two characters.
_BREAK = re.compile("[ \n\t\u3000-\u9fff\uac00-\ud7a3\uff00-\uffef]")

Fitted = list[Paragraph]


def draw_roll(about: Sheet, labels: Sequence[Small], grid: Grid) -> bytes:
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
    about: Sheet, labels: Sequence[Small], grid: Grid, paper: PaperSize, first: int
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
            if grid.cut:
                _cut_lines(canvas, x, y, grid)
            _draw(canvas, lines, x, y, grid)
        canvas.showPage()
        canvas.save()
        return out.getvalue()


def fit(labels: Sequence[Small], grid: Grid) -> list[Fitted]:
    """Return each label's lines as paragraphs, all in the largest type that fits them all.

    One that can not be held at `FLOOR` points goes on to a second label, or a third.

    Raises
    ------
    Refusal
        When one does not fit all the same: the sentence names the field.
    """
    whole = [one for one in labels if _at(one.lines, FLOOR, grid)]
    size = next((s for s in _sizes() if all(_at(one.lines, s, grid) for one in whole)), FLOOR)
    return [
        part
        for one in labels
        for part in ([_at(one.lines, size, grid) or []] if one in whole else _parts(one, grid))
    ]


def _sizes() -> Iterator[float]:
    size = CEILING
    while size >= FLOOR:
        yield size
        size -= STEP


def _parts(one: Small, grid: Grid) -> list[Fitted]:
    """Return a label on as few labels as hold it, in the largest type for so many."""
    fewest = _divided(one, FLOOR, grid) if one.again else None
    if fewest is None:
        raise _does_not_fit(one.lines, grid.wide * mm - 2 * EDGE)
    tried = (_divided(one, size, grid) for size in _sizes())
    return next((p for p in tried if p is not None and len(p) == len(fewest)), fewest)


def _divided(one: Small, size: float, grid: Grid) -> list[Fitted] | None:
    """Return a label on several at a size in points, or nothing when `MOST` do not hold it."""
    across, high = grid.wide * mm - 2 * EDGE, grid.high * mm - 2 * EDGE
    if _too_wide(one.lines + one.again, size, across):
        return None
    for count in range(2, MOST + 1):
        rest = [_line(line, size) for line in one.lines]
        parts = [
            _filled([_line(line, size) for line in _head(one, n, count)], rest, across, high)
            for n in range(1, count + 1)
        ]
        if not rest:
            return parts
    return None


def _head(one: Small, number: int, count: int) -> Fields:
    """Return what stands on top of one of several labels: which it is, and whose."""
    told = "they belong together." if number == 1 else f"goes on from label {number - 1}."
    mark = (Field("Label", f"Label {number} of {count}: {told}", named=False, strong=True),)
    return (mark,) if number == 1 else (mark, *one.again)


def _filled(head: Fitted, rest: Fitted, across: float, high: float) -> Fitted:
    """Return a head and as much of the rest as fits below it; what went in is taken off."""
    room = high - sum(line.wrap(across, high)[1] for line in head)
    kept = list(head) if room >= 0 else []
    while rest and room > 0:
        tall = rest[0].wrap(across, high)[1]
        if tall > room:
            # What half a label holds stays whole and goes to the next one.
            pieces = rest[0].split(across, room) if tall > high / 2 else []
            match pieces:
                case [Paragraph() as fits, Paragraph() as left]:
                    fits.wrap(across, high)
                    kept.append(fits)
                    rest[0] = left
            break
        kept.append(rest.pop(0))
        room -= tall
    return kept


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
    spread = (page[0] - grid.columns * wide) / (grid.columns + 1)
    between = spread if grid.gap is None else grid.gap * mm
    left = (page[0] - grid.columns * wide - (grid.columns - 1) * between) / 2
    above = (page[1] - grid.rows * high) / 2
    return [
        (left + column * (wide + between), page[1] - above - (row + 1) * high)
        for row in range(grid.rows)
        for column in range(grid.columns)
    ]


def _cut_lines(canvas: Canvas, x: float, y: float, grid: Grid) -> None:
    canvas.setStrokeColor(Color(0.7, 0.7, 0.7))
    canvas.setLineWidth(0.3)
    canvas.rect(x, y, grid.wide * mm, grid.high * mm)
