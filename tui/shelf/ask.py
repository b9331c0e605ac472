"""The dialogs of the shelf: a new product, what came in, and a line of a lot's log."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from core import clock
from core.practice import shelf, shelf_view, stock_log
from core.practice.keep import Act
from core.practice.own_products import PACKS, STRENGTHS
from core.practice.shelf import NewProduct, OnShelf, ProductView, Received
from core.practice.shelf_view import ShelfView
from core.practice.stock_log import REASONED, shown
from tui.base import RoundsApp
from tui.widgets.choices import YES_NO
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
_UNITS = tuple(
    Choice(letter, unit, unit) for letter, unit in zip("abcdefg", STRENGTHS, strict=True)
)
_PACKS = tuple(Choice(pack[0].lower(), pack, pack) for pack in PACKS)


def _words(answers: Answers, key: str) -> str:
    return answers[key].words if key in answers else ""


def _number(key: str, label: str, example: str, hint: str = "") -> Field:
    return Field(
        key,
        label,
        "quantity",
        low=0.0001,
        high=1_000_000,
        example=example,
        hint=hint,
        required=not hint,
    )


class _Ask(FormDialog):
    def act(self) -> Act:
        """Who is doing something now."""
        return Act(self.app.worker.id, clock.now())


class AddProduct(_Ask):
    """A product, as its label says it."""

    def __init__(self, view: ShelfView) -> None:
        medicines = tuple(
            Choice("", row.key, f"{row.name}, {row.routes[0]}: {row.indication}")
            for row, _ in view.medicines
        )
        prices = tuple(Choice("", p.code, p.name) for p in view.prices)
        fields = [
            Field("medicine", "Medicine", "pick", choices=medicines, required=True),
            Field("name", "Name on the label", required=True),
            _number("strength", "Strength", "100"),
            Field("counts", "It counts", "choice", choices=_UNITS, required=True),
            _number("pack", "A pack holds", "50"),
            Field("unit", "Counted in", "choice", choices=_PACKS, required=True),
            _number("density", "Density, g/mL", "1.08", "if known"),
            Field("price", "Price", "pick", choices=prices, hint="if sold"),
            Field("controlled", "Controlled drug", "choice", choices=YES_NO, required=True),
        ]
        super().__init__("A product for the shelf", fields, self._done, widths=WIDTHS)

    async def _done(self, answers: Answers) -> None:
        new = NewProduct(
            answers["medicine"].words,
            answers["name"].words,
            answers["strength"].number,
            answers["counts"].words,
            answers["pack"].number,
            answers["unit"].words,
            answers["density"].number if "density" in answers else None,
            _words(answers, "price"),
            answers["controlled"].words == "yes",
        )
        await self.app.save(shelf.add_product, self.act(), new)


class Receive(_Ask):
    """What came in of a product."""

    def __init__(self, product: ProductView) -> None:
        self.product = product.product
        unit = self.product.pack_unit
        fields = [
            Field("number", "Lot", example="A123", required=True),
            Field("expires", "Expires", "date"),
            Field("amount", f"How much, {unit}", "money", example="50.00", required=True),
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
            _words(answers, "place"),
            _words(answers, "note"),
        )
        await self.app.save(shelf.receive, self.act(), self.product.id, came)


class WriteLine(_Ask):
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
        what = _words(answers, "what")
        if what in ("count", "waste", "returned", "sent back"):
            label = f"How much, {self.lot.unit}"
            found.append(Field("amount", label, "money", example="1.20", required=True))
        if what == "opened":
            return [*found, Field("day", "On", "date", past=True, required=True)]
        if what == "moved":
            return [*found, Field("place", "Kept at", example="truck 2", required=True)]
        kind = "returned" if what == "sent back" else what
        if kind in REASONED:
            found.append(Field("why", "Why", example="left in the needle", required=True))
        if kind in stock_log.WITNESSED:
            found.append(Field("witness", "Seen by", required=self.controlled))
        return found

    def _said(self, answers: Answers) -> str:
        left = f"The log says {shown(self.lot.left)} {self.lot.unit} are left."
        if _words(answers, "what") == "count" and "amount" in answers:
            differs = answers["amount"].exact - self.lot.left
            right = "put the log right with a reason and a witness."
            left += f" The count differs by {shown(differs)}: {right}" if differs else " It agrees."
        return left

    async def _done(self, answers: Answers) -> None:
        what, lot, act, save = answers["what"].words, self.lot.lot.id, self.act(), self.app.save
        why, seen = _words(answers, "why"), _words(answers, "witness")
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
