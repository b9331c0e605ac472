"""The practice's price list: a price added or struck, and which of them a medicine can have."""

from __future__ import annotations

from decimal import Decimal

from core.billing.money import half_up
from core.catalogue import load
from core.errors import BadInput, Refusal
from core.practice.door import edit
from core.practice.keep import Act
from core.records import read
from core.records.keys import new_key
from core.records.tables import Practice, Price, Product, TaxClass

USES = ("medicine", "goods", "service")
"""What a price can be for."""
SOLD = ("medicine", "goods")
"""What a product of the shelf can be sold as."""
OWN = "own."
"""How the code of a price begins that the practice added: ``own.medicine.`` and a key."""


def use(price: Price) -> str:
    """Return what a price is for, one of `USES`.

    That of the catalogue's list is what its rule says; that of another list its tax class.
    """
    row = load.table("prices")["price"].get(price.code)
    if row is not None:
        said = str(row.get("when", "")).partition(":")[0]
    elif price.code.startswith(OWN):
        said = price.code.split(".")[1]
    else:
        said = price.tax_class
    return said if said in USES else "service"


def of_medicines(prices: tuple[Price, ...]) -> tuple[Price, ...]:
    """Return those prices that a product of the shelf can have: no service."""
    return tuple(price for price in prices if use(price) in SOLD)


def add_price(act: Act, name: str, for_what: str, amount: Decimal, tax_class: str) -> str:
    """Add a price, before tax; return its code.

    Raises
    ------
    BadInput
        Without a name, with the name of another price, below zero, or for a use or a class of
        tax that there is not.
    """
    bare = " ".join(name.split())
    if not bare:
        raise BadInput("A price has a name.", "For example Florfenicol, 100 g.")
    if any(p.name.casefold() == bare.casefold() for p in read.find(Price)):
        raise BadInput(f"{bare} is in the price list already.", "Enter on it changes its amount.")
    if for_what not in USES:
        raise BadInput(f"A price is not for {for_what}.", f"It is for {', '.join(USES)}.")
    if amount < 0:
        raise BadInput("A price is not below zero.", "For example 45.00.")
    if read.first(TaxClass, code=tax_class) is None:
        raise BadInput(f"There is no tax class {tax_class}.", "Choose one of the practice's own.")
    exponent = read.find(Practice)[0].currency_exponent
    key = new_key()
    code = f"{OWN}{for_what}.{key}"
    minor = half_up(amount.scaleb(exponent))
    row = Price(id=key, code=code, name=bare, unit_minor=minor, tax_class=tax_class)
    with edit("price added", who=act.by, at=act.at) as doing:
        doing.add(row)
    return code


def strike_price(act: Act, price: str, why: str) -> None:
    """Strike a price that the practice added; lines that stand on a bill keep theirs.

    Raises
    ------
    BadInput
        Without a reason.
    Refusal
        For a price of the list a practice begins with, which its own rule offers, and while a
        product of the shelf is sold at it.
    """
    row = read.one(Price, price)
    must_be_strikable(row)
    if not why.strip():
        raise BadInput("A price is struck with a reason.", "Say why in a few words.")
    with edit("price struck", who=act.by, at=act.at) as doing:
        doing.strike(Price, price, why.strip())


def must_be_strikable(row: Price) -> None:
    """Refuse, before a reason is asked for, to strike a price that stays.

    Raises
    ------
    Refusal
        As `strike_price` does.
    """
    if row.code in load.table("prices")["price"]:
        raise Refusal(
            f"{row.name} is offered by what is done at a visit: it stays in the list.",
            "Enter changes its amount.",
        )
    product = read.first(Product, price=row.code)
    if product is not None:
        raise Refusal(
            f"{product.name} on the shelf is sold at {row.name}.",
            "Give the product another price first.",
        )
