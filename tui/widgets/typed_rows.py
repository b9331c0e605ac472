"""Rows of which the current one can be open for typing: judged on the way out, then saved.

The cursor moves on only when the entry is on the disk. What could not be taken stays in its
row as a draft, with one sentence that says why.
"""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable, Sequence

from textual import getters
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
SLOW_SECONDS = 1.0
MOST_TYPED = 5 * LONGEST
"""A row takes no more than this; what is over `LONGEST` is kept, shown and refused."""
CLOSED = "Closed"
"""Title of the refusal of a signed record."""


class TypedRows(RowList):
    """Rows, the current one typed, judged and saved.

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

    class Moved(Message, namespace="form"):
        """The current row or the state (moving, typing) has changed."""

        def __init__(self, form: TypedRows) -> None:
            super().__init__()
            self.form = form

        @property
        def control(self) -> TypedRows:
            return self.form

    class Saved(Message, namespace="form"):
        """An entry is on the disk."""

        def __init__(self, form: TypedRows, field: Field, entry: Entry) -> None:
            super().__init__()
            self.form = form
            self.field = field
            self.entry = entry

        @property
        def control(self) -> TypedRows:
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
        self._since: str | None = None
        """Up to where the records were shown when the row was opened."""
        self.forget: Callable[[Field], Awaitable[None]] | None = None
        """Told of a row that was emptied; without it a row keeps its answer."""
        self.says = TYPING
        """The line of keys while something is typed."""

    def _tell(self) -> None:
        self.post_message(self.Moved(self))
        if self.typing != self._told:
            self._told = self.typing
            self.screen.refresh_bindings()

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
