"""Nitrifiers: how fast they grow, what they use, and the activity at which they settle."""

from __future__ import annotations

from dataclasses import dataclass
from math import exp

from core.errors import BadInput, Refusal
from core.numbers import figures
from core.sourced import sourced

ALKALINITY_PER_N = 7.05
SEED_FRACTION = 0.001
"""Nitrifiers are everywhere: the least activity of a filter, as a share of its capacity, chosen
so that a filter that had nothing to live on can start at all."""
_GAS_J = 8.314462618
_REFERENCE_K = 293.15


@dataclass(frozen=True)
class FilterRates:
    """Rates of the nitrifiers at 20 °C; the base set of the model.

    Attributes
    ----------
    ammonia_growth_per_day, nitrite_growth_per_day : float
        Apparent growth in a biofilm: chosen, within what was read for free cells.
    loss_per_day : float
        Death and detachment: from memory.
    half_saturation_mg_l : float
        As N, for both: from memory.
    ammonia_capacity_g_m2_d, nitrite_capacity_g_m2_d : float
        The most a square metre of filter surface can hold: from memory.
    """

    ammonia_growth_per_day: float = 0.35
    nitrite_growth_per_day: float = 0.30
    loss_per_day: float = 0.05
    half_saturation_mg_l: float = 0.5
    ammonia_capacity_g_m2_d: float = 0.5
    nitrite_capacity_g_m2_d: float = 0.5


@sourced(equation="alkalinity = 7.05 x N nitrified, as CaCO3", source="EBELING06")
def alkalinity_used_g(nitrified_g: float) -> float:
    """Return the alkalinity used, in grams of CaCO3, for so many grams of ammonia N nitrified.

    Raises
    ------
    BadInput
        When the nitrogen is below zero.

    Notes
    -----
    Source: Ebeling et al. 2006, with cell growth; 7.146 by stoichiometry alone.
    """
    if not nitrified_g >= 0:
        raise BadInput("Nitrogen nitrified can not be below 0 g.")
    return ALKALINITY_PER_N * nitrified_g


def _arrhenius(temperature_c: float, activation_j: float) -> float:
    return exp(activation_j / _GAS_J * (1 / _REFERENCE_K - 1 / (temperature_c + 273.15)))


@sourced(
    equation="exp(68 000 / R x (1 / 293.15 - 1 / T))",
    source="VANNECKE15",
    valid={"temperature_c": (10, 30)},
    gives="",
)
def ammonia_oxidiser_factor(temperature_c: float) -> float:
    """Return growth of ammonia oxidisers against that at 20 °C, at a temperature in °C, 10 to 30.

    Notes
    -----
    Source: activation energy 68 kJ/mol, Vannecke & Volcke 2015.
    """
    return _arrhenius(temperature_c, 68_000)


@sourced(
    equation="as above, with 44 000 over 20 °C and 68 000 under it, the slower of two sources",
    source="VANNECKE15",
    valid={"temperature_c": (10, 30)},
    gives="",
)
def nitrite_oxidiser_factor(temperature_c: float) -> float:
    """Return growth of nitrite oxidisers against that at 20 °C, at a temperature in °C, 10 to 30.

    Notes
    -----
    Sources disagree in the cold: 44 kJ/mol (Vannecke & Volcke 2015) leaves 0.53 at 10 °C,
    published doubling times leave 0.37. The slower is taken, which 68 kJ/mol gives.
    """
    return _arrhenius(temperature_c, 44_000 if temperature_c > 20 else 68_000)


@dataclass(frozen=True)
class Nitrifiers:
    """One kind of nitrifier in one filter, at the temperature of its water.

    Attributes
    ----------
    growth, loss : float
        Per day.
    half : float
        Half saturation, mg/L as N.
    capacity : float
        The most that the filter can hold, in grams of N a day.
    """

    growth: float
    loss: float
    half: float
    capacity: float

    def settled(self, load_g_d: float, flow_m3_d: float, incoming: float) -> tuple[float, float]:
        """Return concentration (mg/L) and activity (g N a day) at which a load settles.

        Raises
        ------
        Refusal
            When the load is more than the filter carries at any concentration.
        """

        def surplus(level: float) -> float:
            used = self.capacity * max(0.0, level / (self.half + level) - self.loss / self.growth)
            return load_g_d + flow_m3_d * (incoming - level) - used

        high = 1.0
        while surplus(high) > 0:
            high *= 2
            if high > 1e4:
                raise Refusal(
                    f"This filter as described can not carry {figures(load_g_d)} g N a day.",
                    "Check the filter surface, the temperature and the food.",
                )
        low = 0.0
        for _ in range(200):
            middle = (low + high) / 2
            low, high = (middle, high) if surplus(middle) > 0 else (low, middle)
        uptake = high / (self.half + high)
        share = 1 - self.loss / (self.growth * uptake) if uptake > 0 else 0.0
        return high, self.capacity * max(SEED_FRACTION, share)
