"""Baths in flowing water, and how fast the oxygen falls when the water is stopped."""

from __future__ import annotations

from dataclasses import dataclass

from core.dosing.arithmetic import (
    AnyConcentration,
    AnyMass,
    AnyStrength,
    bath_mass,
    bath_volume,
)
from core.dosing.kinds import Flow, Minutes, ProductVolume, Water
from core.dosing.limits import above_zero, not_below_zero
from core.dosing.quantity import expect
from core.sourced import sourced

Amount = AnyMass | ProductVolume


@dataclass(frozen=True)
class FlowBath:
    """What goes in at once, what is fed in while the water runs, and both together."""

    fill: Amount
    feed_in: Amount
    total: Amount
    per_minute: Amount

    def __str__(self) -> str:
        return (
            f"{self.fill} at once and {self.feed_in} fed in ({self.per_minute} a minute): "
            f"{self.total}"
        )


@sourced(
    equation="fill = concentration x volume; feed-in = concentration x flow x minutes",
    source="ARITHMETIC",
    gives="",
)
def bath_in_flow(
    concentration: AnyConcentration,
    water: Water,
    flow: Flow,
    minutes: Minutes,
    purity: AnyStrength | None = None,
) -> FlowBath:
    """Return what a bath needs whose water keeps running.

    Parameters
    ----------
    concentration : Concentration
        By weight, held for the whole time.
    water : Water
        Volume of the unit.
    flow : Flow
        Water coming in, full flow.
    minutes : Minutes
        How long the concentration is held.
    purity : Purity, optional
        Of the product; without it the masses are of active substance.

    Raises
    ------
    WrongKind
        For any other pairing.
    """
    passing = passing_water(flow, minutes)
    return _together(
        bath_mass(concentration, water, purity), bath_mass(concentration, passing, purity), minutes
    )


@sourced(
    equation="fill = concentration x volume; feed-in = concentration x flow x minutes; "
    "by weight both / strength",
    source="ARITHMETIC",
    gives="",
)
def liquid_in_flow(
    concentration: AnyConcentration,
    water: Water,
    flow: Flow,
    minutes: Minutes,
    strength: AnyStrength | None = None,
) -> FlowBath:
    """Return what a bath of a liquid product needs whose water keeps running, in mL.

    A drip of formalin is stated in uL/L, which counts the product itself, or in mg/L, which
    needs its strength; neither passes for the other.

    Parameters
    ----------
    concentration : VolumeConcentration without a strength, Concentration with one
        Held for the whole time.
    water : Water
        Volume of the unit.
    flow : Flow
        Water coming in, full flow.
    minutes : Minutes
        How long the concentration is held.
    strength : Strength, optional
        By volume, of the product; None with a concentration by volume.

    Raises
    ------
    WrongKind
        For any other pairing.
    """
    passing = passing_water(flow, minutes)
    return _together(
        bath_volume(concentration, water, strength),
        bath_volume(concentration, passing, strength),
        minutes,
    )


@sourced(equation="water passing = flow x minutes", source="ARITHMETIC", gives="")
def passing_water(flow: Flow, minutes: Minutes) -> Water:
    """Return the water that passes in a time, in L.

    Raises
    ------
    WrongKind
        For anything but a flow and a time.
    """
    expect(flow, Flow)
    expect(minutes, Minutes)
    return Water(flow.m_as("L/min") * minutes.m_as("min"), "L")


def _together(fill: Amount, feed_in: Amount, minutes: Minutes) -> FlowBath:
    total = type(fill)(fill.magnitude + feed_in.m_as(fill.unit), fill.unit)
    return FlowBath(fill, feed_in, total, feed_in.scaled(1 / minutes.m_as("min")))


@sourced(
    equation="fall = oxygen used per hour x minutes / 60 / volume",
    source="ARITHMETIC",
)
def oxygen_fall_mg_l(used_g_h: float, volume_l: float, minutes: float) -> float:
    """Return how far the oxygen falls in a bath that nothing aerates.

    Parameters
    ----------
    used_g_h : float
        Oxygen that the fish use, in g/h.
    volume_l : float
        Volume of the bath, in L.
    minutes : float
        Length of the bath.

    Returns
    -------
    float
        In mg/L.

    Raises
    ------
    BadInput
        For a volume that is not above zero or a use or time below zero.

    Examples
    --------
    >>> round(oxygen_fall_mg_l(246, 57600, 60), 1)
    4.3
    """
    above_zero("The volume", volume_l)
    not_below_zero("The oxygen used", used_g_h)
    not_below_zero("The time", minutes)
    return used_g_h * 1000 * minutes / 60 / volume_l


@sourced(
    equation="minutes = (oxygen - lowest) x volume / oxygen used per minute",
    source="ARITHMETIC",
    gives="min",
)
def minutes_of_oxygen(
    oxygen_mg_l: float, lowest_mg_l: float, used_g_h: float, volume_l: float
) -> float:
    """Return the minutes until a bath that nothing aerates is down to the lowest oxygen allowed.

    Parameters
    ----------
    oxygen_mg_l, lowest_mg_l : float
        Now, and the lowest that is allowed.
    used_g_h : float
        Oxygen that the fish use, in g/h.
    volume_l : float
        Volume of the bath.

    Returns
    -------
    float
        Zero when it is there already.

    Raises
    ------
    BadInput
        For a volume or a use that is not above zero, or oxygen below zero.
    """
    above_zero("The volume", volume_l)
    above_zero("The oxygen used", used_g_h)
    not_below_zero("The oxygen", oxygen_mg_l)
    not_below_zero("The lowest oxygen", lowest_mg_l)
    return max(0.0, oxygen_mg_l - lowest_mg_l) * volume_l / (used_g_h * 1000 / 60)
