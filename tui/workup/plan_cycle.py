"""What the life cycles of the named parasites ask of an order: choices, answers and words."""

from __future__ import annotations

from datetime import date

from core.dosing.medicines import Medicine
from core.practice.plan import PlanView
from tui.widgets.dialog import Answers
from tui.widgets.field import Choice, Entry, Field


def cycle_fields(row: Medicine, view: PlanView) -> list[Field]:
    """Return the row that fills in how often and how far apart; none for what meets bacteria."""
    choices = tuple(
        Choice("", one.problem, f"{one.rule.every_words}, {one.rule.count} x: {_short(one.words)}")
        for one in view.repeats
        if one.rule is not None
    )
    if row.antimicrobial or not choices:
        return []
    return [Field("cycle", "By life cycle", "pick", choices=choices)]


def _short(words: str) -> str:
    """Return the name of a problem without what is said behind it."""
    return words.partition(",")[0].partition(" (")[0]


def by_cycle(answers: Answers, view: PlanView) -> Answers:
    """Return the answers that the chosen life cycle fills in: how often, how far apart."""
    chosen = answers["cycle"].words if "cycle" in answers else ""
    rule = next((r.rule for r in view.repeats if r.problem == chosen), None)
    if rule is None:
        return {}
    every, count = rule.every[0], rule.count
    return {"repeats": Entry(str(count), count), "interval": Entry(str(every), every)}


def cycle_words(row: Medicine, view: PlanView, every: float | None, day: date) -> tuple[str, ...]:
    """Return what the life cycles say of an order, and where its interval is not theirs."""
    if row.antimicrobial:
        return ()
    found = []
    for one in view.repeats:
        off = one.rule.outside(int(every)) if one.rule is not None and every else ""
        said = f"Life cycle. {one.sentence(day)}"
        found.append(f"{said} Ordered {off}." if off else said)
    return tuple(found)
