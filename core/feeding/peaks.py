"""The filter model's highest ammonia and nitrite for an even rise, as single figures."""

from __future__ import annotations

from core.feeding.biofilter import FilterSystem
from core.feeding.filter_run import even_rise
from core.feeding.ramp import run_filter
from core.sourced import sourced

FOLLOWED_DAYS = 70.0


@sourced(
    equation="highest TAN of the filter model over 70 days of an even rise",
    source="FILTER_MODEL",
    valid={"temperature_c": (10, 30)},
    opaque=True,
)
def tan_peak_mg_l(
    volume_l: float,
    area_m2: float,
    temperature_c: float,
    exchange_fraction: float,
    protein_fraction: float,
    from_g: float,
    to_g: float,
    rise_days: float,
    tap_alkalinity_mg_l: float,
    dose_g_d: float,
) -> float:
    """Return the highest TAN (mg/L as N) that the model predicts for an even rise.

    Parameters
    ----------
    volume_l, area_m2, temperature_c, exchange_fraction, protein_fraction : float
        As `FilterSystem`, with its base rates: L, m², °C, shares.
    from_g, to_g, rise_days : float
        From one ration to the other, in grams a day, climbing evenly over so many days; 0 jumps.
    tap_alkalinity_mg_l, dose_g_d : float
        Alkalinity of new water, mg/L, and added a day, g, both as CaCO3.

    Raises
    ------
    BadInput, OutOfRange, Refusal
        As `run_filter`.
    """
    system = _system(
        volume_l,
        area_m2,
        temperature_c,
        exchange_fraction,
        protein_fraction,
        tap_alkalinity_mg_l,
        dose_g_d,
    )
    return run_filter.plain(system, even_rise(from_g, to_g, rise_days), FOLLOWED_DAYS).tan_peak[1]


@sourced(
    equation="highest nitrite of the filter model over 70 days of an even rise",
    source="FILTER_MODEL",
    valid={"temperature_c": (10, 30)},
    opaque=True,
)
def nitrite_peak_mg_l(
    volume_l: float,
    area_m2: float,
    temperature_c: float,
    exchange_fraction: float,
    protein_fraction: float,
    from_g: float,
    to_g: float,
    rise_days: float,
    tap_alkalinity_mg_l: float,
    dose_g_d: float,
) -> float:
    """Return the highest nitrite (mg/L as N) that the model predicts; see `tan_peak_mg_l`.

    Raises
    ------
    BadInput, OutOfRange, Refusal
        As `run_filter`.
    """
    system = _system(
        volume_l,
        area_m2,
        temperature_c,
        exchange_fraction,
        protein_fraction,
        tap_alkalinity_mg_l,
        dose_g_d,
    )
    return run_filter.plain(system, even_rise(from_g, to_g, rise_days), FOLLOWED_DAYS).nitrite_peak[
        1
    ]


def _system(
    volume_l: float,
    area_m2: float,
    temperature_c: float,
    exchange_fraction: float,
    protein_fraction: float,
    tap_alkalinity_mg_l: float,
    dose_g_d: float,
) -> FilterSystem:
    return FilterSystem(
        volume_l,
        area_m2,
        temperature_c,
        protein_fraction,
        exchange_fraction,
        tap_alkalinity_mg_l,
        alkalinity_dose_g_d=dose_g_d,
    )
