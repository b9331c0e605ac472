"""Charge lines, and which of them what was done offers."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from core.billing.money import half_up
from core.errors import BadInput


@dataclass(frozen=True)
class ChargeLine:
    """One line of an invoice.

    Parameters
    ----------
    code : str
        Code of the price; empty for a line of the practice's own words.
    description : str
        As printed.
    quantity : Decimal
        How many, never a float.
    unit_price : int
        Minor units each; negative for a visible discount.
    tax_class : str
        Which rate it pays.
    origins : tuple of str
        Record rows it was made from; none means it was added by hand.

    Raises
    ------
    BadInput
        For a quantity that is not above zero, or an empty description.
    """

    code: str
    description: str
    quantity: Decimal
    unit_price: int
    tax_class: str
    origins: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if not self.quantity.is_finite() or self.quantity <= 0:
            raise BadInput(
                f"{self.description}: the quantity must be above zero.", "For example 1."
            )
        if not self.description.strip():
            raise BadInput("A charge without words can not be printed.", "Describe it.")

    @property
    def amount(self) -> int:
        """Return quantity x unit price in minor units, a half rounded away from zero."""
        return half_up(self.quantity * self.unit_price)

    @property
    def manual(self) -> bool:
        """Return whether it was added by hand, without a record behind it."""
        return not self.origins


@dataclass(frozen=True)
class Price:
    """A fee or an item with its price.

    Parameters
    ----------
    code, name, unit : str
        Identity, words for the invoice, and what one of it is.
    unit_price : int
        Minor units.
    tax_class : str
        Which rate it pays.
    when : str
        Kind of thing done that offers it; empty for one only chosen by hand.
    beyond : Decimal
        So much of it is in the other fees (miles, systems); only the rest is offered.
    most : Decimal or None
        At most so many on one invoice: a call-out is charged once a site.
    source : str
        Key of the source of the amount.
    """

    code: str
    name: str
    unit: str
    unit_price: int
    tax_class: str
    when: str = ""
    beyond: Decimal = Decimal(0)
    most: Decimal | None = None
    source: str = ""

    @classmethod
    def from_row(cls, code: str, row: Mapping[str, Any]) -> Price:
        """Make a price from its catalogue row."""
        most = row.get("most")
        return cls(
            code,
            row["name"],
            row["unit"],
            int(row["minor"]),
            row["tax_class"],
            row.get("when", ""),
            Decimal(row.get("beyond", 0)),
            None if most is None else Decimal(most),
            row["source"],
        )

    def line(self, quantity: Decimal, origins: tuple[str, ...] = ()) -> ChargeLine:
        """Return a charge line of so many of it."""
        return ChargeLine(self.code, self.name, quantity, self.unit_price, self.tax_class, origins)


@dataclass(frozen=True)
class Done:
    """Something that was done: its kind, the row it stands in, and how much of it.

    Kinds are the `when` of the prices, such as ``slide`` or ``water.panel``; what is
    dispensed or sold carries its code behind a colon, such as ``goods:water_test_kit``.
    """

    kind: str
    record: str
    quantity: Decimal = Decimal(1)


@dataclass(frozen=True)
class Offers:
    """Charge lines offered, and what was done that no price answers."""

    lines: tuple[ChargeLine, ...]
    unpriced: tuple[Done, ...]


def offers(done: Iterable[Done], prices: Iterable[Price]) -> Offers:
    """Return the charge lines that what was done offers, each traced to its records.

    Parameters
    ----------
    done : iterable of Done
        From the stages of a visit. The same record twice counts once, so that a stage
        entered again does not charge again.
    prices : iterable of Price
        In the order in which lines are to stand.

    Returns
    -------
    Offers
        One line a price, quantities added up; and what was done without a price, to be
        said and not forgotten.
    """
    once = tuple({(d.kind, d.record): d for d in done}.values())
    held = tuple(prices)
    lines = tuple(line for price in held if (line := _offer(price, once)) is not None)
    known = {price.when for price in held}
    return Offers(lines, tuple(d for d in once if d.kind not in known))


def _offer(price: Price, done: tuple[Done, ...]) -> ChargeLine | None:
    mine = tuple(d for d in done if price.when and d.kind == price.when)
    quantity = sum((d.quantity for d in mine), Decimal(0)) - price.beyond
    if price.most is not None:
        quantity = min(quantity, price.most)
    return price.line(quantity, tuple(d.record for d in mine)) if quantity > 0 else None
