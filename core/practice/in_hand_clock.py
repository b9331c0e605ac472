"""The clock of an anaesthesia: each moment with its time, and euthanasia in two steps."""

from __future__ import annotations

from collections.abc import Callable

from core.errors import Refusal
from core.practice import in_hand_bath, in_hand_euthanasia, in_hand_marks
from core.practice.door import edit
from core.practice.in_hand_euthanasia import CONSENT
from core.practice.in_hand_marks import (
    AIR,
    BEAT,
    DEAD,
    FIRST,
    INTO,
    MAINTAIN,
    OUT,
    RATE,
    RECOVERED,
    SECOND,
    WATER,
    Anaesthesia,
    beside,
    clock_text,
    event_of,
    events,
    rules,
    scale,
)
from core.practice.keep import Act, begin_stage, mark_stage
from core.records import read
from core.records.journal import OpenEdit
from core.records.keys import new_key
from core.records.tables import DepthMark, Handling, StageMark

__all__ = [
    "AIR",
    "BEAT",
    "CONSENT",
    "DEAD",
    "FIRST",
    "INTO",
    "MAINTAIN",
    "OUT",
    "RATE",
    "RECOVERED",
    "SECOND",
    "WATER",
    "Anaesthesia",
    "beside",
    "clock_text",
    "close",
    "close_all",
    "event_of",
    "events",
    "mark",
    "not_closed",
    "of",
    "pass_over",
    "rules",
    "scale",
    "take_back",
]

STAGE = "In hand"


def of(handling: Handling) -> Anaesthesia:
    """Return the clock of a fish in hand."""
    marks = in_hand_marks.marks(handling)
    bare = Anaesthesia(marks, (), ())
    said = (*in_hand_marks.cautions(bare), *in_hand_euthanasia.waited(bare))
    return Anaesthesia(marks, said, in_hand_euthanasia.lacking(handling, bare))


def mark(
    act: Act,
    handling_id: str,
    event: str,
    note: str = "",
    *,
    breaths: float | None = None,
    also: Callable[[OpenEdit], None] | None = None,
) -> str:
    """Mark one moment of an anaesthesia.

    Parameters
    ----------
    breaths : float, optional
        Opercular beats a minute, with the mark of a rate.
    also : callable, optional
        What is written in the same edit.

    Raises
    ------
    Refusal
        When it can not come now: death before the second step, the second before the first.
    """
    row = read.one(Handling, handling_id)
    _in_order(row, event, note)
    if event == RATE and breaths is None:
        raise Refusal("The opercular rate was not counted.", "Tap the space bar for each beat.")
    new = DepthMark(
        id=new_key(),
        visit=row.visit,
        handling=row.id,
        event=event,
        breaths=breaths,
        note=note.strip(),
        by=act.by,
        at=act.at,
    )
    with edit("anaesthesia", who=act.by, at=act.at, visit=row.visit) as doing:
        begin_stage(doing, row.visit, STAGE)
        doing.add(new)
        if also is not None:
            also(doing)
        in_hand_bath.keep_sedation(doing, act, row.id)
        _open_again(doing, row)
    return new.id


def take_back(act: Act, handling_id: str, why: str) -> None:
    """Strike the mark that was made last, with the reason."""
    row = read.one(Handling, handling_id)
    marks = read.find(DepthMark, handling=handling_id, order="at, id")
    if not marks:
        raise Refusal("Nothing was marked yet.")
    with edit("mark struck", who=act.by, at=act.at, visit=row.visit) as doing:
        doing.strike(DepthMark, marks[-1].id, why)
        in_hand_bath.keep_sedation(doing, act, row.id)
        _open_again(doing, row)


def _open_again(doing: OpenEdit, row: Handling) -> None:
    """Take the stage for begun again when a euthanasia of it is not whole any more."""
    found = read.first(StageMark, visit=row.visit, stage=STAGE)
    if found is not None and found.state != "begun" and of(row).lacking:
        doing.change(StageMark, found.id, state="begun", why="")


def _in_order(row: Handling, event: str, note: str) -> None:
    clock = of(row)
    if event not in (*events(clock), *beside(clock)):
        raise Refusal(f"{event.capitalize()} can not be marked now.", "Choose from the list.")
    if event == DEAD and clock.at(SECOND) is None:
        raise Refusal(
            "Death is confirmed after the second step, and that is empty.",
            "Name the second step first.",
        )
    if event in (FIRST, SECOND, DEAD) and not note.strip():
        wanted = {FIRST: "Whose consent", SECOND: "Which second step", DEAD: "Which signs of death"}
        raise Refusal(f"{wanted[event]} is not said.", "It belongs to the record.")


def close(row: Handling) -> None:
    """Refuse while the record of a euthanasia lacks anything.

    Raises
    ------
    Refusal
        Naming the fish and what is missing.
    """
    lacking = of(row).lacking
    if lacking:
        raise Refusal(not_closed(row, lacking), "i opens its clock.")


def not_closed(row: Handling, lacking: tuple[str, ...]) -> str:
    """Return what the record of a euthanasia lacks, in one sentence."""
    return f"{row.label}: this euthanasia can not be closed: missing {', '.join(lacking)}."


def close_all(visit_id: str) -> None:
    """Refuse while the record of any euthanasia of a visit lacks anything; see `close`."""
    for row in read.find(Handling, visit=visit_id):
        close(row)


def pass_over(act: Act, visit_id: str, why: str) -> None:
    """Pass the stage over, with the reason.

    Raises
    ------
    Refusal
        While the record of a euthanasia lacks anything, above all its second step.
    """
    close_all(visit_id)
    mark_stage(act, visit_id, STAGE, "passed over", why)
