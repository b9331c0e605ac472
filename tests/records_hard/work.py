"""What people do all day, as a row of edits, each giving its id once it is on the disk."""

from __future__ import annotations

from datetime import timedelta
from itertools import count
from typing import Any

from core.practice import keep, setup, water
from core.practice.keep import Act
from core.records.engine import query
from core.records.journal import replay
from core.records.read import find
from core.records.tables import Visit
from tests.conftest import MOMENT
from tests.core.records.checks import broken, held
from tests.small import Small, fill


def last() -> str:
    """Return the id of the last edit."""
    found = query('SELECT "id" FROM "edit" ORDER BY "clock" DESC LIMIT 1')
    return str(found[0][0]) if found else ""


def begun() -> Small:
    """Make the small practice in empty records, or find it in those that have it."""
    visits = find(Visit)
    if not visits:
        return fill(Act("setup", MOMENT), MOMENT.date())
    visit = visits[0]
    return Small(visit.vet, "", visit.client, visit.site, visit.system, "", visit.id)


def step(made: Small, number: int) -> str:
    """Do the next thing and return the id of its edit."""
    act = Act(made.vet, MOMENT + timedelta(seconds=number))
    kind, turn = number % 4, number // 4
    if kind == 0:
        setup.add_client(
            act, f"Client {number}", phone="555 0100", address="x" * (turn * 97 % 2000)
        )
    elif kind == 1:
        reading(act, made, "temperature", 4 + turn % 260 / 10)
    elif kind == 2:
        keep.mark_stage(act, made.visit, "History", ("begun", "done")[turn % 2])
    else:
        reading(act, made, "ph", 6 + turn % 29 / 10)
    return last()


def reading(act: Act, made: Small, analyte: str, value: float) -> None:
    measured = water.Measured(analyte, value, f"{value:.1f}")
    water.record_reading(act, made.visit, made.system, measured)


def numbers() -> Any:
    """Give numbers for steps, after those that are in the records."""
    return count(query('SELECT count(*) FROM "edit"')[0][0])


def whole() -> None:
    """Fail when the records are not whole: `all_hold`, but a thousand times over."""
    assert replay() == held()
    assert broken() == []
    assert query("PRAGMA foreign_key_check") == []
    assert query("PRAGMA integrity_check") == [("ok",)]
