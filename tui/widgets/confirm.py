"""Asks once more before what can not be taken back; the same key pressed again does it."""

from __future__ import annotations

from collections.abc import Awaitable, Callable

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Static

from core.errors import Refusal
from tui.base import RoundsApp
from tui.keys import bind
from tui.widgets.foot import foot
from tui.widgets.panel import Panel


class Confirm(ModalScreen[bool]):
    """Says what would be done; the key that asked for it does it, Esc or Backspace leaves.

    Parameters
    ----------
    title : str
        What would be done.
    body : str
        On whom and on what; never read as markup.
    """

    CSS_PATH = Panel.CSS_PATH
    BINDINGS = [Binding("escape,backspace", "leave", "Leave", key_display="esc")]

    def __init__(self, title: str, body: str) -> None:
        super().__init__()
        self._title = title
        self._body = body

    def compose(self) -> ComposeResult:
        with VerticalScroll(id="panel"):
            yield Static(self._title, id="panel-title", markup=False)
            yield Static(self._body, id="panel-body", markup=False)
        yield foot()

    def action_leave(self) -> None:
        self.dismiss(False)

    def action_do_it(self) -> None:
        self.dismiss(True)


class ConfirmSign(Confirm):
    """Before a record is closed."""

    BINDINGS = [bind("sign", "do_it")]


class ConfirmInvoice(Confirm):
    """Before an invoice gets its number."""

    BINDINGS = [bind("invoice", "do_it")]


class ConfirmClose(Confirm):
    """Before the drug log of a day is closed."""

    BINDINGS = [bind("close", "do_it")]


class ConfirmSeen(Confirm):
    """Before a line is marked as seen to that something else settles."""

    BINDINGS = [bind("seen_to", "do_it")]


def confirm(app: RoundsApp, asked: Confirm, do: Callable[[], Awaitable[None]]) -> None:
    """Ask; on yes do it, and tell the person what is refused."""

    async def after(yes: bool | None) -> None:
        if not yes:
            return
        try:
            await do()
        except Refusal as error:
            app.tell(error)

    app.push_screen(asked, after)
