"""What changed: who entered, corrected or took back what, day by day, the newest first."""

from __future__ import annotations

from textwrap import fill

from rich.text import Text
from textual import getters, work
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Static

from core.practice import changed
from core.practice.changed import Changed
from tui.base import RoundsApp
from tui.changed.subject import Subject
from tui.keys import bind
from tui.widgets.foot import foot

READERS = {
    "visit": changed.of_visit,
    "client": changed.of_client,
    "person": changed.of_person,
}
MARGIN, MIN_ROOM = 3, 30
"""Cells that the sides and the scroll bar take, and the fewest for the sentences."""
HANGING = " " * len("00:00  ")
NOTHING = "Nothing has been entered yet."


class ChangedScreen(ModalScreen[None]):
    """The story of one record, a page of it at a time."""

    app = getters.app(RoundsApp)
    DEFAULT_CSS = """
    ChangedScreen { background: $background; }
    ChangedScreen #changed { height: 1fr; padding: 0 1; scrollbar-size-vertical: 1; }
    ChangedScreen #changed-title { width: 1fr; height: auto; padding: 0 1; text-style: bold; }
    ChangedScreen #changed-body { width: 1fr; height: auto; }
    """
    BINDINGS = [
        Binding("escape,backspace,enter,semicolon", "dismiss", "Close", key_display="esc"),
        bind("other_list", "wider", "Visit/client"),
        bind("earlier", "older", "Older"),
        bind("later", "newer", "Newer"),
        Binding("down", "scroll('down')", "Down", show=False),
        Binding("up", "scroll('up')", "Up", show=False),
        Binding("pagedown,space", "scroll('page_down')", "Page down", show=False),
        Binding("pageup", "scroll('page_up')", "Page up", show=False),
        Binding("home", "scroll('home')", "Top", show=False),
        Binding("end", "scroll('end')", "Bottom", show=False),
    ]

    def __init__(self, subject: Subject) -> None:
        super().__init__()
        self.subject = subject
        self.asked = subject
        """What is shown now: the subject, or the client of its visit."""
        self.page: Changed | None = None
        self.pages = [""]
        """What each page up to this one was asked with."""

    def compose(self) -> ComposeResult:
        yield Static("", id="changed-title", markup=False)
        with VerticalScroll(id="changed", can_focus=False):
            yield Static("", id="changed-body", markup=False)
        yield foot()

    def on_mount(self) -> None:
        self.read()

    @work(exclusive=True, group="changed")
    async def read(self) -> None:
        """Read the page and paint it from its top."""
        reader = READERS[self.asked.kind]
        self.page = await self.app.look(reader, self.asked.id, self.pages[-1])
        number = f", page {len(self.pages)}" if len(self.pages) > 1 else ""
        self.query_one("#changed-title", Static).update(f"{self.page.title}{number}")
        self.paint()
        self.query_one("#changed").scroll_home(animate=False)
        self.refresh_bindings()

    def on_resize(self) -> None:
        self.paint()

    def paint(self) -> None:
        """Paint the page, each sentence beside its time."""
        if self.page is None:
            return
        room = max(MIN_ROOM, (self.size.width or self.app.size.width) - MARGIN)
        blocks = self.page.blocks(self.app.today())
        out = Text("" if blocks else NOTHING)
        for heading, told in blocks:
            out.append(f"{heading}\n", "bold")
            for time, words in told:
                out.append(fill(f"{time}  {words}", room, subsequent_indent=HANGING) + "\n")
            out.append("\n")
        self.query_one("#changed-body", Static).update(out)

    @work(exclusive=True, group="wider")
    async def action_wider(self) -> None:
        """Go from the visit to all of its client's, and back."""
        if self.asked is self.subject:
            client = await self.app.look(changed.client_of, self.subject.id)
            self.asked = Subject("client", client)
        else:
            self.asked = self.subject
        self.pages = [""]
        self.read()

    def action_older(self) -> None:
        """Show the page before."""
        if self.page is not None and self.page.before:
            self.pages.append(self.page.before)
            self.read()

    def action_newer(self) -> None:
        """Show the page after."""
        if len(self.pages) > 1:
            self.pages.pop()
            self.read()

    def action_scroll(self, where: str) -> None:
        """Scroll without moving anything else."""
        getattr(self.query_one("#changed"), f"scroll_{where}")(animate=False)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Keys that would do nothing are not shown."""
        if action == "older":
            return self.page is not None and bool(self.page.before)
        if action == "newer":
            return len(self.pages) > 1
        return self.subject.kind == "visit" if action == "wider" else True
