"""A panel of plain lines over the screen, closed by the key that opened it, Esc or Backspace."""

from __future__ import annotations

from pathlib import Path

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Static

from tui.widgets.foot import foot


class Panel(ModalScreen[None]):
    """Shows lines of text: a working, a help page, a note.

    Parameters
    ----------
    title : str
        First line.
    body : str
        What is shown; never read as markup.
    """

    # Absolute: a panel made elsewhere would look for its style beside its own module.
    CSS_PATH = Path(__file__).with_name("panel.tcss")
    BINDINGS = [
        Binding("escape,backspace,w,question_mark,enter", "dismiss", "Close", key_display="esc"),
        Binding("down", "scroll_down", "Down", show=False),
        Binding("up", "scroll_up", "Up", show=False),
    ]

    def __init__(self, title: str, body: str) -> None:
        super().__init__()
        self._title = title
        self._body = body

    def compose(self) -> ComposeResult:
        with VerticalScroll(id="panel"):
            yield Static(self._title, id="panel-title", markup=False)
            yield Static(self._body, id="panel-body", markup=False)
        yield foot()

    def action_scroll_down(self) -> None:
        self.query_one("#panel").scroll_down(animate=False)

    def action_scroll_up(self) -> None:
        self.query_one("#panel").scroll_up(animate=False)
