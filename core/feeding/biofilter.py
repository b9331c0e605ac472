"""The biofilter as a model: water, two kinds of nitrifiers, alkalinity, and where they settle.

Not validated against a real system. Its equations are the usual mass balance with Monod
kinetics; its rates are chosen, read or from memory, and said so.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from core.errors import BadInput
from core.feeding.integrate import State
from core.feeding.nitrifiers import (
    ALKALINITY_PER_N,
    FilterRates,
    Nitrifiers,
    alkalinity_used_g,
    ammonia_oxidiser_factor,
    nitrite_oxidiser_factor,
)
from core.sourced import sourced

LEAST_ALKALINITY_MG_L = 50.0
"""Below this the model stops, since nitrifiers fail where alkalinity does: from memory."""


@dataclass(frozen=True)
class FilterSystem:
    """A system with its filter.

    Attributes
    ----------
    volume_l : float
        Net water volume, in litres.
    filter_area_m2 : float
        Surface on which nitrifiers live, in square metres.
    temperature_c : float
        Water temperature in °C, 10 to 30.
    protein_fraction : float
        Of the food as fed.
    exchange_fraction : float
        Share of the water changed a day, as if it ran all the time.
    tap_alkalinity_mg_l, tap_nitrate_mg_l, tap_tan_mg_l, tap_nitrite_mg_l : float
        Of the new water; alkalinity as CaCO3, the others as N.
    alkalinity_mg_l : float or None
        Measured now; None takes the level at which the system would settle.
    alkalinity_dose_g_d : float
        Alkalinity added a day, as grams of CaCO3.
    rates : FilterRates
        Rates of the nitrifiers.

    Raises
    ------
    BadInput
        When a figure can not be.
    """

    volume_l: float
    filter_area_m2: float
    temperature_c: float
    protein_fraction: float
    exchange_fraction: float
    tap_alkalinity_mg_l: float
    tap_nitrate_mg_l: float = 0.0
    tap_tan_mg_l: float = 0.0
    tap_nitrite_mg_l: float = 0.0
    alkalinity_mg_l: float | None = None
    alkalinity_dose_g_d: float = 0.0
    rates: FilterRates = field(default_factory=FilterRates)

    def __post_init__(self) -> None:
        if not (self.volume_l > 0 and self.filter_area_m2 > 0):
            raise BadInput("The filter model needs a volume and a filter surface above 0.")
        if not 0 <= self.exchange_fraction <= 50:
            raise BadInput("Exchange is a share of the volume a day from 0 to 50, as 0.1 for 10 %.")
        added = (
            self.tap_alkalinity_mg_l,
            self.tap_nitrate_mg_l,
            self.tap_tan_mg_l,
            self.tap_nitrite_mg_l,
            self.alkalinity_dose_g_d,
        )
        if not all(0 <= one < float("inf") for one in added):
            raise BadInput("What the new water brings and what is added can not be below 0.")
        if self.exchange_fraction == 0 and self.alkalinity_mg_l is None:
            raise BadInput("Without water changes the filter model needs the alkalinity measured.")

    def __str__(self) -> str:
        return (
            f"{self.volume_l:g} L, filter {self.filter_area_m2:.3g} m², "
            f"{self.temperature_c:g} °C, {100 * self.exchange_fraction:g} % changed a day"
        )

    @property
    def volume_m3(self) -> float:
        """Return the volume in cubic metres."""
        return self.volume_l / 1000

    @property
    def exchange_m3_d(self) -> float:
        """Return the water changed, in cubic metres a day."""
        return self.volume_m3 * self.exchange_fraction


@sourced(equation="surface = ammonia / areal rate", source="ARITHMETIC")
def filter_area_m2(tan_g_d: float, rate_g_m2_d: float) -> float:
    """Return the filter surface in m² that carries so much ammonia N at an areal rate.

    Parameters
    ----------
    tan_g_d : float
        Ammonia N a day, in grams.
    rate_g_m2_d : float
        Grams of N a day for each square metre.

    Raises
    ------
    BadInput
        When either is not above zero.
    """
    if not (tan_g_d > 0 and rate_g_m2_d > 0):
        raise BadInput("A filter surface needs a load and a rate above 0, as 4 g at 0.2 g/m².")
    return tan_g_d / rate_g_m2_d


def nitrifiers(system: FilterSystem) -> tuple[Nitrifiers, Nitrifiers]:
    """Return the ammonia and the nitrite oxidisers of a system.

    Raises
    ------
    OutOfRange
        When the water is colder than 10 °C or warmer than 30 °C.
    """
    rates, area = system.rates, system.filter_area_m2
    return (
        Nitrifiers(
            rates.ammonia_growth_per_day * ammonia_oxidiser_factor(system.temperature_c),
            rates.loss_per_day,
            rates.half_saturation_mg_l,
            area * rates.ammonia_capacity_g_m2_d,
        ),
        Nitrifiers(
            rates.nitrite_growth_per_day * nitrite_oxidiser_factor(system.temperature_c),
            rates.loss_per_day,
            rates.half_saturation_mg_l,
            area * rates.nitrite_capacity_g_m2_d,
        ),
    )


def settled(system: FilterSystem, tan_g_d: float) -> State:
    """Return the state at which a system settles on a load of ammonia, in grams of N a day.

    The state is TAN, nitrite, nitrate, alkalinity (mg/L), the two activities (g N a day), and
    the nitrogen that came in and went out since (g).

    Raises
    ------
    Refusal
        When the filter can not carry that load.
    """
    first, second = nitrifiers(system)
    flow = system.exchange_m3_d
    tan, ammonia_activity = first.settled(tan_g_d, flow, system.tap_tan_mg_l)
    oxidised = ammonia_activity * tan / (first.half + tan)
    nitrite, nitrite_activity = second.settled(oxidised, flow, system.tap_nitrite_mg_l)
    to_nitrate = nitrite_activity * nitrite / (second.half + nitrite)
    nitrate = system.tap_nitrate_mg_l + (to_nitrate / flow if flow else 0.0)
    balance = system.alkalinity_dose_g_d - alkalinity_used_g.plain(oxidised)
    alkalinity = (
        system.alkalinity_mg_l
        if system.alkalinity_mg_l is not None
        else system.tap_alkalinity_mg_l + balance / flow
    )
    return tan, nitrite, nitrate, alkalinity, ammonia_activity, nitrite_activity, 0.0, 0.0


def rates_of_change(
    system: FilterSystem, tan_on: Callable[[float], float]
) -> Callable[[float, State], State]:
    """Return the model's rates for `integrate`, time in days.

    Parameters
    ----------
    system : FilterSystem
        The water and its filter.
    tan_on : callable
        Ammonia set free, in grams of N a day, from the day.
    """
    first, second = nitrifiers(system)
    volume, flow = system.volume_m3, system.exchange_m3_d
    tap_tan, tap_nitrite = system.tap_tan_mg_l, system.tap_nitrite_mg_l
    tap_nitrate, tap_alkalinity = system.tap_nitrate_mg_l, system.tap_alkalinity_mg_l
    dose = system.alkalinity_dose_g_d
    coming = flow * (tap_tan + tap_nitrite + tap_nitrate)

    def rate(day: float, state: State) -> State:
        tan, nitrite, nitrate, alkalinity, one, two, _, _ = state
        made = tan_on(day)
        up_one, up_two = tan / (first.half + tan), nitrite / (second.half + nitrite)
        ra, rn = one * up_one, two * up_two
        return (
            (made - ra + flow * (tap_tan - tan)) / volume,
            (ra - rn + flow * (tap_nitrite - nitrite)) / volume,
            (rn + flow * (tap_nitrate - nitrate)) / volume,
            (dose - ALKALINITY_PER_N * ra + flow * (tap_alkalinity - alkalinity)) / volume,
            one * (first.growth * up_one * (1 - one / first.capacity) - first.loss),
            two * (second.growth * up_two * (1 - two / second.capacity) - second.loss),
            made + coming,
            flow * (tan + nitrite + nitrate),
        )

    return rate
