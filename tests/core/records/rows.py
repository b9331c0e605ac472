"""One row of any table, made from nothing but the annotations of its dataclass."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import MISSING, fields
from datetime import UTC, date, datetime
from decimal import Decimal
from types import UnionType
from typing import Annotated, Any, Union, get_args, get_origin, get_type_hints

from core.records.keys import new_key
from core.records.tables import TABLES, Ref, Row

VALUES: dict[type, Any] = {
    str: "some words, é",
    int: 3,
    float: 2.5,
    bool: True,
    date: date(2026, 11, 25),
    datetime: datetime(2026, 11, 25, 9, 15, 30, 123456, tzinfo=UTC),
    Decimal: Decimal("1.250"),
}
CLOSES = frozenset({"struck", "signed_at", "signed_by", "sign_hash", "invoice"})
"""Columns whose being filled closes a row; a new row leaves them empty."""


def kind_of(annotation: Any) -> tuple[type, Ref | None, bool]:
    """Return the plain type of a column, the table it refers to, and whether it may be empty."""
    ref = None
    if get_origin(annotation) is Annotated:
        annotation, *marks = get_args(annotation)
        ref = next((mark for mark in marks if isinstance(mark, Ref)), None)
    empty = get_origin(annotation) in (Union, UnionType)
    if empty:
        annotation = next(a for a in get_args(annotation) if a is not type(None))
    return annotation, ref, empty


def columns(kind: type[Row]) -> dict[str, tuple[type, Ref | None, bool]]:
    """Return every column of a table but its key, with `kind_of` it."""
    hints = get_type_hints(kind, include_extras=True)
    return {f.name: kind_of(hints[f.name]) for f in fields(kind) if f.name != "id"}


def sample(kind: type[Row], ids: Mapping[str, str], /, *, full: bool = False, **given: Any) -> Row:
    """Return a row that could be added, referring to rows whose ids are given by table.

    With `full` optional columns are filled too, those that close a row aside.
    """
    values: dict[str, Any] = {"id": new_key()}
    known = {f.name: f for f in fields(kind)}
    for name, (type_, ref, _) in columns(kind).items():
        must = known[name].default is MISSING
        if name in CLOSES or not (must or full):
            continue
        values[name] = ids[ref.table] if ref else VALUES[type_]
    return kind(**{**values, **given})


def one_of_each(*, full: bool = False) -> dict[str, Row]:
    """Return one row of each table, by table, in an order in which they can be added."""
    ids: dict[str, str] = {}
    rows = {}
    for kind in TABLES:
        row = sample(kind, ids, full=full)
        ids[kind.table] = row.id
        rows[kind.table] = row
    return rows


def ids_of(rows: Mapping[str, Row]) -> dict[str, str]:
    """Return the ids of rows by table."""
    return {table: row.id for table, row in rows.items()}
