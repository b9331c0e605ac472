"""Ammonia, nitrite and nitrate as nitrogen or as the ion, and chloride against nitrite."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from core.errors import BadInput
from core.sourced import sourced

HYDROGEN, NITROGEN, OXYGEN, SODIUM, CHLORINE = 1.008, 14.007, 15.999, 22.990, 35.45
PER_NITROGEN: Mapping[str, float] = MappingProxyType(
    {
        "NO2": (NITROGEN + 2 * OXYGEN) / NITROGEN,
        "NO3": (NITROGEN + 3 * OXYGEN) / NITROGEN,
        "NH3": (NITROGEN + 3 * HYDROGEN) / NITROGEN,
        "NH4": (NITROGEN + 4 * HYDROGEN) / NITROGEN,
    }
)
"""Weight of each ion or molecule over the weight of its nitrogen."""

CHLORIDE_IN_SALT = CHLORINE / (SODIUM + CHLORINE)
"""Share of sodium chloride that is chloride, 0.6066."""


def _factor(ion: str) -> float:
    if ion not in PER_NITROGEN:
        known = ", ".join(PER_NITROGEN)
        raise BadInput(f"{ion} is not a form of nitrogen known here.", f"Known are {known}.")
    return PER_NITROGEN[ion]


@sourced(equation="as N = value x 14.007 / weight of the ion", source="IUPAC21", gives="")
def as_nitrogen(value: float, ion: str) -> float:
    """Return a concentration given as the ion, counted as nitrogen.

    Parameters
    ----------
    value : float
        Concentration as the ion or molecule; the result has the same unit.
    ion : str
        ``"NO2"``, ``"NO3"``, ``"NH3"`` or ``"NH4"``.

    Raises
    ------
    BadInput
        For any other ion.

    Notes
    -----
    Source: standard atomic weights, IUPAC.

    Examples
    --------
    >>> round(as_nitrogen(50.0, "NO3"), 2)
    11.3
    """
    return value / _factor(ion)


@sourced(equation="as the ion = value x weight of the ion / 14.007", source="IUPAC21", gives="")
def from_nitrogen(value: float, ion: str) -> float:
    """Return a concentration given as nitrogen, counted as the ion.

    Parameters
    ----------
    value : float
        Concentration as nitrogen; the result has the same unit.
    ion : str
        ``"NO2"``, ``"NO3"``, ``"NH3"`` or ``"NH4"``.

    Raises
    ------
    BadInput
        For any other ion.

    Notes
    -----
    Source: standard atomic weights, IUPAC.

    Examples
    --------
    >>> round(from_nitrogen(0.6, "NO2"), 2)
    1.97
    """
    return value * _factor(ion)


@sourced(
    equation="chloride = ratio x nitrite (as the ion)",
    source="ARITHMETIC",
    valid={"nitrite_mg_l": (0, 1000), "ratio": (0, 100)},
)
def chloride_for_nitrite_mg_l(nitrite_mg_l: float, ratio: float) -> float:
    """Return the chloride that stands against nitrite at a chosen ratio by weight.

    Parameters
    ----------
    nitrite_mg_l : float
        Nitrite in mg/L **as the ion** (turn a reading as N with `from_nitrogen` first: the
        sources mostly do not say which they mean, and this is the cautious reading).
    ratio : float
        Chloride to nitrite by weight, for example 10.

    Raises
    ------
    OutOfRange
        For a negative amount or ratio.

    Examples
    --------
    >>> chloride_for_nitrite_mg_l(1.0, 5.0)
    5.0
    """
    return ratio * nitrite_mg_l


@sourced(
    equation="salt = volume x rise / 1000 / 0.6066",
    source="IUPAC21",
    valid={"volume_l": (0, 1e9), "rise_mg_l": (0, 4000)},
)
def salt_for_chloride_g(volume_l: float, rise_mg_l: float) -> float:
    """Return the plain salt (NaCl) that raises chloride by so much.

    Parameters
    ----------
    volume_l : float
        Volume of water in L.
    rise_mg_l : float
        Wanted rise of chloride in mg/L.

    Raises
    ------
    OutOfRange
        For a negative volume or rise.

    Notes
    -----
    Source: standard atomic weights, IUPAC.

    Examples
    --------
    >>> round(salt_for_chloride_g(3390.0, 82.0))
    458
    """
    return volume_l * rise_mg_l / 1000 / CHLORIDE_IN_SALT
