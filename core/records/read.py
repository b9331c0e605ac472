"""Reading rows back as the frozen dataclasses of `tables`."""

from __future__ import annotations

from typing import Any, TypeVar

from core.errors import Refusal
from core.records.engine import query
from core.records.models import columns
from core.records.tables import Row

T = TypeVar("T", bound=Row)


def find(
    kind: type[T], /, *, order: str = "id", struck: bool = False, **where: Any
) -> tuple[T, ...]:
    """Return the rows whose columns equal what is given; None asks for an empty column.

    Parameters
    ----------
    kind : type
        The dataclass of the table.
    order : str
        Columns to order by, separated by commas; the key itself is in order of making.
    struck : bool
        Whether struck rows are given too.
    """
    known = columns(kind.table)
    if not struck:
        where = {**where, "struck": None}
    tests = [f'"{n}" IS NULL' if v is None else f'"{n}" = ?' for n, v in where.items()]
    values = [known[n].store(v) for n, v in where.items() if v is not None]
    names = ", ".join(f'"{n}"' for n in known)
    by = ", ".join(f'"{part.strip()}"' for part in order.split(","))
    test = f" WHERE {' AND '.join(tests)}" if tests else ""
    found = query(f'SELECT {names} FROM "{kind.table}"{test} ORDER BY {by}', values)
    return tuple(from_values(kind, row) for row in found)


def from_values(kind: type[T], values: tuple[Any, ...]) -> T:
    """Return the dataclass made of a row's values in column order."""
    known = columns(kind.table)
    pairs = zip(known.items(), values, strict=True)
    return kind(**{name: column.give(value) for (name, column), value in pairs})


def one(kind: type[T], row_id: str) -> T:
    """Return the row with this id.

    Raises
    ------
    Refusal
        When there is none.
    """
    found = find(kind, struck=True, id=row_id)
    if not found:
        raise Refusal("That line is not in the records.", "Open the day again.")
    return found[0]


def first(kind: type[T], /, **where: Any) -> T | None:
    """Return the first row that matches, or None."""
    found = find(kind, **where)
    return found[0] if found else None


def stored(row: Row) -> dict[str, Any]:
    """Return a row's values as the database holds them."""
    return {name: column.store(getattr(row, name)) for name, column in columns(row.table).items()}
