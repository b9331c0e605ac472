"""The rows of the feeding check: what is asked, and what stands in each."""

from __future__ import annotations

from dataclasses import replace

from core import dates
from core.numbers import figures, plain
from core.practice.feeding_gate import measured
from core.practice.feeding_plan import PlannedStep, usual_hold
from core.practice.feeding_typed import gone_words, often_words
from core.practice.feeding_view import FeedingView, FoodLine
from core.practice.feeding_work import food_kinds, protein_of
from core.practice.fish import EXAMPLE, StockLine
from core.records.tables import Food
from tui.widgets.field import Choice, Field
from tui.widgets.row import Shown

YES_NO = (Choice("y", "yes", "yes"), Choice("n", "no", "no"))
FOOD_KEYS = ("name", "kind", "protein", "use_by", "opened", "sealed", "scoop")
AGE_WORDS = {"past its date": "past", "open too long": "old", "no date": "look"}


def fields(seen: FeedingView, plan: tuple[PlannedStep, ...]) -> list[Field]:
    """Return the rows, in the order in which a feeding check is done."""
    return [*_stock(seen), *_food(), *_jars(seen), *_fed(), *_plan(plan)]


def _stock(seen: FeedingView) -> list[Field]:
    rows = []
    for here in seen.here:
        group = here.group
        rows += [
            Field(f"line {line.weighing.id}", group.name, example=EXAMPLE, required=True)
            for line in seen.inputs.stock
            if line.group.id == group.id and line.weighing
        ]
        known = "" if here.alive is None else f"{here.alive} "
        label = f"{known}{group.name}, add"
        hint = "4 x 32 cm or 12 x 140 g; a: a net of them"
        rows.append(Field(f"new {group.id}", label, example=EXAMPLE, hint=hint))
    if seen.untaken:
        count = len(seen.untaken)
        label = f"{count} from In hand"
        rows.append(Field("take", label, "act", hint="Enter or v puts them on lines"))
    if not rows:
        rows.append(Field("nobody", "No fish here", "act", hint="add the fish in History"))
    return [_headed(rows[0], "Stock"), *rows[1:]]


def _headed(row: Field, section: str) -> Field:
    return replace(row, section=section)


def food_fields() -> list[Field]:
    """Return what is asked about a bag or jar of food."""
    kinds = tuple(Choice("", key, kind.name) for key, kind in food_kinds().items())
    return [
        Field("name", "Food", example="koi pellet 4 mm", hint="its name; = as last time"),
        Field("kind", "Kind of food", "pick", choices=kinds, hint="type a part of it"),
        Field("protein", "Protein, label", "quantity", "percent", "%", 1, 80, (8, 60)),
        Field("use_by", "Use by", "date", hint="as printed"),
        Field("opened", "Opened on", "date", example=dates.PAST_EXAMPLE, past=True),
        Field("sealed", "Still sealed", "choice", choices=YES_NO),
        Field("scoop", "One scoop holds", "quantity", "mass", "g", 0.01, 10_000, example="15 g"),
    ]


def _food() -> list[Field]:
    rows = food_fields()
    return [_headed(rows[0], "Food"), *rows[1:]]


def _jars(seen: FeedingView) -> list[Field]:
    return [Field(f"jar {one.food.id}", one.food.name, "act") for one in seen.foods[1:]] + [
        Field("jar", "Another bag or jar", "act", hint="Enter")
    ]


def _fed() -> list[Field]:
    return [
        Field("fed", "Fed at one time", example="45 g or 3 scoops", section="Fed"),
        Field("often", "How often", example="2 a day, every 3 days", hint="2 a day, every 3 days"),
        Field("gone", "Food gone in", example="4 min, or left", hint="minutes, or left"),
        Field("deaths", "New deaths, 7 days", "count", low=0, high=10_000_000, example="0"),
        Field("target", "Target a day", "quantity", "percent", "%", 0, 50, (0.1, 10)),
    ]


def _plan(plan: tuple[PlannedStep, ...]) -> list[Field]:
    steps = [Field(f"step {n}", _label(step), "act") for n, step in enumerate(plan)]
    held = any(step.kind == "hold" for step in plan)
    return [
        Field("rise", "Make a stepped rise", "act", section="Plan"),
        *([] if held else steps),
        Field("hold", "Hold or cut to", "act"),
        *(steps if held else []),
        Field("model", "Ask filter model", "act", hint="Enter; a model, never validated"),
    ]


def _label(step: PlannedStep) -> str:
    word = "Hold from" if step.kind == "hold" else "From"
    return f"{word} {dates.said(step.day, step.day)}"


def shown(seen: FeedingView, plan: tuple[PlannedStep, ...], key: str) -> Shown:
    """Return what stands in a row."""
    kind, _, rest = key.partition(" ")
    if kind == "line":
        return next((stock_row(s) for s in seen.inputs.stock if _is(s, rest)), Shown())
    if kind == "step":
        return step_row(plan[int(rest)]) if int(rest) < len(plan) else Shown()
    if kind == "jar":
        return next((_jar_row(f) for f in seen.foods if f.food.id == rest), Shown())
    if key in FOOD_KEYS:
        return food_row(seen.foods[0] if seen.foods else None, seen, key)
    if key == "rise":
        return _rise_row(seen, plan)
    return fed_row(seen, key)


def _is(line: StockLine, row_id: str) -> bool:
    return line.weighing is not None and line.weighing.id == row_id


def stock_row(line: StockLine) -> Shown:
    """Return a line of the stock: count and size, and what one fish weighs."""
    low, high = line.stock.counts
    count = plain(low) if low == high else f"{low}-{high}"
    length = line.length_cm if line.how == "from length" else None
    grams = plain(round(line.stock.mean_weight_g, 2))
    size = f"{plain(length)} cm" if length is not None else f"{grams} g"
    return Shown(f"{count} x {size}", note=line.note)


def step_row(step: PlannedStep) -> Shown:
    """Return a step of the plan: its grams, what they cost the water, and its gate."""
    cost = ""
    if step.tan_g is not None and step.alkalinity_g is not None:
        cost = (
            f"ammonia {figures(step.tan_g)} g N, alkalinity {figures(step.alkalinity_g, 2)} g a "
            "day. "
        )
    return Shown(f"{plain(step.grams)} g", note=cost + step.gate)


def _rise_row(seen: FeedingView, plan: tuple[PlannedStep, ...]) -> Shown:
    word, note = ("no" if seen.rise.refused else ""), seen.rise.sentence
    if plan and plan[0].kind != "hold":
        gate = note if seen.rise.refused else plan[0].gate
        note = f"{len(plan)} steps saved, below. {gate}"
    return Shown(word=word, note=note)


def _jar_row(one: FoodLine) -> Shown:
    return Shown(word=age_word(one), note=one.sentence)


def age_word(one: FoodLine) -> str:
    """Return a short word for a food that is not within its dates."""
    words = one.age.words if one.age else ()
    return next((AGE_WORDS[w] for w in words if w in AGE_WORDS), "")


def food_row(one: FoodLine | None, seen: FeedingView, key: str) -> Shown:
    """Return a row about the food that is fed."""
    if one is None:
        return Shown()
    food = one.food
    if key == "name":
        return Shown(food.name, age_word(one), note=one.sentence)
    if key == "protein":
        return _protein(food)
    kind = food_kinds().get(food.kind)
    values = {
        "kind": kind.name if kind else "",
        "use_by": dates.said(food.use_by, seen.day) if food.use_by else "",
        "opened": dates.said(food.opened, seen.day) if food.opened else "",
        "sealed": "yes" if food.sealed else "",
        "scoop": f"{plain(food.scoop_g)} g" if food.scoop_g else "",
    }
    notes = {"kind": kind.storage if kind else "", "scoop": "weighed once for this owner"}
    note = notes.get(key, one.sentence if values[key] else "")
    return Shown(values[key], note=note if values[key] else "")


def _protein(food: Food) -> Shown:
    share = protein_of(food)
    if share is None:
        return Shown()
    value = f"{plain(round(100 * share, 2))} %"
    if food.protein_fraction is None:
        return Shown(value, note="usual for this kind, from memory; take the label", pending=True)
    return Shown(value)


def fed_row(seen: FeedingView, key: str) -> Shown:
    """Return a row about what is fed and planned."""
    feeding, worked = seen.feeding, seen.worked
    if key == "fed":
        note = worked.verdict.sentence if worked.verdict else " ".join(worked.missing)
        word = worked.verdict.place if worked.verdict else ""
        return Shown(feeding.fed_typed if feeding else "", word, note=note)
    if key == "often":
        return Shown(often_words(seen.inputs.every_days), note=_meal(seen), pending=feeding is None)
    if key == "gone":
        value = gone_words(seen.inputs.gone_min, seen.inputs.left_over)
        return Shown(value, note="the gate asks for 5 min" if value else "")
    if key == "deaths":
        return _deaths(seen)
    if key == "target":
        return _target(seen)
    return _act_row(seen, key)


def _meal(seen: FeedingView) -> str:
    grams = seen.worked.meal_g
    return "" if grams is None else f"{plain(grams)} g each time at the target"


def _deaths(seen: FeedingView) -> Shown:
    told = seen.inputs.new_deaths
    count = measured(seen.inputs, seen.today).new_deaths
    if count is None:
        return Shown()
    note = "" if told is not None else "by the History"
    return Shown(str(count), note=note, pending=told is None)


def _target(seen: FeedingView) -> Shown:
    row, own = seen.worked.row, seen.inputs.target_percent
    if row is None:
        return Shown(note=" ".join(seen.worked.missing))
    note = f"{row}. {row.note}".strip()
    meals = f" Meals a day: {row.meals}." if row.meals else ""
    return Shown(f"{plain(row.percent_target)} %", note=note + meals, pending=own is None)


def _act_row(seen: FeedingView, key: str) -> Shown:
    if key == "hold":
        grams = usual_hold(seen)
        offer = "" if grams is None else f"sick or treated fish: {plain(grams)} g a day (0.3 %)"
        return Shown(note=offer)
    return Shown()
