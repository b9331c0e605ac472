"""The list of a visit's stages, each with how far it has come in words; Enter opens one."""

from __future__ import annotations

from collections.abc import Mapping

from textual.app import ComposeResult
from textual.binding import Binding
from textual.screen import ModalScreen
from textual.widgets import OptionList

from tui.widgets.foot import foot
from tui.widgets.lines import Lines
from tui.workup.stages import BUILT


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
    StageList Lines { width: 70; height: auto; padding: 1 2; }
    """
    BINDINGS = [Binding("escape,backspace,s", "leave", "Close", key_display="esc")]

    def __init__(self, states: Mapping[str, str], current: str) -> None:
        super().__init__()
        self._states = states
        self._current = current

    def compose(self) -> ComposeResult:
        yield Lines("Open", id="stage-list")
        yield foot()

    def on_mount(self) -> None:
        rows = ((name, f"{name:12} {self._states.get(name, 'not begun')}") for name in BUILT)
        self.query_one(Lines).fill(rows, self._current)

    def on_option_list_option_selected(self, message: OptionList.OptionSelected) -> None:
        self.dismiss(message.option_id)

    def action_leave(self) -> None:
        self.dismiss(None)
