"""What to do first about a water: one ordered list over all its readings, with its figures.

No diagnosis and no medicine. The vet decides; each line names the limit that called for it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from math import ceil
from types import MappingProxyType

from core.numbers import figures
from core.water.ammonia import unionised_fraction
from core.water.carbonate import bicarbonate_for_alkalinity_g
from core.water.chlorine import thiosulfate_for_chlorine_g
from core.water.derived import chloride_wanted_mg_l, derive, salinity_of
from core.water.nitrogen import salt_for_chloride_g
from core.water.readings import WaterReadings
from core.water.situation import (
    NO_SALT,
    FirstStep,
    Presence,
    Situation,
    ammonia_verdict,
    change,
    per,
    step,
)
from core.water.sour import is_trap, trap
from core.water.targets import SystemKind
from core.water.verdict import Verdict, judge_all

ALKALINITY_STEP_MG_L = 25.0
"""Most that alkalinity is raised in a day (common practice, no source)."""


def do_first(
    readings: WaterReadings,
    kind: SystemKind,
    volume_l: float | None = None,
    elevation_m: float = 0.0,
    tap: WaterReadings | None = None,
    present: frozenset[Presence] = frozenset(),
) -> tuple[FirstStep, ...]:
    """Return what to do first about a water, the most pressing first.

    Parameters
    ----------
    readings : WaterReadings
        What was measured.
    kind : SystemKind
        Carries the limits.
    volume_l : float, optional
        Net volume in L; without it amounts are given for 100 L.
    elevation_m : float
        Elevation in m.
    tap : WaterReadings, optional
        The new water; what was not measured in it counts as none.
    present : frozenset of str
        Which of `NO_SALT` the water holds.

    Returns
    -------
    tuple of FirstStep
        Empty when nothing measured calls for anything.
    """
    here = Situation(
        readings,
        kind,
        derive(readings, kind, elevation_m),
        judge_all(readings, kind, elevation_m),
        volume_l,
        tap or WaterReadings(),
        present,
    )
    return tuple(line for rule in RULES for line in rule(here))


def _air(here: Situation) -> Iterator[FirstStep]:
    called = (
        here.broken("oxygen")
        or _low_percent(here)
        or here.broken("carbon_dioxide")
        or here.broken("nitrite", "act")
        or here.broken("toxic_ammonia", "act")
    )
    if called is None:
        return
    flowing = here.kind.flow == "flowing"
    yield step(called, "More flow or more air" if flowing else "More air", _oxygen_figure(here))


def _low_percent(here: Situation) -> Verdict | None:
    verdict = here.broken("oxygen_percent")
    return verdict if verdict and verdict.value < 100 else None


def _oxygen_figure(here: Situation) -> str:
    parts = []
    if here.readings.oxygen_mg_l is not None:
        parts.append(f"oxygen {figures(here.readings.oxygen_mg_l, 2)} mg/L")
    if here.found.oxygen_percent.value is not None:
        parts.append(f"{here.found.oxygen_percent.value:.0f} % of what this water holds")
    if here.broken("carbon_dioxide") and here.found.carbon_dioxide.value is not None:
        parts.append(f"carbon dioxide {figures(here.found.carbon_dioxide.value, 2)} mg/L")
    return ", ".join(parts)


def _chlorine(here: Situation) -> Iterator[FirstStep]:
    verdict, chlorine = here.broken("chlorine"), here.readings.chlorine_mg_l
    if verdict is None or chlorine is None:
        return
    if verdict.below:
        yield step(
            verdict,
            "Watch the fish after new water",
            f"chlorine is under {figures(chlorine)} mg/L, the lowest step of this kit: "
            "only a finer kit tells whether there is any",
        )
        return
    grams = thiosulfate_for_chlorine_g(here.volume_l or 100.0, chlorine)
    yield step(
        verdict,
        "Stop the new water; bind the chlorine with sodium thiosulfate pentahydrate",
        f"{figures(grams)} g{per(here)}, 7 mg for each mg of chlorine; "
        "chloramine leaves ammonia behind: test it after",
        grams,
        "g",
    )


def _food(here: Situation) -> Iterator[FirstStep]:
    stop = (
        here.broken("oxygen", "act")
        or here.broken("oxygen_percent", "act")
        or ammonia_verdict(here)
    )
    if stop is not None:
        yield step(stop, "No food for 2 days, then test again", "", 2.0, "d")
        return
    less = here.broken("ammonia") or here.broken("nitrite") or here.broken("oxygen")
    if less is not None and not less.below:
        yield step(less, "Half the food until the next test", "", 0.5)


def _ammonia(here: Situation) -> Iterator[FirstStep]:
    if is_trap(here):
        yield from trap(here)
        return
    verdict, tan = ammonia_verdict(here), here.readings.tan_mg_l
    if verdict is None or tan is None:
        return
    if here.kind.flow == "flowing":
        yield step(verdict, "More flow", f"total ammonia {figures(tan)} mg/L as N")
        return
    yield change(here, verdict, tan, here.tap.tan_mg_l or 0.0, _ammonia_wanted(here))


def _ammonia_wanted(here: Situation) -> float:
    """Return the total ammonia at which neither the toxic part nor the total breaks its limit."""
    ends = []
    total, toxic = here.kind.limits.get("ammonia"), here.kind.limits.get("toxic_ammonia")
    got = here.readings
    if total and total.high is not None:
        ends.append(total.high)
    if toxic and toxic.high is not None and here.found.toxic_ammonia.value is not None:
        share = unionised_fraction(
            got.temperature_c or 0.0, got.ph or 0.0, salinity_of(got, here.kind) or 0.0
        )
        ends.append(toxic.high / share)
    return min(ends)


def _nitrite(here: Situation) -> Iterator[FirstStep]:
    verdict, nitrite = here.broken("nitrite"), here.readings.nitrite_mg_l
    if verdict is None or nitrite is None or verdict.below:
        return
    blocked = [name for name in NO_SALT if name in here.present]
    if here.kind.water != "fresh" or here.kind.flow == "flowing" or blocked:
        yield from _nitrite_without_salt(here, verdict, nitrite, blocked)
        return
    yield _salt(here, verdict, nitrite)


def _nitrite_without_salt(
    here: Situation, verdict: Verdict, nitrite: float, blocked: list[Presence]
) -> Iterator[FirstStep]:
    if blocked:
        yield step(verdict, "No salt against the nitrite", f"in this water: {', '.join(blocked)}")
    if here.kind.flow == "flowing":
        yield step(verdict, "More flow", f"nitrite {figures(nitrite)} mg/L as N")
        return
    if is_trap(here):
        return  # The small daily changes stand in the list already; a large one would raise the pH.
    limit = verdict.limit
    wanted = limit.high if limit and limit.high is not None else 0.0
    if nitrite > wanted:
        yield change(here, verdict, nitrite, here.tap.nitrite_mg_l or 0.0, wanted)


def _salt(here: Situation, verdict: Verdict, nitrite: float) -> FirstStep:
    wanted, present = chloride_wanted_mg_l(nitrite), here.readings.chloride_mg_l
    if present is not None and present >= wanted:
        return step(
            verdict, "Keep the chloride up", f"{figures(present)} of {figures(wanted)} mg/L wanted"
        )
    grams = salt_for_chloride_g(here.volume_l or 100.0, wanted - (present or 0.0))
    counted = "" if present is not None else "; chloride was not measured and counts as none"
    return step(
        verdict,
        "Plain salt, dissolved, in parts over a day",
        f"{figures(grams)} g{per(here)}, to {figures(wanted)} mg/L chloride{counted}",
        grams,
        "g",
    )


def _alkalinity(here: Situation) -> Iterator[FirstStep]:
    verdict, alkalinity = here.broken("alkalinity"), here.readings.alkalinity_mg_l
    if verdict is None or alkalinity is None or verdict.limit is None:
        return
    aim = verdict.limit.aim_low if verdict.limit.aim_low is not None else verdict.limit.low
    if aim is None or alkalinity >= aim or here.kind.flow == "flowing":
        return
    if ammonia_verdict(here) or is_trap(here):
        yield step(verdict, "Raise the alkalinity only when the ammonia is down", "")
        return
    rise = aim - alkalinity
    grams = bicarbonate_for_alkalinity_g(here.volume_l or 100.0, rise)
    parts = ceil(rise / ALKALINITY_STEP_MG_L)
    split = f" in {parts} equal parts a day apart" if parts > 1 else ""
    yield step(
        verdict,
        f"Sodium bicarbonate, dissolved,{split or ' at once'}",
        f"{figures(grams)} g{per(here)}, from {figures(alkalinity)} to {figures(aim)} mg/L",
        grams,
        "g",
    )


SLOW: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "temperature": ("Bring the temperature back slowly", "no more than 2 °C a day"),
        "ph": ("Bring the pH back slowly", "no more than 0.3 a day"),
        "salinity": ("Bring the salinity back slowly", "no more than 2 a day"),
    }
)


def _slow(here: Situation) -> Iterator[FirstStep]:
    for reading, (action, pace) in SLOW.items():
        verdict = here.broken(reading, "act")
        if verdict is None or (reading == "ph" and is_trap(here)):
            continue
        yield step(verdict, action, pace)


def _nitrate(here: Situation) -> Iterator[FirstStep]:
    verdict = here.broken("nitrate", "act")
    if verdict is not None and here.kind.flow != "flowing" and not is_trap(here):
        yield step(verdict, "Larger or more frequent water changes", "", None)


RULES: tuple[Callable[[Situation], Iterator[FirstStep]], ...] = (
    _air,
    _chlorine,
    _food,
    _ammonia,
    _nitrite,
    _alkalinity,
    _slow,
    _nitrate,
)
