"""From an amount to level scoops or spoons, with the rounding that this takes and its error."""

from __future__ import annotations

from dataclasses import dataclass

from core.dosing.arithmetic import AnyProduct
from core.dosing.kinds import Density, ProductMass, ProductVolume
from core.dosing.limits import over
from core.dosing.quantity import expect
from core.errors import BadInput
from core.numbers import plain
from core.sourced import sourced

TOO_ROUGH_PERCENT = 10.0
"""A rounding of more than this is said as a caution: our rule, from memory."""

PARTS = (1, 2, 4)
"""A scoop is filled whole, by halves or by quarters."""


@dataclass(frozen=True)
class Scoop:
    """A scoop or spoon: what it holds level full, weighed or by volume, and how it is filled."""

    name: str
    holds: AnyProduct
    parts: int = 4
    """Into how many equal parts its filling is judged by eye."""

    def __post_init__(self) -> None:
        expect(self.holds, ProductMass, ProductVolume)
        if self.parts not in PARTS:
            raise BadInput(f"{self.name}: a scoop is filled whole, by halves or by quarters.")


@dataclass(frozen=True)
class Scooped:
    """An amount as it is scooped: how many scoops, what they hold, how far that is off."""

    scoop: Scoop
    wanted: AnyProduct
    count: float
    error_percent: float
    """Scooped against wanted; below zero is too little."""

    @property
    def caution(self) -> str:
        """Why it should be weighed instead; "" when the rounding is small enough."""
        return too_rough(self.error_percent)

    def __str__(self) -> str:
        many = f"{plain(self.count)} x {self.scoop.name} of {self.scoop.holds}"
        held = f"{many}, level; wanted {self.wanted}, error {self.error_percent:+.1f} %"
        return f"{held}. {self.caution}" if self.caution else f"{held}."


def too_rough(error_percent: float) -> str:
    """Return the caution for a rounding, "" up to 10 % either way.

    Examples
    --------
    >>> too_rough(10.0), too_rough(-10.5)
    ('', 'Rounded by -10.5 %, which is more than 10 %: weigh or measure it more finely.')
    """
    if not over(abs(error_percent), TOO_ROUGH_PERCENT):
        return ""
    return (
        f"Rounded by {error_percent:+.1f} %, which is more than {plain(TOO_ROUGH_PERCENT)} %: "
        "weigh or measure it more finely."
    )


@sourced(equation="scoops = amount / scoop, to the nearest part", source="ARITHMETIC", gives="")
def scooped(amount: AnyProduct, scoop: Scoop) -> Scooped:
    """Return an amount of product as level scoops, with its rounding error.

    Raises
    ------
    WrongKind
        When a mass is to be scooped with a scoop known by volume, or the other way round.
    """
    expect(amount, ProductMass, ProductVolume)
    expect(scoop.holds, type(amount))
    whole = amount.magnitude / scoop.holds.m_as(amount.unit)
    count = round(whole * scoop.parts) / scoop.parts
    return Scooped(scoop, amount, count, 100 * (count - whole) / whole)


@sourced(equation="held = volume of scoop x density of the powder", source="ARITHMETIC", gives="")
def powder_in(volume: AnyProduct, density: Density) -> ProductMass:
    """Return the powder that a volume holds by its bulk density, in g.

    Raises
    ------
    WrongKind
        For anything but a volume of product and a density.
    """
    expect(volume, ProductVolume)
    expect(density, Density)
    return ProductMass(volume.m_as("mL") * density.m_as("g/mL"), "g")
