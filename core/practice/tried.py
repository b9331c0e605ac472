"""What the owner has already tried: told, not prescribed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from core.errors import BadInput
from core.practice.door import edit
from core.practice.keep import Act, begin_stage, put
from core.practice.kept import local_day
from core.records import read
from core.records.keys import new_key
from core.records.tables import Answer, Tried


@dataclass(frozen=True)
class Told:
    """A treatment as a person tells it; what is not known stays empty."""

    agent: str
    amount: str = ""
    day: date | None = None
    since: str = ""


def add_tried(act: Act, visit: str, system: str, told: Told) -> str:
    """Add a treatment already tried; return the row's id."""
    _check(act, told)
    row = Tried(id=new_key(), visit=visit, system=system, **vars(told))
    with edit("tried", who=act.by, at=act.at, visit=visit) as doing:
        begin_stage(doing, visit, "History")
        doing.add(row)
        where = {"visit": visit, "system": system, "question": "tried"}
        put(doing, Answer, where, {"state": "value", "value": "yes", "at": act.at})
    return row.id


def change_tried(act: Act, tried_id: str, told: Told) -> None:
    """Correct a treatment already tried; the journal keeps what stood."""
    _check(act, told)
    with edit("tried", who=act.by, at=act.at, visit=read.one(Tried, tried_id).visit) as doing:
        doing.change(Tried, tried_id, **vars(told))


def strike_tried(act: Act, tried_id: str, why: str) -> None:
    """Strike a treatment already tried, with the reason."""
    with edit("tried", who=act.by, at=act.at, visit=read.one(Tried, tried_id).visit) as doing:
        doing.strike(Tried, tried_id, why)


def _check(act: Act, told: Told) -> None:
    if not told.agent.strip():
        raise BadInput("Say what was added.", "For example salt, or unknown blue liquid.")
    if told.day is not None and told.day > local_day(act.at):
        raise BadInput("That day is still to come.", "Give a day up to today, or leave it blank.")
