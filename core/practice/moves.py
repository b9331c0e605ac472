"""Fish moved from one water to another, and where they are now."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, time
from typing import Any

from core.errors import BadInput
from core.practice.door import edit
from core.practice.keep import Act, begin_stage
from core.practice.kept import local_day
from core.records import read
from core.records.keys import new_key
from core.records.tables import FishGroup, Move, System


@dataclass(frozen=True)
class Moved:
    """A move as a person tells it; `number` None when nobody counted."""

    group: str
    from_system: str
    to_system: str
    day: date
    number: int | None = None
    why: str = ""


@dataclass(frozen=True)
class MoveLine:
    """One line of the list of moves, with names."""

    move: Move
    group: str
    source: str
    target: str
    day: date


@dataclass(frozen=True)
class Held:
    """Fish that are in a water now: a group, and how many of it; None when not known."""

    group: FishGroup
    number: int | None


def add_move(act: Act, visit: str, moved: Moved) -> str:
    """Add a move of fish to the history; return the row's id.

    Raises
    ------
    BadInput
        When both waters are the same, or more fish move than there are.
    """
    row = Move(id=new_key(), visit=visit, **_columns(act, moved))
    with edit("move", who=act.by, at=act.at, visit=visit) as doing:
        begin_stage(doing, visit, "History")
        doing.add(row)
    return row.id


def change_move(act: Act, move_id: str, moved: Moved) -> None:
    """Correct a move; the journal keeps what stood."""
    with edit("move", who=act.by, at=act.at, visit=read.one(Move, move_id).visit) as doing:
        doing.change(Move, move_id, **_columns(act, moved))


def strike_move(act: Act, move_id: str, why: str) -> None:
    """Strike a move, with the reason."""
    with edit("move", who=act.by, at=act.at, visit=read.one(Move, move_id).visit) as doing:
        doing.strike(Move, move_id, why)


def _columns(act: Act, moved: Moved) -> dict[str, Any]:
    group = read.one(FishGroup, moved.group)
    if moved.from_system == moved.to_system:
        raise BadInput("Fish move from one water to another.", "Choose two different ones.")
    if moved.day > local_day(act.at):
        raise BadInput("That day is still to come.", "Give a day up to today.")
    if moved.number is not None and moved.number < 1:
        raise BadInput("At least one fish moves.", "Leave the number blank when nobody counted.")
    if moved.number is not None and group.count is not None and moved.number > group.count:
        raise BadInput(f"There are {group.count} of {group.name}; {moved.number} can not move.")
    at = datetime.combine(moved.day, time(12), UTC)
    return {k: v for k, v in vars(moved).items() if k != "day"} | {"at": at}


def lines(visit: str) -> tuple[MoveLine, ...]:
    """Return the moves told at a visit, in order of time."""
    found = []
    for move in read.find(Move, order="at,id", visit=visit):
        group, source, target = (
            read.one(FishGroup, move.group).name,
            read.one(System, move.from_system).name,
            read.one(System, move.to_system).name,
        )
        found.append(MoveLine(move, group, source, target, local_day(move.at)))
    return tuple(found)


def held(system_id: str) -> tuple[Held, ...]:
    """Return the fish that are in a water after all moves told so far.

    A group of which an unknown number moved is held in both waters, its number not known.
    """
    into = read.find(Move, to_system=system_id)
    home = read.find(FishGroup, system=system_id)
    ids = dict.fromkeys([*(g.id for g in home), *(m.group for m in into)])
    found = [_held(read.one(FishGroup, group), system_id) for group in ids]
    return tuple(h for h in found if h is not None)


def _held(group: FishGroup, system_id: str) -> Held | None:
    start = (1 if group.single and group.count is None else group.count) or 0
    known = group.single or group.count is not None
    number = start if group.system == system_id else 0
    here = group.system == system_id
    for move in read.find(Move, order="at,id", group=group.id):
        count = 1 if group.single else move.number
        known = known and count is not None
        if move.to_system == system_id:
            here, number = True, number + (count or 0)
        elif move.from_system == system_id:
            number -= count or 0
            here = not known or number > 0
    return Held(group, max(0, number) if known else None) if here else None
