"""The one style sheet: page, letterhead, head and foot of each page, document properties.

Loads ReportLab: import it inside functions only.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, datetime
from functools import partial
from hashlib import md5
from io import BytesIO
from typing import Any

from reportlab.lib.colors import black
from reportlab.lib.pagesizes import A4, LETTER, landscape
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate, Spacer
from reportlab.platypus.doctemplate import LayoutError

from core.errors import Refusal
from core.papers.blocks import Beside, KeyValues, Notice, Paragraph, Sheet, contact
from core.papers.flow import flowables, rule, title
from core.papers.fonts import LOCK, REGULAR, register, runs, width
from core.papers.parts import PaperSize, Practice, aware

SIZES: Mapping[PaperSize, tuple[float, float]] = {"A4": A4, "Letter": LETTER}
SIDE = 18 * mm
TOP = 16 * mm
BOTTOM = 18 * mm
STRIP = 9 * mm
SMALL = 8.0


class Stamp:
    """The document's own issue time where ReportLab would put the clock (always in UTC)."""

    dhh = dmm = 0

    def __init__(self, issued: datetime) -> None:
        self.YMDhms = aware(issued).astimezone(UTC).timetuple()[:6]


class PaperCanvas(Canvas):
    """A canvas that knows the issue time and, at the end, how many pages there are.

    Parameters
    ----------
    sheet : Sheet
        What is drawn; its title and mark stand on the pages.
    """

    def __init__(self, *arguments: Any, sheet: Sheet, **settings: Any) -> None:
        super().__init__(*arguments, **settings)
        stamp(self, sheet.issued)
        self._sheet = sheet
        self._kept: list[dict[str, Any]] = []

    def showPage(self) -> None:
        """Keep the page back until the number of pages is known."""
        self._kept.append(dict(self.__dict__))
        self._startPage()  # type: ignore[attr-defined]  # the stubs lack it

    def save(self) -> None:
        """Draw head and foot of each page, then write the file."""
        for page, kept in enumerate(self._kept, start=1):
            self.__dict__.update(kept)
            _strips(self, self._sheet, page, len(self._kept))
            super().showPage()
        super().save()


def build(sheet: Sheet, paper: PaperSize) -> bytes:
    """Draw a sheet on A4 or US Letter.

    Raises
    ------
    Refusal
        When one piece is larger than a page and can not be divided.
    """
    with LOCK:
        register()
        out = BytesIO()
        size = landscape(SIZES[paper]) if sheet.lying else SIZES[paper]
        template = _template(sheet, size, out)
        across = size[0] - 2 * SIDE
        story = [*_head(sheet, across), *flowables(sheet.blocks, across, sheet.text_size)]
        try:
            template.build(story, canvasmaker=partial(PaperCanvas, sheet=sheet))
        except LayoutError as error:
            raise Refusal(
                f"A part of {sheet.title} is larger than a page.", "Shorten its longest text."
            ) from error
        return out.getvalue()


def stamp(canvas: Canvas, issued: datetime) -> None:
    """Put a paper's own issue time into the file in place of the clock.

    The file's identifier is begun anew too: ReportLab lets the environment into it.
    """
    document = canvas._doc  # type: ignore[attr-defined]  # the stubs lack it
    document._timeStamp = Stamp(issued)
    document.signature = md5(aware(issued).isoformat().encode(), usedforsecurity=False)


def bare_canvas(out: BytesIO, size: tuple[float, float], about: Sheet) -> Canvas:
    """Return a canvas without head and foot, with the properties of a paper."""
    shown = properties(about.title, about.subject, about.practice)
    canvas = Canvas(out, pagesize=size, invariant=1, lang=shown["lang"])
    stamp(canvas, about.issued)
    canvas.setTitle(shown["title"])
    canvas.setSubject(shown["subject"])
    canvas.setAuthor(shown["author"])
    canvas.setCreator(shown["creator"])
    return canvas


def properties(title: str, subject: str, practice: Practice) -> dict[str, Any]:
    """Return the document properties that every paper carries."""
    return {
        "title": title,
        "subject": subject,
        "author": practice.name,
        "creator": "Finrounds",
        "lang": practice.lang,
        "invariant": 1,
    }


def draw_line(canvas: Canvas, x: float, y: float, text: str, size: float) -> float:
    """Draw one line of text with its fallback fonts; return where it ends."""
    for font, chars in runs(text):
        canvas.setFont(font, size)
        canvas.drawString(x, y, chars)
        x += canvas.stringWidth(chars, font, size)
    return x


def _template(sheet: Sheet, size: tuple[float, float], out: BytesIO) -> BaseDocTemplate:
    frame = Frame(
        SIDE,
        BOTTOM,
        size[0] - 2 * SIDE,
        size[1] - TOP - BOTTOM,
        leftPadding=0,
        rightPadding=0,
        topPadding=0,
        bottomPadding=0,
    )
    template = BaseDocTemplate(
        out,
        pagesize=size,
        displayDocTitle=1,
        initialFontName=REGULAR,
        **properties(sheet.title, sheet.subject, sheet.practice),
    )
    template.addPageTemplates([PageTemplate("page", [frame])])
    return template


def _head(sheet: Sheet, across: float) -> list[Flowable]:
    practice = sheet.practice
    left = (Paragraph(practice.name, strong=True), *map(Paragraph, practice.address))
    right = KeyValues(tuple(("", line) for line in contact(practice)))
    head = flowables((Beside(left, (right,)),), across, sheet.text_size)
    marked = flowables((Notice(sheet.mark),), across, sheet.text_size) if sheet.mark else []
    return [*head, rule(), *title(sheet.title), *marked, Spacer(0, 2 * mm)]


def _strips(canvas: Canvas, sheet: Sheet, page: int, pages: int) -> None:
    wide, high = canvas._pagesize  # type: ignore[attr-defined]  # the stubs lack it
    canvas.setFillColor(black)
    counted = f"page {page} of {pages}"
    foot = _shortened(sheet.title, wide - 2 * SIDE - width(counted, SMALL) - 12)
    draw_line(canvas, SIDE, STRIP, foot, SMALL)
    draw_line(canvas, wide - SIDE - width(counted, SMALL), STRIP, counted, SMALL)
    if page > 1:
        line = ", ".join(part for part in (sheet.practice.name, sheet.subject) if part)
        room = wide - 2 * SIDE - (width(sheet.mark, SMALL) + 12 if sheet.mark else 0)
        draw_line(canvas, SIDE, high - STRIP, _shortened(line, room), SMALL)
        draw_line(canvas, wide - SIDE - width(sheet.mark, SMALL), high - STRIP, sheet.mark, SMALL)


def _shortened(text: str, room: float) -> str:
    """Cut the strip's text to its room; the whole text stands on the first page."""
    line = " ".join(text.split())[:300]
    if width(line, SMALL) <= room:
        return line
    ends = range(len(line), 0, -1)
    return next((cut for end in ends if width(cut := f"{line[:end]}…", SMALL) <= room), "")
