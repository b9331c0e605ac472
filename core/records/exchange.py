"""All of the records, handed out row by row and edit by edit, and taken in again whole."""

from __future__ import annotations

import json
import math
import sqlite3
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from types import UnionType
from typing import Annotated, Any, Literal, TypeVar, Union, get_args, get_origin, get_type_hints

from core.errors import Refusal
from core.records import engine, index, receive, trouble
from core.records.engine import execute, query
from core.records.fields import NOT_TEXT
from core.records.journal import EDIT_COLUMNS
from core.records.lean import pw
from core.records.models import ROWS, columns, database
from core.records.read import from_values
from core.records.receive import Foreign
from core.records.tables import TABLES, Ref, Row

T = TypeVar("T", bound=Row)
ColumnType = Literal["text", "whole number", "number", "decimal", "true or false", "date", "moment"]
_TYPES: dict[type, ColumnType] = {
    str: "text",
    int: "whole number",
    float: "number",
    Decimal: "decimal",
    bool: "true or false",
    date: "date",
    datetime: "moment",
}
_AT_ONCE = 500


@dataclass(frozen=True)
class ColumnKind:
    """What stands in one column."""

    type: ColumnType
    none: bool
    """Whether it may be empty."""
    of: str
    """The table whose row it names; "" when it names none."""


def kinds(row: type[Row]) -> dict[str, ColumnKind]:
    """Return what stands in each column of a table, in the order of its columns."""
    hints = get_type_hints(row, include_extras=True)
    return {name: _kind(hints[name]) for name in columns(row.table)}


def _kind(annotation: Any) -> ColumnKind:
    of, none = "", False
    if get_origin(annotation) is Annotated:
        annotation, *marks = get_args(annotation)
        of = next((mark.table for mark in marks if isinstance(mark, Ref)), "")
    if get_origin(annotation) in (Union, UnionType):
        none = True
        annotation = next(a for a in get_args(annotation) if a is not type(None))
    return ColumnKind(_TYPES[annotation], none, of)


@contextmanager
def steady() -> Iterator[None]:
    """Read for the length of the block as if nobody wrote meanwhile."""
    if engine.kind() == "sqlite":
        with database.atomic("DEFERRED"):
            yield
        return
    with database.atomic():
        execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")
        yield


def rows(kind: type[T]) -> Iterator[T]:
    """Give every row of a table in the order of their keys, struck ones too."""
    names = ", ".join(f'"{name}"' for name in columns(kind.table))
    sql = f'SELECT {names} FROM "{kind.table}" WHERE "id" > ? ORDER BY "id" LIMIT {_AT_ONCE}'
    last = ""
    while found := query(sql, (last,)):
        made = [from_values(kind, values) for values in found]
        yield from made
        last = made[-1].id


Edit = tuple[dict[str, Any], list[tuple[str, str, str, str]]]
"""The columns of an edit, and its lines: table, row, act and change of each."""

_EDITS = (
    f"SELECT {', '.join(chr(34) + name + chr(34) for name in EDIT_COLUMNS)} "
    'FROM "edit" WHERE ("clock", "id") > (?, ?) ORDER BY "clock", "id" '
    f"LIMIT {_AT_ONCE}"
)
_LINES = (
    'SELECT "edit", "in_table", "row", "act", "change" FROM "edit_line" '
    'WHERE "edit" IN ({marks}) ORDER BY "edit", "position"'
)


def edits() -> Iterator[Edit]:
    """Give every edit with its lines, in the one order in which they can be made again."""
    last = ("", "")
    while found := query(_EDITS, last):
        made = [dict(zip(EDIT_COLUMNS, values, strict=True)) for values in found]
        lines: dict[str, list[tuple[str, str, str, str]]] = {one["id"]: [] for one in made}
        marks = ", ".join("?" for _ in made)
        for edit, *line in query(_LINES.replace("{marks}", marks), list(lines)):
            table, row, act, change = line
            lines[edit].append((table, row, act, change))
        yield from ((one, lines[one["id"]]) for one in made)
        last = (made[-1]["clock"], made[-1]["id"])


def as_json(edit: Edit) -> str:
    """Return an edit as one line of JSON, from which `from_json` gives exactly the same edit."""
    values, lines = edit
    said = [
        {"table": table, "row": row, "act": act, "change": _opened(change)}
        for table, row, act, change in lines
    ]
    return json.dumps({"edit": values, "lines": said}, ensure_ascii=False)


def _opened(change: str) -> Any:
    """Return a change as JSON, or as its text when writing it again would give another."""
    found = json.loads(change)
    return found if _closed(found) == change else change


def _closed(change: Any) -> str:
    if isinstance(change, str):
        return change
    return json.dumps(change, ensure_ascii=False, separators=(",", ":"))


def from_json(line: str) -> Edit:
    """Return the edit that a line of JSON holds.

    Raises
    ------
    ValueError
        When it holds none.
    """
    try:
        said = json.loads(line)
        lines = [(x["table"], x["row"], x["act"], _closed(x["change"])) for x in said["lines"]]
        return {name: said["edit"][name] for name in EDIT_COLUMNS}, lines
    except (KeyError, TypeError) as error:
        raise ValueError(str(error)) from error


@contextmanager
def carrying() -> Iterator[None]:
    """Tell, in the block, in the words for a person what the new place did not take.

    Raises
    ------
    Refusal
        In place of the driver's error.
    """
    try:
        yield
    except (pw.PeeweeException, sqlite3.Error) as error:
        told = trouble.said(error)
        raise told or Foreign(f"The new place did not take the records: {error}.") from error


Device = tuple[str, int, str, str]
"""Id, count, clock and hash: how far a machine has come in writing."""


def devices() -> list[Device]:
    """Return every machine that has written, in the order of their ids."""
    found = query('SELECT "id", "count", "clock", "hash" FROM "device" ORDER BY "id"')
    return [(name, count, clock, last) for name, count, clock, last in found if count]


def counts() -> dict[str, int]:
    """Return how many rows each table has."""
    return {row.table: query(f'SELECT count(*) FROM "{row.table}"')[0][0] for row in TABLES}


def is_empty() -> bool:
    """Whether nothing was ever written into the open records."""
    return not query('SELECT 1 FROM "edit" LIMIT 1')


def take_in(
    all_edits: Iterable[Edit],
    proved: Mapping[str, object],
    also: Callable[[], None] = lambda: None,
) -> None:
    """Make every edit again in empty records, all of them or none.

    Parameters
    ----------
    all_edits : iterable
        In their order, as `edits` gives them.
    proved : mapping
        What must hold at the end, as `state` gives it.
    also : callable
        What else is written in the same transaction.

    Raises
    ------
    Refusal
        When the records are not empty, an edit is not what its hash says or does not follow on
        the last, or what came out is not what was proved.
    """
    with database.atomic():
        engine.now_open().take_turn()
        if not is_empty():
            raise Refusal(
                "These records are not empty: there is a practice in them already.",
                "Name another file in FINROUNDS_DATABASE; an export is taken in whole or not.",
            )
        receive.receive_all(all_edits)
        index.rebuild()
        also()
        found = state()
        for name, wanted in proved.items():
            if found[name] != wanted:
                raise Refusal(
                    f"The {name} came out as {found[name]}, and should be {wanted}.",
                    "Nothing was taken in; make the export again.",
                )


def readable(edit: Edit) -> bool:
    """Whether every text in an edit is one that a form would have let in: a file goes past them."""
    changes = (json.loads(change) for _, _, _, change in edit[1])
    held = (value for change in changes for pair in change.values() for value in pair)
    return not any(isinstance(value, str) and NOT_TEXT.search(value) for value in held)


def summed(row: type[Row]) -> list[str]:
    """Return the columns of a table that are added up: money, and volumes in litres."""
    names = columns(row.table)
    litres = [name for name in names if name.endswith("_l") and not name.endswith("mg_l")]
    return [name for name in names if name.endswith("_minor")] + litres


def state() -> dict[str, Any]:
    """Return what two copies of the same records have in common.

    Returns
    -------
    dict
        ``counts`` of rows by table, ``edits``, ``sums`` of money and water by table and column,
        and ``hashes``: count and last hash by machine.
    """
    return {
        "counts": counts(),
        "edits": query('SELECT count(*) FROM "edit"')[0][0],
        "sums": _sums(),
        "hashes": {name: [count, last] for name, count, _, last in devices()},
    }


def _sums() -> dict[str, str]:
    found = {}
    for row in ROWS.values():
        for name in summed(row):
            sql = f'SELECT "{name}" FROM "{row.table}" WHERE "{name}" IS NOT NULL'
            values = [value for (value,) in query(sql)]
            # Whatever the order the engine gives them in: a plain sum of floats depends on it.
            total = sum(values) if name.endswith("_minor") else math.fsum(values)
            found[f"{row.table}.{name}"] = str(total)
    return found
