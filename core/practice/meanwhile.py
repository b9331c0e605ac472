"""What the other desks have saved, and what is told when two write in the same place."""

from __future__ import annotations

from collections.abc import Callable
from contextvars import copy_context
from dataclasses import dataclass
from typing import Any, TypeVar
from zoneinfo import ZoneInfo

from core.errors import Refusal
from core.records import engine, meanwhile, read
from core.records.meanwhile import Conflict, Theirs
from core.records.tables import Person, Practice

R = TypeVar("R")


class ChangedMeanwhile(Refusal):
    """Somebody else has put something else there: both are told, nothing is written."""

    title = "Changed meanwhile"


@dataclass(frozen=True)
class News:
    """What the records say of the other desks.

    Attributes
    ----------
    clock : str
        The newest edit that was seen when this was read.
    others : int
        How many edits since the clock asked about were not made here.
    """

    clock: str
    others: int


def shared() -> bool:
    """Say whether other desks may write to the open records."""
    return engine.kind() == "postgresql"


def news(since: str) -> News:
    """Return what was saved elsewhere since a clock; one short question while nothing was."""
    newest = meanwhile.now()
    return News(newest, meanwhile.others(since) if newest > since else 0)


def knowing(since: str, write: Callable[[], R]) -> R:
    """Write as somebody who has seen the records up to a clock.

    Raises
    ------
    ChangedMeanwhile
        When somebody else has changed the same thing since: who, when, and both values.
    """
    context = copy_context()
    context.run(meanwhile.seen.set, since)
    try:
        return context.run(write)
    except Conflict as error:
        raise _told(error.theirs) from error


def _told(theirs: Theirs) -> ChangedMeanwhile:
    person = read.first(Person, id=theirs.who)
    practice = read.first(Practice)
    local = theirs.at.astimezone(ZoneInfo(practice.zone)) if practice else theirs.at
    who = person.name if person else "Somebody else"
    put, mine = _word(theirs.value), _word(theirs.mine)
    return ChangedMeanwhile(
        f"{who} put {put} here at {local:%H:%M}; yours is {mine}.",
        "Enter again keeps yours, Esc keeps what stands.",
    )


def _word(value: Any) -> str:
    if value is None or value == "":
        return "nothing"
    if isinstance(value, float):
        return f"{value:g}"
    return str(value)
