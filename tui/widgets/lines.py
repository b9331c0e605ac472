"""A list of lines in which words, not colour, say which is current, and Enter opens it."""

from __future__ import annotations

from collections.abc import Iterable

from rich.cells import cell_len, set_cell_size
from rich.segment import Segment
from rich.text import Text
from textual.binding import Binding
from textual.strip import Strip
from textual.widgets import OptionList
from textual.widgets.option_list import Option

MARK, ROOM = ">", "  "
"""The mark of the current line, and the room that every line leaves for it."""


class Marked(OptionList):
    """A list whose current line bears a mark, since colour alone would not say which it is.

    The mark is put in while a line is painted: changing the line's own words would lay the
    whole screen out again at every step of the cursor. Every option is one line high.
    """

    def render_line(self, y: int) -> Strip:
        """Paint a line, with the mark in its first cell when it is the current one."""
        strip = super().render_line(y)
        if self.highlighted is None or y + self.scroll_offset.y != self.highlighted:
            return strip
        first = next(iter(strip), None)
        mark = Strip([Segment(MARK, first.style if first else None)], 1)
        return Strip.join([mark, strip.crop(1)])

    def painted(self) -> list[str]:
        """Return the lines as a person sees them."""
        words = [str(option.prompt) for option in self.options]
        at = self.highlighted
        return [MARK + text[1:] if n == at else text for n, text in enumerate(words)]


class Lines(Marked):
    """A list that stays on the line it was on when it is filled again.

    Parameters
    ----------
    enter : str
        What Enter does, as the footer says it.
    """

    DEFAULT_CSS = """
    Lines { border: none; padding: 0; background: $background; scrollbar-size-vertical: 1; }
    Lines:focus { border: none; background-tint: $background 0%; }
    Lines > .option-list--option { padding: 0; }
    """

    def __init__(self, enter: str = "Open", *, id: str) -> None:  # noqa: A002 (Textual's own name)
        super().__init__(id=id, markup=False)
        self._bindings.key_to_bindings.pop("enter", None)
        self._bindings.key_to_bindings["enter"] = [Binding("enter", "select", enter)]
        self.words: dict[str, str] = {}

    def fill(self, lines: Iterable[tuple[str, str]], current: str = "") -> None:
        """Show lines, each with its id, standing on `current` or on where it stood."""
        stands = current or self.current
        at = self.highlighted or 0
        self.words = {}
        self.clear_options()
        self.words = dict(lines)
        self.add_options([Option(_line(words), id=key) for key, words in self.words.items()])
        if self.words:
            keys = list(self.words)
            last = len(keys) - 1
            self.highlighted = keys.index(stands) if stands in keys else min(at, last)

    @property
    def current(self) -> str:
        """Id of the current line; "" when there is none."""
        option = self.highlighted_option
        return option.id or "" if option is not None else ""


def _line(words: str) -> Text:
    return Text(ROOM + words, no_wrap=True, overflow="ellipsis")


def fit(text: str, width: int) -> str:
    """Cut or pad a text to a width in cells, saying with … that something was cut."""
    flat = " ".join(text.split())
    if cell_len(flat) <= width:
        return set_cell_size(flat, width)
    head = whole_figures(set_cell_size(flat, max(0, width - 1)))
    return set_cell_size(f"{head}…", width)


def whole_figures(head: str) -> str:
    """Return the kept part of a cut text without a figure that may have been cut: 163 of 1630."""
    return head.rstrip("0123456789.,:") if head[-1:].isdigit() else head
