"""Dialogs: a form of its own for something new, and one line of words for a reason."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Sequence
from pathlib import Path

from textual import getters
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Static

from core.errors import BadInput, Refusal
from core.practice.desk import Late
from tui.base import RoundsApp
from tui.keys import bind
from tui.widgets.answers import Answers as Answers
from tui.widgets.field import Entry, Field, asks
from tui.widgets.foot import foot
from tui.widgets.form import Form
from tui.widgets.row import Shown, Widths

TYPING = "Enter takes it; Enter again on the last row, or Esc then f, makes it"
TYPING_F = "Enter takes it; Esc, then f, makes it"
MAKES = "Enter or f makes it."
LEFT = "As you left it; emptying a row forgets it."


class FormDialog(ModalScreen[bool]):
    """Asks for something new, row by row; `f`, or Enter again on the last row, makes it.

    Parameters
    ----------
    title : str
        What is being made.
    fields : sequence of Field, or a callable of the answers so far
        The rows; with a callable later rows may depend on earlier answers.
    finish : callable
        Makes it from the answers; awaited; may raise `Refusal`, which is shown and nothing
        typed is lost.
    preview : callable, optional
        Lines under the form, worked out from the answers so far.
    answers : dict, optional
        What is filled in from the start.
    """

    app = getters.app(RoundsApp)
    form = getters.query_one("#form", Form)
    OPENS = True
    """Whether the first row is opened at once; a dialog that comes filled in waits for `f`."""
    REMEMBERS = True
    """Whether answers stay when it is left; a dose never comes back by itself."""
    ENTER_MAKES = True
    """Whether Enter on the answered last row makes it; where all comes answered it does not."""
    # Absolute: a dialog made elsewhere would look for its style beside its own module.
    CSS_PATH = Path(__file__).with_name("dialog.tcss")
    BINDINGS = [
        # The form takes the key itself; this says so in the line of keys.
        Binding("enter", "make_now", "or f makes it", key_display="Enter"),
        bind("finish", "finish", "Done"),
        Binding("escape,backspace", "leave", "Leave", key_display="esc"),
    ]

    def __init__(
        self,
        title: str,
        fields: Sequence[Field] | Callable[[Answers], Sequence[Field]],
        finish: Callable[[Answers], Awaitable[None]],
        preview: Callable[[Answers], str] | None = None,
        answers: Answers | None = None,
        widths: Widths = Widths(label=20, value=24),  # noqa: B008 (frozen)
    ) -> None:
        super().__init__()
        self._title = title
        self._fields = fields
        self._finish = finish
        self._preview = preview
        self._widths = widths
        self._refused = False
        """What was answered was refused: the next Enter opens the row to mend it."""
        self._below = ""
        self._filled_in = frozenset(answers or ())
        """Rows that came filled in."""
        self.answers: Answers = dict(answers or {})

    def fields(self) -> Sequence[Field]:
        """Return the rows that the answers so far ask for."""
        return self._fields(self.answers) if callable(self._fields) else self._fields

    def compose(self) -> ComposeResult:
        title = self._title
        if self.REMEMBERS and (left := self.app.half_made.pop(self._asked_of(), {})):
            self.answers = {**left, **self.answers}
            title = f"{title.rstrip('.')}. {LEFT}"
        with Vertical(id="dialog"):
            yield Static(title, id="dialog-title", markup=False)
            yield Form(self.fields(), self._shown, self._keep, widths=self._widths, id="form")
            yield Static("", id="dialog-below", markup=False)
        yield foot()

    async def on_mount(self) -> None:
        self.form.at_end = self._enter_at_end
        self.form.forget = self._forget
        self.form.says = TYPING if self.ENTER_MAKES else TYPING_F
        self.form.focus()
        if self.OPENS:
            self.form.open_row()
        self._paint_below()

    def _shown(self, field: Field) -> Shown:
        entry = self.answers.get(field.key)
        # Nothing of it is in the records before the dialog is done.
        return Shown(entry.text if entry else "", pending=True)

    async def _keep(self, field: Field, entry: Entry) -> None:
        self.answers[field.key] = entry
        await self._changed()

    async def _forget(self, field: Field) -> None:
        """Forget the answer of a row that was emptied."""
        if field.key not in self.answers:
            return
        if field.required:
            said = f"{field.label}: This is needed. Esc leaves it as it was."
            raise BadInput(f"{said} {asks(field)}".strip())
        del self.answers[field.key]
        if field.kind == "words" and field.key in self._filled_in:
            # What came filled in and was emptied is empty, not left as it was.
            self.answers[field.key] = Entry("", "")
        await self._forgotten(field)
        await self._changed()
        self.form.refresh_rows()

    async def _forgotten(self, field: Field) -> None:
        """Do what follows from an answer that is no longer there."""

    async def _changed(self) -> None:
        """Ask what the answers now ask for, and say what they come to."""
        if callable(self._fields):
            wanted = list(self.fields())
            if list(map(_asked, wanted)) != list(map(_asked, self.form.fields)):
                await self.form.set_fields(wanted)
        self._paint_below()

    def _paint_below(self) -> None:
        self._below = self._preview(self.answers) if self._preview else ""
        self._put_below()

    def _put_below(self) -> None:
        self.query_one("#dialog-below", Static).update(
            self._below or (MAKES if self._stands_at_end() else "")
        )

    def on_form_moved(self) -> None:
        """Say that Enter makes it, where it does."""
        self.refresh_bindings()
        if not self._below:
            self._put_below()

    def _stands_at_end(self) -> bool:
        """Tell whether the next Enter makes it."""
        form = self.form
        last = bool(form.rows) and form.index == len(form.rows) - 1 and not form.typing
        answered = last and bool(form.row.state.shown.value)
        return answered and self.ENTER_MAKES and not (self._missing() or self._refused)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """While typing every letter belongs to the field."""
        if not self.is_mounted:
            return True
        return self._stands_at_end() if action == "make_now" else not self.form.typing

    def _missing(self) -> list[Field]:
        return [f for f in self.fields() if f.required and f.key not in self.answers]

    def _stands_unaccepted(self) -> bool:
        """Go to a row that was typed and not accepted: nothing is made without it."""
        for number, (field, row) in enumerate(zip(self.form.fields, self.form.rows, strict=True)):
            if row.state.draft:
                self.form.go(number)
                said = f"{field.label}: {row.state.draft} was typed and not accepted."
                self.app.notify(f"{said} Enter opens it.", title="Not yet", severity="warning")
                return True
        return False

    async def _enter_at_end(self) -> bool:
        """Enter once more on the answered last row makes it, when nothing is missing."""
        if self._missing() or self._refused or not self.ENTER_MAKES:
            self._refused = False
            return False
        await self.action_finish()
        return True

    async def action_make_now(self) -> None:
        """A click on the words in the line of keys."""
        await self.action_finish()

    async def action_finish(self) -> None:
        if self._stands_unaccepted():
            return
        missing = self._missing()
        if missing:
            self.app.notify(
                "Still needed: " + ", ".join(f.label for f in missing),
                title="Not yet",
                severity="warning",
                markup=False,
            )
            self.form.go([f.key for f in self.form.fields].index(missing[0].key))
            return
        try:
            await self._finish(self.answers)
        except Late as error:
            # All of it is kept elsewhere: it is not asked for again.
            self.app.tell(error)
            self.dismiss(True)
            return
        except Refusal as error:
            self._refused = True
            self.app.tell(error)
            return
        self.dismiss(True)

    def action_leave(self) -> None:
        """Leave without making it; the answers stand there when it is opened again."""
        if self.REMEMBERS and self.answers:
            self.app.half_made[self._asked_of()] = self.answers
        self.dismiss(False)

    def _asked_of(self) -> tuple[str, ...]:
        """Name what is asked, and of which visit and water: answers never go to another."""
        behind = self.app.screen_stack[self.app.screen_stack.index(self) - 1]
        system = getattr(behind, "system", None)
        return (self._title, getattr(behind, "visit_id", ""), getattr(system, "id", ""))


def _asked(field: Field) -> tuple[object, ...]:
    """Return what makes a row another one: lots of another product are another question."""
    return field.key, field.label, field.choices


def reason(title: str, finish: Callable[[str], Awaitable[None]], example: str = "") -> FormDialog:
    """Return a dialog that asks for one line of words, a reason."""
    field = Field("why", "Why", example=example, required=True)

    async def done(answers: Answers) -> None:
        await finish(answers["why"].words)

    return FormDialog(title, [field], done, widths=Widths(label=6, value=56))
