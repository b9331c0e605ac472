"""Medicines and shelf as their screen shows them, read at once with a fixed number of queries."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from core.dosing.medicines import Medicine
from core.practice import drug_log, own_rows, people, price_list, read_medicines, shelf
from core.practice.drug_log import Open
from core.practice.read_medicines import State
from core.practice.shelf import OnShelf, ProductView
from core.records.tables import Price


@dataclass(frozen=True)
class ShelfView:
    """Everything the screen shows."""

    day: date
    zone: str
    medicines: tuple[tuple[Medicine, State], ...]
    """By name and indication."""
    products: tuple[ProductView, ...]
    all_prices: tuple[Price, ...]
    prices: tuple[Price, ...]
    """Those that a product can have: no service."""
    open: tuple[Open, ...]
    """What stands in the way of closing the drug log of the day."""
    closed: bool
    counted: frozenset[str]
    """Ids of the lots that were counted on the day for the drug log."""

    def product_of(self, key: str) -> ProductView | None:
        """Return the product that a key names, or whose lot it names."""
        return next(
            (p for p in self.products if key in (p.product.id, *(x.lot.id for x in p.lots))), None
        )

    def lot(self, key: str) -> OnShelf | None:
        """Return the lot that a key names, or None."""
        return next((x for p in self.products for x in p.lots if x.lot.id == key), None)

    @property
    def on(self) -> int:
        """How many medicines are on."""
        return sum(state.on for _, state in self.medicines)


def view(day: date) -> ShelfView:
    """Return medicines and shelf on a day."""
    products, listed = shelf.products(), people.prices()
    states = read_medicines.held_states()
    rows = sorted(
        read_medicines.merged().values(), key=lambda m: (m.name.casefold(), m.indication, m.key)
    )
    return ShelfView(
        day,
        own_rows.held().zone,
        tuple((row, states[row.key]) for row in rows),
        products,
        listed,
        price_list.of_medicines(listed),
        drug_log.still_open(day),
        drug_log.closed(day),
        drug_log.counted(day),
    )
