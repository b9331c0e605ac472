"""Counting breaths: one tap on any large key for each, with the clock running beside it."""

from __future__ import annotations

from collections.abc import Callable

from textual import events, getters
from textual.app import ComposeResult
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Digits, Static

from core.errors import BadInput
from core.fish.breathing import breaths_from_taps

HELP = (
    "Tap the space bar, or any letter or digit, once for each breath.\n"
    "The first tap starts the clock. Enter keeps the count.\n"
    "Backspace starts again; Esc leaves without keeping it."
)


class BreathCounter(ModalScreen[tuple[float, ...] | None]):
    """Collects the moments of the taps; gives them back, or None when it was left.

    Parameters
    ----------
    who : str
        Whose breaths are counted.
    clock : callable
        Seconds that only run forward.
    """

    DEFAULT_CSS = """
    BreathCounter { align: center middle; }
    #counter { width: 80; max-width: 100%; height: auto; padding: 1 2; background: $panel; }
    #counter Digits { width: auto; margin: 1 0; }
    """
    digits = getters.query_one("#rate", Digits)

    def __init__(self, who: str, clock: Callable[[], float]) -> None:
        super().__init__()
        self._who = who
        self._clock = clock
        self.moments: list[float] = []

    def compose(self) -> ComposeResult:
        with Vertical(id="counter"):
            yield Static(f"Breaths of {self._who}", id="whose", markup=False)
            yield Digits("--", id="rate")
            yield Static("", id="count", markup=False)
            yield Static(HELP, id="how", markup=False)

    def on_mount(self) -> None:
        self.paint()
        self.set_interval(0.2, self.paint)

    def on_key(self, event: events.Key) -> None:
        """Take every key: here nothing but the four named keys is a command."""
        event.stop()
        event.prevent_default()
        if event.key == "enter":
            self._finish()
        elif event.key == "escape":
            self.dismiss(None)
        elif event.key == "backspace":
            self.moments = []
            self.paint()
        elif event.is_printable:
            self.tap()

    def on_click(self) -> None:
        self.tap()

    def tap(self) -> None:
        """Count one breath at this moment."""
        now = self._clock()
        if not self.moments or now > self.moments[-1]:
            self.moments.append(now)
            self.paint()

    def _finish(self) -> None:
        if len(self.moments) < 2:
            self.query_one("#count", Static).update("Tap at least twice, once for each breath.")
            return
        self.dismiss(tuple(self.moments))

    def paint(self) -> None:
        """Show the rate in large digits, the taps and the seconds."""
        try:
            rate = f"{breaths_from_taps(self.moments):.0f}"
        except BadInput:
            rate = "--"
        if self.digits.value != rate:
            self.digits.update(rate)
        seconds = self._clock() - self.moments[0] if self.moments else 0.0
        taps = "1 tap" if len(self.moments) == 1 else f"{len(self.moments)} taps"
        self.query_one("#count", Static).update(f"a minute; {taps} in {seconds:.0f} s")
