"""What must be legible from a step away: the running clock, a sample's number, a dose."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.widgets import Digits, Static


class Strip(Horizontal):
    """Up to three figures in large digits, each with a caption; gone while there is none."""

    DEFAULT_CSS = """
    Strip { height: 4; }
    Strip Vertical { width: auto; height: 4; margin: 0 3 0 1; }
    Strip Static { width: auto; height: 1; }
    Strip Digits { width: auto; height: 3; }
    """
    PARTS: tuple[str, ...] = ("clock", "number", "dose")

    def __init__(self) -> None:
        super().__init__(id="strip")
        self._said: dict[str, tuple[str, str]] = {}

    def compose(self) -> ComposeResult:
        for part in self.PARTS:
            with Vertical(id=f"strip-{part}"):
                yield Static("", markup=False)
                yield Digits("")

    def on_mount(self) -> None:
        self._paint()

    def say(self, said: dict[str, tuple[str, str]]) -> None:
        """Show figures: part to caption and what stands in large digits."""
        if said != self._said:
            self._said = said
            if self.is_mounted:
                self._paint()

    def _paint(self) -> None:
        self.display = bool(self._said)
        for part in self.PARTS:
            box = self.query_one(f"#strip-{part}", Vertical)
            box.display = part in self._said
            caption, large = self._said.get(part, ("", ""))
            box.query_one(Static).update(caption)
            box.query_one(Digits).update(large)
