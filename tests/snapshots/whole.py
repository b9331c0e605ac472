"""Whether everything that stands on a screen stands there whole."""

from __future__ import annotations

import re

from textual.app import App
from textual.widget import Widget
from textual.widgets import Static

from tui.widgets.foot import Foot
from tui.widgets.form import Form
from tui.widgets.row import FormRow

NUMBER_CUT = re.compile(r"\d[\d.,:]*…|…[\d.,:]*\d\s")
"""A dot-dot-dot that eats a figure: a time, an amount, a reading."""
FIGURES = ("quantity", "count", "money", "date")
NAME = 24
"""Longer than this is no name of a row but words out of the records."""
SCROLLS = ("VerticalScroll", "Form")


def lines_of(app: App[None]) -> list[str]:
    """Return the lines of the terminal as a person sees them."""
    return [strip.text.rstrip() for strip in app.screen._compositor.render_strips()]


def cut(app: App[None]) -> list[str]:
    """Return what is cut on the screen, in words; nothing when all of it is whole."""
    found = [f"a figure is cut: {line}" for line in lines_of(app) if NUMBER_CUT.search(line)]
    for widget in app.screen.walk_children(Widget):
        if not widget.is_on_screen or not widget.display:
            continue
        found += sideways(widget)
        if isinstance(widget, Form):
            found += rows_cut(widget)
        elif isinstance(widget, Static) and not isinstance(widget, (FormRow, Foot)):
            found += words_cut(widget)
    return found


def sideways(widget: Widget) -> list[str]:
    """Nothing is wider than its window."""
    scrolls = widget.allow_horizontal_scroll or widget.show_horizontal_scrollbar
    return [f"{widget!r} scrolls sideways"] if scrolls and widget.max_scroll_x > 0 else []


def rows_cut(form: Form) -> list[str]:
    """Give the parts of rows that are cut and should not be.

    A figure is whole wherever it stands. What a form calls its rows is whole; names that come
    from the records, such as lines of a bill, may end in a dot-dot-dot where they are long.
    """
    found = []
    for field, row in zip(form.fields, form.rows, strict=True):
        painted = row._text(row.size.width or form.size.width).plain.splitlines()
        said, shown = "\n".join(painted), row.state.shown
        parts = [shown.word, shown.aside]
        if len(row.state.label) <= NAME:
            parts.append(row.state.label.strip())
        if field.kind in FIGURES and row.state.typing is None and not row.state.draft:
            parts.append(shown.value)
        found += [f"{part!r} is cut in {said!r}" for part in parts if part and part not in said]
        if max(map(len, painted)) > form.size.width:
            found.append(f"wider than the form: {said!r}")
    return found


def words_cut(widget: Static) -> list[str]:
    """The lines of a text all have room, unless it scrolls up and down."""
    if any(type(parent).__name__ in SCROLLS for parent in widget.ancestors):
        return []
    text = str(widget.render())
    width, height = widget.content_size
    need = widget.get_content_height(widget.content_size, widget.app.size, width)
    if text and need > height:
        return [f"{need - height} lines of {widget!r} have no room: {text!r}"]
    return []
