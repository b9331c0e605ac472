"""The list of a visit's stages, each with how far it has come in words; Enter opens one."""

from __future__ import annotations

from collections.abc import Mapping

from textual import getters
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import OptionList, Static

from tui.widgets.foot import foot
from tui.widgets.lines import Lines, fit
from tui.workup.stages import BUILT

ROOM = 49
"""Cells for a state in its line: one that wrapped would part the mark from the stage."""


class StageList(ModalScreen[str | None]):
    """Chooses a stage.

    Parameters
    ----------
    states : mapping
        Stage to its state in words.
    current : str
        The stage that is open.
    """

    CSS = """
    StageList { align: center middle; }
    StageList Vertical { width: 70; height: auto; background: $background; }
    StageList Lines { width: 70; height: auto; padding: 1 2; }
    StageList #stage-said { width: 70; height: auto; min-height: 3; max-height: 8; padding: 0 4; }
    """
    lines = getters.query_one("#stage-list", Lines)
    BINDINGS = [Binding("escape,backspace,s", "leave", "Close", key_display="esc")]

    def __init__(self, states: Mapping[str, str], current: str) -> None:
        super().__init__()
        self._states = states
        self._current = current

    def compose(self) -> ComposeResult:
        with Vertical():
            yield Lines("Open", id="stage-list")
            yield Static("", id="stage-said", markup=False)
        yield foot()

    def on_mount(self) -> None:
        rows = ((name, f"{name:12} {fit(self._state(name), ROOM).rstrip()}") for name in BUILT)
        self.lines.fill(rows, self._current)

    def _state(self, name: str) -> str:
        return self._states.get(name, "not begun")

    def on_option_list_option_highlighted(self) -> None:
        """Show the current stage's state whole: its line may have cut it."""
        name = self.lines.current
        self.query_one("#stage-said", Static).update(f"{name}: {self._state(name)}")

    def on_option_list_option_selected(self, message: OptionList.OptionSelected) -> None:
        self.dismiss(message.option_id)

    def action_leave(self) -> None:
        self.dismiss(None)
