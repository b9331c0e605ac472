"""The published standard-weight equations: coefficients of a formula, as in its paper."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class StandardWeight:
    """One equation, log10 Ws (g) on log10 total length (mm), 75th percentile.

    Attributes
    ----------
    intercept, slope : float
        For grams and mm; no unit.
    shortest_mm : float
        Shortest total length for which it was made.
    source : str
        Authors and year, as gathered in the FSA package.
    """

    intercept: float
    slope: float
    shortest_mm: float
    source: str


STANDARD_WEIGHTS: dict[str, StandardWeight] = {
    "Black Crappie": StandardWeight(-5.618, 3.345, 100, "Neumann & Murphy 1991"),
    "Bluegill": StandardWeight(-5.374, 3.316, 80, "Hillman 1982"),
    "Brook Trout": StandardWeight(-5.186, 3.103, 120, "Hyatt & Hubert 2001"),
    "Brown Trout (lentic)": StandardWeight(-5.422, 3.194, 140, "Hyatt & Hubert 2001"),
    "Brown Trout (lotic)": StandardWeight(-4.867, 2.96, 140, "Milewski & Brown 1994"),
    "Channel Catfish": StandardWeight(-5.8, 3.294, 70, "Brown et al. 1995"),
    "Common Carp": StandardWeight(-4.639, 2.92, 200, "Bister et al. 2000"),
    "Golden Shiner": StandardWeight(-5.593, 3.302, 50, "Liao et al. 1995"),
    "Largemouth Bass": StandardWeight(-5.528, 3.273, 150, "Henson 1991"),
    "Pumpkinseed": StandardWeight(-5.179, 3.237, 50, "Liao et al. 1995"),
    "Rainbow Trout (lentic)": StandardWeight(-4.898, 2.99, 120, "Simpkins & Hubert 1996"),
    "Rainbow Trout (lotic)": StandardWeight(-5.023, 3.024, 120, "Simpkins & Hubert 1996"),
    "Redear Sunfish": StandardWeight(-4.968, 3.119, 70, "Pope et al. 1995"),
    "Smallmouth Bass": StandardWeight(-5.329, 3.2, 150, "Kolander et al. 1993"),
    "Walleye": StandardWeight(-5.453, 3.18, 150, "Murphy et al. 1990"),
}
"""By common name as published, total length, metric equations only."""
