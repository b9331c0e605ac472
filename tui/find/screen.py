"""Find: anything in the records, from a few letters or digits, as they are typed."""

from __future__ import annotations

from textual import events, getters, work
from textual.app import ComposeResult
from textual.binding import Binding
from textual.screen import Screen
from textual.widgets import Input, Static

from core.practice.find import Found, find
from core.records.index_words import MOST_ASKED
from tui.base import RoundsApp
from tui.find import words
from tui.keys import bind
from tui.widgets.foot import foot
from tui.widgets.lines import Lines

KEYS = "enter open   up/down choose   esc back"


class Asked(Input):
    """The one line that is typed; every letter is its own, and a pasted book is cut."""

    typing = True
    says = KEYS

    def __init__(self) -> None:
        super().__init__(id="asked", max_length=MOST_ASKED, compact=True, select_on_focus=False)

    def _on_paste(self, event: events.Paste) -> None:
        """Take pasted text as one line of plain letters, as much of it as is read."""
        event.stop()
        event.prevent_default()
        plain = "".join(c if c.isprintable() else " " for c in event.text[:MOST_ASKED])
        room = MOST_ASKED - len(self.value)
        self.insert_text_at_cursor(" ".join(plain.split())[:room])


class FindScreen(Screen[Found]):
    """A line to type in, and under it what is found; gives back what was chosen."""

    app = getters.app(RoundsApp)
    asked = getters.query_one("#asked", Asked)
    list = getters.query_one("#found", Lines)
    CSS_PATH = "find.tcss"
    AUTO_FOCUS = "#asked"
    BINDINGS = [
        Binding("up", "step(-1)", "Up", show=False),
        Binding("down", "step(1)", "Down", show=False),
        bind("back", "leave"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.found: tuple[Found, ...] = ()
        self.found_under = ""
        """What was typed when these were found."""
        self._opens = False
        """Enter was pressed before the search for what stands there was done."""

    def compose(self) -> ComposeResult:
        yield Static(" Find", id="heading", markup=False)
        yield Asked()
        yield Lines(id="found")
        yield Static(words.ASKED, id="said", markup=False)
        yield foot()

    def on_mount(self) -> None:
        self.list.can_focus = False

    def on_resize(self, event: events.Resize) -> None:
        self._fill()

    def on_input_changed(self, message: Input.Changed) -> None:
        """Look for what stands there now; an answer to fewer letters is not waited for."""
        self._opens = False
        self._seek(message.value)

    @work(exclusive=True, group="find")
    async def _seek(self, text: str) -> None:
        found = await self.app.look(find, text, self.app.today())
        if text != self.asked.value:
            return
        self.found, self.found_under = found, text
        self._fill()
        if self._opens:
            self._open()

    def _fill(self) -> None:
        if not self.is_mounted:
            return
        today, width = self.app.today(), (self.size.width or self.app.size.width) - 3
        lines = words.lines(self.found, today, width)
        self.list.fill((f"n{n}", line) for n, line in enumerate(lines))
        if self.found:
            self.list.highlighted = 0
        self._say()

    @property
    def current(self) -> Found | None:
        """What is chosen now."""
        at = self.list.highlighted
        return self.found[at] if at is not None and at < len(self.found) else None

    def _say(self) -> None:
        current = self.current
        text = words.none(self.found_under) if current is None else self._below(current)
        self.query_one("#said", Static).update(text)

    def _below(self, current: Found) -> str:
        return words.below(current, self.app.today())

    def action_step(self, by: int) -> None:
        """Go up or down among what was found."""
        if self.found:
            at = (self.list.highlighted or 0) + by
            self.list.highlighted = max(0, min(at, len(self.found) - 1))

    def on_option_list_option_highlighted(self) -> None:
        self._say()

    def on_option_list_option_selected(self) -> None:
        """A click opens, as Enter does."""
        self._open()

    def on_input_submitted(self) -> None:
        """Open what is chosen, once what stands there has been looked for."""
        if self.asked.value == self.found_under:
            self._open()
        else:
            self._opens = True

    def _open(self) -> None:
        self._opens = False
        if self.current is not None:
            self.dismiss(self.current)

    def action_leave(self) -> None:
        """Go back to where find was called."""
        self.dismiss()
