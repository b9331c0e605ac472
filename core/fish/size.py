"""Weight from length, and how a fish compares with a standard of its length."""

from __future__ import annotations

from dataclasses import dataclass
from math import isfinite, log10

from core.errors import BadInput, OutOfRange
from core.fish.species import Species
from core.fish.standard_weights import STANDARD_WEIGHTS, StandardWeight
from core.numbers import plain
from core.sourced import sourced

ESTIMATE_ERROR_PERCENT = 20.0
"""Band put round a weight that was worked out from a length: from memory."""


@dataclass(frozen=True)
class WeightEstimate:
    """A weight worked out from a length, never weighed.

    Attributes
    ----------
    weight_g, low_g, high_g : float
        The figure and its error band, in grams.
    length_type : str
        The length the equation wants: TL total, FL to the fork, SL standard.
    note : str
        What the row warns of; may be empty.
    source, how : str
        Key of the source, and how the row is known.
    """

    weight_g: float
    low_g: float
    high_g: float
    length_type: str
    note: str
    source: str
    how: str


@sourced(equation="W = a L^b, L in cm", source="FROESE06")
def weight_from_length_g(length_cm: float, a: float, b: float) -> float:
    """Return the weight in grams of a fish of this length.

    Parameters
    ----------
    length_cm : float
        Length in cm, of the type for which `a` and `b` were fitted.
    a, b : float
        Coefficients of the species for cm and grams; no unit.

    Raises
    ------
    BadInput
        When the length or a coefficient is not above zero.

    Notes
    -----
    Source: Froese 2006 for the form; `a` and `b` carry their own.

    Examples
    --------
    >>> round(weight_from_length_g(10.0, 0.03162, 3.0), 2)
    31.62
    """
    _above_zero("length", "cm", length_cm)
    if not (a > 0 and b > 0 and isfinite(a * b)):
        raise BadInput("The length to weight coefficients must be above zero, as a 0.02, b 3.0.")
    return float(a * length_cm**b)


def estimated_weight(
    species: Species, length_cm: float, error_percent: float = ESTIMATE_ERROR_PERCENT
) -> WeightEstimate:
    """Return the weight in grams of one fish from its length in cm, with its error band.

    Raises
    ------
    BadInput
        When the species has no equation.
    OutOfRange
        When the length lies outside the fish that were measured, where that is known.
    """
    row = species.length_weight
    if row is None:
        raise BadInput(f"No length to weight equation is kept for {species.common}: weigh it.")
    low, high = row.shortest_cm, row.longest_cm
    if (low is not None and length_cm < low) or (high is not None and length_cm > high):
        raise OutOfRange(
            f"No figure: {plain(length_cm)} cm lies outside the {species.common} that were "
            f"measured, {plain(low or 0.0)} to {plain(high or 0.0)} cm {row.length_type}: weigh it."
        )
    weight = weight_from_length_g(length_cm, row.a, row.b)
    band = weight * error_percent / 100
    return WeightEstimate(
        weight, weight - band, weight + band, row.length_type, row.note, row.source, row.how
    )


@sourced(equation="K = 100 W / L^3, W in g, L in cm", source="ARITHMETIC", gives="")
def condition_factor(weight_g: float, length_cm: float) -> float:
    """Return Fulton's condition factor (no unit) from grams and cm.

    Raises
    ------
    BadInput
        When weight or length is not above zero.

    Examples
    --------
    >>> condition_factor(10.0, 10.0)
    1.0
    """
    _above_zero("weight", "g", weight_g)
    _above_zero("length", "cm", length_cm)
    return 100 * weight_g / length_cm**3


def standard_weight_row(species: str) -> StandardWeight:
    """Return the published equation for a species by its common name, in any case.

    Raises
    ------
    BadInput
        When no equation is kept under that name; the sentence lists those that are.
    """
    for name, row in STANDARD_WEIGHTS.items():
        if name.casefold() == species.strip().casefold():
            return row
    raise BadInput(
        f"No standard weight is published here for {species}.",
        f"Known: {', '.join(STANDARD_WEIGHTS)}.",
    )


@sourced(
    equation="log10 Ws = intercept + slope x log10 TL, TL in mm", source="FSA_STANDARD_WEIGHTS"
)
def standard_weight_g(species: str, total_length_mm: float) -> float:
    """Return the standard weight in grams of this species at a total length in mm.

    Parameters
    ----------
    species : str
        Common name as published, for example ``Bluegill``.
    total_length_mm : float
        Total length in mm, not below the shortest fish of the equation.

    Raises
    ------
    BadInput
        For a species without an equation.
    OutOfRange
        Below the published shortest length.

    Notes
    -----
    Source: the equations gathered in the FSA package; each row names its authors.
    """
    row = standard_weight_row(species)
    if not row.shortest_mm <= total_length_mm < float("inf"):
        raise OutOfRange(
            f"No figure: the standard weight of {species} holds from {plain(row.shortest_mm)} mm "
            f"total length, and this is {total_length_mm:g} mm."
        )
    return float(10 ** (row.intercept + row.slope * log10(total_length_mm)))


@sourced(equation="Wr = 100 W / Ws", source="ARITHMETIC")
def relative_weight_percent(weight_g: float, species: str, total_length_mm: float) -> float:
    """Return the weight in percent of the standard weight for that length.

    Raises
    ------
    BadInput, OutOfRange
        As `standard_weight_g`, and for a weight in grams not above zero.
    """
    _above_zero("weight", "g", weight_g)
    return 100 * weight_g / standard_weight_g(species, total_length_mm)


def _above_zero(what: str, unit: str, value: float) -> None:
    if not (value > 0 and isfinite(value)):
        raise BadInput(f"The {what} must be above 0 {unit}, for example 25 {unit}.")
