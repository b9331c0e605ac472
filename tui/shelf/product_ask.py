"""The dialogs of a product of the shelf: a new one, as its label says it, or one corrected."""

from __future__ import annotations

from core.numbers import plain
from core.practice import own_correct, shelf
from core.practice.own_products import PACKS, STRENGTHS, strength_typed
from core.practice.shelf import NewProduct
from core.practice.shelf_view import ShelfView
from core.records.tables import Product
from tui.shelf.ask import WIDTHS, Ask, words_of
from tui.widgets.choices import YES_NO
from tui.widgets.dialog import Answers
from tui.widgets.field import Choice, Entry, Field

BY_WEIGHT = ("% w/w", "mg/g", "g/kg")
_UNITS = tuple(
    Choice(letter, unit, unit) for letter, unit in zip("abcdefg", STRENGTHS, strict=True)
)
_PACKS = tuple(Choice(pack[0].lower(), pack, pack) for pack in PACKS)


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


class AddProduct(Ask):
    """A product, as its label says it."""

    def __init__(self, view: ShelfView, old: Product | None = None) -> None:
        self.made = old.id if old is not None else ""
        """The product that is corrected, or that was just made."""
        title = f"Correct {old.name}" if old is not None else "A product for the shelf"
        answers = _product_answers(view, old) if old is not None else None
        super().__init__(title, _product_fields(view), self._done, _weighed, answers, widths=WIDTHS)

    async def _keep(self, field: Field, entry: Entry) -> None:
        if field.key == "strength":
            amount, unit = strength_typed(entry.words)
            entry = Entry(plain(amount), amount)
            if unit:
                self.answers["counts"] = Entry(unit, unit)
        await super()._keep(field, entry)
        if field.key == "strength":
            self.form.refresh_rows()

    async def _done(self, answers: Answers) -> None:
        new = NewProduct(
            answers["medicine"].words,
            answers["name"].words,
            answers["strength"].number,
            answers["counts"].words,
            answers["pack"].number,
            answers["unit"].words,
            answers["density"].number if "density" in answers else None,
            words_of(answers, "price"),
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
        Field("strength", "Strength", example="100, 500 mg/g", required=True),
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
    # What it has and can not have any more is named too, to be seen and put right.
    named = {p.code: p.name for p in view.all_prices} | named
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
    counts = words_of(answers, "counts")
    if not counts:
        return ""
    by_weight = counts in BY_WEIGHT
    says = "a weight of the product (w/w)" if by_weight else "a volume of the product (w/v)"
    other = words_of(answers, "unit") == ("mL" if by_weight else "g")
    if not other or "density" in answers:
        return f"{counts} counts what is in {says}."
    return (
        f"{counts} counts what is in {says}, and the pack is counted in "
        f"{words_of(answers, 'unit')}: without the density nothing is taken from its stock."
    )
