"""The dialogs of the shelf: a new product, what came in, and a line of a lot's log."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from core import clock
from core.numbers import plain
from core.practice import own_correct, shelf, shelf_view, stock_log
from core.practice.keep import Act
from core.practice.own_products import PACKS, STRENGTHS
from core.practice.shelf import NewProduct, OnShelf, ProductView, Received
from core.practice.shelf_view import ShelfView
from core.practice.stock_log import REASONED, shown
from core.records.tables import Product
from tui.base import RoundsApp
from tui.widgets.choices import YES_NO
from tui.widgets.dialog import Answers, FormDialog
from tui.widgets.field import Choice, Entry, Field
from tui.widgets.row import Widths

BY_WEIGHT = ("% w/w", "mg/g", "g/kg")
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


def _amount(unit: str, example: str) -> Field:
    """Return the row of an amount of stock; how fine it may be is judged with its kind."""
    label = f"How much, {unit}"
    return Field("amount", label, "money", low=0, high=1_000_000, example=example, required=True)


class _Ask(FormDialog):
    def act(self) -> Act:
        """Who is doing something now."""
        return Act(self.app.worker.id, clock.now())


class AddProduct(_Ask):
    """A product, as its label says it."""

    def __init__(self, view: ShelfView, old: Product | None = None) -> None:
        self.made = old.id if old is not None else ""
        """The product that is corrected, or that was just made."""
        title = f"Correct {old.name}" if old is not None else "A product for the shelf"
        answers = _product_answers(view, old) if old is not None else None
        super().__init__(title, _product_fields(view), self._done, _weighed, answers, widths=WIDTHS)

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
        if self.made:
            await self.app.save(own_correct.correct_product, self.act(), self.made, new)
        else:
            self.made = await self.app.save(shelf.add_product, self.act(), new)


class CorrectProduct(AddProduct):
    """A product that is there already: filled in, and done with `f`."""

    OPENS = False
    REMEMBERS = False
    ENTER_MAKES = False


def _product_fields(view: ShelfView) -> list[Field]:
    return [
        Field("medicine", "Medicine", "pick", choices=_medicines(view), required=True),
        Field("name", "Name on the label", example="Butorphanol 10 mg/mL", required=True),
        _number("strength", "Strength", "100"),
        Field("counts", "It counts", "choice", choices=_UNITS, required=True),
        _number("pack", "A pack holds", "50"),
        Field("unit", "Counted in", "choice", choices=_PACKS, required=True),
        _number("density", "Density, g/mL", "1.08", "if known"),
        Field("price", "Price", "pick", choices=_prices(view), hint="if sold"),
        Field("controlled", "Controlled drug", "choice", choices=YES_NO, required=True),
    ]


def _medicines(view: ShelfView) -> tuple[Choice, ...]:
    return tuple(
        Choice("", row.key, f"{row.name}, {row.routes[0]}: {row.indication}")
        for row, _ in view.medicines
    )


def _prices(view: ShelfView) -> tuple[Choice, ...]:
    return tuple(Choice("", p.code, p.name) for p in view.prices)


def _product_answers(view: ShelfView, old: Product) -> Answers:
    named = {c.value: c.label for c in (*_medicines(view), *_prices(view))}
    texts = {
        "medicine": old.medicine,
        "name": old.name,
        "counts": old.strength_unit,
        "unit": old.pack_unit,
        "price": old.price,
        "controlled": "yes" if old.controlled else "no",
    }
    numbers = {"strength": old.strength, "pack": old.pack, "density": old.density_g_ml}
    found = {key: Entry(named.get(text, text), text) for key, text in texts.items() if text}
    return found | {k: Entry(plain(n), n) for k, n in numbers.items() if n is not None}


def _weighed(answers: Answers) -> str:
    """Return what the strength counts, and when a density is needed to reckon with it."""
    counts = _words(answers, "counts")
    if not counts:
        return ""
    by_weight = counts in BY_WEIGHT
    says = "a weight of the product (w/w)" if by_weight else "a volume of the product (w/v)"
    other = _words(answers, "unit") == ("mL" if by_weight else "g")
    if not other or "density" in answers:
        return f"{counts} counts what is in {says}."
    return (
        f"{counts} counts what is in {says}, and the pack is counted in "
        f"{_words(answers, 'unit')}: without the density nothing is taken from its stock."
    )


class Receive(_Ask):
    """What came in of a product."""

    def __init__(self, product: ProductView) -> None:
        self.product = product.product
        unit = self.product.pack_unit
        fields = [
            Field("number", "Lot", example="A123", required=True),
            Field("expires", "Expires", "date"),
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
