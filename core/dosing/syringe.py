"""From a volume to what is drawn on a real syringe, and a dilution when the volume is too small."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from core.dosing.arithmetic import AnyProduct, AnyStrength
from core.dosing.kinds import Body, ProductVolume, Strength
from core.dosing.limits import over
from core.dosing.quantity import expect
from core.errors import BadInput, Refusal
from core.numbers import plain
from core.sourced import sourced

LEAST_GRADUATIONS = 5.0
"""Under about five graduations the reading error is too large: our rule, from memory."""

WANTED_GRADUATIONS = 10.0
"""A dilution is proposed that gives at least twice the least: our rule, from memory."""

FACTORS = (2, 4, 5, 10, 20, 50, 100)
"""Dilutions that are easily made with the marks of a syringe."""


@dataclass(frozen=True)
class Syringe:
    """A syringe: what it holds and the step between its marks, in mL."""

    name: str
    capacity_ml: float
    graduation_ml: float

    def __post_init__(self) -> None:
        if not 0 < self.graduation_ml <= self.capacity_ml:
            raise BadInput(
                f"{self.name}: the step between marks must be above 0 and within the "
                f"{plain(self.capacity_ml)} mL it holds."
            )

    def __str__(self) -> str:
        return f"{self.name}, marks every {plain(self.graduation_ml)} mL"


def from_table(table: Mapping[str, Mapping[str, Any]]) -> tuple[Syringe, ...]:
    """Return the syringes of the catalogue, in its order."""
    return tuple(
        Syringe(row["name"], row["capacity_ml"], row["graduation_ml"]) for row in table.values()
    )


@dataclass(frozen=True)
class Drawn:
    """A volume as it can be drawn: to the nearest mark, and how far that is from the wish."""

    syringe: Syringe
    wanted: AnyProduct
    graduations: float
    """How many marks the wanted volume is."""
    drawn_ml: float
    error_percent: float
    """Drawn against wanted; below zero is too little."""

    @property
    def too_small(self) -> bool:
        """Whether the volume is under the least number of graduations."""
        return over(LEAST_GRADUATIONS, self.graduations)

    def __str__(self) -> str:
        return (
            f"{plain(self.drawn_ml)} mL on {self.syringe}; wanted {self.wanted}, "
            f"error {self.error_percent:+.1f} %"
        )


@dataclass(frozen=True)
class Dilution:
    """A proposal: one part of product with so many parts of diluent, and what is drawn then."""

    factor: int
    strength: Strength
    drawn: Drawn

    @property
    def sentence(self) -> str:
        """The recipe in words."""
        parts = f"1 part product with {self.factor - 1} part{'s' * (self.factor > 2)} diluent"
        return f"Dilute to {self.strength} ({parts}), then draw {self.drawn}."

    def __str__(self) -> str:
        return self.sentence


@sourced(equation="marks = volume / step, drawn to the nearest mark", source="ARITHMETIC", gives="")
def draw(volume: AnyProduct, syringe: Syringe) -> Drawn:
    """Return a volume as drawn on a syringe, with its rounding error.

    Raises
    ------
    Refusal
        When the syringe does not hold it.
    """
    expect(volume, ProductVolume)
    wanted_ml = volume.m_as("mL")
    if over(wanted_ml, syringe.capacity_ml):
        raise Refusal(
            f"{volume} does not go into {syringe.name}.", "Take a larger one or split it."
        )
    graduations = wanted_ml / syringe.graduation_ml
    drawn_ml = round(round(graduations) * syringe.graduation_ml, 6)
    error = 100 * (drawn_ml - wanted_ml) / wanted_ml
    return Drawn(syringe, volume, graduations, drawn_ml, error)


@sourced(equation="smallest syringe that holds the volume", source="ARITHMETIC", gives="")
def choose(volume: AnyProduct, syringes: Iterable[Syringe]) -> Syringe:
    """Return the smallest syringe that holds a volume; of equals, the one with finer marks.

    Raises
    ------
    Refusal
        When none of them holds it.
    """
    expect(volume, ProductVolume)
    fits = [s for s in syringes if not over(volume.m_as("mL"), s.capacity_ml)]
    if not fits:
        raise Refusal(f"No syringe at hand holds {volume}.", "Split it over several syringes.")
    return min(fits, key=lambda s: (s.capacity_ml, s.graduation_ml))


@sourced(equation="strength / factor, volume x factor", source="ARITHMETIC", gives="")
def dilute(volume: AnyProduct, strength: AnyStrength, syringe: Syringe, factor: int) -> Dilution:
    """Return what one part of product made up to `factor` parts does to strength and volume.

    Raises
    ------
    BadInput
        For a factor below 2.
    Refusal
        When the syringe does not hold the diluted volume.
    """
    expect(volume, ProductVolume)
    expect(strength, Strength)
    if factor < 2:
        raise BadInput(f"A dilution of 1 in {factor} is none; type 2 or more, for example 4.")
    weaker = Strength(strength.m_as("mg/mL") / factor, "mg/mL")
    return Dilution(factor, weaker, draw(volume.scaled(factor), syringe))


@sourced(
    equation="under five graduations: the first easy dilution that gives ten",
    source="ARITHMETIC",
    gives="",
)
def propose_dilution(
    volume: AnyProduct, strength: AnyStrength, syringe: Syringe
) -> Dilution | None:
    """Propose a dilution when a volume is too small to be drawn exactly.

    Returns
    -------
    Dilution, or None when the volume has five graduations or more.

    Raises
    ------
    Refusal
        When even the largest easy dilution gives too few graduations, or the syringe would
        not hold it.
    """
    now = draw(volume, syringe)
    if not now.too_small:
        return None
    for factor in FACTORS:
        if not over(WANTED_GRADUATIONS, now.graduations * factor):
            return dilute(volume, strength, syringe, factor)
    raise Refusal(
        f"{volume} is too small for {syringe.name} even diluted 1 in {FACTORS[-1]}.",
        "Take a finer syringe or a weaker product.",
    )


@sourced(equation="most = mL per kg of the route x body weight", source="ARITHMETIC", gives="")
def over_route_limit(
    volume: AnyProduct, body: Body, route: str, most_ml_kg: Mapping[str, float]
) -> str | None:
    """Return a sentence when a volume is more than a route takes, else None.

    Parameters
    ----------
    most_ml_kg : mapping
        Route to the most in mL/kg; a route that is not in it has no limit on record.
    """
    expect(volume, ProductVolume)
    expect(body, Body)
    if route not in most_ml_kg:
        return f"No largest volume is on record for {route}."
    most = most_ml_kg[route] * body.m_as("kg")
    if not over(volume.m_as("mL"), most):
        return None
    return (
        f"{volume} is more than the {plain(most_ml_kg[route])} mL/kg taken for {route}: "
        f"at most {plain(round(most, 4))} mL for {body}; split it over several sites."
    )
