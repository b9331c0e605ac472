"""Strengths as labels say them: by volume, by weight, or by weight with the density of a liquid."""

from __future__ import annotations

from core.dosing.arithmetic import AnyStrength, strength_of_liquid
from core.dosing.quantities import density, strength
from core.practice.medicines import typed

EXAMPLE = "100 mg/mL, 10 % w/w, or of a liquid 35 % w/w, 1.13 g/mL"


def understood(value: float, unit: str) -> AnyStrength:
    """Return a strength; a liquid sold by weight is reckoned by volume when its density is said.

    Raises
    ------
    BadInput
        For a unit that a strength or a density is not written in.

    Examples
    --------
    >>> str(understood(35.0, "% w/w, 1.132 g/mL"))
    '396.2 mg/mL'
    """
    by_weight, comma, heavy = unit.partition(",")
    if not comma:
        return strength(value, unit)
    return strength_of_liquid(
        strength(value, by_weight.strip()), density(*typed(heavy, "1.132 g/mL"))
    )
