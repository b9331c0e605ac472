"""Salinity, density, specific gravity and conductivity at the surface."""

from __future__ import annotations

from core.errors import OutOfRange
from core.numbers import plain
from core.sourced import sourced

HIGHEST = 42.0
"""Practical salinity to which the two scales of this module reach."""


def _polynomial(coefficients: tuple[float, ...], x: float) -> float:
    total = 0.0
    for coefficient in reversed(coefficients):
        total = total * x + coefficient
    return total


_PURE = (999.842594, 6.793952e-2, -9.095290e-3, 1.001685e-4, -1.120083e-6, 6.536332e-9)
_LINEAR = (8.24493e-1, -4.0899e-3, 7.6438e-5, -8.2467e-7, 5.3875e-9)
_THREE_HALVES = (-5.72466e-3, 1.0227e-4, -1.6546e-6)
_SQUARE = 4.8314e-4


@sourced(
    equation="rho = A(t68) + B(t68) S + C(t68) S^1.5 + 4.8314e-4 S^2 (EOS-80, t68 = 1.00024 t)",
    source="UNESCO83",
    valid={"practical_salinity": (0, 42), "temperature_c": (0, 40)},
)
def density_kg_m3(practical_salinity: float, temperature_c: float) -> float:
    """Return the density of sea water at the surface.

    Parameters
    ----------
    practical_salinity : float
        Practical salinity.
    temperature_c : float
        Temperature in °C (ITS-90, as thermometers are made today).

    Raises
    ------
    OutOfRange
        Outside salinity 0 to 42 or 0 to 40 °C.

    Notes
    -----
    Source: UNESCO (1983), the international equation of state 1980.

    Examples
    --------
    >>> round(density_kg_m3(35.0, 25.0), 2)
    1023.34
    """
    t68 = 1.00024 * temperature_c
    return float(
        _polynomial(_PURE, t68)
        + _polynomial(_LINEAR, t68) * practical_salinity
        + _polynomial(_THREE_HALVES, t68) * practical_salinity**1.5
        + _SQUARE * practical_salinity**2
    )


@sourced(
    equation="the S at which density(S, t) is the one given, by halving",
    source="UNESCO83",
    valid={"density_kg_m3": (990, 1034), "temperature_c": (0, 40)},
    gives="",
    opaque=True,
)
def salinity_from_density(density_kg_m3: float, temperature_c: float) -> float:
    """Return the practical salinity of water from its density.

    Parameters
    ----------
    density_kg_m3 : float
        Density in kg/m³ at that temperature.
    temperature_c : float
        Temperature in °C.

    Raises
    ------
    OutOfRange
        When no salinity from 0 to 42 has this density.

    Notes
    -----
    Source: UNESCO (1983), the equation of state turned round.

    Examples
    --------
    >>> round(salinity_from_density(1023.343, 25.0), 2)
    35.0
    """
    return _root(density_kg_m3, temperature_c)


def _root(target: float, temperature_c: float) -> float:
    at = DENSITY.plain
    low, high = 0.0, HIGHEST
    if not at(low, temperature_c) - 1e-6 <= target <= at(high, temperature_c) + 1e-6:
        raise OutOfRange(
            f"No figure: water of {plain(round(target, 2))} kg/m³ at {plain(temperature_c)} °C "
            "has no salinity from 0 to 42. Check the reading and the instrument's temperature."
        )
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if at(middle, temperature_c) < target else (low, middle)
    return (low + high) / 2


DENSITY = density_kg_m3
"""The density formula, under a name that a parameter of the same name can not hide."""


@sourced(
    equation="SG = density(S, t) / density(0, reference)",
    source="UNESCO83",
    valid={
        "practical_salinity": (0, 42),
        "temperature_c": (0, 40),
        "reference_c": (3.9, 25),
    },
    gives="",
)
def specific_gravity(practical_salinity: float, temperature_c: float, reference_c: float) -> float:
    """Return specific gravity, which needs two temperatures.

    Parameters
    ----------
    practical_salinity : float
        Practical salinity.
    temperature_c : float
        Temperature of the sample in °C.
    reference_c : float
        Temperature of the pure water it is compared with, in °C.

    Raises
    ------
    OutOfRange
        Outside salinity 0 to 42, 0 to 40 °C, or a reference outside 3.9 to 25 °C.

    Notes
    -----
    Source: UNESCO (1983), a ratio of two densities.

    Examples
    --------
    >>> round(specific_gravity(35.0, 25.0, 25.0), 4), round(specific_gravity(35.0, 25.0, 4.0), 4)
    (1.0264, 1.0234)
    """
    return density_kg_m3(practical_salinity, temperature_c) / density_kg_m3(0.0, reference_c)


@sourced(
    equation="the S at which density(S, t) = SG x density(0, reference)",
    source="UNESCO83",
    valid={
        "specific_gravity": (0.99, 1.037),
        "temperature_c": (0, 40),
        "reference_c": (3.9, 25),
    },
    gives="",
)
def salinity_from_specific_gravity(
    specific_gravity: float, temperature_c: float, reference_c: float
) -> float:
    """Return practical salinity from a true specific gravity.

    Parameters
    ----------
    specific_gravity : float
        Density of the sample over that of pure water.
    temperature_c : float
        Temperature of the sample in °C.
    reference_c : float
        Temperature of the pure water it is compared with, in °C.

    Raises
    ------
    OutOfRange
        When no salinity from 0 to 42 has this density.

    Notes
    -----
    Source: UNESCO (1983).

    Examples
    --------
    >>> round(salinity_from_specific_gravity(1.0264, 25.0, 25.0), 1)
    35.0
    """
    return salinity_from_density(specific_gravity * density_kg_m3(0.0, reference_c), temperature_c)


@sourced(
    equation="density(S, t) = reading x density(0, reference) / (1 + g (t - calibration))",
    source="UNESCO83",
    valid={
        "reading": (0.99, 1.037),
        "temperature_c": (0, 40),
        "calibration_c": (10, 30),
        "reference_c": (3.9, 25),
        "glass_expansion": (0, 3e-5),
    },
    gives="",
)
def salinity_from_hydrometer(
    reading: float,
    temperature_c: float,
    calibration_c: float,
    reference_c: float,
    glass_expansion: float = 2.5e-5,
) -> float:
    """Return practical salinity from a floating hydrometer.

    Parameters
    ----------
    reading : float
        What the stem shows, for example 1.025.
    temperature_c : float
        Temperature of the sample in °C.
    calibration_c : float
        Temperature in °C the instrument was made for.
    reference_c : float
        Temperature in °C of the pure water it compares with.
    glass_expansion : float
        Cubic expansion of the instrument per °C; 0 for a plastic needle already corrected.

    Raises
    ------
    OutOfRange
        When no salinity from 0 to 42 gives this reading.

    Notes
    -----
    Source: UNESCO (1983); the expansion of glass, 2.5e-5 per °C, is from memory. Up to 2.3 of
    salinity rides on the calibration temperature: keep it with the instrument.

    Examples
    --------
    >>> round(salinity_from_hydrometer(1.025, 25.0, 25.0, 25.0), 1)
    33.2
    """
    seen = reading * density_kg_m3(0.0, reference_c)
    return salinity_from_density(
        seen / (1 + glass_expansion * (temperature_c - calibration_c)), temperature_c
    )


_RT = (6.766097e-1, 2.00564e-2, 1.104259e-4, -6.9698e-7, 1.0031e-9)
_A = (0.0080, -0.1692, 25.3851, 14.0941, -7.0261, 2.7081)
_B = (0.0005, -0.0056, -0.0066, -0.0375, 0.0636, -0.0144)
_STANDARD_MS_CM = 42.9140
"""Conductivity of standard sea water at salinity 35 and 15 °C (t68)."""


def _low_salinity_shift(ratio: float, warmth: float) -> float:
    x, y = 400 * ratio, 100 * ratio
    return float(0.008 / (1 + 1.5 * x + x**2) + 0.0005 * warmth / (1 + y**0.5 + y + y**1.5))


@sourced(
    equation=(
        "Rt = C / (42.914 rt(t68)); S = sum a_i Rt^(i/2) + f(t) sum b_i Rt^(i/2), "
        "less 0.008/(1 + 1.5x + x^2) + 0.0005 f(t)/(1 + y^0.5 + y + y^1.5), "
        "x = 400 Rt, y = 100 Rt (PSS-78 at the surface)"
    ),
    source="UNESCO83",
    valid={"conductivity_ms_cm": (0, 80), "temperature_c": (0, 35)},
    gives="",
)
def salinity_from_conductivity(conductivity_ms_cm: float, temperature_c: float) -> float:
    """Return practical salinity from conductivity at the temperature of the sample.

    Parameters
    ----------
    conductivity_ms_cm : float
        Conductivity in mS/cm as it stands, not corrected to 25 °C.
    temperature_c : float
        Temperature of the sample in °C.

    Raises
    ------
    OutOfRange
        Outside 0 to 80 mS/cm or 0 to 35 °C, or when the salinity is over 42.

    Notes
    -----
    Source: UNESCO (1983); below salinity 2 with the term of Hill et al. (1986), from memory.

    Examples
    --------
    >>> round(salinity_from_conductivity(53.071, 25.0), 2)
    35.0
    """
    t68 = 1.00024 * temperature_c
    ratio = conductivity_ms_cm / (_STANDARD_MS_CM * _polynomial(_RT, t68))
    warmth = (t68 - 15) / (1 + 0.0162 * (t68 - 15))
    root = ratio**0.5
    whole = _polynomial(_A, root) + warmth * _polynomial(_B, root)
    found = max(0.0, whole - _low_salinity_shift(ratio, warmth))
    if found > HIGHEST:
        raise OutOfRange(
            f"No figure: {plain(conductivity_ms_cm)} mS/cm at {plain(temperature_c)} °C would be "
            "a salinity over 42, where the scale ends. Check the unit; sea water at 25 °C has 53."
        )
    return found


@sourced(
    equation="salt = volume x rise",
    source="ARITHMETIC",
    valid={"volume_l": (0, 1e9), "rise_g_l": (0, 360)},
)
def salt_for_rise_g(volume_l: float, rise_g_l: float) -> float:
    """Return the salt that raises a volume by so many grams a litre.

    Parameters
    ----------
    volume_l : float
        Volume of water in L.
    rise_g_l : float
        Wanted rise in g/L.

    Raises
    ------
    OutOfRange
        For a negative volume or rise.

    Examples
    --------
    >>> salt_for_rise_g(10000.0, 1.0)
    10000.0
    """
    return volume_l * rise_g_l
