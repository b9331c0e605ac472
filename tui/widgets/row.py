"""One painted row of a form: word, label, value, what stands beside it, note, saved or not."""

from __future__ import annotations

from dataclasses import dataclass, field

from rich.cells import cell_len, set_cell_size
from rich.text import Text
from textual.widgets import Static

from tui.widgets.lines import whole_figures
from tui.widgets.typing import Typing

NOTE_INDENT = 9
LEAST = 4
"""In fewer cells nothing is said, rather than a letter of it."""


@dataclass(frozen=True)
class Shown:
    """What a stage shows in a row.

    Attributes
    ----------
    value : str
        The saved answer as shown; "" when there is none.
    word : str
        The verdict or state, a word of at most six letters: good, watch, act.
    aside : str
        A second column, such as the tap water.
    note : str
        What is worked out or worth knowing, in few words.
    detail : str
        The whole of it, shown below the form for the current row; the note when empty.
    again : str
        What the box holds when the row is opened again; the value when empty.
    pending : bool
        The value is offered and not part of this record yet: it is not marked *saved*.
    """

    value: str = ""
    word: str = ""
    aside: str = ""
    note: str = ""
    again: str = ""
    pending: bool = False
    detail: str = ""


@dataclass(frozen=True)
class Widths:
    """Columns of a form, in cells."""

    label: int = 18
    value: int = 14
    aside: int = 0


@dataclass
class RowState:
    """Everything a row is painted from."""

    label: str
    section: str = ""
    hint: str = ""
    shown: Shown = field(default_factory=Shown)
    current: bool = False
    typing: Typing | None = None
    draft: str = ""
    """Typed but not accepted; kept until it is."""
    mark: str = ""
    """``saving`` or ``saved``."""
    error: str = ""
    open_hint: str = ""
    matches: tuple[str, ...] = ()
    """What fits the text so far, in a row that picks from a long list."""
    match_at: int = 0


CHOICE_BOX = 8
"""The box of a choice while it is open: one letter answers it, the room is for the letters."""
LISTED = 6
"""So many matches are shown at a time."""
WORD_STYLE = {"act": "bold reverse", "watch": "bold", "stop": "bold reverse"}


class FormRow(Static):
    """Paints a `RowState`; holds no state of its own."""

    DEFAULT_CSS = """
    FormRow { height: auto; width: 1fr; }
    FormRow.-current { background: $boost; }
    """

    def __init__(self, state: RowState, widths: Widths, number: int) -> None:
        super().__init__(markup=False)
        self.state = state
        self.widths = widths
        self.number = number
        self._lines = 0

    def on_mount(self) -> None:
        self.paint()

    def on_resize(self) -> None:
        self.paint()

    def paint(self) -> None:
        """Paint the row; the screen is laid out again only when its height changes."""
        text = self._text(self.size.width or 80)
        lines = text.plain.count("\n") + 1
        self.set_class(self.state.current, "-current")
        self.update(text, layout=lines != self._lines)
        self._lines = lines

    def _text(self, width: int) -> Text:
        state = self.state
        out = Text(no_wrap=True, overflow="ellipsis", end="")
        if state.section:
            out.append(_fit(f"{state.section}", width) + "\n", "bold underline")
        out.append("> " if state.current else "  ", "bold")
        out.append(_fit(state.shown.word, 6), WORD_STYLE.get(state.shown.word, ""))
        out.append(" " + _fit(state.label, self.widths.label) + " ")
        room = min(self.widths.value, CHOICE_BOX) if self._letters() else self.widths.value
        aside = self.widths.aside + 1 if self.widths.aside else 0
        left = max(0, width - 11 - self.widths.label - room - aside - 7)
        letters = self._letters()
        fits = cell_len(letters) <= left
        if self._hint_alone(left):
            # Nothing stands in the row yet: its hint has all the room rather than being cut.
            out.append(_fit(state.hint, room + 1 + aside + left), self._note_style())
        else:
            self._value(out, room)
            if aside:
                out.append(_fit(state.shown.aside, self.widths.aside) + " ")
            note = letters if letters and fits else state.shown.note
            if not note and not state.shown.value and cell_len(state.hint) <= left:
                note = state.hint
            out.append(_fit(note, left), self._note_style())
        stale = bool(state.draft) and state.mark == "saved"
        out.append(" " + _fit("" if stale else state.mark, 6))
        if state.typing is not None:
            self._matches(out, width)
        if letters and not fits:
            for line in _wrap(letters, width - NOTE_INDENT - 1):
                out.append("\n" + " " * NOTE_INDENT + line)
        if state.error:
            for line in _wrap(state.error, width - NOTE_INDENT - 1):
                out.append("\n" + " " * NOTE_INDENT + line, "bold")
        return out

    def _note_style(self) -> str:
        return "" if self.state.current else "dim"

    def _hint_alone(self, left: int) -> bool:
        """Return whether only a hint is to be shown, and it has no room beside the value."""
        state = self.state
        stands = state.typing or state.draft or state.shown.value or state.shown.note
        return not stands and not state.shown.aside and cell_len(state.hint) > left

    def _letters(self) -> str:
        """Return the letters that answer the row, while it is open."""
        return self.state.open_hint if self.state.typing is not None else ""

    def _matches(self, out: Text, width: int) -> None:
        first = max(0, self.state.match_at - LISTED + 1)
        for n, label in enumerate(self.state.matches[first : first + LISTED], start=first):
            mark = "> " if n == self.state.match_at else "  "
            out.append("\n" + " " * NOTE_INDENT + _fit(mark + label, width - NOTE_INDENT))

    def _value(self, out: Text, room: int) -> None:
        state = self.state
        if state.typing is None:
            text = state.draft + " ?" if state.draft else state.shown.value
            out.append(_fit(text, room) + " ", "italic" if state.draft else "bold")
            return
        typing = state.typing
        start = 0 if typing.fresh else max(0, typing.at - room + 1)
        seen = typing.text[start : start + room - 1]
        at = typing.at - start
        style = "reverse" if typing.fresh else "underline"
        out.append(seen[:at], style)
        out.append(seen[at : at + 1] or " ", "reverse")
        out.append(seen[at + 1 :], style)
        rest = room - cell_len(seen[:at] + (seen[at : at + 1] or " ") + seen[at + 1 :])
        out.append(" " * max(0, rest) + " ", "underline")


def _fit(text: str, width: int) -> str:
    """Cut or pad to a width in cells, saying with … that something was cut."""
    flat = " ".join(text.split("\n"))
    if cell_len(flat) <= width:
        return set_cell_size(flat, width)
    head = whole_figures(set_cell_size(flat, max(0, width - 1)))
    return set_cell_size(f"{head}…", width) if width >= LEAST else " " * width


def _wrap(text: str, width: int) -> list[str]:
    import textwrap

    return textwrap.wrap(text, max(20, width)) or [""]
