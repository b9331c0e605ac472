"""What the feeding check says under its form, and what its answers mean for the record."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

from core import dates
from core.feeding.gates import Answer, Gate
from core.feeding.ramp import Ramp
from core.numbers import figures, plain
from core.practice.feeding import fed_columns
from core.practice.feeding_gate import broken_of
from core.practice.feeding_plan import PlannedStep
from core.practice.feeding_view import FeedingView, uncounted
from core.practice.feeding_work import Inputs, Worked
from core.practice.fish import span_words, weight_words
from core.practice.keep import Shown
from tui.widgets.dialog import Answers
from tui.widgets.field import Entry

TOLD = 4
"""So many steps of a plan are named in a line."""


def below(
    seen: FeedingView,
    given: Inputs,
    worked: Worked,
    rise: Answer,
    plan: tuple[PlannedStep, ...] = (),
) -> str:
    """Return the lines under the form: stock, ration, what to feed, food, and the gate."""
    lines = [
        _biomass(worked),
        " ".join(part for part in (_ration(worked), _to_feed(worked)) if part),
        plan_saved(plan, seen.day),
        _cost(worked),
        _uncounted(seen, given),
        _food(seen),
        _rise(rise),
    ]
    return "\n".join(line for line in lines if line)


def plan_saved(plan: tuple[PlannedStep, ...], today: date) -> str:
    """Return the rise that stands saved, step by step; "" without one."""
    if not plan or plan[0].kind == "hold":
        return ""
    told = "; ".join(f"{dates.said(s.day, today)} {plain(s.grams)} g" for s in plan[:TOLD])
    more = f"; {len(plan) - TOLD} more" if len(plan) > TOLD else ""
    return f"Rise saved: {told}{more}."


def _biomass(worked: Worked) -> str:
    mass = worked.biomass
    if mass is None:
        return " ".join(worked.missing)
    said = f"Stock {weight_words(mass.likely_g)}"
    if mass.high_g > mass.low_g:
        said += f" ({span_words(mass.low_g, mass.high_g)})"
    return f"{said}{', estimated' if mass.estimated else ', weighed'}."


def _ration(worked: Worked) -> str:
    found = worked.verdict
    if found is None:
        if "ration" not in worked.steps:
            return ""
        return f"Fed {figures(worked.steps['ration'][0], 2)} % a day; no rate to hold it against."
    low, high = plain(found.row.percent_low), plain(found.row.percent_high)
    percent = figures(found.percent, 2) if found.percent < 1 else f"{found.percent:.2f}"
    return f"Fed {percent} % of body weight a day: {found.place} {low} to {high} %."


def _to_feed(worked: Worked) -> str:
    if worked.to_feed_g is None or worked.target_percent is None:
        return ""
    over = worked.verdict is not None and worked.verdict.place == "over"
    head = "Come down to" if over else "To feed"
    said = f"{head} {plain(worked.to_feed_g)} g ({plain(worked.target_percent)} %)"
    if worked.meal_g is not None and worked.meal_g != worked.to_feed_g:
        said += f", {plain(worked.meal_g)} g each time"
    return f"{said}."


def _cost(worked: Worked) -> str:
    if worked.tan_target_g is None or worked.alkalinity_target_g is None:
        return ""
    tan, used = figures(worked.tan_target_g), figures(worked.alkalinity_target_g, 2)
    if worked.tan_g is not None and worked.alkalinity_g is not None:
        tan = f"{figures(worked.tan_g)} -> {tan}"
        used = f"{figures(worked.alkalinity_g, 2)} -> {used}"
    return f"A day: ammonia {tan} g N made, alkalinity {used} g used."


def _uncounted(seen: FeedingView, given: Inputs) -> str:
    missing = uncounted(seen.here, given.stock) if given.stock else ()
    return f"Not in the stock: {'; '.join(missing)}." if missing else ""


def _food(seen: FeedingView) -> str:
    bad = [
        f"{one.food.name}: {', '.join(one.age.words)}"
        for one in seen.foods
        if one.age is not None and not one.age.within
    ]
    return f"Food: {'; '.join(bad)}." if bad else ""


def _rise(rise: Answer) -> str:
    if not rise.refused:
        return rise.sentence
    broken = broken_of(rise)
    head = "No rise now" if broken else "Before a rise"
    first = (broken or rise.reasons)[0]
    more = len(rise.reasons) - 1
    return f"{head}: {first}" + (f" And {more} more, see Make a stepped rise." if more else "")


def working(figures_kept: dict[str, Shown]) -> str:
    """Return the working of every figure."""
    return "\n\n".join(f"{name}\n{one.working}" for name, one in figures_kept.items())


def model_words(ramp: Ramp, gate: Gate) -> str:
    """Return what the filter model gave, as a row's note."""
    (tan_day, tan), (nitrite_day, nitrite) = ramp.run.tan_peak, ramp.run.nitrite_peak
    over = tan >= gate.tan_mg_l or nitrite >= gate.nitrite_mg_l
    days = ", ".join(str(day) for day in ramp.test_days)
    return (
        f"Model, not validated: {ramp.weeks} weekly steps. Highest ammonia {figures(tan, 2)} mg/L "
        f"N (day {round(tan_day)}), nitrite {figures(nitrite, 2)} (day {round(nitrite_day)}), "
        f"lowest alkalinity {figures(min(ramp.run.alkalinity_mg_l), 2)}."
        f"{' Over the gate: expect it to hold the rise.' if over else ''} "
        f"Test on days {days}; the gates decide."
    )


def food_columns(answers: Answers) -> dict[str, Any]:
    """Return the columns of a food that its answers stand for."""
    found: dict[str, Any] = {}
    for key, entry in answers.items():
        found.update(_FOOD[key](entry))
    return found


_FOOD: dict[str, Callable[[Entry], dict[str, Any]]] = {
    "name": lambda e: {"name": e.words},
    "kind": lambda e: {"kind": e.words},
    "protein": lambda e: {"protein_fraction": e.number / 100},
    "use_by": lambda e: {"use_by": e.day},
    "opened": lambda e: {"opened": e.day, "sealed": False},
    "sealed": lambda e: {"sealed": True, "opened": None} if e.words == "yes" else {"sealed": False},
    "scoop": lambda e: {"scoop_g": e.number},
}


def columns_of(key: str, entry: Entry, scoop_g: float | None) -> dict[str, Any]:
    """Return the columns of what is fed that one answer stands for.

    Raises
    ------
    BadInput
        When it can not be read.
    """
    if key == "target":
        return {"target_percent": entry.number}
    if key == "deaths":
        return {"new_deaths": int(entry.number)}
    return fed_columns(key, entry.text, scoop_g)
