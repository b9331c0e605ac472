"""What an order of a treatment asks, which depends on the medicine and on the water."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from core.practice import as_sold, course_words, medicines, treatment_words
from core.practice.giving_context import syringes
from core.practice.plan import ACTS, PlanView, Target
from core.practice.read_medicines import held_state
from core.practice.stock_ordered import last_day
from core.practice.treatment_fish import own_bath
from core.records.tables import System
from tui.shelf.lots import lot_fields
from tui.widgets.dialog import Answers
from tui.widgets.field import Choice, Entry, Field
from tui.workup.plan_cycle import cycle_fields

ACT_CHOICES = tuple(Choice(act[0], act, act) for act in ACTS)
NONE = Choice("", "none", "none: active substance only")
OTHER = Choice("", "other", "another, by its strength")
YES_NO = (Choice("y", "yes", "yes"), Choice("n", "no", "no"))
DILUTED = (Choice("d", "diluted", "diluted"), Choice("a", "as it is", "as it is"))
ASKS = "asked "
ASKED_LABEL = {
    "bad bottle": "Bottle is cloudy",
    "no air": "Without strong air",
    "bloom": "Green or weedy water",
    "no buffer": "Without a buffer",
    "no second step": "No second step",
}
"""What `core.dosing.dangers.ASKED` says, short enough for a row."""
FLOWS = (Choice("r", "running", "running"), Choice("s", "standing", "standing"))


def _none(key: str) -> Choice:
    """Return the answer that no product is chosen, and what the dose then counts."""
    sold = as_sold.words(medicines.medicine(key))
    return Choice("", NONE.value, f"none: {sold}" if sold else NONE.label)


def target_of(answers: Answers, view: PlanView) -> Target:
    """Return who the order is for."""
    key = answers["whom"].words if "whom" in answers else ""
    return next((t for t in view.targets if t.key == key), view.targets[0])


def usual_answers(key: str, system: System) -> Answers:
    """Return what the row of a medicine fills in: dose, product, repeats, interval, flow."""
    usual = treatment_words.usual(key)
    found = {
        "route": _text(usual.ask.route),
        "repeats": Entry(str(usual.repeats), usual.repeats),
    }
    if usual.ask.dose:
        found["dose"] = _text(usual.ask.dose)
    if usual.ask.steps > 1:
        found["steps"] = Entry(str(usual.ask.steps), usual.ask.steps)
    if usual.interval_days:
        days = int(usual.interval_days)
        found["interval"] = Entry(str(days), days)
    mine = [p for p in medicines.shelf().values() if p.agent == medicines.medicine(key).name]
    product = Choice("", mine[0].key, mine[0].name) if mine else _none(key)
    found["product"] = Entry(product.label, product.value)
    if system.flow == "flowing" and medicines.medicine(key).in_water:
        flow = f"{system.flow_l_s:g} L/s" if system.flow_l_s else ""
        found |= {"how": _text("running"), "minutes": _text("60 min")}
        found |= {"flow": _text(flow)} if flow else {}
    return found


def _text(words: str) -> Entry:
    return Entry(words, words)


def for_each(key: str) -> bool:
    """Return whether a medicine is only injected: into a fish, never into a whole water."""
    return all(route.startswith("injection") for route in medicines.medicine(key).routes)


def order_fields(answers: Answers, view: PlanView, *, dilute: bool = False) -> Sequence[Field]:
    """Return the rows that the answers so far ask for.

    Parameters
    ----------
    dilute : bool
        Whether what is drawn is under five marks, so that it is to be said how it is drawn.
    """
    found = [
        Field("medicine", "Medicine", "pick", choices=_listed(), required=True),
        Field("whom", "For", "pick", choices=_whom(answers, view), required=True),
        Field("act", "What is done", "choice", choices=ACT_CHOICES, required=True),
    ]
    if "medicine" not in answers or answers["medicine"].words in medicines.refused_names():
        return found
    row = medicines.medicine(answers["medicine"].words)
    target = target_of(answers, view)
    where = next(s for s in view.opened.systems if s.id == target.system)
    # The water of a tub stands, wherever its fish come from.
    tub = own_bath(row, target.handling)
    return [
        *found,
        *_dose_fields(row.key, answers, where, tub=tub),
        *_drawn_fields(row.key, answers, dilute=dilute),
        *_asked_fields(row.key),
        *_course_fields(row.key, answers, where, view),
    ]


def _listed() -> tuple[Choice, ...]:
    """Return all that can be ordered; what is off says so first, where no line is cut."""
    rows = medicines.catalogue().items()
    return (
        *(
            Choice("", k, ("" if held_state(k).on else "off: ") + medicines.label(r))
            for k, r in rows
        ),
        *(Choice("", k, f"refused: {names}") for k, names in medicines.refused_names().items()),
    )


def _whom(answers: Answers, view: PlanView) -> tuple[Choice, ...]:
    key = answers["medicine"].words if "medicine" in answers else ""
    each = bool(key) and key not in medicines.refused_names() and for_each(key)
    fish = (t for t in view.targets if not each or t.group is not None or t.handling is not None)
    return tuple(Choice("", t.key, t.label) for t in fish)


def _drawn_fields(key: str, answers: Answers, *, dilute: bool) -> list[Field]:
    """Return what is asked of the syringe, for what is injected."""
    route = answers["route"].words if "route" in answers else medicines.medicine(key).routes[0]
    if not route.startswith("injection"):
        return []
    tools = tuple(Choice("", s.name, str(s)) for s in syringes())
    found = [Field("syringe", "Syringe", "pick", choices=tools, hint="smallest that holds it")]
    if dilute:
        found.append(Field("diluted", "Draw it", "choice", choices=DILUTED, required=True))
    return found


def _asked_fields(key: str) -> list[Field]:
    """Return what no record holds and the dangers of a medicine hang on."""
    asked = dict.fromkeys(a for d in medicines.medicine(key).dangers for a in d.asks)
    return [Field(ASKS + a, ASKED_LABEL[a], "choice", choices=YES_NO) for a in asked]


def _dose_fields(key: str, answers: Answers, where: System, *, tub: bool) -> list[Field]:
    row = medicines.medicine(key)
    found = [
        Field("dose", "Dose, with unit", required=True, example=f"{row.dose_high:g} {row.unit}")
    ]
    if len(row.routes) > 1:
        routes = tuple(Choice("", r, r) for r in row.routes)
        found.append(Field("route", "Route", "pick", choices=routes, required=True))
    mine = [p for p in medicines.shelf().values() if p.agent == row.name]
    listed = (Choice("", p.key, f"{p.name}, {p.strength}") for p in mine)
    products = (*listed, OTHER, _none(row.key))
    found.append(Field("product", "Product", "pick", choices=products))
    if "product" in answers and answers["product"].words == OTHER.value:
        found.append(Field("strength", "Its strength", example="35 % w/w, 1.13 g/mL"))
    if row.in_water:
        hint = "on record" if where.volume_l else "not known"
        hint = "of the tub" if tub else hint
        found += [Field("volume", "Water, with unit", example="640 L", hint=hint), _known_to(where)]
        if where.flow == "flowing" and not tub:
            found.append(Field("how", "Water meanwhile", "choice", choices=FLOWS))
            found.append(Field("flow", "Flow, with unit", example="18 L/s"))
            found.append(Field("minutes", "How long", example="60 min"))
        found.append(Field("steps", "In how many parts", "count", low=1, high=30))
        if "steps" in answers and (answers["steps"].number or 1) > 1:
            found.append(Field("apart", "Hours between parts", "count", low=1, high=168, hint="24"))
        found.append(Field("scoop", "One scoop holds", example="15 g, 5 mL", hint="level"))
    else:
        hint = "as weighed"
        found += [Field("weight", "Weight, with unit", example="238 g", hint=hint), _known_to()]
    if "feed" in row.unit or "medicated feed" in row.routes:
        found.append(Field("ration", "Fed a day", example="1 %", hint="of weight"))
    return found


def _known_to(where: System | None = None) -> Field:
    """Ask how well a volume or a weight is known: both ends of the dose are shown and judged."""
    error = where.volume_error_percent if where else None
    hint = f"{error:g} on record" if error else "10: up to 10 % off"
    return Field("error", "Known to within, %", "count", low=1, high=90, hint=hint)


def _course_fields(key: str, answers: Answers, where: System, view: PlanView) -> list[Field]:
    row = medicines.medicine(key)
    found = [
        *cycle_fields(row, view),
        Field("repeats", "Times in all", "count", low=1, high=60),
        Field("interval", "Days between", "count", low=1, high=365),
        Field("starts", "First on", "date", hint="visit day"),
    ]
    if row.switch_off or row.extra_air:
        found.append(
            Field("hours", "On again after, h", "count", low=1, high=2000, hint="UV, carbon")
        )
    if where.food_fish:
        found.append(Field("withdrawal", "Withdrawal set, d", "count", low=0, high=1000))
    if any(r.startswith("injection") for r in row.routes):
        found.append(Field("place", "Place of injection", example="left epaxial"))
    product = answers["product"].words if "product" in answers else ""
    day = view.opened.visit.day
    return [
        *found,
        *lot_fields(product, answers, day, row.name, _last_day(answers, day)),
        Field("directions", "Directions", example="siphon the floor after 24 h"),
        Field("reason", "Reason to go past", hint="if asked", example="weighed twice"),
    ]


def _last_day(answers: Answers, day: date) -> date:
    """Return the last day of what leaves the shelf: of the whole course when it is dispensed."""
    first = answers["starts"].day if "starts" in answers else None
    counts = {
        k: answers[k].number for k in ("repeats", "interval", "steps", "apart") if k in answers
    }
    steps, repeats = int(counts.get("steps") or 1), int(counts.get("repeats") or 1)
    hours = counts.get("apart") or course_words.DAY_H
    apart = hours if steps > 1 else course_words.DAY_H * (counts.get("interval") or 1)
    days = course_words.part_days(first or day, steps if steps > 1 else repeats, int(apart))
    return last_day(answers["act"].words if "act" in answers else "", days)
