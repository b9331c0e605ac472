"""The plan for the food: a rise in steps, each behind its gate, or a ration that is held."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

from core.errors import BadInput, Refusal
from core.feeding.gates import Answer, Gate, stepped_rise
from core.numbers import figures, plain
from core.practice.door import edit
from core.practice.feeding_gate import answer, broken_of
from core.practice.feeding_target import cites, sick_rate
from core.practice.feeding_view import FeedingView, view
from core.practice.feeding_work import as_fed_g, dry_g, load_of, weighable_g
from core.practice.keep import Act, Shown, begin_stage, keep_figures
from core.records import read
from core.records.journal import OpenEdit
from core.records.keys import new_key
from core.records.tables import FeedStep, Food
from core.sourced import lines, working

STAGE = "Feeding"
MADE_AGAIN = "made again"
MOST_WEEKS = 26
SET_BY_VET = "set by the veterinarian for this rise"


@dataclass(frozen=True)
class Rise:
    """What a stepped rise is made from.

    Attributes
    ----------
    from_g, to_g : float
        Food a day now and at the end, in grams as fed.
    weeks, steps : int
        How long it takes and in how many even steps.
    starts : date
        Day of the first step.
    gate : Gate
        What must hold on the morning of every step.
    """

    from_g: float
    to_g: float
    weeks: int
    steps: int
    starts: date
    gate: Gate = field(default_factory=Gate)


@dataclass(frozen=True)
class PlannedStep:
    """One step with its day, its food and what that costs the water; the last two may be None."""

    day: date
    grams: float
    gate: str
    tan_g: float | None
    alkalinity_g: float | None
    kind: str = "step"


def gate_of(tan_mg_l: float, nitrite_mg_l: float, food_gone_min: float) -> Gate:
    """Return a gate with these limits; one that differs from the usual says who set it.

    Raises
    ------
    BadInput
        When a limit is not above 0.
    """
    if min(tan_mg_l, nitrite_mg_l, food_gone_min) <= 0:
        raise BadInput("A gate needs limits above 0, as 0.25 mg/L, 0.1 mg/L and 5 min.")
    usual = Gate()
    if (tan_mg_l, nitrite_mg_l, food_gone_min) == (
        usual.tan_mg_l,
        usual.nitrite_mg_l,
        usual.food_gone_min,
    ):
        return usual
    return Gate(tan_mg_l, nitrite_mg_l, food_gone_min, source=SET_BY_VET, how="set at this visit")


def usual_rise(seen: FeedingView) -> Rise:
    """Return the rise that is offered: from what is fed to the target, in four weekly steps.

    Raises
    ------
    Refusal
        When what is fed or the target is not known, or the fish are not underfed.
    """
    worked = seen.worked
    if worked.fed_daily_g is None or worked.to_feed_g is None:
        why = " ".join(worked.missing) or "The ration is not worked out yet."
        raise Refusal(f"No rise can be made. {why}")
    if worked.fed_daily_g >= worked.to_feed_g:
        raise Refusal(
            f"Fed {plain(worked.fed_daily_g)} g a day already, the target is "
            f"{plain(worked.to_feed_g)} g: there is nothing to raise.",
            "Set another target, or hold a ration.",
        )
    return Rise(worked.fed_daily_g, worked.to_feed_g, 4, 4, seen.day)


def planned(rise: Rise, food: Food | None) -> tuple[PlannedStep, ...]:
    """Return the steps of a rise, each dated and behind its gate.

    Raises
    ------
    BadInput
        For a rise that is none, or more steps than days.
    """
    if not 1 <= rise.weeks <= MOST_WEEKS or not 1 <= rise.steps <= 7 * rise.weeks:
        raise BadInput(
            f"A rise takes 1 to {MOST_WEEKS} weeks and at most a step a day.",
            "For example 4 weeks in 4 steps.",
        )
    even = stepped_rise(rise.from_g, rise.to_g, rise.steps, rise.gate)
    return tuple(
        _costed(
            rise.starts + timedelta(days=round(n * 7 * rise.weeks / rise.steps)),
            weighable_g(step.grams),
            step.sentence,
            food,
        )
        for n, step in enumerate(even)
    )


def _costed(
    day: date, grams: float, gate: str, food: Food | None, kind: str = "step"
) -> PlannedStep:
    try:
        tan, alkalinity = load_of(food, grams)
    except BadInput:
        return PlannedStep(day, grams, gate, None, None, kind)
    return PlannedStep(day, grams, gate, tan, alkalinity, kind)


def costed(seen: FeedingView) -> tuple[PlannedStep, ...]:
    """Return the plan that stands with what each step costs the water."""
    food = seen.inputs.food
    return tuple(_costed(s.day, s.grams, s.gate, food, s.kind) for s in seen.plan)


def must_not_be_broken(seen: FeedingView, gate: Gate) -> None:
    """Refuse a rise while anything measured today speaks against it.

    Raises
    ------
    Refusal
        With every limit that is broken.
    """
    found = answer(gate, seen.inputs, seen.today)
    if found.refused:
        raise Refusal(f"No rise now. {found.sentence}", "Hold a ration until then.")


def make_rise(act: Act, visit_id: str, system_id: str, rise: Rise) -> int:
    """Make a stepped rise in place of any plan that stood; return the number of its steps.

    Raises
    ------
    Refusal
        While a reading is over its limit or a treatment runs; the sentence names the limit.
    """
    with edit("feeding plan", who=act.by, at=act.at, visit=visit_id) as doing:
        seen = view(visit_id, system_id)
        must_not_be_broken(seen, rise.gate)
        found = planned(rise, seen.inputs.food)
        _replace(doing, act, seen, visit_id, found)
    return len(found)


def usual_hold(seen: FeedingView) -> float | None:
    """Return the grams a day at which sick or treated fish are held, None without a biomass."""
    biomass = seen.worked.biomass
    if biomass is None or not biomass.likely_g > 0:
        return None
    dry = biomass.likely_g * sick_rate().percent_target / 100
    return weighable_g(as_fed_g(seen.inputs.food, dry))


def hold_words(seen: FeedingView, grams: float, gate: Gate) -> str:
    """Return a held ration in words: how much, why, and what must hold before it is raised."""
    why = _why(answer(gate, seen.inputs, seen.today))
    return f"Hold {plain(grams)} g a day{_share(seen, grams)}.{why} Raise: {_lower(gate.sentence)}"


def _lower(text: str) -> str:
    return text[0].lower() + text[1:]


def _why(found: Answer) -> str:
    return "".join(f" {reason}" for reason in broken_of(found))


def _share(seen: FeedingView, grams: float) -> str:
    biomass = seen.worked.biomass
    if biomass is None or not biomass.likely_g > 0:
        return ""
    percent = 100 * dry_g(seen.inputs.food, grams) / biomass.likely_g
    return f" ({figures(percent, 2)} % of body weight)"


def hold(act: Act, visit_id: str, system_id: str, grams: float, gate: Gate | None = None) -> None:
    """Hold a ration in place of any plan that stood, behind the gate for raising it again.

    Raises
    ------
    BadInput
        For grams below 0.
    """
    if not 0 <= grams < float("inf"):
        raise BadInput("A ration can not be below 0 g, for example 5.8 g.")
    with edit("feeding plan", who=act.by, at=act.at, visit=visit_id) as doing:
        seen = view(visit_id, system_id)
        words = hold_words(seen, grams, gate or Gate())
        step = _costed(seen.day, grams, words, seen.inputs.food, "hold")
        _replace(doing, act, seen, visit_id, (step,))


def _replace(
    doing: OpenEdit, act: Act, seen: FeedingView, visit_id: str, steps: Sequence[PlannedStep]
) -> None:
    begin_stage(doing, visit_id, STAGE)
    for old in seen.plan:
        doing.strike(FeedStep, old.id, MADE_AGAIN)
    system = seen.system.id
    for n, step in enumerate(steps, start=1):
        row = FeedStep(
            id=new_key(),
            visit=visit_id,
            system=system,
            position=n,
            day=step.day,
            grams=step.grams,
            gate=step.gate,
            kind=step.kind,
        )
        doing.add(row)
    kept = _figures(steps, seen.inputs.food)
    keep_figures(doing, act, visit_id, f"{system} feeding plan", kept, whole=True)


def _figures(steps: Sequence[PlannedStep], food: Food | None) -> dict[str, Shown]:
    found = {}
    for n, step in enumerate(steps, start=1):
        if step.tan_g is None or step.alkalinity_g is None:
            continue
        with working() as made:
            load_of(food, step.grams)
        text = "\n".join(lines(made, cites()))
        tan, used = made[-2].formula.key, made[-1].formula.key
        found[f"ammonia, step {n}"] = Shown(step.tan_g, "g", text, tan)
        found[f"alkalinity, step {n}"] = Shown(step.alkalinity_g, "g", text, used)
    return found


def strike_plan(act: Act, visit_id: str, system_id: str, why: str) -> None:
    """Strike the whole plan with a reason."""
    with edit("feeding plan", who=act.by, at=act.at, visit=visit_id) as doing:
        for old in read.find(FeedStep, visit=visit_id, system=system_id):
            doing.strike(FeedStep, old.id, why)
        keep_figures(doing, act, visit_id, f"{system_id} feeding plan", {}, whole=True)
