"""Breaths a minute of one subject: tapped, counted over some seconds, or typed."""

from __future__ import annotations

from core.errors import BadInput
from core.fish.breathing import breaths_from_taps, breaths_per_minute
from core.practice.door import edit
from core.practice.keep import Act, figures, keep_figure
from core.practice.watching import BREATHS, Subject, figure_subject, record
from core.records.journal import OpenEdit
from core.records.tables import Figure
from core.sourced import Step, working

FASTEST = 400.0
"""No more breaths a minute are taken down; a person can not tap faster."""


def record_tapped(
    act: Act, visit_id: str, system_id: str, subject: Subject, moments_s: tuple[float, ...]
) -> float:
    """Record breaths from the moments of the taps; return breaths a minute.

    Raises
    ------
    BadInput
        For fewer than two taps, or faster ones than a person can count.
    """
    with working() as steps:
        value = breaths_from_taps(moments_s)
    seconds = moments_s[-1] - moments_s[0]
    note = f"{len(moments_s)} taps, the last after {seconds:.1f} s"
    _breaths(act, visit_id, system_id, subject, value, note, steps)
    return value


def record_breaths(act: Act, visit_id: str, system_id: str, subject: Subject, text: str) -> float:
    """Record breaths as typed, ``90`` or ``30 in 20``; return breaths a minute.

    Raises
    ------
    BadInput
        When it is neither, or more than can be counted.
    """
    value, steps = understand_breaths(text)
    _breaths(act, visit_id, system_id, subject, value, "" if not steps else text.strip(), steps)
    return value


def understand_breaths(text: str) -> tuple[float, list[Step]]:
    """Return breaths a minute from what was typed, with the working when there is one."""
    parts = text.lower().removesuffix("s").replace("in", " ").split()
    if not 1 <= len(parts) <= 2 or not all(p.isascii() and p.isdigit() for p in parts):
        raise BadInput("Breaths are a whole number a minute.", "Type 90, or 30 in 20 for seconds.")
    if len(parts) == 1:
        return float(parts[0]), []
    with working() as steps:
        value = breaths_per_minute(int(parts[0]), float(parts[1]))
    return value, steps


def _breaths(
    act: Act,
    visit_id: str,
    system_id: str,
    subject: Subject,
    value: float,
    note: str,
    steps: list[Step],
) -> None:
    if not 0 <= value <= FASTEST:
        raise BadInput(
            f"{value:.0f} breaths a minute can not be counted.", "Count again, 0 to 400."
        )
    with edit("breaths", who=act.by, at=act.at, visit=visit_id) as doing:
        values = {"state": "seen", "value": value, "note": note}
        record(act, visit_id, system_id, subject, BREATHS, values)
        _keep_breaths(doing, act, visit_id, subject, value, steps)


def _keep_breaths(
    doing: OpenEdit, act: Act, visit_id: str, subject: Subject, value: float, steps: list[Step]
) -> None:
    """Keep the working of counted breaths; a bare number that replaces them has none."""
    where = figure_subject(subject)
    if steps:
        keep_figure(doing, act, visit_id, where, BREATHS, value, steps)
    elif (old := figures(visit_id, where).get(BREATHS)) is not None:
        doing.strike(Figure, old.id, "another number was typed")
