"""Carbon dioxide from pH and alkalinity, and bicarbonate for alkalinity."""

from __future__ import annotations

from math import exp, log, log10

from core.sourced import sourced
from core.water.salinity import density_kg_m3

CACO3_MG_PER_MEQ = 50.0435
CO2_G_PER_MOL = 44.0095
FRESH_UP_TO = 2.0
"""Practical salinity up to which carbon dioxide is worked out as in fresh water."""


def _pk1_fresh(kelvin: float) -> float:
    return (
        356.3094
        + 0.06091964 * kelvin
        - 21834.37 / kelvin
        - 126.8339 * log10(kelvin)
        + 1684915 / kelvin**2
    )


def _pk2_fresh(kelvin: float) -> float:
    return (
        107.8871
        + 0.03252849 * kelvin
        - 5151.79 / kelvin
        - 38.92561 * log10(kelvin)
        + 563713.9 / kelvin**2
    )


@sourced(
    equation="CO2 = alkalinity / 50.0435 x 44.0095 x 10^(pK1 - pH)",
    source="TUCKER84",
    valid={"temperature_c": (5, 35), "ph": (6, 8.4), "alkalinity_mg_l": (0, 400)},
)
def carbon_dioxide_by_factor_mg_l(temperature_c: float, ph: float, alkalinity_mg_l: float) -> float:
    """Return carbon dioxide of fresh water as the printed factor tables give it.

    The tables leave the salts of the water out of account, and so run 2 to 9 % over
    `carbon_dioxide_mg_l`; this is here to compare with papers that used them.

    Parameters
    ----------
    temperature_c : float
        Temperature in °C.
    ph : float
        pH.
    alkalinity_mg_l : float
        Alkalinity in mg/L as CaCO3.

    Raises
    ------
    OutOfRange
        Outside 5 to 35 °C, pH 6 to 8.4 or 0 to 400 mg/L.

    Notes
    -----
    Source: Tucker (1984); the constant is that of Plummer & Busenberg (1982), from memory.

    Examples
    --------
    >>> round(carbon_dioxide_by_factor_mg_l(22.0, 7.6, 110.0), 1)
    5.7
    """
    strength = 10 ** (_pk1_fresh(temperature_c + 273.15) - ph)
    return float(alkalinity_mg_l / CACO3_MG_PER_MEQ * CO2_G_PER_MOL * strength)


@sourced(
    equation=(
        "CO2 = 44.0095 g h [HCO3] / K1, [HCO3] = alkalinity / (1 + 2 K2 g / (h g^4)); "
        "log g = -(0.4883 + 0.00081 t)(sqrt I / (1 + sqrt I) - 0.3 I), I = alkalinity + 0.0199 S"
    ),
    source="PLUMMER82",
    valid={
        "temperature_c": (0, 35),
        "ph": (5.5, 8.5),
        "alkalinity_mg_l": (5, 400),
        "practical_salinity": (0, 2),
    },
)
def carbon_dioxide_fresh_mg_l(
    temperature_c: float, ph: float, alkalinity_mg_l: float, practical_salinity: float = 0.0
) -> float:
    """Return carbon dioxide of fresh water from pH and alkalinity.

    Parameters
    ----------
    temperature_c : float
        Temperature in °C.
    ph : float
        pH.
    alkalinity_mg_l : float
        Alkalinity in mg/L as CaCO3; phosphate and organic acids would make the figure too high.
    practical_salinity : float
        Practical salinity, for the strength of the salts.

    Raises
    ------
    OutOfRange
        Outside 0 to 35 °C, pH 5.5 to 8.5, 5 to 400 mg/L or salinity 0 to 2.

    Notes
    -----
    Source: Plummer & Busenberg (1982) with Davies activities, from memory; held against
    PHREEQC. Hydrogen and hydroxide are left out: 3 % at pH 5.5 and 5 mg/L, less elsewhere.

    Examples
    --------
    >>> round(carbon_dioxide_fresh_mg_l(22.0, 7.6, 110.0), 1)
    5.4
    """
    kelvin = temperature_c + 273.15
    equivalents = alkalinity_mg_l / CACO3_MG_PER_MEQ / 1000
    ionic = equivalents + 0.0199 * practical_salinity
    debye = 0.4883 + 8.074e-4 * temperature_c
    activity = 10 ** (-debye * (ionic**0.5 / (1 + ionic**0.5) - 0.3 * ionic))
    hydrogen = 10**-ph
    carbonate_share = 10 ** -_pk2_fresh(kelvin) / (hydrogen * activity**3)
    bicarbonate = equivalents / (1 + 2 * carbonate_share)
    molar = activity * hydrogen * bicarbonate / 10 ** -_pk1_fresh(kelvin)
    return float(1000 * CO2_G_PER_MOL * molar)


def _sulfate(kelvin: float, salinity: float) -> float:
    ionic = 19.924 * salinity / (1000 - 1.005 * salinity)
    ln_k = (
        -4276.1 / kelvin
        + 141.328
        - 23.093 * log(kelvin)
        + (-13856 / kelvin + 324.57 - 47.986 * log(kelvin)) * ionic**0.5
        + (35474 / kelvin - 771.54 + 114.723 * log(kelvin)) * ionic
        - 2698 / kelvin * ionic**1.5
        + 1776 / kelvin * ionic**2
    )
    constant = exp(ln_k) * (1 - 0.001005 * salinity)
    return 0.14 / 96.062 * salinity / 1.80655 / constant


def _fluoride(kelvin: float, salinity: float) -> float:
    ionic = 19.924 * salinity / (1000 - 1.005 * salinity)
    constant = exp(1590.2 / kelvin - 12.641 + 1.525 * ionic**0.5) * (1 - 0.001005 * salinity)
    return 0.000067 / 18.998 * salinity / 1.80655 / constant


def _total_hydrogen(ph: float, kelvin: float, salinity: float) -> float:
    """Turn the reading of a meter set with ordinary buffers into total-scale hydrogen."""
    on_buffers = 1.2948 - 0.002036 * kelvin + (0.0004607 - 0.000001475 * kelvin) * salinity**2
    sulfate, fluoride = _sulfate(kelvin, salinity), _fluoride(kelvin, salinity)
    return float(10**-ph / on_buffers * (1 + sulfate) / (1 + sulfate + fluoride))


def _borate(hydrogen: float, kelvin: float, salinity: float) -> float:
    root = salinity**0.5
    ln_k = (
        (-8966.9 - 2890.53 * root - 77.942 * salinity + 1.728 * root**3 - 0.0996 * salinity**2)
        / kelvin
        + 148.0248
        + 137.1942 * root
        + 1.62142 * salinity
        + (-24.4344 - 25.085 * root - 0.2474 * salinity) * log(kelvin)
        + 0.053105 * root * kelvin
    )
    constant = exp(ln_k)
    return 0.0004157 * salinity / 35 * constant / (constant + hydrogen)


@sourced(
    equation=(
        "CO2 = h^2 AC / (K1 (h + 2 K2)), AC = alkalinity - borate; pK1 and pK2 of Lueker et al.; "
        "h from the meter's pH by Takahashi's factor for ordinary buffers"
    ),
    source="LUEKER00",
    valid={
        "temperature_c": (10, 32),
        "ph": (7, 8.6),
        "alkalinity_mg_l": (60, 250),
        "practical_salinity": (3, 40),
    },
)
def carbon_dioxide_sea_mg_l(
    temperature_c: float, ph: float, alkalinity_mg_l: float, practical_salinity: float
) -> float:
    """Return carbon dioxide of brackish or sea water from pH and alkalinity.

    Parameters
    ----------
    temperature_c : float
        Temperature in °C.
    ph : float
        pH as a meter set with ordinary (NBS) buffers reads it.
    alkalinity_mg_l : float
        Alkalinity in mg/L as CaCO3.
    practical_salinity : float
        Practical salinity.

    Raises
    ------
    OutOfRange
        Outside 10 to 32 °C, pH 7 to 8.6, 60 to 250 mg/L or salinity 3 to 40.

    Notes
    -----
    Source: Lueker et al. (2000), made for salinity 19 to 43; under that it is held against
    PHREEQC with the salts of sea water. Borate after Dickson (1990) and Uppström (1974),
    sulfate after Dickson (1990), buffers after Takahashi et al. (1982).

    Examples
    --------
    >>> round(carbon_dioxide_sea_mg_l(25.0, 8.2, 117.8, 35.0), 2)
    0.48
    """
    kelvin = temperature_c + 273.15
    salt = practical_salinity
    kilograms_per_litre = density_kg_m3.plain(salt, temperature_c) / 1000
    hydrogen = _total_hydrogen(ph, kelvin, salt)
    equivalents = alkalinity_mg_l / CACO3_MG_PER_MEQ / 1000 / kilograms_per_litre
    carbonate = equivalents - _borate(hydrogen, kelvin, salt)
    squared = 0.0001152 * salt**2
    pk1 = 3633.86 / kelvin - 61.2172 + 9.67770 * log(kelvin) - 0.011555 * salt + squared
    pk2 = 471.78 / kelvin + 25.9290 - 3.16967 * log(kelvin) - 0.01781 * salt + 0.0001122 * salt**2
    per_kg = carbonate * hydrogen**2 / (10**-pk1 * (hydrogen + 2 * 10**-pk2))
    return float(1000 * CO2_G_PER_MOL * per_kg * kilograms_per_litre)


@sourced(
    equation="fresh water up to salinity 2, brackish and sea water from 3",
    source="PLUMMER82",
)
def carbon_dioxide_mg_l(
    temperature_c: float, ph: float, alkalinity_mg_l: float, practical_salinity: float = 0.0
) -> float:
    """Return carbon dioxide from pH and alkalinity, whatever the water.

    Parameters
    ----------
    temperature_c : float
        Temperature in °C.
    ph : float
        pH as a meter set with ordinary (NBS) buffers reads it.
    alkalinity_mg_l : float
        Alkalinity in mg/L as CaCO3.
    practical_salinity : float
        Practical salinity; 0 for fresh water.

    Raises
    ------
    OutOfRange
        Where the formula for that water does not hold.

    Notes
    -----
    The working shows which formula was used.

    Examples
    --------
    >>> round(carbon_dioxide_mg_l(26.0, 5.9, 9.0))
    22
    """
    if practical_salinity <= FRESH_UP_TO:
        return carbon_dioxide_fresh_mg_l(temperature_c, ph, alkalinity_mg_l, practical_salinity)
    return carbon_dioxide_sea_mg_l(temperature_c, ph, alkalinity_mg_l, practical_salinity)


@sourced(
    equation="bicarbonate = volume x rise x 84.007 / 50.0435 / 1000",
    source="IUPAC21",
    valid={"volume_l": (0, 1e9), "rise_mg_l": (0, 500)},
)
def bicarbonate_for_alkalinity_g(volume_l: float, rise_mg_l: float) -> float:
    """Return the sodium bicarbonate that raises alkalinity by so much.

    Parameters
    ----------
    volume_l : float
        Volume of water in L.
    rise_mg_l : float
        Wanted rise in mg/L as CaCO3.

    Raises
    ------
    OutOfRange
        For a negative volume or rise, or a rise over 500 mg/L.

    Notes
    -----
    Source: standard atomic weights, IUPAC.

    Examples
    --------
    >>> round(bicarbonate_for_alkalinity_g(1000.0, 100.0), 1)
    167.9
    """
    return volume_l * rise_mg_l * 84.007 / CACO3_MG_PER_MEQ / 1000
