"""The one form of the app: it keeps the focus, takes every key, and awaits each save.

It has two states, shown in words. *Moving*: arrows choose a row, letters are commands, a
digit, ``<`` or a decimal sign opens the row and is its first character, Enter opens it for
words. *Typing*: every printable key goes to the row. Because one handler takes all keys and
awaits the save, keys typed meanwhile wait, in order, for the next row.
"""

from __future__ import annotations

import asyncio
import re
from collections.abc import Awaitable, Callable, Sequence

from textual import events, getters
from textual.message import Message

from core.errors import BadInput, Refusal
from core.practice.meanwhile import ChangedMeanwhile
from tui.base import RoundsApp, typed_since
from tui.widgets.field import LONGEST, Entry, Field, judge, matches, nearest
from tui.widgets.foot import TYPING
from tui.widgets.row import FormRow, Shown, Widths
from tui.widgets.row_list import RowList
from tui.widgets.typing import Typing

Save = Callable[[Field, Entry], Awaitable[None]]
OPENS = frozenset("0123456789<>.,")
SIGNS = frozenset("-+")
"""Open a row too, except where these keys take back and do again."""
LISTS = ("choice", "pick", "act")
SLOW_SECONDS = 1.0
MOST_TYPED = 5 * LONGEST
"""A row takes no more than this; what is over `LONGEST` is kept, shown and refused."""
CLOSED = "Closed"
"""Title of the refusal of a signed record."""
FRONT_TRIES, FRONT_TRY_S = 100, 0.005
_ONE_LINE = re.compile(r"[\t\r\n]+")


class Form(RowList, can_focus=True, inherit_bindings=False):
    """Rows of questions; see the module's own words.

    Parameters
    ----------
    fields : sequence of Field
        What is asked, in order.
    show : callable
        Gives what stands in a field's row now.
    save : callable
        Saves an entry; returns when it is on the disk, raises `Refusal` when it can not be.
    live : callable, optional
        Called in the key's own handler with the field and the text so far.
    widths : Widths
        The columns.
    """

    app = getters.app(RoundsApp)
    DEFAULT_CSS = "Form { height: 1fr; scrollbar-size-vertical: 1; }"

    class Moved(Message):
        """The current row or the state (moving, typing) has changed."""

        def __init__(self, form: Form) -> None:
            super().__init__()
            self.form = form

        @property
        def control(self) -> Form:
            return self.form

    class Saved(Message):
        """An entry is on the disk."""

        def __init__(self, form: Form, field: Field, entry: Entry) -> None:
            super().__init__()
            self.form = form
            self.field = field
            self.entry = entry

        @property
        def control(self) -> Form:
            return self.form

    def __init__(
        self,
        fields: Sequence[Field],
        show: Callable[[Field], Shown],
        save: Save,
        live: Callable[[Field, str], None] | None = None,
        widths: Widths = Widths(),  # noqa: B008 (frozen)
        *,
        id: str | None = None,  # noqa: A002 (Textual's own name)
    ) -> None:
        super().__init__(fields, show, widths, id=id)
        self._save = save
        self._live = live
        self._told = False
        self._erased = False
        """Backspace has just ended typing: held down, it must not go on to leave the screen."""
        self._since: str | None = None
        """Up to where the records were shown when the row was opened."""
        self.at_end: Callable[[], Awaitable[bool]] | None = None
        """Asked when Enter is pressed on the last row in *moving*; True when that did it all."""
        self.forget: Callable[[Field], Awaitable[None]] | None = None
        """Told of a row that was emptied; without it a row keeps its answer."""
        self.says = TYPING
        """The line of keys while something is typed."""

    def _tell(self) -> None:
        self.post_message(self.Moved(self))
        if self.typing != self._told:
            self._told = self.typing
            self.screen.refresh_bindings()

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

    def open_row(self) -> None:
        """Go from moving to typing in the current row; an ``act`` row has nothing to type."""
        if not self.rows or self.field.kind == "act":
            return
        state = self.row.state
        self._since = self.app.seen
        if state.draft:
            state.typing = Typing(state.draft, len(state.draft))
        else:
            state.typing = Typing.over(state.shown.again or state.shown.value)
        if self.field.kind == "choice":
            state.open_hint = "  ".join(f"{c.letter} {c.label}" for c in self.field.choices)
        self._match("" if state.typing.fresh else state.typing.text)
        self.row.paint()
        self._tell()

    def open_with(self, text: str) -> None:
        """Open the current row with a text in it, to be taken with Enter or changed."""
        self.open_row()
        if self.typing:
            self._set(Typing(text, len(text)))

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
            self._close_row()
        elif (edited := typing.key(key)) is not None:
            self._set(edited)
        elif event.is_printable and event.character:
            await self._printable(event.character)
        else:
            return False
        return True

    async def _printable(self, character: str) -> None:
        letters = {c.letter for c in self.field.choices}
        if self.field.kind == "choice" and character.lower() in letters:
            self._set(Typing(character.lower(), 1))
            await self._accept(forward=True)
        else:
            self._put(character)

    def _put(self, more: str) -> None:
        typing = self.row.state.typing
        assert typing is not None
        if len(typing.text) + len(more) > MOST_TYPED:
            # Every key paints the text anew: a pasted book would take the keyboard away.
            many = f"{self.field.label.strip()}: That is {len(more)} characters more"
            self._refuse(self.row, f"{many}; {LONGEST} are the most. They were not put in.")
            return
        self._set(typing.insert(more))

    def _set(self, typing: Typing) -> None:
        state = self.row.state
        state.typing = typing
        state.draft = typing.text
        self._match(typing.text)
        if self._live is not None:
            self._live(self.field, typing.text)
        self.row.paint()

    def _match(self, text: str) -> None:
        if self.field.kind == "pick":
            state = self.row.state
            found = matches(self.field, text)
            # What is only near is never taken unless somebody goes down to it.
            state.match_at = 0 if text.strip() and found else -1
            state.matches = tuple(c.label for c in found or nearest(self.field, text))

    def _choose(self, step: int) -> None:
        """Go up or down among what fits the text so far."""
        state = self.row.state
        state.match_at = max(0, min(state.match_at + step, len(state.matches) - 1))
        if state.typing is not None and state.matches:
            state.typing = Typing(state.typing.text, state.typing.at)
        self.row.paint()

    def _picked(self, text: str) -> str:
        """Return the label that stands marked under a row that picks, else what was typed."""
        state = self.row.state
        if self.field.kind == "pick" and state.matches and state.match_at >= 0:
            return state.matches[state.match_at]
        return text

    def _close_row(self) -> None:
        """Back to moving; what was typed stays as a draft, shown with a question mark."""
        state = self.row.state
        if state.typing is not None and state.typing.fresh:
            state.draft = ""
        state.typing = None
        state.shown = self._show(self.field)
        self.row.paint()
        self._tell()

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

    async def _accept(self, *, forward: bool) -> bool:
        """Judge and save the row; only when it is on the disk does the cursor move."""
        state, field = self.row.state, self.field
        typing = state.typing
        assert typing is not None
        chosen = self.field.kind == "pick" and state.match_at >= 0
        if typing.fresh or not (typing.text.strip() or chosen):
            if not typing.fresh and not await self._emptied(field):
                return False
            state.draft, state.error = "", ""
        elif not await self._keep(field, self._picked(typing.text)):
            return False
        state.typing = None
        state.shown = self._show(field)
        self.row.paint()
        if forward:
            self._forward()
        return True

    async def _emptied(self, field: Field) -> bool:
        """Forget the answer of a row that was emptied; False when one must stand there."""
        row = self.row
        if self.forget is not None:
            try:
                await self.forget(field)
            except BadInput as error:
                return self._refuse(row, f"{error.sentence} {error.todo}".strip())
        return True

    def _forward(self) -> None:
        """Open the next row that is typed, passing over those that Enter does at once."""
        later = range(self.index + 1, len(self.fields))
        following = next((n for n in later if self.fields[n].kind != "act"), None)
        if following is None:
            self.go(self.index + 1)
        else:
            self.go(following, tell=False)
            self.open_row()

    async def _keep(self, field: Field, text: str) -> bool:
        row = self.row
        state = row.state
        try:
            entry = judge(field, text, self.app.today())
            state.mark, state.error = "saving", ""
            row.paint()
            await self._patiently(self._knowing(field, entry))
        except ChangedMeanwhile as error:
            # Both are shown now; what is entered again is meant.
            self._since = await self.app.newest()
            return self._refuse(row, f"{error.sentence} {error.todo}")
        except BadInput as error:
            sentence = f"{error.sentence} {error.todo}".strip()
            return self._refuse(row, sentence)
        except Refusal as error:
            if error.title == CLOSED:
                # Nothing can be entered here any more: what was typed would only mislead.
                state.draft = ""
                state.typing = Typing.over(state.shown.value)
            return self._refuse(row, f"{error.sentence} {error.todo}".strip())
        state.draft = ""
        state.mark = "" if self._show(field).pending else "saved"
        if row.state is not state:
            self._settle(field.key)
        self.post_message(self.Saved(self, field, entry))
        return True

    async def _knowing(self, field: Field, entry: Entry) -> None:
        """Save what was typed as by somebody who saw the records when the row was opened."""
        mark = typed_since.set(self._since)
        try:
            await self._save(field, entry)
        finally:
            typed_since.reset(mark)

    def _settle(self, key: str) -> None:
        """Clear the draft of a row that was made anew while its answer was being saved."""
        for field, row in zip(self.fields, self.rows, strict=True):
            if field.key == key and row.state.draft:
                row.state.draft = ""
                row.paint()

    def _refuse(self, row: FormRow, sentence: str) -> bool:
        row.state.error = sentence
        row.state.mark = ""
        row.paint()
        row.scroll_visible(animate=False)
        return False

    async def _patiently(self, saving: Awaitable[None]) -> None:
        """Wait for the disk; say so when it takes longer than a second."""
        task = asyncio.ensure_future(saving)
        done, _ = await asyncio.wait({task}, timeout=SLOW_SECONDS)
        if not done:
            self.app.notify(
                "The disk is slow. What you type waits, in order, for the next rows.",
                title="Still saving",
                markup=False,
            )
        await task
