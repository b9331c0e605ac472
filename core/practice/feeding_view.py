"""The feeding check as a screen shows it: everything that was entered, and what follows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from core.errors import BadInput
from core.feeding.food_age import FoodAge, food_age
from core.feeding.gates import Answer, Gate
from core.practice import stock
from core.practice.feeding_gate import Today, answer, today_of
from core.practice.feeding_target import cites
from core.practice.feeding_work import Inputs, Worked, food_kinds, work_out
from core.practice.fish import StockLine
from core.practice.stock import Here
from core.records import read
from core.records.tables import Feeding, FeedStep, Food, Handling, System, Visit


@dataclass(frozen=True)
class FoodLine:
    """A bag or jar with what its dates say; `age` is None while its kind is not known."""

    food: Food
    age: FoodAge | None
    sentence: str


@dataclass(frozen=True)
class FeedingView:
    """Everything the stage shows.

    Attributes
    ----------
    day : date
        Of the visit.
    system : System
    here : tuple of Here
        The groups in this water with the number of their fish.
    untaken : tuple of Handling
        Weighed or measured in hand and on no line yet.
    foods : tuple of FoodLine
        The first is the one that is fed.
    feeding : Feeding or None
    inputs, worked
        What everything rests on, and what follows.
    today : Today
        What a rise is held against.
    rise : Answer
        Whether the usual gate is broken now, and by what.
    plan : tuple of FeedStep
        The rise or the held ration that stands.
    """

    day: date
    system: System
    here: tuple[Here, ...]
    untaken: tuple[Handling, ...]
    foods: tuple[FoodLine, ...]
    feeding: Feeding | None
    inputs: Inputs
    worked: Worked
    today: Today
    rise: Answer
    plan: tuple[FeedStep, ...]

    def alive(self, group_id: str) -> int | None:
        """Return how many of a group are in this water."""
        return next((h.alive for h in self.here if h.group.id == group_id), None)

    @property
    def uncounted(self) -> tuple[str, ...]:
        """Return which fish of this water are on no line of the stock."""
        return uncounted(self.here, self.inputs.stock)


def view(visit_id: str, system_id: str) -> FeedingView:
    """Return the feeding check of a water as this visit has it."""
    day = read.one(Visit, visit_id).day
    here = stock.fish_here(system_id)
    today = today_of(visit_id, system_id)
    feeding = read.first(Feeding, visit=visit_id, system=system_id)
    foods = tuple(food_line(f, day) for f in read.find(Food, visit=visit_id, system=system_id))
    given = _inputs(stock.kept_lines(visit_id, here), foods, feeding, today)
    return FeedingView(
        day,
        read.one(System, system_id),
        here,
        stock.untaken(visit_id, system_id),
        foods,
        feeding,
        given,
        work_out(given),
        today,
        answer(Gate(), given, today),
        read.find(FeedStep, visit=visit_id, system=system_id, order="position"),
    )


def _inputs(
    lines: tuple[StockLine, ...],
    foods: Sequence[FoodLine],
    feeding: Feeding | None,
    today: Today,
) -> Inputs:
    given = Inputs(
        lines, foods[0].food if foods else None, temperature_c=today.readings.temperature_c
    )
    if feeding is None:
        return given
    return replace(
        given,
        fed_g=feeding.fed_g,
        every_days=feeding.every_days,
        target_percent=feeding.target_percent,
        gone_min=feeding.gone_min,
        left_over=feeding.left_over,
        new_deaths=feeding.new_deaths,
    )


def food_line(food: Food, day: date) -> FoodLine:
    """Return a bag or jar with what its dates say on a day."""
    kind = food_kinds().get(food.kind)
    if kind is None:
        return FoodLine(food, None, "Say what kind of food it is: its limit depends on that.")
    try:
        age = food_age(kind, day, food.use_by, food.opened, food.sealed, cites())
    except BadInput as error:
        return FoodLine(food, None, error.sentence)
    return FoodLine(food, age, f"{', '.join(age.words).capitalize()}. {age.sentence}")


def uncounted(here: Sequence[Here], lines: Sequence[StockLine]) -> tuple[str, ...]:
    """Return in words which fish are on no line, and which lines hold more than there are."""
    found = []
    for one in here:
        on = [line.stock.counts for line in lines if line.group.id == one.group.id]
        low, high = sum(c[0] for c in on), sum(c[1] for c in on)
        name, alive = one.group.name, one.alive
        if not on:
            found.append(f"{name}: none weighed or measured")
        elif alive is not None and high < alive:
            found.append(f"{name}: {alive - high} of {alive} on no line")
        elif alive is not None and low > alive:
            found.append(f"{name}: {low} on the lines, {alive} kept")
    return tuple(found)
