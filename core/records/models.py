"""The peewee models, made from the dataclasses of `tables`, and the journal's own three.

Only this package sees them: everybody else works with the dataclasses.
"""

from __future__ import annotations

import functools
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, fields
from datetime import date, datetime
from decimal import Decimal
from types import UnionType
from typing import Annotated, Any, Union, get_args, get_origin, get_type_hints

from core.records.fields import (
    DayField,
    ExactField,
    FlagField,
    RealField,
    UtcField,
    WholeField,
    WordsField,
)
from core.records.lean import pw
from core.records.tables import TABLES, Indexed, Ref, Row

database: pw.DatabaseProxy = pw.DatabaseProxy()
"""The open database; `engine.open_records` sets it."""

_FIELD: dict[type, type[pw.Field]] = {
    str: WordsField,
    int: WholeField,
    float: RealField,
    bool: FlagField,
    date: DayField,
    datetime: UtcField,
    Decimal: ExactField,
}


class Base(pw.Model):
    """What every model shares."""

    class Meta:
        """Bind to the open database and keep our table names."""

        database = database
        legacy_table_names = False


class Device(Base):
    """A machine that writes: its own gapless count, last clock and last hash (not journalled)."""

    id = WordsField(primary_key=True)
    here = FlagField(default=True)
    count = pw.IntegerField(default=0)
    clock = WordsField(default="")
    hash = WordsField(default="")


class Edit(Base):
    """What one person did once."""

    id = WordsField(primary_key=True)
    device = WordsField()
    count = pw.IntegerField()
    clock = WordsField(index=True)
    at = UtcField()
    who = WordsField()
    kind = WordsField()
    schema = pw.IntegerField()
    visit = WordsField(null=True, index=True)
    reverses = WordsField(null=True, index=True)
    before = WordsField()
    hash = WordsField()

    class Meta:
        """A device's count has no gap and no double."""

        indexes = ((("device", "count"), True),)


class EditLine(Base):
    """One row changed by an edit: ``{column: [old, new]}``."""

    edit = WordsField()
    position = pw.IntegerField()
    in_table = WordsField()
    row = WordsField()
    act = WordsField()
    change = WordsField()

    class Meta:
        """Lines are found by edit and by the row they speak of."""

        primary_key = pw.CompositeKey("edit", "position")
        indexes = ((("in_table", "row"), False),)


class Secret(Base):
    """What opens the app for a person; hashes only, and never in the journal or an export."""

    person = WordsField(primary_key=True)
    pin_hash = WordsField(default="")
    recovery_hash = WordsField(default="")
    wrong = pw.IntegerField(default=0)
    wait_until = UtcField(null=True)


class SchemaStep(Base):
    """A migration that has run."""

    number = pw.IntegerField(primary_key=True)
    at = UtcField()


JOURNAL: tuple[type[Base], ...] = (Edit, EditLine)
EXEMPT: tuple[type[Base], ...] = (Device, SchemaStep, Secret)
"""Tables outside the journal: counters, the list of migrations, and what opens the app."""


def _field(annotation: Any) -> pw.Field:
    marks: tuple[Any, ...] = ()
    if get_origin(annotation) is Annotated:
        annotation, *rest = get_args(annotation)
        marks = tuple(rest)
    null = False
    if get_origin(annotation) in (Union, UnionType):
        null = True
        annotation = next(a for a in get_args(annotation) if a is not type(None))
    options: dict[str, Any] = {"null": null}
    for mark in marks:
        if isinstance(mark, Indexed) or (isinstance(mark, Ref) and mark.indexed):
            options["index"] = True
        if isinstance(mark, Ref):
            options["constraints"] = [pw.SQL(f'REFERENCES "{mark.table}" ("id")')]
    return _FIELD[annotation](**options)


def _model(row: type[Row]) -> type[Base]:
    hints = get_type_hints(row, include_extras=True)
    columns: dict[str, Any] = {
        f.name: WordsField(primary_key=True) if f.name == "id" else _field(hints[f.name])
        for f in fields(row)
    }
    meta = type("Meta", (), {"table_name": row.table})
    return type(row.__name__, (Base,), {**columns, "Meta": meta, "__module__": __name__})


ROWS: dict[str, type[Row]] = {row.table: row for row in TABLES}
"""The dataclass of every journalled table, by table name."""


class Models(Mapping[str, type[Base]]):
    """The model of every journalled table by name, each made when it is first asked for.

    The start of the app reads a handful of tables; making all models would be felt.
    """

    def __init__(self) -> None:
        self._made: dict[str, type[Base]] = {}

    def __getitem__(self, table: str) -> type[Base]:
        """Return the model of a table."""
        if table not in self._made:
            self._made[table] = _model(ROWS[table])
        return self._made[table]

    def __iter__(self) -> Iterator[str]:
        """Go through the tables, each after those it refers to."""
        return iter(ROWS)

    def __len__(self) -> int:
        """Return how many tables there are."""
        return len(ROWS)


MODELS = Models()


@dataclass(frozen=True)
class Column:
    """One column: how a value goes into the database and how it comes back."""

    store: Callable[[Any], Any]
    give: Callable[[Any], Any]


@functools.cache
def columns(table: str) -> dict[str, Column]:
    """Return the columns of a table in order, by name."""
    found: dict[str, Any] = MODELS[table]._meta.fields
    return {name: Column(field.db_value, field.python_value) for name, field in found.items()}
