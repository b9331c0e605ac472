"""Dissolved oxygen: what water can hold, and how much of that it has."""

from __future__ import annotations

from math import exp

from core.sourced import sourced

ATMOSPHERE_KPA = 101.325


@sourced(
    equation="P = 101.325 (1 - 2.25577e-5 h)^5.25588",
    source="STDATM76",
    valid={"elevation_m": (-100, 3000)},
)
def pressure_at_elevation_kpa(elevation_m: float) -> float:
    """Return the usual air pressure at an elevation.

    Parameters
    ----------
    elevation_m : float
        Elevation above the sea in m.

    Raises
    ------
    OutOfRange
        Outside -100 to 3000 m.

    Notes
    -----
    Source: US Standard Atmosphere (1976). Weather moves it by about 2 %.

    Examples
    --------
    >>> round(pressure_at_elevation_kpa(240.0), 2)
    98.47
    """
    return float(ATMOSPHERE_KPA * (1 - 2.25577e-5 * elevation_m) ** 5.25588)


def _ln_fresh(kelvin: float) -> float:
    return (
        -139.34411
        + 1.575701e5 / kelvin
        - 6.642308e7 / kelvin**2
        + 1.243800e10 / kelvin**3
        - 8.621949e11 / kelvin**4
    )


def _pressure_factor(temperature_c: float, atmospheres: float) -> float:
    kelvin = temperature_c + 273.15
    vapour = exp(11.8571 - 3840.70 / kelvin - 216961 / kelvin**2)
    # This coefficient takes degrees Celsius; copies of the formula that use kelvin are wrong.
    real_gas = 0.000975 - 1.426e-5 * temperature_c + 6.436e-8 * temperature_c**2
    at_pressure = (1 - vapour / atmospheres) * (1 - real_gas * atmospheres)
    return atmospheres * at_pressure / ((1 - vapour) * (1 - real_gas))


@sourced(
    equation=(
        "ln C0 = -139.34411 + 1.575701e5/T - 6.642308e7/T^2 + 1.243800e10/T^3 - 8.621949e11/T^4; "
        "C = C0 exp(-S (0.017674 - 10.754/T + 2140.7/T^2)) "
        "P (1 - w/P)(1 - hP) / ((1 - w)(1 - h)), T in K, P in atm"
    ),
    source="BENSON84",
    valid={"temperature_c": (0, 40), "practical_salinity": (0, 40), "pressure_kpa": (70, 105)},
)
def saturation_mg_l(
    temperature_c: float, practical_salinity: float = 0.0, pressure_kpa: float = ATMOSPHERE_KPA
) -> float:
    """Return the oxygen that water holds when it is in balance with the air.

    Parameters
    ----------
    temperature_c : float
        Temperature in °C.
    practical_salinity : float
        Practical salinity; 0 for fresh water.
    pressure_kpa : float
        Air pressure in kPa, as it stands there (not reduced to sea level).

    Raises
    ------
    OutOfRange
        Outside 0 to 40 °C, salinity 0 to 40 or 70 to 105 kPa.

    Notes
    -----
    Source: Benson & Krause (1984), in the form of Standard Methods.

    Examples
    --------
    >>> round(saturation_mg_l(20.0), 2), round(saturation_mg_l(25.0, 35.0), 2)
    (9.09, 6.77)
    """
    kelvin = temperature_c + 273.15
    salt = practical_salinity * (1.7674e-2 - 10.754 / kelvin + 2140.7 / kelvin**2)
    at_sea_level = exp(_ln_fresh(kelvin) - salt)
    return at_sea_level * _pressure_factor(temperature_c, pressure_kpa / ATMOSPHERE_KPA)


@sourced(
    equation="% = 100 x oxygen / saturation",
    source="ARITHMETIC",
    valid={"oxygen_mg_l": (0, 60)},
    gives="%",
)
def percent_saturation(
    oxygen_mg_l: float,
    temperature_c: float,
    practical_salinity: float = 0.0,
    pressure_kpa: float = ATMOSPHERE_KPA,
) -> float:
    """Return oxygen as per cent of what this water can hold.

    Parameters
    ----------
    oxygen_mg_l : float
        Dissolved oxygen in mg/L.
    temperature_c : float
        Temperature in °C.
    practical_salinity : float
        Practical salinity; 0 for fresh water.
    pressure_kpa : float
        Air pressure in kPa, as it stands there.

    Raises
    ------
    OutOfRange
        Outside the range of `saturation_mg_l`, or oxygen outside 0 to 60 mg/L.

    Examples
    --------
    >>> round(percent_saturation(7.2, 26.0))
    89
    """
    return 100 * oxygen_mg_l / saturation_mg_l(temperature_c, practical_salinity, pressure_kpa)
