"""The keys of the screen that is open, in plain words."""

from __future__ import annotations

from collections.abc import Iterable

from textual.binding import ActiveBinding, Binding

from tui.keys import EVERYWHERE, bind
from tui.widgets.panel import Panel

NAMES = {
    "enter": "Enter",
    "escape": "Esc",
    "backspace": "Backspace",
    "space": "Space",
    "left": "left arrow",
    "right": "right arrow",
    "up": "up arrow",
    "down": "down arrow",
    "tab": "Tab",
    "question_mark": "?",
    "slash": "/",
    "equals_sign": "=",
    "minus": "-",
    "plus": "+",
    "semicolon": ";",
    "exclamation_mark": "!",
    "asterisk": "*",
}
HELD = ("ctrl+", "shift+", "super+", "alt+")
"""Keys held together are never needed, so help leaves them out."""
PLAIN = ("up", "down", "left", "right", "home", "end", "pageup", "pagedown", "tab")
"""What these do by themselves in any list needs no words."""
ROOM = 22


class Help(Panel):
    """The keys of the screen that was open, and from here every command by its name."""

    BINDINGS = [bind("other_list", "commands", "All commands")]

    def __init__(self, title: str, active: Iterable[ActiveBinding]) -> None:
        super().__init__(title, f"{text(active)}\n\ns lists every command by its name.")

    async def action_commands(self) -> None:
        """Go on to the list of commands."""
        await self.dismiss()
        self.app.action_command_palette()


def text(active: Iterable[ActiveBinding]) -> str:
    """Return the keys that do something here, those of this screen before those of all."""
    named = set(EVERYWHERE)
    here: dict[str, list[str]] = {}
    everywhere: dict[str, list[str]] = {}
    for one in active:
        binding = one.binding
        if one.enabled and _worth_saying(binding):
            group = everywhere if binding.id in named else here
            group.setdefault(binding.description, []).append(said(binding))
    blocks = [("On this screen", here), ("Everywhere", everywhere)]
    return "\n\n".join(f"{title}\n{_lines(keys)}" for title, keys in blocks if keys)


def _worth_saying(binding: Binding) -> bool:
    own = binding.id is not None or binding.key not in PLAIN
    return bool(binding.description) and own and not binding.key.startswith(HELD)


def said(binding: Binding) -> str:
    """Return the key of a binding as a person calls it."""
    return NAMES.get(binding.key, binding.key)


def _lines(keys: dict[str, list[str]]) -> str:
    return "\n".join(
        f"  {' or '.join(dict.fromkeys(pressed)):{ROOM}}{what}" for what, pressed in keys.items()
    )
