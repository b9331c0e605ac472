"""The products of the practice's own shelf as the calculation takes them, and how much is taken."""

from __future__ import annotations

import re
from decimal import ROUND_HALF_UP, Decimal

from core.dosing.arithmetic import AnyStrength, strength_of_liquid
from core.dosing.holding import product_holding
from core.dosing.kinds import (
    ActiveMass,
    ActiveUnits,
    ProductMass,
    ProductVolume,
    Purity,
    UnitStrength,
)
from core.dosing.products import Product
from core.dosing.quantities import density, strength
from core.dosing.quantity import Quantity
from core.errors import BadInput, Refusal
from core.numbers import number
from core.practice import own_rows, read_medicines
from core.records import tables

STRENGTHS = ("mg/mL", "g/L", "% w/v", "IU/mL", "% w/w", "mg/g", "g/kg")
"""What a strength may count."""
PACKS = ("mL", "g")
"""What a stock may be counted in."""
STEP = Decimal("0.001")
"""Stock is reckoned to a thousandth of a mL or g."""

LEAST, MOST = 0.0001, 1_000_000
"""What the number of a strength can be."""
_STRENGTH = re.compile(r"([0-9][0-9.,]*)\s*(.*)\Z", re.ASCII)


def own_shelf() -> dict[str, Product]:
    """Return the products of the practice's own by key, with the agent of their medicine."""
    own = own_rows.held()
    known = read_medicines.merged()
    return {
        key: Product(key, row.name, known[row.medicine].name, strength_of(row))
        for key, row in own.products.items()
        if row.medicine in known
    }


def strength_typed(text: str) -> tuple[float, str]:
    """Return a strength as it is typed: its number, and what it counts, "" for a bare number.

    Raises
    ------
    BadInput
        Without a number that can be, or with a unit that no strength counts in.

    Examples
    --------
    >>> strength_typed("500 mg/g"), strength_typed("2,5 %W/V"), strength_typed("10")
    ((500.0, 'mg/g'), (2.5, '% w/v'), (10.0, ''))
    """
    found = _STRENGTH.match(text.strip())
    if not found:
        raise BadInput("This is not a strength.", "Type for example 100 or 500 mg/g.")
    value, said = number(found[1]), found[2].replace("percent", "%")
    if not LEAST <= value <= MOST:
        raise BadInput(f"A strength of {found[1][:12]} can not be.", "Type for example 100.")
    if not said:
        return value, ""
    bare = _bare(said)
    unit = next((one for one in STRENGTHS if _bare(one) == bare), None)
    if unit is not None:
        return value, unit
    if bare == "%":
        raise BadInput("% of a weight or of a volume?", "Type % w/w or % w/v.")
    raise BadInput(f"No strength counts {said[:12]}.", f"It counts {', '.join(STRENGTHS)}.")


def _bare(unit: str) -> str:
    return "".join(unit.casefold().split())


def strength_of(row: tables.Product) -> AnyStrength:
    """Return the strength of a product as a quantity.

    A liquid that is poured and sold by weight is reckoned by volume, by its density.
    """
    held = strength(row.strength, row.strength_unit.replace("percent", "%"))
    if row.pack_unit == "mL" and row.density_g_ml is not None and isinstance(held, Purity):
        return strength_of_liquid(held, density(row.density_g_ml, "g/mL"))
    return held


def exact(amount: float) -> Decimal:
    """Return an amount as it is kept in the stock, to a thousandth."""
    return Decimal(repr(float(amount))).quantize(STEP, ROUND_HALF_UP)


def in_stock_unit(row: tables.Product, amount: Quantity) -> Decimal:
    """Return an amount in what the stock of a product is counted in.

    Of active substance, the amount of product follows from its strength; between mass and volume
    its density counts.

    Raises
    ------
    Refusal
        For units of what is counted by mass, or the other way round; between mass and volume
        without a density.
    """
    amount = _of_product(row, amount)
    by_volume = isinstance(amount, ProductVolume)
    if by_volume == (row.pack_unit == "mL"):
        return exact(amount.m_as(row.pack_unit))
    if row.density_g_ml is None:
        raise Refusal(
            f"{amount} of {row.name} is not counted in {row.pack_unit} without its density.",
            "Enter the density of the product, from its data sheet.",
        )
    heavy = density(row.density_g_ml, "g/mL").m_as("g/mL")
    return exact(amount.m_as("mL") * heavy if by_volume else amount.m_as("g") / heavy)


def _of_product(row: tables.Product, amount: Quantity) -> ProductMass | ProductVolume:
    if isinstance(amount, ProductMass | ProductVolume):
        return amount
    counts_units = isinstance(strength_of(row), UnitStrength)
    if not isinstance(amount, ActiveMass | ActiveUnits) or counts_units != isinstance(
        amount, ActiveUnits
    ):
        raise Refusal(
            f"{amount} can not be reckoned in {row.name} of {strength_of(row)}.",
            "Choose a product whose strength counts the same.",
        )
    return product_holding(amount, strength_of(row))
