"""Medicines and shelf: rows read and switched on, products with their lots, and their logs."""

from __future__ import annotations

from pathlib import Path

from textual import events, getters, work
from textual.app import ComposeResult
from textual.widgets import Static

from core.errors import Refusal
from core.practice import drug_log, own_correct, read_medicines, roles, shelf_view
from core.records.tables import Product
from tui.keys import bind
from tui.shelf import words
from tui.shelf.ask import Receive, WriteLine
from tui.shelf.ours import Ours
from tui.shelf.product_ask import AddProduct, CorrectProduct
from tui.shelf.reading import OwnPanel
from tui.widgets.confirm import ConfirmClose, confirm
from tui.widgets.dialog import reason
from tui.widgets.foot import foot
from tui.widgets.lines import Lines


class ShelfScreen(Ours):
    """Anybody may read a medicine here; a veterinarian switches it on."""

    shelf_list = getters.query_one("#products", Lines)
    CSS_PATH = Path(__file__).with_name("shelf.tcss")
    BINDINGS = [
        bind("switch_on"),
        bind("strike", "switch_off", "Switch off"),
        bind("add", "add_ours", "Add ours"),
        bind("look_up"),
        bind("add", label="Add a product"),
        bind("as_text", label="Log"),
        bind("close", label="Close log"),
        bind("other_list", label="Shelf"),
        bind("other_list", "medicines", "Medicines"),
        bind("back", show=True),
    ]

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

    def fill(self, product: str = "") -> None:
        """Paint both lists, each staying where it was, or on a product that was just made."""
        super().fill()
        view = self.view
        if view is None:
            return
        self.shelf_list.fill(words.shelf_lines(view, self.width - 3), product)
        head = words.heading(view, self.on_shelf, self.width)
        self.query_one("#heading", Static).update(head)
        log = words.log_words(view) if self.on_shelf else ""
        line = self.query_one("#log", Static)
        line.update(log)
        line.display = bool(log)
        self._paint_detail()

    def _paint_detail(self) -> None:
        if self.view is None:
            return
        if self.on_shelf:
            text = words.shelf_detail(self.view, self.shelf_list.current)
        else:
            text = words.medicine_detail(*self.medicine())
        self.query_one("#detail", Static).update(text)
        # The list has more or less room now; the current line stays in sight.
        shown = self.shelf_list if self.on_shelf else self.medicine_list
        self.call_after_refresh(shown.scroll_to_highlight)

    def on_option_list_option_highlighted(self) -> None:
        self._paint_detail()
        self.refresh_bindings()

    def on_option_list_option_selected(self) -> None:
        if self.on_shelf:
            self._write()
        else:
            self.read()

    def _write(self) -> None:
        assert self.view is not None
        product = self.view.product_of(self.shelf_list.current)
        lot = self.view.lot(self.shelf_list.current)
        if product is not None:
            self.ask(WriteLine(product, lot) if lot is not None else Receive(product))

    async def action_switch_on(self) -> None:
        """Switch the medicine on, once its whole row was opened here."""
        row, state = self.medicine()
        if state.on:
            raise Refusal(f"{row.name} is on already.", "r switches it off, with a reason.")
        if row.key not in self.opened:
            raise Refusal("A row is read before it is switched on.", "Enter opens the whole of it.")
        await self.app.save(read_medicines.switch, self.act(), row.key, "on")
        self.refill()

    def action_switch_off(self) -> None:
        """Switch the medicine off, with a reason."""
        row, state = self.medicine()
        if not state.on:
            raise Refusal(f"{row.name} is {state.words}.")

        async def done(why: str) -> None:
            await self.app.save(read_medicines.switch, self.act(), row.key, "off", why)

        self.ask(reason(f"Switch off {row.name}", done, "another lot was recalled"))

    def action_add(self) -> None:
        """Put a product on the shelf; what came in of it is asked next."""
        assert self.view is not None
        dialog = AddProduct(self.view)

        def after(made: bool | None) -> None:
            if made:
                self._came_in(dialog.made)

        self.app.push_screen(dialog, after)

    @work(exclusive=True, group="shelf")
    async def _came_in(self, key: str) -> None:
        self.view = await self.app.look(shelf_view.view, self.app.today())
        self.fill(key)
        product = self.view.product_of(key)
        if product is not None:
            self.ask(Receive(product))

    @work(exclusive=True, group="dialog")
    async def action_as_text(self) -> None:
        """Show the log of the product."""
        assert self.view is not None
        product = self.view.product_of(self.shelf_list.current)
        if product is None:
            return
        row = product.product
        text = await self.app.look(drug_log.text, row.id)
        detail = words.shelf_detail(self.view, row.id).splitlines()[0]

        def correct() -> None:
            assert self.view is not None
            self.ask(CorrectProduct(self.view, row))

        panel = OwnPanel(row.name, f"{detail}\n\n{text}", correct, lambda: self._strike(row))
        self.app.push_screen(panel)

    def _strike(self, row: Product) -> None:
        async def done(why: str) -> None:
            await self.app.save(own_correct.strike_product, self.act(), row.id, why)

        self.ask(reason(f"Strike {row.name}", done, "written twice"))

    async def action_close(self) -> None:
        """Ask once more; at once when it can not be closed, which is refused by name."""
        await self.app.look(roles.must_be_allowed, self.app.worker.id, "day_mark")
        self.view = view = await self.app.look(shelf_view.view, self.app.today())
        if view.open or view.closed:
            await self._close()
            return
        title = "Close the drug log of today?"
        confirm(self.app, ConfirmClose(title, words.closing(view)), self._close)

    async def _close(self) -> None:
        await self.app.save(drug_log.close_day, self.act(), self.app.today())
        self.app.notify("The drug log of today is closed.")
        self.refill()

    def _may_switch(self, action: str) -> bool:
        on = self.view is None or self.medicine()[1].on
        return on == (action == "switch_off")

    def action_other_list(self) -> None:
        """Go from the medicines to the shelf."""
        self.show_shelf(True)

    def action_medicines(self) -> None:
        """Go from the shelf to the medicines."""
        self.show_shelf(False)

    def action_back(self) -> None:
        """Back to where it was opened from."""
        self.dismiss()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """A medicine is switched in its list; the rest is for the shelf."""
        if not self.is_mounted:
            return True
        if action in ("switch_on", "switch_off"):
            return not self.on_shelf and self._may_switch(action)
        if action in ("add_ours", "look_up", "other_list"):
            return not self.on_shelf
        return self.on_shelf if action in ("add", "as_text", "close", "medicines") else True
