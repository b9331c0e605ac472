"""Copper sulfate in fresh water by alkalinity: the one dose that the water itself sets."""

from __future__ import annotations

from core.sourced import sourced

CAP_MG_L = 2.5
"""Never more, whatever the alkalinity (RX_FA008)."""


@sourced(
    equation="copper sulfate pentahydrate = total alkalinity / 100, at most 2.5 mg/L",
    source="RX_FA008",
    valid={"alkalinity_mg_l": (50, 400)},
)
def copper_sulfate_mg_l(alkalinity_mg_l: float) -> float:
    """Return the concentration of copper sulfate pentahydrate that the alkalinity allows.

    Parameters
    ----------
    alkalinity_mg_l : float
        Total alkalinity as CaCO3; not hardness.

    Returns
    -------
    float
        In mg/L of the pentahydrate.

    Raises
    ------
    OutOfRange
        Below 50 mg/L of alkalinity, where it is not to be used at all, and above 400.

    Notes
    -----
    Source RX_FA008 for the rule, its floor of 50 and its cap of 2.5 mg/L.
    """
    return min(alkalinity_mg_l / 100, CAP_MG_L)
