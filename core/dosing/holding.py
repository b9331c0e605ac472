"""How much of a product holds an amount of active substance: what really leaves the shelf."""

from __future__ import annotations

from core.dosing.arithmetic import AnyProduct, AnyStrength
from core.dosing.kinds import (
    ActiveMass,
    ActiveUnits,
    ProductMass,
    ProductVolume,
    Purity,
    Strength,
    UnitStrength,
)
from core.dosing.quantity import expect, made
from core.sourced import sourced


@sourced(equation="product = active substance / strength", source="ARITHMETIC", gives="")
def product_holding(active: ActiveMass | ActiveUnits, strength: AnyStrength) -> AnyProduct:
    """Return the product that holds an amount of active substance.

    Parameters
    ----------
    active : ActiveMass or ActiveUnits
    strength : Purity or Strength with a mass, UnitStrength with international units

    Returns
    -------
    ProductMass in g for a strength by weight, ProductVolume in mL for one by volume.

    Raises
    ------
    WrongKind
        For any other pairing.

    Examples
    --------
    >>> from core.dosing.quantities import active, strength
    >>> print(product_holding.plain(active(18, "g"), strength(25, "% w/w")))
    72 g
    >>> print(product_holding.plain(active(50, "mg"), strength(10, "mg/mL")))
    5 mL
    """
    expect(active, ActiveMass, ActiveUnits)
    expect(strength, *((UnitStrength,) if isinstance(active, ActiveUnits) else (Purity, Strength)))
    if isinstance(strength, Purity):
        return made(ProductMass, active.pint / strength.pint, "g")
    return made(ProductVolume, active.pint / strength.pint, "mL")
