"""Until when records are kept, over the screen, and the list as a file."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from pathlib import Path

from textual.app import SystemCommand

from core.practice import keeping_list
from tui.base import RoundsApp
from tui.keys import bind
from tui.widgets.dialog import Answers, FormDialog
from tui.widgets.field import Field
from tui.widgets.panel import Panel
from tui.widgets.row import Widths

MOST = 200
"""So many lines of each kind on the screen; the file has them all."""


def commands(app: RoundsApp) -> Iterable[SystemCommand]:
    """Give what the list of commands offers."""
    words = "Records whose date has passed, and those that are held; nothing is deleted"
    yield SystemCommand("Keep until", words, lambda: show(app))


async def show(app: RoundsApp) -> None:
    """Show what has passed its date and what is held."""
    today = app.today()
    app.push_screen(KeptPanel(await app.look(keeping_list.text, today, MOST), today))


class KeptPanel(Panel):
    """The list; `g` saves it as a file."""

    CSS_PATH = Panel.CSS_PATH
    BINDINGS = [bind("copy")]

    def __init__(self, text: str, today: date) -> None:
        title, _, rest = text.partition("\n")
        super().__init__(title, rest.strip("\n"))
        self._today = today

    def action_copy(self) -> None:
        """Ask for a folder and save the list there."""
        self.app.push_screen(SaveList(self._today))


class SaveList(FormDialog):
    """The folder that the list is saved in."""

    def __init__(self, today: date) -> None:
        self._today = today
        self._called = f"keep-until-{today}.txt"
        field = Field("folder", "Folder", example="~/Documents", required=True)
        widths = Widths(label=8, value=54)
        super().__init__("Save the list", [field], self.write, self._said, widths=widths)

    def _said(self, _: Answers) -> str:
        return f"It is saved as {self._called}. f saves it. Esc leaves."

    async def write(self, answers: Answers) -> None:
        """Save it whole."""
        folder = Path(answers["folder"].words).expanduser()
        text = await self.app.look(keeping_list.text, self._today)
        file = await self.app.look(keeping_list.write, folder / self._called, text)
        self.app.notify(f"Saved: {file}")
