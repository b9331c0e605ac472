"""Who is at work: chosen at each start, with a letter or the arrows."""

from __future__ import annotations

from string import ascii_lowercase

from rich.text import Text
from textual import events
from textual.app import ComposeResult
from textual.screen import Screen
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from core.practice.who import Worker
from tui.keys import bind
from tui.widgets.foot import foot

LETTERS = ascii_lowercase.replace("q", "")
"""Every letter but the one that quits."""


class WhoScreen(Screen[Worker]):
    """A list of people; gives back the one at work."""

    CSS_PATH = "start.tcss"
    BINDINGS = [bind("open", "choose", "Choose")]

    def __init__(self, practice: str, people: tuple[Worker, ...]) -> None:
        super().__init__()
        self.practice_name = practice
        self.people = people

    def compose(self) -> ComposeResult:
        yield Static(f" {self.practice_name}", id="heading", markup=False)
        yield Static(
            " Who is at work? A letter, or the arrows and Enter.", id="asked", markup=False
        )
        yield OptionList(*self._options(), id="people", markup=False)
        yield foot()

    def _options(self) -> list[Option]:
        return [Option(self._row(n), id=person.id) for n, person in enumerate(self.people)]

    def _row(self, number: int, current: bool = False) -> Text:
        person = self.people[number]
        letter = LETTERS[number] if number < len(LETTERS) else " "
        mark = ">" if current else " "
        return Text(f"{mark} {letter}  {person.name}, {person.role}", no_wrap=True)

    def on_mount(self) -> None:
        self.query_one(OptionList).focus()

    def on_option_list_option_highlighted(self, message: OptionList.OptionHighlighted) -> None:
        for number in range(len(self.people)):
            row = self._row(number, number == message.option_index)
            message.option_list.replace_option_prompt_at_index(number, row)

    def on_option_list_option_selected(self, message: OptionList.OptionSelected) -> None:
        self.dismiss(self.people[message.option_index])

    def action_choose(self) -> None:
        self.query_one(OptionList).action_select()

    def on_key(self, event: events.Key) -> None:
        """Take a letter as the choice of the person beside it."""
        number = LETTERS.find(event.key) if len(event.key) == 1 else -1
        if 0 <= number < len(self.people):
            event.stop()
            event.prevent_default()
            self.dismiss(self.people[number])
