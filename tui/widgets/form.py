"""The one form of the app: it keeps the focus, takes every key, and awaits each save.

It has two states, shown in words. *Moving*: arrows choose a row, letters are commands, a
digit, ``<`` or a decimal sign opens the row and is its first character, Enter opens it for
words. *Typing*: every printable key goes to the row. Because one handler takes all keys and
awaits the save, keys typed meanwhile wait, in order, for the next row.
"""

from __future__ import annotations

import asyncio
import re
from collections.abc import Awaitable, Callable

from textual import events

from core.errors import Refusal
from tui.widgets.field import Entry
from tui.widgets.row import FormRow
from tui.widgets.typed_rows import TypedRows
from tui.widgets.typing import Typing

OPENS = frozenset("0123456789<>.,")
SIGNS = frozenset("-+")
"""Open a row too, except where these keys take back and do again."""
LISTS = ("choice", "pick", "act")
FRONT_TRIES, FRONT_TRY_S = 100, 0.005
_ONE_LINE = re.compile(r"[\t\r\n]+")


class Form(TypedRows, can_focus=True, inherit_bindings=False):
    """Rows of questions; see the module's own words, and `TypedRows` for what it is given."""

    DEFAULT_CSS = "Form { height: 1fr; scrollbar-size-vertical: 1; }"
    at_end: Callable[[], Awaitable[bool]] | None = None
    """Asked when Enter is pressed on the last row in *moving*; True when that did it all."""
    _erased = False
    """Backspace has just ended typing: held down, it must not go on to leave the screen."""

    async def on_key(self, event: events.Key) -> None:
        """Take every key: the one queue of the form."""
        if self.app.screen is not self.screen:
            # It was typed for the screen that a key before it has opened or left.
            event.stop()
            self.app.post_message(events.Key(event.key, event.character))
            return
        if not self.rows:
            return
        handled = await (self._typed(event) if self.typing else self._moved(event))
        if handled:
            event.stop()
            event.prevent_default()

    async def on_click(self, event: events.Click) -> None:
        """A click chooses a row; on the current row it opens it."""
        widget = event.widget
        if isinstance(widget, FormRow) and not self.typing:
            if widget.number == self.index:
                await self.enter_row()
            else:
                self.go(widget.number)

    async def on_paste(self, event: events.Paste) -> None:
        """Pasted text goes to the row, as one piece."""
        event.stop()
        if self.rows:
            if not self.typing:
                self.open_row()
            if self.typing:
                self._put(_ONE_LINE.sub(" ", event.text))

    async def _moved(self, event: events.Key) -> bool:
        if event.key == "backspace" and self._erased:
            return True
        self._erased = False
        step = {"down": 1, "up": -1, "tab": 1, "shift+tab": -1}.get(event.key)
        if step:
            self.go(self.index + step)
            return True
        if event.key == "enter":
            last = self.index == len(self.rows) - 1 and self.row.state.shown.value
            if not (last and self.at_end is not None and await self.at_end()):
                await self.enter_row()
            return True
        if event.character and event.character in self._opening and self.field.kind not in LISTS:
            self.open_row()
            self._put(event.character)
            return True
        return await self._command(event.key)

    @property
    def _opening(self) -> frozenset[str]:
        return OPENS if hasattr(self.screen, "refill") else OPENS | SIGNS

    async def _command(self, key: str) -> bool:
        """Run the command of a key here, so that it stays in order with the keys around it."""
        active = self.screen.active_bindings.get(key)
        if active is None or not active.enabled or active.node is self.app:
            return False
        await self.app.run_action(active.binding.action, active.node)
        await self._wait_for_front()
        return True

    async def _wait_for_front(self) -> None:
        """Wait until a screen that a command has opened can take the keys that follow."""
        front = self.app.screen
        if front is self.screen:
            return
        for _ in range(FRONT_TRIES):
            if front.is_mounted and (front.focused is not None or not front.focus_chain):
                return
            await asyncio.sleep(FRONT_TRY_S)

    async def enter_row(self) -> None:
        """Open the current row for typing, or do at once what an ``act`` row does."""
        if self.field.kind != "act":
            self.open_row()
            return
        try:
            await self._patiently(self._save(self.field, Entry("", self.field.key)))
        except Refusal as error:
            self._refuse(self.row, f"{error.sentence} {error.todo}".strip())

    async def _typed(self, event: events.Key) -> bool:
        typing = self.row.state.typing
        assert typing is not None
        key = event.key
        if key in ("enter", "tab"):
            await self._accept(forward=True)
        elif self.field.kind == "pick" and key in ("up", "down"):
            self._choose(1 if key == "down" else -1)
        elif key in ("up", "down", "shift+tab"):
            await self._leave(1 if key == "down" else -1)
        elif key == "escape" or (key == "backspace" and not typing.text):
            self._erased = key == "backspace"
            await self._left(typing)
        elif (edited := typing.key(key)) is not None:
            self._set(edited)
        elif event.is_printable and event.character:
            await self._printable(event.character)
        else:
            return False
        return True

    async def _left(self, typing: Typing) -> None:
        """Close the row; one that was emptied and need not be answered forgets its answer."""
        if self.forget is not None and not (
            typing.fresh or typing.text.strip() or self.field.required
        ):
            await self._emptied(self.field)
        self._close_row()

    async def _printable(self, character: str) -> None:
        letters = {c.letter for c in self.field.choices}
        if self.field.kind == "choice" and character.lower() in letters:
            self._set(Typing(character.lower(), 1))
            await self._accept(forward=True)
        else:
            self._put(character)

    async def _leave(self, step: int) -> None:
        """Take what was typed and go up or down, still typing: a letter stays a letter."""
        typing = self.row.state.typing
        kept = self.forget is None and typing is not None and not typing.text.strip()
        if typing is None or typing.fresh or kept:
            self._close_row()
        elif not await self._accept(forward=False):
            return
        self.go(self.index + step, tell=False)
        self.open_row()
        self._tell()
