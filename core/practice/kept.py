"""What is kept about a water between visits: what stands, since when, and what it was before."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from core import clock
from core.numbers import number, plain
from core.practice.questions import GROUP, Asked
from core.records import read
from core.records.engine import query
from core.records.fields import UtcField
from core.records.journal import OpenEdit
from core.records.tables import FishGroup, Practice, System, Visit

FLAGS = {"food_fish"}
HOW = {"worked out": "geometry", "by salt": "salt"}
"""What the catalogue calls the ways to know a volume, where the system's column says otherwise."""
UNITS = {"volume_l": "L", "flow_l_s": "L/s"}


@dataclass(frozen=True)
class Standing:
    """What stood before this visit: the answer and the day on which it was last said."""

    state: str
    value: str
    day: date


def standing(visit: Visit, system: System, asked: Iterable[Asked]) -> dict[str, Standing]:
    """Return what stood before a visit for every kept question, by key."""
    until = UtcField().db_value(visit.signed_at) or "9999"
    answers = _answers(visit.id, system.id, until)
    own = _columns("system", system.id, visit.id, until)
    found = {}
    for item in asked:
        if not item.question.kept:
            continue
        columns = own
        if item.key.startswith(GROUP):
            group = item.key.removeprefix(GROUP)
            columns = _columns("fish_group", group, visit.id, until)
        stood = _later(answers.get(item.key), _from_column(item, columns))
        if stood is not None:
            found[item.key] = stood
    return found


def _later(answer: Standing | None, column: Standing | None) -> Standing | None:
    """Return the one said later; an answer and its own column are of one day and one value."""
    if answer is None or column is None:
        return answer or column
    return column if column.day > answer.day and column.value != answer.value else answer


_ANSWERS = """
SELECT a."question", a."state", a."value", a."at" FROM "answer" a
WHERE a."system" = ? AND a."visit" <> ? AND a."struck" IS NULL AND a."at" <= ? ORDER BY a."at"
"""


def _answers(visit: str, system: str, until: str) -> dict[str, Standing]:
    return {
        question: Standing(state, value, local_day(UtcField().python_value(at)))
        for question, state, value, at in query(_ANSWERS, (system, visit, until))
    }


_LINES = """
SELECT e."at", l."change" FROM "edit_line" l JOIN "edit" e ON e."id" = l."edit"
WHERE l."in_table" = ? AND l."row" = ? AND (e."visit" IS NULL OR e."visit" <> ?)
  AND e."at" <= ? ORDER BY e."clock", l."position"
"""


def _columns(table: str, row: str, visit: str, until: str) -> dict[str, tuple[Any, date]]:
    """Return each column's value as other visits left it, with the day it was written."""
    found: dict[str, tuple[Any, date]] = {}
    for at, body in query(_LINES, (table, row, visit, until)):
        day = local_day(UtcField().python_value(at))
        found.update({name: (new, day) for name, (_, new) in json.loads(body).items()})
    return found


def _from_column(item: Asked, columns: dict[str, tuple[Any, date]]) -> Standing | None:
    if item.column not in columns:
        return None
    value, day = columns[item.column]
    if value is None or value in ("", "unknown"):
        return None
    if item.column == "volume_l" and columns.get("volume_typed", ("",))[0]:
        return Standing("value", columns["volume_typed"][0], day)
    state, said = _said(item, value)
    return Standing(state, said, day)


def _said(item: Asked, value: Any) -> tuple[str, str]:
    """Return a column's value as an answer."""
    if item.column in FLAGS or (item.column == "count" and item.question.kind == "yes_no"):
        return ("value", "yes") if value else ("no", "")
    if value == "no":
        return "no", ""
    if item.column == "volume_how":
        return "value", {short: long for long, short in HOW.items()}.get(value, value)
    if isinstance(value, int | float):
        return "value", f"{plain(float(value))} {UNITS.get(item.column, '')}".strip()
    return "value", str(value)


def to_column(
    doing: OpenEdit, system: str, item: Asked, state: str, value: str, amount: float | None
) -> None:
    """Put a kept answer where the system or the group has it; the journal keeps what stood.

    Whether fish are eaten counts as yes until somebody knows that it is not so.
    """
    if item.column == "count":
        _count(doing, item, state, amount)
    elif item.column == "volume_l":
        known = {"volume_l": amount, "volume_typed": value} if state == "value" else {}
        doing.change(System, system, **(known or {"volume_l": None, "volume_typed": ""}))
    elif item.column == "flow_l_s":
        doing.change(System, system, flow_l_s=amount)
    elif item.column in FLAGS:
        doing.change(System, system, **{item.column: state != "no"})
    elif item.column == "flow":
        if state == "value":
            doing.change(System, system, flow=value)
    elif item.column:
        word = HOW.get(value, value) if state == "value" else state
        doing.change(System, system, **{item.column: word})


def _count(doing: OpenEdit, item: Asked, state: str, amount: float | None) -> None:
    group = item.key.removeprefix(GROUP)
    if item.question.kind == "yes_no":
        doing.change(FishGroup, group, count={"value": 1, "no": 0}.get(state))
    else:
        doing.change(FishGroup, group, count=None if amount is None else int(amount))


def counted(stood: Standing | None) -> int | None:
    """Return the number of fish that stood, when it was one."""
    if stood is None:
        return None
    if stood.state == "no":
        return 0
    if stood.value == "yes":
        return 1
    return int(number(stood.value)) if stood.value.isdigit() else None


def local_day(moment: datetime | None) -> date:
    """Return the date on the practice's wall at a moment."""
    assert moment is not None
    found = read.first(Practice)
    return clock.local(moment, found.zone if found else "Etc/UTC").date()
