"""Toxic (un-ionised) ammonia, and the US criteria for natural waters."""

from __future__ import annotations

from core.sourced import sourced

FRESH_UP_TO = 0.5
"""Practical salinity up to which water is counted as fresh."""


@sourced(
    equation="f = 1 / (1 + 10^(pKa - pH)),  pKa = 0.09018 + 2729.92 / (t + 273.15)",
    source="EMERSON75",
    valid={"temperature_c": (0, 40), "ph": (5, 10)},
    gives="",
)
def unionised_fraction_fresh(temperature_c: float, ph: float) -> float:
    """Return the share of ammonia in fresh water that is un-ionised (toxic).

    Parameters
    ----------
    temperature_c : float
        Temperature in °C.
    ph : float
        pH.

    Raises
    ------
    OutOfRange
        Outside 0 to 40 °C or pH 5 to 10.

    Notes
    -----
    Source: Emerson et al. (1975). Printed tables made with T = t + 273.2 sit 0.35 % higher.

    Examples
    --------
    >>> round(unionised_fraction_fresh(25.0, 8.0), 4)
    0.0537
    """
    pka = 0.09018 + 2729.92 / (temperature_c + 273.15)
    return float(1 / (1 + 10 ** (pka - ph)))


@sourced(
    equation="f = 1 / (1 + 10^(pKa - pH)),  pKa = 10.0423 - 0.0315536 t + 0.003071 S",
    source="JOHANSSON80",
    valid={"temperature_c": (10, 32), "ph": (6.5, 9), "practical_salinity": (0, 40)},
    gives="",
)
def unionised_fraction_sea(temperature_c: float, ph: float, practical_salinity: float) -> float:
    """Return the share of ammonia in brackish or sea water that is un-ionised (toxic).

    Parameters
    ----------
    temperature_c : float
        Temperature in °C.
    ph : float
        pH as a meter set with ordinary (NBS) buffers reads it.
    practical_salinity : float
        Practical salinity.

    Raises
    ------
    OutOfRange
        Outside 10 to 32 °C, pH 6.5 to 9 or salinity 0 to 40.

    Notes
    -----
    Source: Johansson & Wedborg (1980). It keeps within 2 % of the sea-water table of Bower &
    Bidwell (1978). A constant made for the total pH scale would overstate by about a third.

    Examples
    --------
    >>> round(unionised_fraction_sea(25.0, 8.2, 34.0), 3)
    0.065
    """
    pka = 10.0423 - 0.0315536 * temperature_c + 0.003071 * practical_salinity
    return float(1 / (1 + 10 ** (pka - ph)))


@sourced(
    equation="fresh water (Emerson) up to salinity 0.5, sea water (Johansson & Wedborg) above",
    source="EMERSON75",
    gives="",
)
def unionised_fraction(temperature_c: float, ph: float, practical_salinity: float = 0.0) -> float:
    """Return the share of ammonia that is un-ionised (toxic), whatever the water.

    Parameters
    ----------
    temperature_c : float
        Temperature in °C.
    ph : float
        pH as a meter set with ordinary (NBS) buffers reads it.
    practical_salinity : float
        Practical salinity; 0 for fresh water.

    Raises
    ------
    OutOfRange
        Where the formula for that water does not hold.

    Notes
    -----
    The working shows which formula was used. The two meet at salinity 0 within 0.01 pKa
    (10 to 32 °C).

    Examples
    --------
    >>> round(unionised_fraction(20.0, 8.0), 4), round(unionised_fraction(20.0, 8.0, 35.0), 4)
    (0.0381, 0.0294)
    """
    if practical_salinity <= FRESH_UP_TO:
        return unionised_fraction_fresh(temperature_c, ph)
    return unionised_fraction_sea(temperature_c, ph, practical_salinity)


@sourced(
    equation="toxic part = un-ionised fraction x total ammonia (both as N)",
    source="ARITHMETIC",
    valid={"tan_mg_l": (0, 1000)},
)
def unionised_ammonia_mg_l(
    tan_mg_l: float, temperature_c: float, ph: float, practical_salinity: float = 0.0
) -> float:
    """Return the toxic part of the ammonia, mg/L as N.

    Parameters
    ----------
    tan_mg_l : float
        Total ammonia, mg/L as N.
    temperature_c : float
        Temperature in °C.
    ph : float
        pH as a meter set with ordinary (NBS) buffers reads it.
    practical_salinity : float
        Practical salinity; 0 for fresh water.

    Raises
    ------
    OutOfRange
        For a negative amount, or where the formula for that water does not hold.

    Examples
    --------
    >>> round(unionised_ammonia_mg_l(3.0, 26.0, 5.9), 4)
    0.0014
    """
    return tan_mg_l * unionised_fraction(temperature_c, ph, practical_salinity)


def _by_ph(low: float, high: float, middle: float, ph: float) -> float:
    return float(low / (1 + 10 ** (middle - ph)) + high / (1 + 10 ** (ph - middle)))


@sourced(
    equation=(
        "CMC = 0.7249 A min(51.93, k 10^(0.036 (20 - t))), "
        "A = 0.0114/(1+10^(7.204-pH)) + 1.6181/(1+10^(pH-7.204)), "
        "k = 23.12 with mussels, 62.15 without; with salmonids k 10^(..) alone, and not over "
        "0.275/(1+10^(7.204-pH)) + 39.0/(1+10^(pH-7.204))"
    ),
    source="EPA13",
    valid={"temperature_c": (0, 30), "ph": (6.5, 9)},
)
def acute_criterion_mg_l(
    temperature_c: float,
    ph: float,
    salmonids_present: bool = False,
    mussels_present: bool = False,
) -> float:
    """Return the US one-hour criterion for natural fresh waters, total ammonia mg/L as N.

    About ten times what fish are kept at: no verdict reads it.

    Parameters
    ----------
    temperature_c : float
        Temperature in °C.
    ph : float
        pH.
    salmonids_present : bool
        Trout or salmon live in the water.
    mussels_present : bool
        Freshwater mussels live in the water.

    Raises
    ------
    OutOfRange
        Outside 0 to 30 °C or pH 6.5 to 9.

    Notes
    -----
    Source: US EPA (2013), EPA 822-R-13-001. Published to two figures.

    Examples
    --------
    >>> round(acute_criterion_mg_l(20.0, 7.0, mussels_present=True))
    17
    """
    shape = 0.7249 * _by_ph(0.0114, 1.6181, 7.204, ph)
    warmth = (23.12 if mussels_present else 62.15) * 10 ** (0.036 * (20 - temperature_c))
    if salmonids_present:
        return min(_by_ph(0.275, 39.0, 7.204, ph), shape * warmth)
    return shape * min(51.93, warmth)


@sourced(
    equation=(
        "CCC = 0.8876 B 2.126 10^(0.028 (20 - max(t, 7))), "
        "B = 0.0278/(1+10^(7.688-pH)) + 1.1994/(1+10^(pH-7.688)); "
        "without mussels, young fish present: 0.9405 B min(6.92, 7.547 10^(0.028 (20 - t)))"
    ),
    source="EPA13",
    valid={"temperature_c": (0, 30), "ph": (6.5, 9)},
)
def chronic_criterion_mg_l(
    temperature_c: float,
    ph: float,
    mussels_present: bool = False,
) -> float:
    """Return the US thirty-day criterion for natural fresh waters, total ammonia mg/L as N.

    Far over what fish are kept at: no verdict reads it.

    Parameters
    ----------
    temperature_c : float
        Temperature in °C.
    ph : float
        pH.
    mussels_present : bool
        Freshwater mussels live in the water; without them young fish are taken to be there.

    Raises
    ------
    OutOfRange
        Outside 0 to 30 °C or pH 6.5 to 9.

    Notes
    -----
    Source: US EPA (2013), EPA 822-R-13-001. Published to two figures.

    Examples
    --------
    >>> round(chronic_criterion_mg_l(20.0, 7.0, mussels_present=True), 1)
    1.9
    """
    shape = _by_ph(0.0278, 1.1994, 7.688, ph)
    if mussels_present:
        return float(0.8876 * shape * 2.126 * 10 ** (0.028 * (20 - max(temperature_c, 7))))
    return float(0.9405 * shape * min(6.92, 7.547 * 10 ** (0.028 * (20 - temperature_c))))
