"""The footer of every screen: one line with the keys of its state, as many as fit.

Textual's own footer is made of a widget a key and makes them all anew at every change of
state, which costs more than the key press itself; this one repaints a line when its words
change.
"""

from __future__ import annotations

from rich.text import Text
from textual import events
from textual.binding import Binding
from textual.dom import DOMNode
from textual.screen import Screen
from textual.widgets import Static

TYPING = "enter takes it   up/down takes it and moves   esc, or backspace on empty, stops"
STAND = ("help", "back")
STAND_ROOM = len(" esc Back  ? Help ")
"""Kept free by the other keys: help says all those for which there is no room."""
Spot = tuple[int, int, str, DOMNode]
"""Where a key stands in the line, from and to, and what a click on it does."""


class Foot(Static):
    """Shows the keys of the moment; a click on one is the key."""

    DEFAULT_CSS = """
    Foot { dock: bottom; height: 1; width: 1fr; background: $footer-background;
           color: $footer-foreground; }
    """

    def __init__(self) -> None:
        super().__init__(markup=False)
        self._said = ""
        self._spots: list[Spot] = []

    def on_mount(self) -> None:
        self.screen.bindings_updated_signal.subscribe(self, self._changed)
        self._changed(self.screen)

    def on_resize(self) -> None:
        self._said = ""
        self._changed(self.screen)

    def _changed(self, screen: Screen[object]) -> None:
        text = self._typing() if self._is_typing(screen) else self._keys(screen)
        if text.plain != self._said:
            self._said = text.plain
            self.update(text, layout=False)

    @staticmethod
    def _is_typing(screen: Screen[object]) -> bool:
        # Asked by name: the form is loaded after the first paint.
        return bool(getattr(screen.focused, "typing", False))

    def _typing(self) -> Text:
        self._spots = []
        said = getattr(self.screen.focused, "says", TYPING)
        return Text(f" {said}", no_wrap=True, overflow="ellipsis")

    def _keys(self, screen: Screen[object]) -> Text:
        out = Text(no_wrap=True)
        self._spots = []
        for node, binding, enabled, _ in screen.active_bindings.values():
            if binding.show and enabled and not self._has(binding):
                self._add(out, node, binding)
        return out

    def _has(self, binding: Binding) -> bool:
        return any(action == binding.action for _, _, action, _ in self._spots)

    def _add(self, out: Text, node: DOMNode, binding: Binding) -> None:
        key = self.app.get_key_display(binding)
        room = (self.size.width or 80) - (0 if binding.id in STAND else STAND_ROOM)
        if out.cell_len + len(key) + len(binding.description) + 3 > room:
            return
        start = out.cell_len
        out.append(f" {key}", "bold").append(f" {binding.description} ")
        self._spots.append((start, out.cell_len, binding.action, node))

    async def on_click(self, event: events.Click) -> None:
        """Do what the key under the pointer does."""
        for start, end, action, node in self._spots:
            if start <= event.x < end:
                await self.app.run_action(action, node)
                return


def foot() -> Foot:
    """Return the footer of a screen."""
    return Foot()
