"""Dose arithmetic: from a dose, a weight or a volume to what is weighed out or drawn up.

Takes quantities of `core.dosing.quantities` and nothing else: each function looks at the kind of
every argument before it multiplies, and the registry looks at the dimensions of what came out.
"""

from __future__ import annotations

from core.dosing.kinds import (
    ActiveMass,
    ActiveUnits,
    Body,
    Concentration,
    DailyDose,
    Density,
    Dose,
    FeedLevel,
    Food,
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
from core.dosing.quantity import expect, expect_nothing, made
from core.sourced import sourced

AnyDose = Dose | DailyDose | UnitDose | VolumeDose
AnyStrength = Strength | UnitStrength | Purity
AnyConcentration = Concentration | VolumeConcentration
AnyMass = ActiveMass | ActiveUnits | ProductMass
AnyProduct = ProductMass | ProductVolume


@sourced(equation="mass = dose x body weight", source="ARITHMETIC", gives="")
def dose_mass(dose: AnyDose, body: Body) -> ActiveMass | ActiveUnits:
    """Return the active substance for one dose.

    Parameters
    ----------
    dose : Dose or UnitDose
    body : Body

    Returns
    -------
    ActiveMass in mg, or ActiveUnits for a dose in international units.

    Raises
    ------
    WrongKind
        For any other pairing.
    """
    expect(dose, Dose, UnitDose)
    expect(body, Body)
    amount = dose.pint * body.pint
    if isinstance(dose, UnitDose):
        return made(ActiveUnits, amount, "IU")
    return made(ActiveMass, amount, "mg")


@sourced(
    equation="volume = dose x body weight / strength, or dose by volume x body weight",
    source="ARITHMETIC",
    gives="",
)
def draw_up_volume(dose: AnyDose, body: Body, strength: AnyStrength | None = None) -> ProductVolume:
    """Return the volume to draw up for one dose.

    Parameters
    ----------
    dose : Dose, UnitDose or VolumeDose
    body : Body
    strength : Strength with a Dose, UnitStrength with a UnitDose, None with a VolumeDose

    Returns
    -------
    ProductVolume in mL.

    Raises
    ------
    WrongKind
        For any other pairing, a strength by weight included: it needs a density first.
    """
    expect(body, Body)
    if isinstance(dose, VolumeDose):
        expect_nothing(strength, "a dose by volume is drawn up as it is")
        return made(ProductVolume, dose.pint * body.pint, "mL")
    expect(dose, Dose, UnitDose)
    expect(strength, Strength if isinstance(dose, Dose) else UnitStrength)
    assert strength is not None
    return made(ProductVolume, dose.pint * body.pint / strength.pint, "mL")


@sourced(
    equation="mass = concentration x water volume, / purity for what is weighed out",
    source="ARITHMETIC",
    gives="",
)
def bath_mass(
    concentration: AnyConcentration, water: Water, purity: AnyStrength | None = None
) -> ActiveMass | ProductMass:
    """Return the mass that brings water to a concentration.

    Parameters
    ----------
    concentration : Concentration
        By weight.
    water : Water
    purity : Purity, optional
        Active substance by weight in the product.

    Returns
    -------
    ProductMass in g when the purity is given; without it ActiveMass in g.

    Raises
    ------
    WrongKind
        For any other pairing.
    """
    expect(concentration, Concentration)
    expect(water, Water)
    amount = concentration.pint * water.pint
    if purity is None:
        return made(ActiveMass, amount, "g")
    expect(purity, Purity)
    return made(ProductMass, amount / purity.pint, "g")


@sourced(
    equation="volume = concentration x water volume / strength, or by volume x water volume",
    source="ARITHMETIC",
    gives="",
)
def bath_volume(
    concentration: AnyConcentration, water: Water, strength: AnyStrength | None = None
) -> ProductVolume:
    """Return the volume of a liquid product that brings water to a concentration.

    The water volume is that of the finished bath: the product is made up *to* it.

    Parameters
    ----------
    concentration : Concentration with a strength, VolumeConcentration without
    water : Water
    strength : Strength, or None with a concentration by volume

    Returns
    -------
    ProductVolume in mL.

    Raises
    ------
    WrongKind
        For any other pairing.
    """
    expect(concentration, Concentration, VolumeConcentration)
    expect(water, Water)
    if isinstance(concentration, VolumeConcentration):
        expect_nothing(strength, "uL/L already counts the product itself")
        return made(ProductVolume, concentration.pint * water.pint, "mL")
    expect(strength, Strength)
    assert strength is not None
    return made(ProductVolume, concentration.pint * water.pint / strength.pint, "mL")


@sourced(equation="level in food = dose of a day / ration of a day", source="ARITHMETIC", gives="")
def medicated_feed(dose: AnyDose, ration: Ration) -> FeedLevel:
    """Return the active substance that the food must hold.

    Parameters
    ----------
    dose : Dose or DailyDose
        What the fish are to get in one day.
    ration : Ration
        What they eat in one day; always asked for, since the level hides it.

    Returns
    -------
    FeedLevel in mg/kg of food.

    Raises
    ------
    WrongKind
        For any other pairing.
    """
    expect(dose, Dose, DailyDose)
    expect(ration, Ration)
    daily = DailyDose(dose.magnitude, f"{dose.unit}/day") if isinstance(dose, Dose) else dose
    return made(FeedLevel, daily.pint / ration.pint, "mg/kg")


@sourced(equation="dose of a day = level in food x ration of a day", source="ARITHMETIC", gives="")
def dose_in_feed(level: FeedLevel, ration: Ration) -> DailyDose:
    """Return what the fish get in a day from medicated food, in mg/kg/day."""
    expect(level, FeedLevel)
    expect(ration, Ration)
    return made(DailyDose, level.pint * ration.pint, "mg/kg/day")


@sourced(equation="premix = level in food x food / purity", source="ARITHMETIC", gives="")
def premix_mass(level: FeedLevel, food: Food, purity: AnyStrength) -> ProductMass:
    """Return the premix or powder to mix into a mass of food, in g."""
    expect(level, FeedLevel)
    expect(food, Food)
    expect(purity, Purity)
    return made(ProductMass, level.pint * food.pint / purity.pint, "g")


@sourced(equation="food of a day = ration x body weight", source="ARITHMETIC", gives="")
def daily_food(ration: Ration, body: Body) -> Food:
    """Return the food of one day, in g."""
    expect(ration, Ration)
    expect(body, Body)
    return Food(ration.m_as("g/kg") * body.m_as("kg"), "g")


@sourced(equation="concentration = mass / water volume", source="ARITHMETIC", gives="")
def bath_level(mass: AnyMass, water: Water) -> Concentration:
    """Return the concentration that a mass of active substance gives, in mg/L."""
    expect(mass, ActiveMass)
    expect(water, Water)
    return made(Concentration, mass.pint / water.pint, "mg/L")


@sourced(equation="concentration = volume x strength / final volume", source="ARITHMETIC", gives="")
def level_made_up_to(volume: AnyProduct, strength: AnyStrength, water: Water) -> Concentration:
    """Return the concentration when a product is made up *to* a final volume, in mg/L."""
    expect(volume, ProductVolume)
    expect(strength, Strength)
    expect(water, Water)
    return made(Concentration, volume.pint * strength.pint / water.pint, "mg/L")


@sourced(
    equation="concentration = volume x strength / (water volume + volume)",
    source="ARITHMETIC",
    gives="",
)
def level_added_to(volume: AnyProduct, strength: AnyStrength, water: Water) -> Concentration:
    """Return the concentration when a product is added *to* a volume of water, in mg/L."""
    expect(volume, ProductVolume)
    expect(water, Water)
    whole = Water(water.m_as("L") + volume.m_as("L"), "L")
    return level_made_up_to(volume, strength, whole)


@sourced(equation="concentration = volume of product / water volume", source="ARITHMETIC", gives="")
def level_by_volume(volume: AnyProduct, water: Water) -> VolumeConcentration:
    """Return the concentration by volume that a liquid product gives, in uL/L."""
    expect(volume, ProductVolume)
    expect(water, Water)
    return made(VolumeConcentration, volume.pint / water.pint, "uL/L")


@sourced(equation="dose = volume x strength / body weight", source="ARITHMETIC", gives="")
def dose_given(volume: AnyProduct, strength: AnyStrength, body: Body) -> Dose:
    """Return the dose that a volume drawn up gives, in mg/kg."""
    expect(volume, ProductVolume)
    expect(strength, Strength)
    expect(body, Body)
    return made(Dose, volume.pint * strength.pint / body.pint, "mg/kg")


@sourced(equation="strength by volume = purity x density", source="ARITHMETIC", gives="")
def strength_of_liquid(purity: AnyStrength, density: Density) -> Strength:
    """Return the strength by volume of a liquid sold by weight, in mg/mL.

    35 % by weight is not 350 mg/mL: the liquid is heavier than water.
    """
    expect(purity, Purity)
    expect(density, Density)
    return made(Strength, purity.pint * density.pint, "mg/mL")


@sourced(equation="body weight = most that may be given / dose", source="ARITHMETIC", gives="")
def body_at_cap(cap: AnyMass, dose: AnyDose) -> Body:
    """Return the body weight at which one dose reaches the most that may be given, in kg."""
    expect(cap, ActiveUnits, ActiveMass)
    expect(dose, UnitDose if isinstance(cap, ActiveUnits) else Dose)
    return made(Body, cap.pint / dose.pint, "kg")
