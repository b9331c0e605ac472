"""Chlorine and chloramine of tap water."""

from __future__ import annotations

from core.sourced import sourced


@sourced(
    equation="thiosulfate = volume x chlorine x mg per mg / 1000",
    source="ARITHMETIC",
    valid={"volume_l": (0, 1e9), "chlorine_mg_l": (0, 20), "mg_per_mg": (0.5, 10)},
)
def thiosulfate_for_chlorine_g(
    volume_l: float, chlorine_mg_l: float, mg_per_mg: float = 7.0
) -> float:
    """Return the sodium thiosulfate pentahydrate that binds the chlorine of a volume.

    Parameters
    ----------
    volume_l : float
        Volume of water in L.
    chlorine_mg_l : float
        Total chlorine in mg/L.
    mg_per_mg : float
        Thiosulfate pentahydrate in mg for each mg of chlorine; 7.0 (to tetrathionate) is the
        safe one, hobby advice goes down to 2.

    Raises
    ------
    OutOfRange
        For a negative volume or chlorine, or over 20 mg/L.

    Examples
    --------
    >>> thiosulfate_for_chlorine_g(1000.0, 1.0)
    7.0
    """
    return volume_l * chlorine_mg_l * mg_per_mg / 1000


@sourced(
    equation="ammonia as N = 14.007 / 70.906 x monochloramine (as Cl2)",
    source="ARITHMETIC",
    valid={"chlorine_mg_l": (0, 20)},
)
def ammonia_from_chloramine_mg_l(chlorine_mg_l: float) -> float:
    """Return the ammonia, mg/L as N, that bound monochloramine leaves behind.

    Parameters
    ----------
    chlorine_mg_l : float
        Monochloramine in mg/L as Cl2.

    Raises
    ------
    OutOfRange
        For a negative amount or over 20 mg/L.

    Examples
    --------
    >>> round(ammonia_from_chloramine_mg_l(1.0), 4)
    0.1975
    """
    return chlorine_mg_l * 14.007 / 70.906
