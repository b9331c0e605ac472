"""A disinfectant made up in a bucket, from figures as they are typed; nothing is recorded."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from core.catalogue import load
from core.dosing.arithmetic import AnyConcentration, AnyStrength
from core.dosing.disinfectant import age, working_solution
from core.dosing.quantities import concentration, density, strength, water
from core.errors import BadInput
from core.numbers import plain
from core.practice.medicines import typed
from core.sourced import lines, working

WANTED = {"ppm": ("mg/L", 1.0), "% w/v": ("g/L", 10.0), "mL/L": ("uL/L", 1000.0)}
"""Spellings of labels of disinfectants, each with the unit that says the same, and how many."""

STOCK = {"ppm": ("g/L", 0.001)}
CARE = (
    "For equipment, never on fish: gloves and goggles, stock into water, nothing else in the "
    "bucket; rinse and neutralize before it meets fish or their water."
)


@dataclass(frozen=True)
class Bucket:
    """What is to be made up, each figure with its unit as it was typed.

    Attributes
    ----------
    stock : str
        12.5 % w/w, 5 % w/v, 50 mg/mL, 50000 ppm; empty for a level by volume.
    density : str
        Of a liquid whose strength is by weight, 1.2 g/mL.
    wanted : str
        200 ppm or mg/L of active substance, 0.5 % w/v, or 10 mL/L of the product itself.
    finished : str
        Volume of the finished solution, 10 L.
    hours_old, life_hours : float or None
        Of a solution that stands there already, and how long its label lets it stand.
    """

    stock: str = ""
    density: str = ""
    wanted: str = ""
    finished: str = ""
    hours_old: float | None = None
    life_hours: float | None = None


@dataclass(frozen=True)
class MadeUp:
    """What is measured, in lines for a person, and the working."""

    said: tuple[str, ...]
    working: tuple[str, ...]


def make_up(bucket: Bucket, now: datetime) -> MadeUp:
    """Return how a disinfectant is made up, and whether one that stands there is too old.

    Raises
    ------
    BadInput
        For a bare number, a plain percent, or kinds that do not go together: mL of product
        never pass for ppm of active substance.
    Refusal
        When the stock is too weak.
    """
    with working() as steps:
        wanted = _wanted(bucket.wanted)
        stock = _stock(bucket.stock) if bucket.stock else None
        heavy = density(*typed(bucket.density, "1.2 g/mL")) if bucket.density else None
        made = working_solution(wanted, water(*typed(bucket.finished, "10 L")), stock, heavy)
    said = (f"Measure {made}.", f"It then holds {_level(bucket.wanted, wanted)}.")
    return MadeUp((*said, *_age(bucket, now), CARE), tuple(lines(list(steps), load.citations())))


def _wanted(text: str) -> AnyConcentration:
    value, unit = typed(text, "200 ppm")
    same, times = WANTED.get(unit.replace("ml", "mL").replace("/l", "/L"), (unit, 1.0))
    return concentration(value * times, same)


def _stock(text: str) -> AnyStrength:
    value, unit = typed(text, "5 % w/v")
    same, times = STOCK.get(unit, (unit, 1.0))
    return strength(value * times, same)


def _level(text: str, wanted: AnyConcentration) -> str:
    of = "of the product, by volume" if wanted.unit == "uL/L" else "of what the stock counts"
    return f"{wanted} {of} ({text.strip()} as typed)"


def _age(bucket: Bucket, now: datetime) -> tuple[str, ...]:
    old, life = bucket.hours_old, bucket.life_hours
    if life is None:
        said = "How long it may stand is not typed: read the label, write the time on the bucket."
        return (said,)
    if old is None:
        return (f"Made now, it is good for {plain(age(now, now, life).life_hours)} h.",)
    if not 0 <= old < 100_000:
        raise BadInput(f"{plain(old)} h old can not be; type 0 or more, for example 6.")
    got = age(now - timedelta(hours=old), now, life)
    if got.over:
        return (f"TOO OLD: {plain(got.hours)} h, its life is {plain(life)} h. Make it fresh.",)
    left = plain(round(life - got.hours, 2))
    return (f"{plain(round(got.hours, 2))} h old, good for {left} h more.",)
