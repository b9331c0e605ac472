"""The medicines of the shelf: one read whole, one looked up, and those of the practice's own."""

from __future__ import annotations

from textual import getters, work
from textual.screen import Screen

from core import clock
from core.dosing.medicines import Medicine
from core.errors import Refusal
from core.practice import medicine_words, own_medicine, own_typed, shelf_view
from core.practice.keep import Act
from core.practice.read_medicines import State
from core.practice.shelf_view import ShelfView
from tui.base import RoundsApp
from tui.shelf import words
from tui.shelf.own_ask import CorrectDialog, OwnDialog
from tui.shelf.reading import LookUp, OwnPanel
from tui.widgets.dialog import FormDialog, reason
from tui.widgets.field import Choice
from tui.widgets.lines import Lines
from tui.widgets.panel import Panel


class Ours(Screen[None]):
    """What a person does with one row of the medicines, beside switching it."""

    app = getters.app(RoundsApp)
    medicine_list = getters.query_one("#medicines", Lines)

    def __init__(self) -> None:
        super().__init__()
        self.view: ShelfView | None = None
        self.opened: set[str] = set()
        """Medicines whose whole row was opened here: none other is switched on."""
        self._next = ""
        """The row to stand on when the list is painted again: the one that was just written."""

    @work(exclusive=True, group="shelf")
    async def refill(self) -> None:
        """Read everything again and paint it."""
        self.view = await self.app.look(shelf_view.view, self.app.today())
        self.fill()

    @property
    def width(self) -> int:
        """Cells in a line."""
        return self.size.width or self.app.size.width

    def fill(self) -> None:
        """Paint the list of the medicines, staying where it was."""
        if self.view is not None:
            width = self.width - 3
            lines = [(r.key, words.medicine_line(r, s, width)) for r, s in self.view.medicines]
            self.medicine_list.fill(lines, self._next)
            self._next = ""

    def medicine(self) -> tuple[Medicine, State]:
        """Return the current row of the medicines, and whether it is on."""
        assert self.view is not None
        key = self.medicine_list.current
        return next((r, s) for r, s in self.view.medicines if r.key == key)

    def ask(self, dialog: FormDialog) -> None:
        """Ask something, and paint anew what was made."""

        def after(made: bool | None) -> None:
            if made:
                self._next = dialog.key if isinstance(dialog, OwnDialog) else ""
                self.refill()

        self.app.push_screen(dialog, after)

    def act(self) -> Act:
        """Who is doing something now."""
        return Act(self.app.worker.id, clock.now())

    def read(self) -> None:
        """Open the whole row of the medicine; one of the practice's own is corrected there."""
        row, state = self.medicine()
        self.opened.add(row.key)
        title = f"{row.name}: every field, how it is known; the arrows read on"
        text = f"It is {state.words}.\n\n{medicine_words.whole(row)}"
        ours = own_typed.written(row.key)
        if ours is None:
            self.app.push_screen(Panel(title, text))
        else:
            self.app.push_screen(
                OwnPanel(
                    title,
                    text,
                    lambda: self._write_ours(CorrectDialog(row.key, ours)),
                    lambda: self._strike_ours(row),
                )
            )

    def _write_ours(self, dialog: OwnDialog) -> None:
        """Write a medicine down, or correct one: then it has to be read anew."""
        if not self.app.worker.signs:
            self.app.tell(Refusal("Only a veterinarian writes a medicine of the practice's own."))
            return
        self.opened.discard(dialog.key)
        self.ask(dialog)

    def _strike_ours(self, row: Medicine) -> None:
        async def done(why: str) -> None:
            await self.app.save(own_medicine.strike, self.act(), row.key, why)

        self.ask(reason(f"Strike {row.name}, {row.indication}", done, "written twice"))

    def action_add_ours(self) -> None:
        """Write down a medicine of the practice's own."""
        self._write_ours(OwnDialog())

    def action_look_up(self) -> None:
        """Go to a medicine by a few letters of it."""
        assert self.view is not None
        choices = tuple(
            Choice("", row.key, words.sought(row, state)) for row, state in self.view.medicines
        )
        self.ask(LookUp(choices, self._go_to))

    def _go_to(self, key: str) -> None:
        found = self.medicine_list
        found.highlighted = list(found.words).index(key)
