"""Dilution of disinfectants, C1 x V1 = C2 x V2, and what takes the chlorine away again.

For equipment, never for a dose on fish. Percent is by volume here (g in 100 mL) unless a name
says by weight; a level is in mg/L of whatever the percent of the stock counts. Bleach states
sodium hypochlorite, limits state available chlorine: `available_chlorine_percent` is between them.
"""

from __future__ import annotations

from core.dosing.limits import above_zero, not_below_zero, over
from core.errors import BadInput, Refusal
from core.numbers import figures
from core.sourced import sourced

MG_L_IN_A_PERCENT = 10_000.0
"""One gram in 100 mL, in mg/L."""

CHLORINE_IN_HYPOCHLORITE = 0.9525
"""Available chlorine by mass of sodium hypochlorite: 70.906 / 74.442 (DIL_CA2018)."""

THIOSULFATE_RATIO = 7.4
"""g of sodium thiosulfate pentahydrate to g of chlorine: the more cautious of two read."""

_STOCK = {"stock_percent": (0.01, 100.0)}


@sourced(
    equation="volume of stock = wanted level x final volume / strength of stock",
    source="ARITHMETIC",
    valid=_STOCK,
)
def stock_ml(wanted_mg_l: float, final_l: float, stock_percent: float) -> float:
    """Return the stock to measure, to be made up *to* the final volume.

    Parameters
    ----------
    wanted_mg_l : float
        In the finished solution.
    final_l : float
        Volume of the finished solution.
    stock_percent : float
        By volume, of the same substance as the wanted level.

    Returns
    -------
    float
        In mL.

    Raises
    ------
    OutOfRange
        For a stock below 0.01 or above 100 %.
    BadInput
        For a level or a volume that is not above zero.
    Refusal
        When the stock is weaker than what is wanted.

    Examples
    --------
    >>> stock_ml(500.0, 1.0, 5.0)
    10.0
    """
    above_zero("The wanted level", wanted_mg_l)
    above_zero("The volume", final_l)
    _strong_enough(stock_percent, wanted_mg_l / MG_L_IN_A_PERCENT)
    return wanted_mg_l * final_l / (stock_percent * MG_L_IN_A_PERCENT) * 1000


@sourced(
    equation="level = volume of stock x strength / final volume", source="ARITHMETIC", valid=_STOCK
)
def made_up_mg_l(stock_percent: float, volume_ml: float, final_l: float) -> float:
    """Return the level when stock is made up *to* a final volume.

    Raises
    ------
    OutOfRange
        For a stock below 0.01 or above 100 %.
    BadInput
        For a volume that is not above zero.
    Refusal
        When there is more stock than the final volume holds.

    Examples
    --------
    >>> made_up_mg_l(5.0, 10.0, 1.0)
    500.0
    """
    above_zero("The volume of stock", volume_ml)
    above_zero("The final volume", final_l)
    if volume_ml > final_l * 1000:
        raise Refusal(f"{volume_ml:g} mL of stock do not fit into {final_l:g} L.")
    return stock_percent * MG_L_IN_A_PERCENT * volume_ml / (final_l * 1000)


@sourced(
    equation="level = volume of stock x strength / (water + volume of stock)",
    source="ARITHMETIC",
    valid=_STOCK,
)
def added_mg_l(stock_percent: float, volume_ml: float, water_l: float) -> float:
    """Return the level when stock is added *to* a volume of water.

    Raises
    ------
    OutOfRange
        For a stock below 0.01 or above 100 %.
    BadInput
        For a volume that is not above zero.

    Examples
    --------
    >>> round(added_mg_l(5.0, 400.0, 1.0))
    14286
    """
    above_zero("The volume of water", water_l)
    return made_up_mg_l(stock_percent, volume_ml, water_l + volume_ml / 1000)


@sourced(
    equation="parts of water = strength of stock / wanted strength - 1",
    source="ARITHMETIC",
    valid=_STOCK,
    gives="parts of water to one of stock",
)
def water_parts(stock_percent: float, wanted_percent: float) -> float:
    """Return the parts of water to one part of stock.

    Raises
    ------
    OutOfRange
        For a stock below 0.01 or above 100 %.
    BadInput
        For a wanted strength that is not above zero.
    Refusal
        When the stock is weaker than what is wanted.

    Notes
    -----
    One part with 9 parts of water is *1 in 10*; some write 1:10 for it and others 1:9.

    Examples
    --------
    >>> water_parts(3.5, 0.5)
    6.0
    """
    above_zero("The wanted strength", wanted_percent)
    _strong_enough(stock_percent, wanted_percent)
    return stock_percent / wanted_percent - 1


@sourced(
    equation="strength = strength of stock / (1 + parts of water)",
    source="ARITHMETIC",
    valid=_STOCK,
)
def after_parts_percent(stock_percent: float, ratio: float) -> float:
    """Return the strength after so many parts of water went to one part of stock.

    Parameters
    ----------
    stock_percent : float
    ratio : float
        Parts of water to one part of stock; 0 leaves it as it is.

    Raises
    ------
    OutOfRange
        For a stock below 0.01 or above 100 %.
    BadInput
        For parts below zero.

    Examples
    --------
    >>> after_parts_percent(5.0, 99.0)
    0.05
    """
    not_below_zero("The parts of water", ratio)
    return stock_percent / (1 + ratio)


@sourced(
    equation="available chlorine = sodium hypochlorite x 0.9525",
    source="DIL_CA2018",
    valid={"hypochlorite_percent": (0.2, 15.0)},
)
def available_chlorine_percent(hypochlorite_percent: float) -> float:
    """Return the available chlorine of a bleach that states its sodium hypochlorite.

    Parameters
    ----------
    hypochlorite_percent : float
        By weight or by volume; the result is on the same ground.

    Raises
    ------
    OutOfRange
        Below 0.2 or above 15 %.

    Notes
    -----
    Source DIL_CA2018. An old or warm bottle holds less than it says.
    """
    return hypochlorite_percent * CHLORINE_IN_HYPOCHLORITE


@sourced(equation="percent by volume = percent by weight x specific gravity", source="ARITHMETIC")
def by_volume_percent(by_weight_percent: float, specific_gravity: float) -> float:
    """Return grams in 100 mL of a liquid that states grams in 100 g.

    Raises
    ------
    BadInput
        For a percent that is not above zero or over 100, or a specific gravity out of 0.5 to 3.

    Examples
    --------
    >>> by_volume_percent(12.5, 1.2)
    15.0
    """
    if not 0 < by_weight_percent <= 100:
        raise BadInput(f"{by_weight_percent} % can not be; type above 0 and up to 100.")
    if not 0.5 <= specific_gravity <= 3:
        raise BadInput(
            f"A specific gravity of {specific_gravity} can not be; type 0.5 to 3, for example 1.1."
        )
    return by_weight_percent * specific_gravity


@sourced(
    equation="sodium thiosulfate pentahydrate = chlorine x volume x 7.0 to 7.4",
    source="DIL_THIOSULFATE",
    valid={"chlorine_mg_l": (0.0, 200.0), "ratio": (7.0, 7.4)},
)
def thiosulfate_g(chlorine_mg_l: float, water_l: float, ratio: float = THIOSULFATE_RATIO) -> float:
    """Return the sodium thiosulfate pentahydrate that takes chlorine out of used disinfectant.

    Parameters
    ----------
    chlorine_mg_l : float
        Available chlorine that is left in it; measure it.
    water_l : float
        Volume to be neutralized.
    ratio : float
        g of pentahydrate to g of chlorine: 7.0 by two to one in moles, 7.4 in an old handbook.

    Returns
    -------
    float
        In g.

    Raises
    ------
    OutOfRange
        Above 200 mg/L of chlorine, or a ratio out of 7.0 to 7.4.
    BadInput
        For a volume that is not above zero.

    Notes
    -----
    Source DIL_THIOSULFATE. Tables for water mains print 1.4 to 1.9 (another end of the
    reaction, slower and not sure); those are refused here because too little kills fish.
    Test for chlorine before anything reaches fish.
    """
    above_zero("The volume", water_l)
    return chlorine_mg_l * water_l * ratio / 1000


def _strong_enough(stock_percent: float, wanted_percent: float) -> None:
    if over(wanted_percent, stock_percent):
        raise Refusal(
            f"A stock of {figures(stock_percent)} % can not give {figures(wanted_percent)} %.",
            "Take a stronger stock.",
        )
