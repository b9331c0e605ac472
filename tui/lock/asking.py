"""What asks for a secret over everything: a line that shows no letter, and takes every key."""

from __future__ import annotations

from typing import TypeVar

from rich.text import Text
from textual import events, getters
from textual.app import ComposeResult
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Static

from core.errors import Refusal
from tui.base import RoundsApp
from tui.widgets.foot import foot
from tui.widgets.typing import Typing

T = TypeVar("T")
DOT = "*"


class Asking(ModalScreen[T]):
    """A screen of its own queue: it stands over everything, and nothing shows through.

    Keys are taken one after another by one handler, so that those typed while a PIN is
    looked at wait for it. No key goes on to what lies below.
    """

    app = getters.app(RoundsApp)
    # The colour is whole: a screen that lets nothing through is not drawn over another.
    DEFAULT_CSS = """
    Asking { background: $background; layout: vertical; }
    Asking #asking { height: 1fr; padding: 1 2; }
    Asking Static { width: 1fr; height: auto; }
    Asking #asking-title { text-style: bold; margin-bottom: 1; }
    Asking #asking-said { text-style: bold; margin-top: 1; }
    """

    def __init__(self) -> None:
        super().__init__()
        self.typing = Typing()
        self.said = ""
        """What was refused, and what to do."""

    def compose(self) -> ComposeResult:
        with Vertical(id="asking"):
            for part in ("title", "above", "rows", "said", "below"):
                yield Static("", id=f"asking-{part}", markup=False)
        yield foot()

    def on_mount(self) -> None:
        self.paint()

    def title_text(self) -> str:
        """Return the first line."""
        raise NotImplementedError

    def rows_text(self) -> Text:
        """Return the lines that are asked, with what is typed."""
        raise NotImplementedError

    def above_text(self) -> str:
        """Return what stands between the title and the lines."""
        return ""

    def below_text(self) -> str:
        """Return what is worth knowing."""
        return ""

    async def take(self, text: str) -> None:
        """Take what was typed; a `Refusal` is shown and the line is empty again."""
        raise NotImplementedError

    def step(self, by: int) -> None:
        """Go to another line."""

    def leave(self) -> None:
        """Leave without an answer, where that can be."""

    def paint(self) -> None:
        """Paint everything that is said."""
        if not self.query("#asking-title"):
            return
        texts: dict[str, str | Text] = {
            "title": self.title_text(),
            "above": self.above_text(),
            "rows": self.rows_text(),
            "said": self.said,
            "below": self.below_text(),
        }
        for part, text in texts.items():
            shown = self.query_one(f"#asking-{part}", Static)
            shown.update(text)
            shown.display = bool(text)
        self.refresh_bindings()

    async def on_key(self, event: events.Key) -> None:
        """Take every key."""
        event.stop()
        event.prevent_default()
        await self._taken(event)
        self.paint()

    async def _taken(self, event: events.Key) -> None:
        if event.key == "enter":
            await self._take()
        elif event.key in ("up", "down"):
            self.step(1 if event.key == "down" else -1)
        elif event.key == "escape":
            self.leave()
        elif (edited := self.typing.key(event.key)) is not None:
            self.typing = edited
        elif event.is_printable and event.character:
            self.said = ""
            self.typing = self.typing.insert(event.character)

    def action_leave(self) -> None:
        """A click on the key in the line of keys is the key."""
        self.leave()

    def action_step(self, by: int) -> None:
        self.step(by)
        self.paint()

    async def action_take(self) -> None:
        await self._take()
        self.paint()

    async def _take(self) -> None:
        text, self.typing, self.said = self.typing.text, Typing(), ""
        try:
            await self.take(text)
        except Refusal as error:
            self.said = f"{error.sentence} {error.todo}".strip()

    async def on_paste(self, event: events.Paste) -> None:
        """Pasted text is typed text."""
        event.stop()
        self.typing = self.typing.insert(event.text.strip())
        self.paint()

    def line(self, label: str, *, current: bool, open_text: bool = False) -> Text:
        """Return one line: its mark, its label, and what is typed there."""
        out = Text(no_wrap=True)
        out.append(f"{'>' if current else ' '} {label}", "bold" if current else "")
        if current:
            typed = self.typing.text if open_text else DOT * len(self.typing.text)
            out.append("  ").append(typed, "underline").append(" ", "reverse")
        return out
