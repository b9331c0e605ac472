"""The dialogs of the shelf: what came in, and a line of a lot's log."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from core import clock, dates
from core.practice import shelf, shelf_view, stock_log
from core.practice.keep import Act
from core.practice.shelf import OnShelf, ProductView, Received
from core.practice.stock_log import REASONED, shown
from tui.base import RoundsApp
from tui.widgets.dialog import Answers, FormDialog
from tui.widgets.field import Choice, Entry, Field
from tui.widgets.row import Widths

WIDTHS = Widths(label=18, value=34)
LINES = (
    Choice("c", "count", "counted"),
    Choice("w", "waste", "waste"),
    Choice("b", "returned", "came back"),
    Choice("s", "sent back", "sent back to the supplier"),
    Choice("p", "put right", "put the log right"),
    Choice("o", "opened", "opened"),
    Choice("m", "moved", "moved to another place"),
)


def words_of(answers: Answers, key: str) -> str:
    """Return an answer as text, "" without one."""
    return answers[key].words if key in answers else ""


def _amount(unit: str, example: str) -> Field:
    """Return the row of an amount of stock; how fine it may be is judged with its kind."""
    label = f"How much, {unit}"
    return Field("amount", label, "money", low=0, high=1_000_000, example=example, required=True)


class Ask(FormDialog):
    """A dialog of the shelf."""

    def act(self) -> Act:
        """Who is doing something now."""
        return Act(self.app.worker.id, clock.now())


class Receive(Ask):
    """What came in of a product."""

    def __init__(self, product: ProductView) -> None:
        self.product = product.product
        unit = self.product.pack_unit
        fields = [
            Field("number", "Lot", example="A123", required=True),
            Field("expires", "Expires", "date", example=dates.EXPIRY_EXAMPLE, expiry=True),
            _amount(unit, "50.00"),
            Field("place", "Kept at", example="truck 1"),
            Field("note", "Note", example="from the supplier"),
        ]
        pack = Entry(f"{self.product.pack:g}", Decimal(f"{self.product.pack:g}"))
        title = f"Came in: {self.product.name}"
        super().__init__(title, fields, self._done, answers={"amount": pack}, widths=WIDTHS)

    async def _done(self, answers: Answers) -> None:
        came = Received(
            answers["number"].words,
            answers["amount"].exact,
            answers["expires"].day if "expires" in answers else None,
            words_of(answers, "place"),
            words_of(answers, "note"),
        )
        await self.app.save(shelf.receive, self.act(), self.product.id, came)


class WriteLine(Ask):
    """A line of a lot: what was counted, thrown away, came back, or puts the log right."""

    REMEMBERS = False

    def __init__(self, product: ProductView, lot: OnShelf, what: str = "") -> None:
        self.lot = lot
        self.controlled = product.product.controlled
        chosen = next((c for c in LINES if c.value == what), None)
        first = {"what": Entry(chosen.label, chosen.value)} if chosen else None
        title = f"{product.product.name}, lot {lot.lot.number}"
        super().__init__(title, self._asked, self._done, self._said, first, widths=WIDTHS)

    def _asked(self, answers: Answers) -> Sequence[Field]:
        found = [Field("what", "What", "choice", choices=LINES, required=True)]
        what = words_of(answers, "what")
        if what in ("count", "waste", "returned", "sent back"):
            found.append(_amount(self.lot.unit, "1.20"))
        if what == "opened":
            return [*found, Field("day", "On", "date", past=True, required=True)]
        if what == "moved":
            return [*found, Field("place", "Kept at", example="truck 2", required=True)]
        kind = "returned" if what == "sent back" else what
        if kind in REASONED:
            found.append(Field("why", "Why", example="left in the needle", required=True))
        if kind in stock_log.WITNESSED:
            found.append(Field("witness", "Seen by", example="Tim Moor", required=self.controlled))
        return found

    def _said(self, answers: Answers) -> str:
        left = f"The log says {shown(self.lot.left)} {self.lot.unit} are left."
        if words_of(answers, "what") == "count" and "amount" in answers:
            differs = answers["amount"].exact - self.lot.left
            right = "put the log right with a reason and a witness."
            left += f" The count differs by {shown(differs)}: {right}" if differs else " It agrees."
        return left

    async def _done(self, answers: Answers) -> None:
        what, lot, act, save = answers["what"].words, self.lot.lot.id, self.act(), self.app.save
        why, seen = words_of(answers, "why"), words_of(answers, "witness")
        if what == "count":
            await save(stock_log.count, act, lot, answers["amount"].exact)
        elif what == "waste":
            await save(stock_log.waste, act, lot, answers["amount"].exact, why, seen)
        elif what in ("returned", "sent back"):
            much = answers["amount"].exact * (1 if what == "returned" else -1)
            await save(stock_log.bring_back, act, lot, much, why, seen)
        elif what == "put right":
            await save(stock_log.put_right, act, lot, why, seen)
        elif what == "opened":
            await save(shelf.set_lot, act, lot, opened=answers["day"].day)
        else:
            await save(shelf.set_lot, act, lot, place=answers["place"].words)


async def count_or_put_right(app: RoundsApp, lot: str) -> FormDialog | None:
    """Return the dialog that settles a lot which was not counted, or whose count differs."""
    view = await app.look(shelf_view.view, app.today())
    product, found = view.product_of(lot), view.lot(lot)
    if product is None or found is None:
        return None
    rows = await app.look(stock_log.lines, lot)
    counted = bool(rows) and rows[-1].kind == "count"
    return WriteLine(product, found, "put right" if counted else "count")
