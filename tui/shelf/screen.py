"""Medicines and shelf: rows read and switched on, products with their lots, and their logs."""

from __future__ import annotations

from pathlib import Path

from textual import events, getters, work
from textual.app import ComposeResult
from textual.screen import Screen
from textual.widgets import Static

from core import clock
from core.dosing.medicines import Medicine
from core.errors import Refusal
from core.practice import drug_log, medicine_words, read_medicines, shelf_view
from core.practice.keep import Act
from core.practice.read_medicines import State
from core.practice.shelf_view import ShelfView
from tui.base import RoundsApp
from tui.keys import bind
from tui.shelf import words
from tui.shelf.ask import AddProduct, Receive, WriteLine
from tui.widgets.dialog import FormDialog, reason
from tui.widgets.foot import foot
from tui.widgets.lines import Lines
from tui.widgets.panel import Panel


class ShelfScreen(Screen[None]):
    """Anybody may read a medicine here; a veterinarian switches it on."""

    app = getters.app(RoundsApp)
    medicine_list = getters.query_one("#medicines", Lines)
    shelf_list = getters.query_one("#products", Lines)
    CSS_PATH = Path(__file__).with_name("shelf.tcss")
    BINDINGS = [
        bind("switch_on"),
        bind("strike", "switch_off", "Switch off"),
        bind("add", label="Add a product"),
        bind("as_text", label="Log"),
        bind("close", label="Close log"),
        bind("other_list", label="Shelf/medicines"),
        bind("back", show=True),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.view: ShelfView | None = None
        self._opened: set[str] = set()
        """Medicines whose whole row was opened here: none other is switched on."""

    def compose(self) -> ComposeResult:
        yield Static("", id="heading", markup=False)
        yield Lines("Read it", id="medicines")
        yield Lines("Write a line", id="products")
        yield Static("", id="detail", markup=False)
        yield Static("", id="log", markup=False)
        yield foot()

    def on_mount(self) -> None:
        self.view = self.app.desk.look(shelf_view.view, self.app.today())
        self.show_shelf(False)

    def on_resize(self, event: events.Resize) -> None:
        self.fill()

    @work(exclusive=True, group="shelf")
    async def refill(self) -> None:
        """Read everything again and paint it."""
        self.view = await self.app.look(shelf_view.view, self.app.today())
        self.fill()

    @property
    def on_shelf(self) -> bool:
        """Whether the shelf is shown, and not the medicines."""
        return bool(self.shelf_list.display)

    def show_shelf(self, shown: bool) -> None:
        """Show one list or the other."""
        self.shelf_list.display, self.medicine_list.display = shown, not shown
        (self.shelf_list if shown else self.medicine_list).focus()
        self.fill()
        self.refresh_bindings()

    def fill(self) -> None:
        """Paint both lists, each staying where it was."""
        view = self.view
        if view is None:
            return
        width = self._width() - 3
        self.medicine_list.fill(
            (row.key, words.medicine_line(row, state, width)) for row, state in view.medicines
        )
        self.shelf_list.fill(words.shelf_lines(view, width))
        head = words.heading(view, self.on_shelf, self._width())
        self.query_one("#heading", Static).update(head)
        log = words.log_words(view) if self.on_shelf else ""
        line = self.query_one("#log", Static)
        line.update(log)
        line.display = bool(log)
        self._paint_detail()

    def _width(self) -> int:
        return self.size.width or self.app.size.width

    def _paint_detail(self) -> None:
        if self.view is None:
            return
        if self.on_shelf:
            text = words.shelf_detail(self.view, self.shelf_list.current)
        else:
            text = words.medicine_detail(*self._medicine())
        self.query_one("#detail", Static).update(text)

    def _medicine(self) -> tuple[Medicine, State]:
        assert self.view is not None
        key = self.medicine_list.current
        return next((r, s) for r, s in self.view.medicines if r.key == key)

    def on_option_list_option_highlighted(self) -> None:
        self._paint_detail()
        self.refresh_bindings()

    def on_option_list_option_selected(self) -> None:
        if self.on_shelf:
            self._write()
        else:
            self._read()

    def _read(self) -> None:
        """Open the whole row of the medicine."""
        row, state = self._medicine()
        self._opened.add(row.key)
        text = f"{medicine_words.whole(row)}\n\nIt is {state.words}."
        self.app.push_screen(Panel(f"{row.name}: every field, and how it is known", text))

    def _write(self) -> None:
        assert self.view is not None
        product = self.view.product_of(self.shelf_list.current)
        lot = self.view.lot(self.shelf_list.current)
        if product is not None:
            self._ask(WriteLine(product, lot) if lot is not None else Receive(product))

    def _ask(self, dialog: FormDialog) -> None:
        def after(made: bool | None) -> None:
            if made:
                self.refill()

        self.app.push_screen(dialog, after)

    def _act(self) -> Act:
        return Act(self.app.worker.id, clock.now())

    async def action_switch_on(self) -> None:
        """Switch the medicine on, once its whole row was opened here."""
        row, state = self._medicine()
        if state.on:
            raise Refusal(f"{row.name} is on already.", "r switches it off, with a reason.")
        if row.key not in self._opened:
            raise Refusal("A row is read before it is switched on.", "Enter opens the whole of it.")
        await self.app.save(read_medicines.switch, self._act(), row.key, "on")
        self.refill()

    def action_switch_off(self) -> None:
        """Switch the medicine off, with a reason."""
        row, state = self._medicine()
        if not state.on:
            raise Refusal(f"{row.name} is {state.words}.")

        async def done(why: str) -> None:
            await self.app.save(read_medicines.switch, self._act(), row.key, "off", why)

        self._ask(reason(f"Switch off {row.name}", done, "another lot was recalled"))

    def action_add(self) -> None:
        """Put a product on the shelf."""
        assert self.view is not None
        self._ask(AddProduct(self.view))

    @work(exclusive=True, group="dialog")
    async def action_as_text(self) -> None:
        """Show the log of the product."""
        assert self.view is not None
        product = self.view.product_of(self.shelf_list.current)
        if product is not None:
            text = await self.app.look(drug_log.text, product.product.id)
            self.app.push_screen(Panel(product.product.name, text))

    async def action_close(self) -> None:
        """Close the drug log of today."""
        await self.app.save(drug_log.close_day, self._act(), self.app.today())
        self.app.notify("The drug log of today is closed.")
        self.refill()

    def action_other_list(self) -> None:
        """Go from the medicines to the shelf and back."""
        self.show_shelf(not self.on_shelf)

    def action_back(self) -> None:
        """Back to where it was opened from."""
        self.dismiss()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """A medicine is switched in its list; the rest is for the shelf."""
        if not self.is_mounted:
            return True
        if action in ("switch_on", "switch_off"):
            return not self.on_shelf
        return self.on_shelf if action in ("add", "as_text", "close") else True
