"""Rows of the records in words: what a row is called, and what stands in its columns."""

from __future__ import annotations

import functools
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from decimal import Decimal
from typing import Any
from zoneinfo import ZoneInfo

from core import dates
from core.billing.money import money
from core.catalogue import load
from core.numbers import figures, plain
from core.practice.names import name
from core.practice.questions import COMPLAINTS, GROUP, STOCK_BEFORE
from core.records.turns import references
from core.units import KINDS, Locale, show

NOTHING = "nothing"
HIDDEN = "hidden"
LARGE = 1000
Values = Mapping[str, Any]
"""A row as its dataclass would have it, by column."""
Key = tuple[str, str]
"""Table and id of a row."""
_OPTIONAL = re.compile(r"\[([^\[\]]*)\]")
_COLUMN = re.compile(r"\{(\w+)\}")
_PLACES = {"here": "here", "tap": "at the tap", "inlet": "at the inlet", "outlet": "at the outlet"}
_QUESTIONS = {STOCK_BEFORE: "Fish before the losses"}
_SUBJECTS = {"system": "system", "group": "fish_group", "fish": "fish_group"}


@dataclass(frozen=True)
class TableWords:
    """What a table and its columns are called, and how its rows are told.

    Attributes
    ----------
    one, added, changed : str
        How a row is called, and what is said when it is added or changed.
    main : str
        The column that a row is about: its name is left out.
    show : mapping
        How columns are shown that are more than their plain value.
    faint : bool
        Told only when an edit has nothing else to tell.
    once : bool
        All rows of one edit are told together.
    of_line : mapping
        What is said, in place of `added`, of a row with this in its column ``line``.
    back_of_line : mapping
        What follows when such a row is taken back.
    told_by : tuple of str
        Tables whose rows, in the same edit, tell it too.
    """

    word: str
    one: str
    added: str
    columns: Mapping[str, str]
    changed: str = ""
    main: str = ""
    show: Mapping[str, str] = field(default_factory=dict)
    faint: bool = False
    once: bool = False
    of_line: Mapping[str, str] = field(default_factory=dict)
    back_of_line: Mapping[str, str] = field(default_factory=dict)
    told_by: tuple[str, ...] = ()

    def hides(self, column: str) -> bool:
        """Say whether a column is never told."""
        return self.show.get(column) == HIDDEN


@functools.cache
def words() -> dict[str, TableWords]:
    """Return the words of every table, by its name."""
    return {table: TableWords(**row) for table, row in load.table("record_words").items()}


@functools.cache
def leads_to(table: str) -> dict[str, str]:
    """Return the columns of a table that name a row of another one, with that table."""
    told = {
        column: how.removeprefix("row:")
        for column, how in words()[table].show.items()
        if how.startswith("row:")
    }
    return {**references(table), **told}


def wanted(table: str, row: Values, templates: tuple[str, ...]) -> set[Key]:
    """Return the rows that must be known to fill templates of a row."""
    found = set()
    for column in {c for text in templates for c in _COLUMN.findall(text)}:
        key = _target(table, column, row)
        if key is not None:
            found.add(key)
    return found


def refers(table: str, column: str, row: Values) -> Key | None:
    """Return the row that a column of a row names, or None."""
    return _target(table, column, row)


def _target(table: str, column: str, row: Values) -> Key | None:
    value = row.get(column)
    if not value:
        return None
    if column in leads_to(table):
        return leads_to(table)[column], value
    how = words()[table].show.get(column)
    if how == "subject":
        return _SUBJECTS.get(row["subject"], "handling"), value.partition("#")[0]
    if how == "question" and value.startswith(GROUP):
        return "fish_group", value.removeprefix(GROUP)
    return None


@dataclass(frozen=True)
class Speaker:
    """Says rows as this practice's screens do.

    Attributes
    ----------
    rows : mapping
        Every row that others name, by table and id.
    """

    zone: str
    currency: str
    exponent: int
    units: Locale
    rows: Mapping[Key, Values]

    def called(self, table: str, row: Values, day: date) -> str:
        """Return how a row is called; `day` is the day it is said on."""
        return self.fill(words()[table].one, table, row, day)

    def fill(self, template: str, table: str, row: Values, day: date) -> str:
        """Return a template with the row's columns; parts in [ ] fall out when they are empty."""

        def put(found: re.Match[str]) -> str:
            return self.said(table, found[1], row, day)

        def part(found: re.Match[str]) -> str:
            filled = [self.said(table, c, row, day) for c in _COLUMN.findall(found[1])]
            return _COLUMN.sub(put, found[1]) if all(filled) else ""

        return _COLUMN.sub(put, _OPTIONAL.sub(part, template))

    def said(self, table: str, column: str, row: Values, day: date) -> str:
        """Return what stands in a column, in words; "" for nothing."""
        value = row.get(column)
        how = words()[table].show.get(column, "")
        if how == "answer":
            return _answer(row)
        if value is None or value == "":
            return ""
        key = _target(table, column, row)
        if key is not None:
            return self._named(key, value, how, day)
        special = _SPECIAL.get(how)
        if special is not None:
            return special(self, value, row)
        kind, _, of = how.partition(":")
        if kind == "name":
            return name(of, str(value))
        if kind == "kind":
            return self.quantity(value, of)
        if kind == "unit":
            return f"{self._plain(value, day)} {of}"
        return self._plain(value, day)

    def _named(self, key: Key, value: str, how: str, day: date) -> str:
        table, _ = key
        row = self.rows.get(key)
        called = words()[table].word if row is None else self.called(table, row, day)
        if how == "subject" and "#" in value:
            return f"{called} {value.partition('#')[2]}"
        if how != "question":
            return called
        single = row is not None and row.get("single")
        return f"{called} still there" if single else f"number of {called}"

    def _plain(self, value: Any, day: date) -> str:
        if isinstance(value, bool):
            return "yes" if value else "no"
        if isinstance(value, datetime):
            local = value.astimezone(ZoneInfo(self.zone))
            clock = f"{local:%H:%M}"
            return clock if local.date() == day else f"{dates.said(local.date(), day)} {clock}"
        if isinstance(value, date):
            return dates.said(value, day)
        if isinstance(value, float):
            return plain(round(value, 4))
        return format(value, "f") if isinstance(value, Decimal) else str(value)

    def quantity(self, value: float, kind: str) -> str:
        """Return a canonical value with its unit, to four figures where it is not large."""
        short = value if abs(value) >= LARGE or value == 0 else float(figures(value, 4))
        return show(short, kind, self.units)

    def money(self, value: int, _: Values) -> str:
        """Return an amount with the practice's currency."""
        return money(value, self.currency, self.exponent)

    def reading(self, value: float, row: Values) -> str:
        """Return a reading with its unit, as it is kept."""
        analyte = load.table("analytes").get(row["analyte"], {})
        kind = analyte.get("kind", "plain")
        text = self.quantity(value, kind if kind in KINDS else "plain")
        mark = "under " if row.get("below") else "over " if row.get("above") else ""
        return f"{mark}{text}{' as N' if analyte.get('bases') else ''}"


def _answer(row: Values) -> str:
    value = row.get("value") or ""
    if row.get("state") not in ("value", None):
        return "not known" if row["state"] == "unknown" else str(row["state"])
    if row.get("question") in COMPLAINTS:
        known = load.table("complaints")["complaint"].get(value)
        return str(known["label"]) if known else str(value)
    return str(value)


def _sign(_: Speaker, value: str, __: Values) -> str:
    known = load.table("signs")
    return str(known["sign"].get(value, known["walk"].get(value, {})).get("label", value))


def _chosen(yes: str, no: str) -> Callable[[Speaker, Any, Values], str]:
    return lambda _, value, __: yes if value else no


_SPECIAL: dict[str, Callable[[Speaker, Any, Values], str]] = {
    "minor": Speaker.money,
    "reading": Speaker.reading,
    "sign": _sign,
    "question": lambda _, value, __: _QUESTIONS.get(value, name("question", value)),
    "place": lambda _, value, __: _PLACES.get(value, value),
    "got": _chosen("got", "not got"),
    "normal": _chosen("nothing abnormal", "something was seen"),
    "hundred": lambda _, value, __: f"{plain(round(value * 100, 2))} %",
}
