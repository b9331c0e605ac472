"""A bath in running water in words: what goes in at once, and what is fed in for how long.

The whole amount of such a bath, put in at once, would be a multiple of the dose: wherever an
amount is told to somebody who gives it, it is told in its two parts.
"""

from __future__ import annotations

from core.dosing.flowing import FlowBath
from core.numbers import figures, plain
from core.practice.keep import Shown
from core.practice.short import short
from core.records import read
from core.records.tables import Figure, Treatment

AT_ONCE, FED, A_MINUTE = "at once", "fed in", "fed in a minute"


def shown(bath: FlowBath, formula: str) -> dict[str, Shown]:
    """Return the parts of a bath in running water as they are kept beside its amount."""
    text = f"{bath}, within {_minutes(bath.feed_in.magnitude, bath.per_minute.magnitude)} min."
    parts = {AT_ONCE: bath.fill, FED: bath.feed_in, A_MINUTE: bath.per_minute}
    return {
        name: Shown(part.m_as(bath.fill.unit), bath.fill.unit, text, formula)
        for name, part in parts.items()
    }


def words(row: Treatment) -> str:
    """Return the two parts of a bath in running water; "" for any other treatment."""
    rows = read.find(Figure, visit=row.visit, subject=row.id)
    held = {f.name: f for f in rows if f.name in (AT_ONCE, FED, A_MINUTE)}
    if len(held) < 3:
        return ""
    fill, fed, each = held[AT_ONCE], held[FED], held[A_MINUTE]
    return (
        f"{short(fill.value)} {fill.unit} at once, then {short(fed.value)} {fed.unit} fed in "
        f"evenly over {_minutes(fed.value, each.value)} min ({short(each.value)} {each.unit} a "
        "minute)"
    )


def _minutes(fed: float, each: float) -> str:
    return plain(float(figures(fed / each, 4)))
