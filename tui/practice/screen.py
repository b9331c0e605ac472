"""The practice: its people, details, prices and settings, page by page."""

from __future__ import annotations

from pathlib import Path

from textual import getters, work
from textual.app import ComposeResult
from textual.screen import Screen
from textual.widgets import Static

from core import clock
from core.errors import Refusal
from core.practice import access, keeping, label_paper, people, practice_view, price_list, roles
from core.practice.keep import Act
from core.practice.practice_view import PracticeView
from core.practice.who import worker_of
from core.records.tables import Person, Price
from tui.base import RoundsApp
from tui.keys import bind
from tui.lock.new_pin import NewPin
from tui.practice import ask, ask_price, rows
from tui.practice.rows import PAGES
from tui.widgets.dialog import FormDialog
from tui.widgets.field import Entry, Field
from tui.widgets.foot import foot
from tui.widgets.form import Form
from tui.widgets.row import Shown

NOTHING_HERE = "The practice has none of these yet."
"""Said on a page that has no rows."""


class PracticeScreen(Screen[None]):
    """Anybody may look; who may not change something is told so where it stands."""

    app = getters.app(RoundsApp)
    form = getters.query_one("#form", Form)
    CSS_PATH = Path(__file__).with_name("practice.tcss")
    BINDINGS = [
        bind("add", label="Add a person"),
        bind("add", "add_price", "Add a price"),
        bind("strike", "strike_price"),
        bind("next_stage", "turn(1)", "Next page"),
        bind("previous_stage", "turn(-1)", "Page before"),
        bind("back", show=True),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.page = PAGES[0]
        self.view: PracticeView | None = None
        self._drafts: dict[str, dict[str, str]] = {}
        self._anew: Person | None = None
        """Whose PIN is set anew when the dialog about them is done."""

    def compose(self) -> ComposeResult:
        self.view = self.app.desk.look(practice_view.view)
        yield Static("", id="heading", markup=False)
        yield self._form()
        yield Static("", id="detail", markup=False)
        yield foot()

    def on_mount(self) -> None:
        self.form.focus()
        self._paint()

    def _form(self) -> Form:
        widths = rows.WIDTHS[self.page]
        return Form(self._fields(), self._shown, self._keep, widths=widths, id="form")

    def _fields(self) -> list[Field]:
        assert self.view is not None
        return rows.fields(self.page, self.view)

    def _shown(self, field: Field) -> Shown:
        assert self.view is not None
        return rows.shown(self.view, field, self.app.worker.id)

    def _act(self) -> Act:
        return Act(self.app.worker.id, clock.now())

    def _paint(self) -> None:
        names = "  ".join(page.upper() if page == self.page else page for page in PAGES)
        self.query_one("#heading", Static).update(f" The practice   {names}")
        self.on_form_moved()

    def on_form_moved(self) -> None:
        """Say the whole of what the current row says in short."""
        if not self.form.fields:
            self.query_one("#detail", Static).update(NOTHING_HERE)
            return
        shown = self._shown(self.form.field)
        self.query_one("#detail", Static).update(shown.detail or self.form.field.hint)

    async def _keep(self, field: Field, entry: Entry) -> None:
        part, _, key = field.key.partition(" ")
        if part == "pin":
            self._own_pin()
        elif part == "person":
            self._about(key)
        elif part == "shelf":
            await self.app.run_action("app.shelf")
        else:
            await self._save(part, key, entry)
            await self.read_again()

    async def _save(self, part: str, key: str, entry: Entry) -> None:
        act, save = self._act(), self.app.save
        if part == "price":
            await save(people.set_price, act, key, entry.exact)
        elif part == "tax":
            await save(people.set_tax, act, key, entry.exact)
        elif part == "idle":
            await save(people.set_idle, act, int(entry.number))
        elif part == "keep":
            await save(keeping.set_years, act, key, int(entry.number))
        elif part == "label_size":
            await save(label_paper.set_size, act, entry.words)
        else:
            await save(people.set_detail, act, part, entry.words)

    async def read_again(self) -> None:
        """Read everything again, for this screen and for those that know the practice."""
        self.view = await self.app.look(practice_view.view)
        self.app.practice = self.view.house
        own = next((p for p in self.view.people if p.id == self.app.worker.id), None)
        if own is not None:
            self.app.worker = worker_of(own)
        self.form.refresh_rows()
        self.on_form_moved()

    @work(exclusive=True, group="practice")
    async def refill(self) -> None:
        """Read again: something was saved at another desk."""
        await self._people_again()

    async def _people_again(self) -> None:
        """Read again, with the rows of those who came; a row that is typed in stays as it is."""
        await self.read_again()
        if not self.form.typing:
            await self.form.set_fields(self._fields())

    async def action_turn(self, by: int) -> None:
        """Go to the next page or the one before; what was typed there waits there."""
        at = PAGES.index(self.page) + by
        if not 0 <= at < len(PAGES):
            return
        self._drafts[self.page] = self.form.drafts()
        self.page = PAGES[at]
        await self._turn()

    async def _turn(self) -> None:
        """Ask the page's own rows, in columns of their own."""
        self.form.set_drafts({})
        self.form.index = 0
        await self.form.set_fields(self._fields(), rows.WIDTHS[self.page])
        self.form.set_drafts(self._drafts.get(self.page, {}))
        self.form.go(0)
        for row in self.form.rows:
            row.paint()
        self._paint()
        self.refresh_bindings()

    async def action_add_price(self) -> None:
        """Add a price to the list."""
        assert self.view is not None
        await self.app.look(roles.must_be_allowed, self.app.worker.id, "price")
        self._ask(ask_price.new_price(self.app, self._act, self.view.taxes))

    async def action_strike_price(self) -> None:
        """Strike the price of the current row, with a reason."""
        price = self._price()
        if price is None:
            raise Refusal("There is no price to strike in this row.")
        await self.app.look(roles.must_be_allowed, self.app.worker.id, "price")
        await self.app.look(price_list.must_be_strikable, price)
        self._ask(ask_price.struck(self.app, self._act, price))

    def _price(self) -> Price | None:
        part, _, key = self.form.field.key.partition(" ") if self.form.fields else ("", "", "")
        prices = self.view.prices if self.view and part == "price" else ()
        return next((p for p in prices if p.id == key), None)

    def action_add(self) -> None:
        """Add somebody at work."""
        self._ask(ask.somebody_new(self.app, self._act))

    def _ask(self, dialog: FormDialog) -> None:
        async def after(made: bool | None) -> None:
            if made:
                await self._people_again()
            if made and self._anew is not None:
                self._pin_anew(self._anew)

        self._anew = None
        self.app.push_screen(dialog, after)

    def _about(self, key: str) -> None:
        assert self.view is not None
        person = next(p for p in self.view.people if p.id == key)
        own = person.id == self.app.worker.id
        offered = self.app.worker.signs and not own and person.id in self.view.with_pin

        def anew() -> None:
            self._anew = person

        self._ask(ask.about(self.app, person, self._act, anew if offered else None))

    def _pin_anew(self, person: Person) -> None:
        async def finish(_: str, pin: str) -> str:
            return await self.app.save(access.reset_pin, self._act(), person.id, pin)

        title = f"A new PIN for {person.name}, typed by {person.name}"
        self._ask_pin(NewPin(title, finish))

    def _own_pin(self) -> None:
        assert self.view is not None
        worker = self.app.worker

        async def finish(old: str, pin: str) -> str:
            return await self.app.save(access.set_pin, self._act(), worker.id, pin, old)

        had = worker.id in self.view.with_pin
        self._ask_pin(NewPin(f"The PIN of {worker.name}", finish, old=had))

    def _ask_pin(self, asked: NewPin) -> None:
        async def after(made: bool | None) -> None:
            if made:
                await self.read_again()

        self.app.push_screen(asked, after)

    def action_back(self) -> None:
        """Back to where it was opened from."""
        self.dismiss()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """While typing every letter belongs to the field; `a` adds what the page holds."""
        if not self.is_mounted:
            return True
        on_prices = self.page == "Prices"
        if action in ("add_price", "strike_price"):
            return on_prices and not self.form.typing
        return not self.form.typing and not (on_prices and action == "add")
