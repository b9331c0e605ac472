"""A working solution of a disinfectant in quantities that say what is measured, and its age.

For equipment, never for a dose on fish. The stock is by volume (% w/v, mg/mL), or by weight: a
powder is weighed, a liquid needs its density. `core.dosing.dilution` has the same sum in bare
numbers, and what takes chlorine away again.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from core.dosing.arithmetic import (
    AnyConcentration,
    AnyProduct,
    AnyStrength,
    bath_mass,
    bath_volume,
    level_made_up_to,
    strength_of_liquid,
)
from core.dosing.kinds import (
    Concentration,
    Density,
    ProductMass,
    ProductVolume,
    Purity,
    Water,
)
from core.dosing.limits import over
from core.dosing.quantity import expect, expect_nothing
from core.errors import BadInput, Refusal
from core.sourced import sourced


@dataclass(frozen=True)
class WorkingSolution:
    """What is measured, and the water it is filled up with to the finished volume."""

    stock: AnyProduct
    finished: Water
    water: Water
    """To fill up with; the whole volume where a powder is weighed in."""

    def __str__(self) -> str:
        return f"{self.stock} of stock, filled up with water to {self.finished} ({self.water})"


@sourced(
    equation="stock = wanted level x finished volume / strength, made up to the volume",
    source="ARITHMETIC",
    gives="",
)
def working_solution(
    wanted: AnyConcentration,
    bucket: Water,
    stock: AnyStrength | None = None,
    density: Density | None = None,
) -> WorkingSolution:
    """Return how a working solution is made up *to* the volume of a bucket.

    Parameters
    ----------
    wanted : Concentration of active substance with a stock, VolumeConcentration without
        A label that says mL of product in a litre already counts the product itself.
    bucket : Water
        The finished solution.
    stock : Strength or Purity, optional
    density : Density, optional
        Of a liquid whose strength is by weight; without it the stock is weighed.

    Raises
    ------
    WrongKind
        For any other pairing, as a stock strength with a level by volume.
    Refusal
        When the stock is weaker than what is wanted.
    """
    expect(bucket, Water)
    measured = _measured(wanted, bucket, stock, density)
    if isinstance(measured, ProductMass):
        return WorkingSolution(measured, bucket, bucket)
    left = bucket.m_as("mL") - measured.m_as("mL")
    if left <= 0:
        raise Refusal(f"{stock} is too weak to give {wanted}.", "Take a stronger stock.")
    return WorkingSolution(measured, bucket, Water(left / 1000, "L"))


def _measured(
    wanted: AnyConcentration, bucket: Water, stock: AnyStrength | None, density: Density | None
) -> AnyProduct:
    if not isinstance(stock, Purity):
        expect_nothing(density, "only a strength by weight needs a density")
        return bath_volume(wanted, bucket, stock)
    if density is not None:
        return bath_volume(wanted, bucket, strength_of_liquid(stock, density))
    weighed = bath_mass(wanted, bucket, stock)
    assert isinstance(weighed, ProductMass)
    return weighed


@sourced(equation="level = stock x strength / finished volume", source="ARITHMETIC", gives="")
def level_of(volume: AnyProduct, bucket: Water, stock: AnyStrength) -> Concentration:
    """Return the level that a measured volume of stock gives in a bucket, in mg/L.

    Raises
    ------
    WrongKind
        For any other pairing.
    Refusal
        When there is more stock than the bucket holds.
    """
    expect(volume, ProductVolume)
    expect(bucket, Water)
    if over(volume.m_as("mL"), bucket.m_as("mL")):
        raise Refusal(f"{volume} of stock does not go into {bucket}.")
    return level_made_up_to(volume, stock, bucket)


@dataclass(frozen=True)
class Age:
    """How old a working solution is against its life."""

    hours: float
    life_hours: float
    until: datetime

    @property
    def over(self) -> bool:
        """Whether its life is over; at the very end it is."""
        return self.hours >= self.life_hours


def age(made: datetime, now: datetime, life_hours: float) -> Age:
    """Return the age of a working solution against the life that its label gives.

    Parameters
    ----------
    made, now : datetime
        Both with a time zone.
    life_hours : float
        Above zero and below 100,000, which is eleven years.

    Raises
    ------
    BadInput
        For a life that is not above zero, a moment without a time zone, or one to come.
    """
    if made.tzinfo is None or now.tzinfo is None:
        raise BadInput("The age of a solution needs moments with a time zone.")
    if not 0 < life_hours < 100_000:
        raise BadInput(f"A life of {life_hours} h can not be; type for example 24.")
    if made > now:
        raise BadInput("The solution was made later than now.", "Type when it was made.")
    return Age((now - made) / timedelta(hours=1), life_hours, made + timedelta(hours=life_hours))
