"""Dialogs of the price list: a price added, and one struck with the reason."""

from __future__ import annotations

from collections.abc import Callable

from core.practice import price_list
from core.practice.keep import Act
from core.practice.price_list import USES
from core.records.tables import Price, TaxClass
from tui.base import RoundsApp
from tui.widgets.dialog import Answers, FormDialog, reason
from tui.widgets.field import Choice, Field
from tui.widgets.row import Widths

_USES = tuple(Choice(use[0], use, use) for use in USES)
WIDTHS = Widths(label=22, value=32)
MEANS = "Of a medicine or goods it is the price of one pack: a product of the shelf can have it."


def new_price(app: RoundsApp, now: Callable[[], Act], taxes: tuple[TaxClass, ...]) -> FormDialog:
    """Return the dialog that adds a price."""
    classes = tuple(Choice("", tax.code, tax.name) for tax in taxes)
    fields = (
        Field("name", "Name", example="Florfenicol, 100 g", required=True),
        Field("use", "What it is for", "choice", choices=_USES, required=True),
        Field("amount", "Price before tax", "money", low=0, high=9_999_999, required=True),
        Field("tax", "Tax class", "pick", choices=classes, required=True),
    )

    async def done(answers: Answers) -> None:
        name, use, tax = (answers[key].words for key in ("name", "use", "tax"))
        await app.save(price_list.add_price, now(), name, use, answers["amount"].exact, tax)

    return FormDialog("A price for the list", fields, done, lambda _: MEANS, widths=WIDTHS)


def struck(app: RoundsApp, now: Callable[[], Act], price: Price) -> FormDialog:
    """Return the dialog that strikes a price."""

    async def done(why: str) -> None:
        await app.save(price_list.strike_price, now(), price.id, why)

    return reason(f"Strike the price {price.name}", done, "not sold any more")
