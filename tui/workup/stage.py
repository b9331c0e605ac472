"""What every stage of a workup is: a form, and what is worked out from it, below."""

from __future__ import annotations

from textwrap import wrap

from rich.cells import cell_len
from textual import getters
from textual.app import ComposeResult
from textual.containers import Vertical
from textual.message import Message
from textual.widgets import Static

from core import clock
from core.practice import keep, roles, visits
from core.practice.keep import Act
from core.practice.visits import Opened
from core.records.tables import System
from tui.base import RoundsApp
from tui.keys import bind
from tui.widgets import dialog
from tui.widgets.dialog import FormDialog
from tui.widgets.field import Entry, Field
from tui.widgets.form import Form
from tui.widgets.panel import Panel
from tui.widgets.row import Shown, Widths

MOST_BELOW, MOST_DETAIL, BORDER = 8, 4, 1
"""Lines that what follows may take, that the current row's note may take, and their rule."""


class Stage(Vertical):
    """One stage of one visit.

    A stage says which fields it asks (`fields`), what stands in each (`shown`), how an entry
    is saved (`keep`) and what is worked out while typing (`live`). `load` reads what it needs
    before it is shown and after each save.
    """

    app = getters.app(RoundsApp)
    form = getters.query_one("#form", Form)
    TITLE = ""
    WIDTHS = Widths()
    BINDINGS = [bind("working"), bind("finish"), bind("pass_over", show=False)]

    class Changed(Message):
        """Something of the visit was saved: the stage bar and the day list may change."""

    class GoTo(Message):
        """Asks the workup to open another stage."""

        def __init__(self, stage: str) -> None:
            super().__init__()
            self.stage = stage

    def __init__(self, opened: Opened, system: System) -> None:
        super().__init__()
        self.opened = opened
        self.system = system
        """The water being worked up; a site may have several."""
        self._below = ""
        self._detail = ""
        self._heights: dict[str, int] = {}

    @property
    def visit_id(self) -> str:
        """Id of the visit."""
        return self.opened.visit.id

    def act(self) -> Act:
        """Who is doing something now."""
        return Act(self.app.worker.id, clock.now())

    async def load(self) -> None:
        """Read what the stage shows."""

    def fields(self) -> list[Field]:
        """Return what the form asks."""
        raise NotImplementedError(type(self).__name__)

    def shown(self, field: Field) -> Shown:
        """Return what stands in a field's row."""
        raise NotImplementedError(type(self).__name__)

    async def keep(self, field: Field, entry: Entry) -> None:
        """Save an entry; return when it is on the disk."""
        raise NotImplementedError(type(self).__name__)

    def live(self, field: Field, text: str) -> None:
        """Show what changes while a field is typed; nothing unless a stage says so."""

    def below(self) -> str:
        """Return the lines under the form: what follows from all that was entered."""
        return ""

    def working_text(self) -> str:
        """Return the working of the current row's figures."""
        return ""

    def _where(self) -> tuple[str, ...]:
        return (self.visit_id, self.system.id, self.TITLE)

    def compose(self) -> ComposeResult:
        form = Form(self.fields(), self.shown, self._keep, self.live, self.WIDTHS, id="form")
        form.set_drafts(self.app.drafts.get(self._where(), {}))
        self._made = form
        yield form
        yield Static("", id="below", markup=False)
        yield Static("", id="detail", markup=False)

    def on_mount(self) -> None:
        self.form.focus()
        self.paint_below(settle=True)
        self.show_detail()

    def on_resize(self) -> None:
        self.paint_below(settle=True)

    async def _keep(self, field: Field, entry: Entry) -> None:
        await self.keep(field, entry)
        await self.reload()
        self.post_message(self.Changed())

    @property
    def _left(self) -> bool:
        """Whether the key that saved has opened another stage in place of this one."""
        return not (self.is_attached and self.display)  # being removed, it is not displayed

    async def reload(self) -> None:
        """Read again and paint what changed."""
        await self.load()
        if self._left:
            return
        self.form.refresh_rows()
        self.paint_below(settle=True)
        self.show_detail()

    async def rebuild(self) -> None:
        """Read again and make the rows anew: for stages whose rows depend on the record."""
        await self.load()
        if self._left:
            return
        await self.form.set_fields(self.fields())
        if self._left:
            return
        self.paint_below(settle=True)
        self.show_detail()

    def paint_below(self, *, settle: bool = False) -> None:
        """Paint the lines under the form when they have changed.

        While something is typed the room for them only grows, so that no key moves the form;
        after a save (`settle`) it fits again.
        """
        text = self.below()
        if settle or text != self._below:
            self._below = text
            self._put("#below", text, MOST_BELOW, settle=settle)

    def _put(self, where: str, text: str, most: int, *, settle: bool = False) -> None:
        panel = self.query_one(where, Static)
        need = min(most, lines_in(text, panel.content_size.width or 80)) + BORDER
        panel.update(text, layout=False)
        has = self._heights.get(where, 0)
        if need > has or (settle and need != has):
            self._heights[where] = need
            panel.styles.height = need

    async def changed(self) -> None:
        """After something was made or struck: rows anew, and the workup is told."""
        self.opened = await self.app.look(visits.opened, self.visit_id)
        await self.rebuild()
        self.post_message(self.Changed())

    def ask(self, dialog: FormDialog) -> None:
        """Show a dialog; when it has made something, the rows are made anew."""

        async def after(made: bool | None) -> None:
            if made:
                await self.changed()

        self.app.push_screen(dialog, after)

    async def may(self, table: str, **values: str) -> None:
        """Refuse before anything is asked what this person's role may not write in the end."""
        await self.app.look(roles.must_be_allowed, self.app.worker.id, table, **values)

    async def action_finish(self) -> None:
        await self.app.save(keep.mark_stage, self.act(), self.visit_id, self.TITLE, "done")
        self.app.notify(f"{self.TITLE} is done.", markup=False)
        self.post_message(self.Changed())

    def action_pass_over(self) -> None:
        title = f"Pass over {self.TITLE}"
        self.ask(dialog.reason(title, self.pass_over, "no fish could be caught"))

    async def pass_over(self, why: str) -> None:
        """Pass the stage over, with the reason."""
        await self.app.save(
            keep.mark_stage, self.act(), self.visit_id, self.TITLE, "passed over", why
        )

    def on_unmount(self) -> None:
        """Keep what was typed and not accepted, for when the stage is opened again."""
        self.app.drafts[self._where()] = self._made.drafts()

    def on_form_moved(self) -> None:
        self.show_detail()

    def show_detail(self) -> None:
        """Show the label and the note of the current row, which its own line may have cut."""
        text = ""
        if self.form.rows:
            shown = self.form.row.state.shown
            text = shown.detail or shown.note or self.form.field.hint
            label = self.form.field.label.strip()
            if cell_len(label) > self.WIDTHS.label and label not in " ".join(text.split()):
                text = f"{label.rstrip('.')}. {text}".rstrip()
            state = self.form.row.state
            if state.draft and state.typing is None:
                text = f"Typed and not saved: {state.draft} Enter opens it again. {text}"
        if text != self._detail:
            self._detail = text
            self._put("#detail", text, MOST_DETAIL)

    def action_working(self) -> None:
        text = self.working_text() or "Nothing is worked out for this row yet."
        self.app.push_screen(Panel(f"Working: {self.form.field.label}", text))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """While typing every letter belongs to the field, and the footer shows no commands."""
        return not self.form.typing if self.is_mounted and self.form.is_mounted else True


def lines_in(text: str, room: int) -> int:
    """Return how many lines a text takes in so many cells."""
    return sum(max(1, len(wrap(line, max(1, room)))) for line in text.split("\n"))
