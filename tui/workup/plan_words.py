"""Lines of the plan in words."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from core import dates
from core.practice import from_memory, treatment_said
from core.practice.plan import TreatmentLine
from core.records.tables import Recheck, Visit


def treatment_note(line: TreatmentLine, day: date) -> str:
    """Return everything of a treatment that its row has no room for."""
    row = line.treatment
    on = ", ".join(dates.said(d, day) for d in line.days)
    parts = (
        treatment_said.amount_words(row),
        f"of {row.strength}" if row.strength else "",
        f"dose {treatment_said.short(row.dose)} {row.dose_unit}",
        from_memory.said(row.medicine),
        f"for {line.whom}",
        f"on {on}",
        f"lot {row.lot}" if row.lot else "no lot yet",
        row.place,
        row.directions,
        row.withdrawal,
        f"reason: {row.override}" if row.override else "",
        line.scoops,
        line.trial,
        line.cost,
        *line.beside,
    )
    return "; ".join(p.rstrip(".") for p in parts if p)


def treatment_working(line: TreatmentLine, day: date, working: str) -> str:
    """Return a treatment line by line, what goes with it, and how its amount was worked out."""
    beside = ("Goes with it:", *(f"- {s}" for s in line.beside)) if line.beside else ()
    bare = replace(line, beside=(), scoops="")
    lines = (treatment_note(bare, day), line.scoops, *beside)
    return "\n".join((*filter(None, lines), "", working))


def step_word(kind: str, day: date | None, today: date) -> str:
    """Return kind and day of a line for the owner."""
    return kind if day is None else f"{kind}, {dates.said(day, today)}"


def recheck_words(row: Recheck, held: Visit | None, day: date) -> str:
    """Return a recheck with its window, and when it is booked."""
    early, late = dates.said(row.earliest, day), dates.said(row.latest, day)
    stands = "stays due for the desk"
    if held is not None:
        stands = f"booked {dates.said(held.day, day)} {held.starts}"
    return f"{row.reason}; {row.kind}, between {early} and {late}; {stands}"


WRITES = {"step": "owner_step", "line": "owner_step", "recheck": "recheck", "again": "recheck"}
"""Part of the plan to the table that its dialog writes; the others write a treatment."""
