"""A medicine read whole; one of the practice's own is corrected or struck from here."""

from __future__ import annotations

from collections.abc import Callable

from textual.binding import Binding

from tui.keys import bind
from tui.widgets.dialog import FormDialog
from tui.widgets.field import Choice, Entry, Field
from tui.widgets.panel import Panel
from tui.widgets.row import Widths

GOES = "Type a few letters; up and down choose, Enter goes there   esc stops"


class OwnPanel(Panel):
    """A row of the practice's own.

    Parameters
    ----------
    correct, strike : callable
        Asked when the panel is closed by the key of each.
    """

    BINDINGS = [Binding("enter", "correct", "Correct it"), bind("strike")]

    def __init__(
        self, title: str, body: str, correct: Callable[[], None], strike: Callable[[], None]
    ) -> None:
        super().__init__(title, body)
        self._correct = correct
        self._strike = strike

    def action_correct(self) -> None:
        """Leave the reading, and correct the row."""
        self.dismiss()
        self.app.call_later(self._correct)

    def action_strike(self) -> None:
        """Leave the reading, and strike the row."""
        self.dismiss()
        self.app.call_later(self._strike)


class LookUp(FormDialog):
    """Finds one of many medicines by a few letters."""

    REMEMBERS = False

    def __init__(self, choices: tuple[Choice, ...], found: Callable[[str], None]) -> None:
        field = Field("medicine", "Medicine", "pick", choices=choices, required=True, near=True)
        super().__init__("Look up a medicine", [field], self._go, widths=Widths(9, 46))
        self._found = found

    def on_form_moved(self) -> None:
        """Say in the line of keys what Enter does here."""
        self.form.says = GOES
        self.refresh_bindings()

    async def on_form_saved(self) -> None:
        """What was chosen is gone to at once."""
        await self.action_finish()

    async def _go(self, answers: dict[str, Entry]) -> None:
        key = answers["medicine"].words
        self.app.call_later(self._found, key)
