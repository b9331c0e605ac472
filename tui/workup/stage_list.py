"""The list of a visit's stages, each with how far it has come in words; Enter opens one."""

from __future__ import annotations

from collections.abc import Mapping

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import Binding
from textual.screen import ModalScreen
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from tui.widgets.foot import foot
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

    CSS = "StageList { align: center middle; } StageList OptionList { width: 70; height: auto; }"
    BINDINGS = [Binding("escape,backspace,s", "leave", "Close", key_display="esc")]

    def __init__(self, states: Mapping[str, str], current: str) -> None:
        super().__init__()
        self._states = states
        self._current = current

    def compose(self) -> ComposeResult:
        rows = [
            Option(Text(f"{name:12} {self._states.get(name, 'not begun')}"), id=name)
            for name in BUILT
        ]
        yield OptionList(*rows, markup=False)
        yield foot()

    def on_mount(self) -> None:
        self.query_one(OptionList).highlighted = BUILT.index(self._current)

    def on_option_list_option_selected(self, message: OptionList.OptionSelected) -> None:
        self.dismiss(message.option_id)

    def action_leave(self) -> None:
        self.dismiss(None)
