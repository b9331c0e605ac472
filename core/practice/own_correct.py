"""A product of the shelf corrected while nothing was given from it, or struck while none came in.

What was given was reckoned by its strength: from then on only its name and its price change.
"""

from __future__ import annotations

from core.errors import BadInput, Refusal
from core.practice import own_rows, shelf
from core.practice.door import edit
from core.practice.keep import Act
from core.practice.shelf import NewProduct
from core.practice.stock_log import TAKEN
from core.records import read
from core.records.tables import Lot, Product, StockLine, Treatment

ALWAYS = ("name", "price")
"""What may change of a product that something was given from."""


def correct_product(act: Act, key: str, new: NewProduct) -> None:
    """Correct a product, as its label says it.

    Raises
    ------
    BadInput
        For a product that can not be, with a sentence for each fault.
    Refusal
        When its strength, density or pack would change after something was given from it.
    """
    old = read.one(Product, key)
    wanted = {**vars(new), "name": new.name.strip()}
    changed = {name: value for name, value in wanted.items() if value != getattr(old, name)}
    if found := tuple(shelf.faults(Product(id=key, **wanted))):
        raise BadInput(" ".join(found))
    if set(changed) - set(ALWAYS) and used(key):
        raise Refusal(
            f"Something was given from {old.name}: its strength, density and pack stay.",
            "Write the other pack down as a product of its own.",
        )
    if changed:
        with edit("product", who=act.by, at=act.at) as doing:
            doing.change(Product, key, **changed)
        own_rows.read_again()


def used(key: str) -> bool:
    """Return whether something was given from a product."""
    lots = {lot.id for lot in read.find(Lot, product=key)}
    taken = (line for lot in lots for line in read.find(StockLine, lot=lot) if line.kind in TAKEN)
    return read.first(Treatment, product=key) is not None or any(True for _ in taken)


def strike_product(act: Act, key: str, why: str) -> None:
    """Strike a product of which nothing came in.

    Raises
    ------
    BadInput
        Without a reason.
    Refusal
        When something came in of it, or was given from it: its log stays.
    """
    row = read.one(Product, key)
    if not why.strip():
        raise BadInput("A product is struck with a reason.", "Say why in a few words.")
    if read.first(Lot, product=key) is not None or used(key):
        raise Refusal(
            f"Something came in of {row.name}: its log stays.", "Correct it, or send it back."
        )
    with edit("product struck", who=act.by, at=act.at) as doing:
        doing.strike(Product, key, why.strip())
    own_rows.read_again()
