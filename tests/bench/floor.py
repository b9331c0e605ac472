"""The smallest Textual app of the same shape: a title, twelve lines to walk, a footer.

What it needs to start and to answer a key is what any app on this Textual needs; the bench
divides by it. With ``--field`` a field to type in takes the place of the lines.
"""

from __future__ import annotations

import sys
from typing import ClassVar

from textual.app import App, ComposeResult
from textual.widgets import Footer, Input, OptionList, Static


class Floor(App[None]):
    """Nothing behind the screen."""

    BINDINGS: ClassVar = [("q", "quit", "Quit")]

    def compose(self) -> ComposeResult:
        yield Static("Floor")
        if "--field" in sys.argv:
            yield Input(placeholder="ready")
        else:
            yield OptionList(*(f"line {n} of the floor, ready" for n in range(12)))
        yield Footer()


if __name__ == "__main__":
    Floor().run()
