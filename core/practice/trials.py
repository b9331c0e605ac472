"""A treatment tried on a few fish before the rest of them get it, and how that went."""

from __future__ import annotations

from core.errors import BadInput
from core.practice.door import edit
from core.practice.keep import Act, begin_stage
from core.practice.medicines import catalogue
from core.records import read
from core.records.keys import new_key
from core.records.tables import Treatment, TrialRun


def add(
    act: Act, treatment_id: str, fish: int, minutes: float | None = None, outcome: str = ""
) -> str:
    """Note that a treatment is tried on some fish; return the id of the trial.

    Raises
    ------
    BadInput
        For less than one fish, or minutes below zero.
    """
    if fish < 1:
        raise BadInput("A trial needs at least one fish.", "Say on how many, for example 3.")
    if minutes is not None and not 0 < minutes < float("inf"):
        raise BadInput("The minutes of a trial are above zero.", "For example 30.")
    row = TrialRun(
        id=new_key(),
        visit=read.one(Treatment, treatment_id).visit,
        treatment=treatment_id,
        fish=fish,
        minutes=minutes,
        outcome=outcome.strip(),
        by=act.by,
        at=act.at,
    )
    with edit("trial", who=act.by, at=act.at, visit=row.visit) as doing:
        begin_stage(doing, row.visit, "Plan")
        doing.add(row)
    return row.id


def set_outcome(act: Act, trial_id: str, outcome: str) -> None:
    """Write down how a trial went; the journal keeps what stood.

    Raises
    ------
    BadInput
        Without words.
    """
    if not outcome.strip():
        raise BadInput("Say what was seen.", "For example: all swim and eat after 24 h.")
    row = read.one(TrialRun, trial_id)
    with edit("trial", who=act.by, at=act.at, visit=row.visit) as doing:
        doing.change(TrialRun, trial_id, outcome=outcome.strip())


def note(act: Act, treatment_id: str, fish: int | None, minutes: float | None, seen: str) -> str:
    """Note a trial, or what came of the one that is waiting; return its id.

    Raises
    ------
    BadInput
        When it is not said on how many fish and none is waiting.
    """
    before = waiting(treatment_id)
    if before is None:
        return add(act, treatment_id, fish or 0, minutes, seen)
    set_outcome(act, before.id, seen)
    return before.id


def waiting(treatment_id: str) -> TrialRun | None:
    """Return the trial of a treatment whose outcome is awaited."""
    rows = read.find(TrialRun, treatment=treatment_id)
    return next((t for t in rows if not t.outcome), None)


def said(row: Treatment) -> str:
    """Return what the trial of a treatment came to, or that one is asked for; "" when neither."""
    if words := noted(row):
        return words
    found = catalogue().get(row.medicine)
    if found is None or not found.trial or row.handling is not None:
        return ""
    return f"a trial on a few fish is asked for ({found.trial.rstrip('.')}); none is noted yet"


def noted(row: Treatment) -> str:
    """Return what the trials of a treatment came to, those that wait too; "" without any."""
    return "; ".join(_words(t) for t in read.find(TrialRun, treatment=row.id))


def _words(trial: TrialRun) -> str:
    lasted = f" for {trial.minutes:g} min" if trial.minutes else ""
    return f"tried on {trial.fish} fish{lasted}: {trial.outcome or 'outcome awaited'}"
