"""Doses when a weight or a volume is known only roughly: both ends are shown and both judged."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from core.dosing.arithmetic import AnyMass, AnyProduct, AnyStrength, bath_level, dose_given
from core.dosing.kinds import (
    Body,
    Concentration,
    DailyDose,
    Dose,
    UnitDose,
    VolumeConcentration,
    VolumeDose,
    Water,
)
from core.dosing.limits import over
from core.dosing.quantity import Between, Kind, Quantity, expect
from core.errors import BadInput
from core.sourced import sourced


@sourced(equation="mass / largest volume to mass / smallest volume", source="ARITHMETIC", gives="")
def level_between(mass: AnyMass, water: Between[Water]) -> Between[Concentration]:
    """Return the real concentration when the water volume is known only roughly, in mg/L.

    Raises
    ------
    WrongKind
        For anything but a mass of active substance and a range of water volumes.
    """
    _range(water)
    return Between(bath_level(mass, water.high), bath_level(mass, water.low))


@sourced(
    equation="volume x strength / heaviest to volume x strength / lightest",
    source="ARITHMETIC",
    gives="",
)
def dose_between(volume: AnyProduct, strength: AnyStrength, body: Between[Body]) -> Between[Dose]:
    """Return the real dose of a volume drawn up when the weight is known only roughly, in mg/kg.

    Raises
    ------
    WrongKind
        For anything but a product volume, a strength by volume and a range of body weights.
    """
    _range(body)
    return Between(dose_given(volume, strength, body.high), dose_given(volume, strength, body.low))


@sourced(
    equation="wanted x supposed / largest to wanted x supposed / smallest",
    source="ARITHMETIC",
    gives="",
)
def really_between(wanted: Kind, supposed: Body | Water, real: Between[Any]) -> Between[Kind]:
    """Return what fish really get when the amount was reckoned for a supposed weight or volume.

    Parameters
    ----------
    wanted : a dose by body weight, or a concentration
    supposed : Body with a dose, Water with a concentration
        What the amount was reckoned for.
    real : Between
        What it may really be, of the same kind.

    Raises
    ------
    WrongKind
        For any other pairing.
    """
    expect(wanted, *_BY_BODY, *_BY_WATER)
    kind = Body if isinstance(wanted, _BY_BODY) else Water
    expect(supposed, kind)
    _range(real)
    expect(real.low, kind)
    least, most = (
        wanted.scaled(supposed.m_as(e.unit) / e.magnitude) for e in (real.high, real.low)
    )
    return Between(least, most)


_BY_BODY = (Dose, DailyDose, UnitDose, VolumeDose)
_BY_WATER = (Concentration, VolumeConcentration)


@dataclass(frozen=True)
class Judgement:
    """Whether each end of what is really given lies inside the range of the source."""

    low_inside: bool
    high_inside: bool
    sentence: str

    def __str__(self) -> str:
        return self.sentence


@sourced(equation="low <= each end <= high", source="ARITHMETIC", gives="")
def judge(real: Between[Kind], low: Quantity, high: Quantity) -> Judgement:
    """Judge both ends of a range against the lowest and highest dose of the source.

    Raises
    ------
    WrongKind
        When the three are not of one kind.
    """
    _range(real)
    expect(low, type(real.low))
    expect(high, type(real.low))
    least, most = low.m_as(real.low.unit), high.m_as(real.low.unit)
    inside = tuple(_within(end.m_as(real.low.unit), least, most) for end in real)
    ends = f"It may really be {real}; the range is {low} to {high}"
    if low == high:
        ends = f"It may really be {real}; the source gives {low} alone"
    return Judgement(inside[0], inside[1], f"{ends}: {_said(inside)}.")


def _within(value: float, least: float, most: float) -> bool:
    return not over(least, value) and not over(value, most)


def _said(inside: tuple[bool, ...]) -> str:
    words = {
        (True, True): "both ends are inside",
        (False, True): "the low end is outside",
        (True, False): "the high end is outside",
        (False, False): "both ends are outside",
    }
    return words[inside[0], inside[1]]


def _range(value: object) -> None:
    if not isinstance(value, Between):
        raise BadInput(f"A range is wanted here, from low to high; not {value}.")
