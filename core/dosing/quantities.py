"""The only door for dose arithmetic: quantities that say what is weighed.

`dose(10, "mg/kg")`, `body(2, "kg")`, `strength(100, "mg/mL")` and so on give small frozen
objects, each of one kind; `core.dosing.arithmetic` takes nothing else. A bare number, a percent
or a ppm where none is listed, zero, a negative and what is not a number are refused here with a
sentence. mg/L and uL/L are two kinds, and so are a strength by volume and one by weight.

Every function raises `core.errors.BadInput` for a number that can not be, and its subclass
`core.errors.UnitError` for a unit that the kind is not written in, naming those that it is.
"""

from __future__ import annotations

from typing import TypeVar

from core.dosing.kinds import (
    ActiveMass,
    ActiveUnits,
    Body,
    Concentration,
    DailyDose,
    Density,
    Dose,
    FeedLevel,
    Flow,
    Food,
    Minutes,
    ProductMass,
    ProductVolume,
    Purity,
    Ration,
    Strength,
    UnitDose,
    UnitStrength,
    VolumeConcentration,
    VolumeDose,
    Water,
)
from core.dosing.quantity import Between, Quantity, spelled
from core.errors import BadInput, UnitError

Kind = TypeVar("Kind", bound=Quantity)


def dose(value: float, unit: str) -> Dose | DailyDose | UnitDose | VolumeDose:
    """Return a dose by body weight: mg/kg, mg/kg/day, IU/kg or mL/kg.

    Examples
    --------
    >>> str(dose(10, "mg/kg"))
    '10 mg/kg'
    """
    for kind in (Dose, DailyDose, UnitDose):
        if spelled(kind, unit):
            return kind(value, unit)
    if spelled(VolumeDose, unit):
        return VolumeDose(value, unit)
    raise _unlisted("dose", unit, Dose, DailyDose, UnitDose, VolumeDose)


def strength(value: float, unit: str) -> Strength | UnitStrength | Purity:
    """Return the strength of a product, by volume (mg/mL, % w/v, IU/mL) or weight (% w/w, mg/g).

    A plain percent is refused: 5 % is 50 mg/mL by volume and another thing by weight.
    """
    if spelled(Strength, unit):
        return Strength(value, unit)
    if spelled(UnitStrength, unit):
        return UnitStrength(value, unit)
    if unit != "%" and spelled(Purity, unit):
        return Purity(value, unit)
    raise _unlisted("strength", unit, Strength, UnitStrength, Purity)


def purity(value: float, unit: str) -> Purity:
    """Return the share of active substance by weight in a product: %, % w/w, mg/g, g/kg."""
    return Purity(value, unit)


def density(value: float, unit: str) -> Density:
    """Return the mass of a product in its volume: g/mL, kg/L."""
    return Density(value, unit)


def concentration(value: float, unit: str) -> Concentration | VolumeConcentration:
    """Return a concentration in water: by weight (mg/L, g/L, ug/L), or product by volume (uL/L).

    ppm is refused because it is read both ways, and mL/L because a slip of the prefix is a
    thousandfold: 1 mL/L is typed as 1000 uL/L.
    """
    if spelled(VolumeConcentration, unit):
        return VolumeConcentration(value, unit)
    if spelled(Concentration, unit):
        return Concentration(value, unit)
    raise _unlisted("concentration", unit, Concentration, VolumeConcentration)


def body(value: float, unit: str) -> Body:
    """Return the weight of the fish: kg, g, lb, mg."""
    return Body(value, unit)


def water(value: float, unit: str) -> Water:
    """Return a volume of water: L, mL, m3, gal (US), ft3, acre-ft."""
    return Water(value, unit)


def flow(value: float, unit: str) -> Flow:
    """Return a flow of water: L/min, L/s, L/h, m3/h, gal/min (US)."""
    return Flow(value, unit)


def minutes(value: float, unit: str = "min") -> Minutes:
    """Return a time: min, h, s."""
    return Minutes(value, unit)


def ration(value: float, unit: str) -> Ration:
    """Return the food of a day by body weight: %, g/kg."""
    return Ration(value, unit)


def feed_level(value: float, unit: str) -> FeedLevel:
    """Return the active substance in food: mg/kg, g/kg, g/lb, g/100 lb, g/ton (of 2000 lb)."""
    return FeedLevel(value, unit)


def food(value: float, unit: str) -> Food:
    """Return a mass of food: g, kg, lb, mg."""
    return Food(value, unit)


def active(value: float, unit: str) -> ActiveMass | ActiveUnits:
    """Return an amount of active substance: mg, g, kg, ug, lb, or IU."""
    if spelled(ActiveUnits, unit):
        return ActiveUnits(value, unit)
    return ActiveMass(value, unit)


def product(value: float, unit: str) -> ProductMass | ProductVolume:
    """Return an amount of product, weighed (g, mg, kg, ug, lb) or poured (mL, L, uL, gal)."""
    if spelled(ProductVolume, unit):
        return ProductVolume(value, unit)
    if spelled(ProductMass, unit):
        return ProductMass(value, unit)
    raise _unlisted("amount of product", unit, ProductMass, ProductVolume)


def between(low: Kind, high: Kind) -> Between[Kind]:
    """Return a quantity known only to lie between two of the same kind."""
    return Between(low, high)


def give_or_take(middle: Kind, percent: float) -> Between[Kind]:
    """Return a quantity known to so many per cent either way.

    Raises
    ------
    BadInput
        When the per cent is not above 0 and below 100.

    Examples
    --------
    >>> str(give_or_take(water(3390, "L"), 10))
    '3051 to 3729 L'
    """
    if not 0 < percent < 100:
        raise BadInput(
            f"Known to {percent} %: type a figure above 0 and below 100, for example 10."
        )
    return Between(middle.scaled(1 - percent / 100), middle.scaled(1 + percent / 100))


def _unlisted(word: str, unit: str, *kinds: type[Quantity]) -> UnitError:
    listed = ", ".join(name for kind in kinds for name in kind.units if name != "%")
    return UnitError(f"A {word} is written in {listed}; not in {unit or 'a bare number'}.")
