"""Volume of a body of water, from its sides or from salt."""

from __future__ import annotations

from math import pi

from core.sourced import sourced

_SIDE = (0.0, 1e5)


@sourced(
    equation="V = length x width x depth / 1000",
    source="ARITHMETIC",
    valid={"length_cm": _SIDE, "width_cm": _SIDE, "depth_cm": _SIDE},
)
def box_l(length_cm: float, width_cm: float, depth_cm: float) -> float:
    """Return the volume of a box.

    Parameters
    ----------
    length_cm, width_cm, depth_cm : float
        Inner length, width and depth of the water in cm.

    Raises
    ------
    OutOfRange
        For a negative side.

    Examples
    --------
    >>> box_l(520.0, 240.0, 75.0)
    9360.0
    """
    return length_cm * width_cm * depth_cm / 1000


@sourced(
    equation="V = pi / 4 x diameter^2 x depth / 1000",
    source="ARITHMETIC",
    valid={"diameter_cm": _SIDE, "depth_cm": _SIDE},
)
def cylinder_l(diameter_cm: float, depth_cm: float) -> float:
    """Return the volume of an upright cylinder.

    Parameters
    ----------
    diameter_cm : float
        Inner diameter in cm.
    depth_cm : float
        Depth of the water in cm.

    Raises
    ------
    OutOfRange
        For a negative side.

    Examples
    --------
    >>> round(cylinder_l(100.0, 100.0), 1)
    785.4
    """
    return pi / 4 * diameter_cm**2 * depth_cm / 1000


@sourced(
    equation="V = pi / 4 x length x width x depth / 1000",
    source="ARITHMETIC",
    valid={"length_cm": _SIDE, "width_cm": _SIDE, "depth_cm": _SIDE},
)
def ellipse_l(length_cm: float, width_cm: float, depth_cm: float) -> float:
    """Return the volume of an upright-sided ellipse.

    Parameters
    ----------
    length_cm, width_cm, depth_cm : float
        Longest length, longest width and depth of the water in cm.

    Raises
    ------
    OutOfRange
        For a negative side.

    Examples
    --------
    >>> round(ellipse_l(360.0, 200.0, 60.0))
    3393
    """
    return pi / 4 * length_cm * width_cm * depth_cm / 1000


@sourced(
    equation="V = ((length - width) x width + pi / 4 x width^2) x depth / 1000",
    source="ARITHMETIC",
    valid={"length_cm": _SIDE, "width_cm": _SIDE, "depth_cm": _SIDE},
)
def straight_oval_l(length_cm: float, width_cm: float, depth_cm: float) -> float:
    """Return the volume of an oval with straight sides and half-round ends.

    Parameters
    ----------
    length_cm, width_cm, depth_cm : float
        Longest length, width and depth of the water in cm; the length is the longer side.

    Raises
    ------
    OutOfRange
        For a negative side.

    Examples
    --------
    >>> round(straight_oval_l(300.0, 100.0, 50.0), 1)
    1392.7
    """
    longer, shorter = max(length_cm, width_cm), min(length_cm, width_cm)
    return ((longer - shorter) * shorter + pi / 4 * shorter**2) * depth_cm / 1000


@sourced(
    equation="V = salt / rise",
    source="ARITHMETIC",
    valid={"salt_g": (0, 1e9), "rise_g_l": (1e-4, 360)},
)
def from_salt_l(salt_g: float, rise_g_l: float) -> float:
    """Return the volume of a water from the rise that a weighed amount of salt gave.

    Parameters
    ----------
    salt_g : float
        Plain salt put in and fully mixed, in g.
    rise_g_l : float
        Rise that was measured, in g/L.

    Raises
    ------
    OutOfRange
        For no rise, or a negative amount.

    Examples
    --------
    >>> from_salt_l(10000.0, 1.0)
    10000.0
    """
    return salt_g / rise_g_l


@sourced(
    equation="% = 100 x sqrt(2) x meter error / rise",
    source="ARITHMETIC",
    valid={"meter_error_g_l": (0, 10), "rise_g_l": (1e-4, 360)},
    gives="%",
)
def from_salt_error(meter_error_g_l: float, rise_g_l: float) -> float:
    """Return by how much a volume from salt may be wrong, when both readings have one error.

    Parameters
    ----------
    meter_error_g_l : float
        Error of one reading in g/L.
    rise_g_l : float
        Rise that was measured, in g/L.

    Raises
    ------
    OutOfRange
        For no rise, or a negative error.

    Examples
    --------
    >>> round(from_salt_error(0.05, 1.0), 1)
    7.1
    """
    return 100 * 2**0.5 * meter_error_g_l / rise_g_l
