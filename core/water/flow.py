"""Load, exchange and oxygen use, in standing and in flowing water."""

from __future__ import annotations

from core.errors import BadInput
from core.sourced import sourced

_MASS = (0.0, 1e6)
_VOLUME = (1e-3, 1e9)
_FLOW = (1e-6, 1e5)


@sourced(
    equation="load = 1000 x mass of fish / volume",
    source="ARITHMETIC",
    valid={"fish_kg": _MASS, "volume_l": _VOLUME},
)
def load_kg_m3(fish_kg: float, volume_l: float) -> float:
    """Return the mass of fish per volume.

    Parameters
    ----------
    fish_kg : float
        All fish in the water, in kg.
    volume_l : float
        Volume of water in L.

    Raises
    ------
    OutOfRange
        For no volume or a negative mass.

    Examples
    --------
    >>> round(load_kg_m3(992.0, 57600.0), 1)
    17.2
    """
    return 1000 * fish_kg / volume_l


@sourced(
    equation="load = mass of fish / (60 x flow)",
    source="ARITHMETIC",
    valid={"fish_kg": _MASS, "flow_l_s": _FLOW},
    gives="kg per L/min",
)
def load_per_flow(fish_kg: float, flow_l_s: float) -> float:
    """Return the mass of fish per flow.

    Parameters
    ----------
    fish_kg : float
        All fish in the water, in kg.
    flow_l_s : float
        Flow in L/s.

    Raises
    ------
    OutOfRange
        For no flow or a negative mass.

    Examples
    --------
    >>> round(load_per_flow(992.0, 18.0), 2)
    0.92
    """
    return fish_kg / (60 * flow_l_s)


@sourced(
    equation="minutes = volume / (60 x flow)",
    source="ARITHMETIC",
    valid={"volume_l": _VOLUME, "flow_l_s": _FLOW},
)
def exchange_minutes(volume_l: float, flow_l_s: float) -> float:
    """Return the time in which one volume flows through.

    Parameters
    ----------
    volume_l : float
        Volume of water in L.
    flow_l_s : float
        Flow in L/s.

    Raises
    ------
    OutOfRange
        For no volume or no flow.

    Examples
    --------
    >>> round(exchange_minutes(57600.0, 18.0))
    53
    """
    return volume_l / (60 * flow_l_s)


@sourced(
    equation="used = flow x (inlet - outlet) x 3.6",
    source="ARITHMETIC",
    valid={"flow_l_s": _FLOW, "inlet_mg_l": (0, 60), "outlet_mg_l": (0, 60)},
)
def oxygen_used_g_h(flow_l_s: float, inlet_mg_l: float, outlet_mg_l: float) -> float:
    """Return the oxygen used between inlet and outlet.

    Parameters
    ----------
    flow_l_s : float
        Flow in L/s.
    inlet_mg_l : float
        Oxygen at the inlet in mg/L.
    outlet_mg_l : float
        Oxygen at the outlet in mg/L.

    Raises
    ------
    OutOfRange
        For no flow or oxygen outside 0 to 60 mg/L.
    BadInput
        When the outlet holds more oxygen than the inlet: then air is added on the way.

    Examples
    --------
    >>> round(oxygen_used_g_h(18.0, 10.1, 6.3))
    246
    """
    if outlet_mg_l > inlet_mg_l:
        raise BadInput(
            "No figure: the outlet holds more oxygen than the inlet, so air is added on the way."
        )
    return flow_l_s * (inlet_mg_l - outlet_mg_l) * 3.6


@sourced(
    equation="use = 1000 x oxygen used / mass of fish",
    source="ARITHMETIC",
    valid={"used_g_h": (0, 1e7), "fish_kg": (1e-4, 1e6)},
)
def oxygen_use_mg_kg_h(used_g_h: float, fish_kg: float) -> float:
    """Return the oxygen that a kilogram of fish uses in an hour.

    Parameters
    ----------
    used_g_h : float
        Oxygen used by all, in g/h.
    fish_kg : float
        All fish in the water, in kg.

    Raises
    ------
    OutOfRange
        For no fish or a negative use.

    Examples
    --------
    >>> round(oxygen_use_mg_kg_h(246.24, 992.0))
    248
    """
    return 1000 * used_g_h / fish_kg


@sourced(
    equation="fall = use x mass of fish x minutes / (60 x volume)",
    source="ARITHMETIC",
    valid={
        "use_mg_kg_h": (0, 2000),
        "fish_kg": _MASS,
        "volume_l": _VOLUME,
        "minutes": (0, 1e6),
    },
)
def oxygen_fall_mg_l(use_mg_kg_h: float, fish_kg: float, volume_l: float, minutes: float) -> float:
    """Return by how much oxygen falls when the flow and the air are off.

    Parameters
    ----------
    use_mg_kg_h : float
        Oxygen a kilogram of fish uses in an hour, mg/kg/h.
    fish_kg : float
        All fish in the water, in kg.
    volume_l : float
        Volume of water in L.
    minutes : float
        For how long, in min.

    Raises
    ------
    OutOfRange
        For no volume or a negative amount.

    Examples
    --------
    >>> round(oxygen_fall_mg_l(248.2, 992.0, 57600.0, 60.0), 1)
    4.3
    """
    return use_mg_kg_h * fish_kg * minutes / (60 * volume_l)


@sourced(
    equation="minutes = 60 x (oxygen - lowest) x volume / (use x mass of fish)",
    source="ARITHMETIC",
    valid={
        "oxygen_mg_l": (0, 60),
        "lowest_mg_l": (0, 60),
        "use_mg_kg_h": (1e-3, 2000),
        "fish_kg": (1e-4, 1e6),
        "volume_l": _VOLUME,
    },
)
def static_bath_minutes(
    oxygen_mg_l: float, lowest_mg_l: float, use_mg_kg_h: float, fish_kg: float, volume_l: float
) -> float:
    """Return for how long a bath may stand without flow or air before oxygen runs short.

    Parameters
    ----------
    oxygen_mg_l : float
        Oxygen at the start in mg/L.
    lowest_mg_l : float
        Oxygen in mg/L under which it must not fall.
    use_mg_kg_h : float
        Oxygen a kilogram of fish uses in an hour, mg/kg/h.
    fish_kg : float
        All fish in the water, in kg.
    volume_l : float
        Volume of water in L.

    Returns
    -------
    float
        Minutes; 0 when it is short already.

    Raises
    ------
    OutOfRange
        For no fish, no use or no volume.

    Examples
    --------
    >>> round(static_bath_minutes(6.3, 6.0, 248.2, 992.0, 57600.0))
    4
    """
    spare = max(0.0, oxygen_mg_l - lowest_mg_l)
    return 60 * spare * volume_l / (use_mg_kg_h * fish_kg)


@sourced(
    equation="rise = load x 1000 / (flow x 86400)",
    source="ARITHMETIC",
    valid={"load_g_d": (0, 1e7), "flow_l_s": _FLOW},
)
def rise_in_flow_mg_l(load_g_d: float, flow_l_s: float) -> float:
    """Return by how much a daily load spread over the day raises a flow from inlet to outlet.

    Parameters
    ----------
    load_g_d : float
        What is given off, in g/d.
    flow_l_s : float
        Flow in L/s.

    Raises
    ------
    OutOfRange
        For no flow or a negative load.

    Examples
    --------
    >>> round(rise_in_flow_mg_l(622.0, 18.0), 2)
    0.4
    """
    return load_g_d * 1000 / (flow_l_s * 86400)
