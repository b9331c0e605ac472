"""The first start: the practice's few details, asked once on one form."""

from __future__ import annotations

from collections.abc import Callable

from textual import getters
from textual.app import ComposeResult
from textual.screen import Screen
from textual.widgets import Static

from core.errors import Refusal
from tui.base import RoundsApp
from tui.keys import bind
from tui.start.questions import Details, checked, details, fields, usual
from tui.widgets.field import Entry, Field
from tui.widgets.foot import foot
from tui.widgets.form import Form
from tui.widgets.row import Shown, Widths

INTRO = (
    "Finrounds walks a fish visit from the day's list to the paper, with the working of "
    "each figure.\n"
    "It makes no diagnosis and allows no medicine: the veterinarian decides, under the "
    "law of the place.\n"
    "Enter opens a row and goes on to the next, Esc stops typing, then f is done."
)
Done = Callable[[Details], object]


class NotYet(Refusal):
    """Something that must be there is missing."""

    title = "Not yet"


class FirstStart(Screen[None]):
    """Asks for the practice; nothing is made before all that must be there is there.

    Parameters
    ----------
    zone : str
        This machine's time zone, which stands there already.
    done : callable
        Makes the practice; a `Refusal` is told and nothing typed is lost.
    """

    app = getters.app(RoundsApp)
    form = getters.query_one("#form", Form)
    CSS_PATH = "start.tcss"
    BINDINGS = [bind("finish", label="Done")]

    def __init__(self, zone: str, done: Done) -> None:
        super().__init__()
        self._done = done
        self.answers: dict[str, Entry] = usual(zone)

    def compose(self) -> ComposeResult:
        yield Static(" First start: your practice", id="heading", markup=False)
        yield Static(INTRO, id="intro", markup=False)
        widths = Widths(label=20, value=30)
        yield Form(fields(self.answers), self._shown, self._keep, widths=widths, id="form")
        yield Static("", id="detail", markup=False)
        yield foot()

    def on_mount(self) -> None:
        self.form.focus()
        self.form.open_row()

    def on_form_moved(self) -> None:
        self.query_one("#detail", Static).update(self.form.field.hint)

    def _shown(self, row: Field) -> Shown:
        entry = self.answers.get(row.key)
        return Shown(entry.text if entry else "", pending=True)

    async def _keep(self, row: Field, entry: Entry) -> None:
        self.answers[row.key] = checked(row.key, entry)
        wanted = fields(self.answers)
        if [f.key for f in wanted] != [f.key for f in self.form.fields]:
            await self.form.set_fields(wanted)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """While typing every letter belongs to the field."""
        return not self.form.typing if self.is_mounted else True

    async def action_finish(self) -> None:
        """Make the practice, once nothing is missing."""
        rows = self.form.fields
        missing = [row for row in rows if row.required and row.key not in self.answers]
        if missing:
            self.form.go(rows.index(missing[0]))
            names = ", ".join(row.label for row in missing)
            raise NotYet(f"Still needed: {names}.")
        self._done(details(self.answers))
