"""Rows as they are held, and as they were before an edit, for any table by its name."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from core.records import edits
from core.records.edits import Line, chunks, marks
from core.records.engine import query
from core.records.models import ROWS, columns


def held(table: str, ids: Iterable[str]) -> dict[str, dict[str, Any]]:
    """Return rows of a table by id, in the form the database holds them."""
    names = list(columns(table))
    listed = ", ".join(f'"{name}"' for name in names)
    found = {}
    for part in chunks(ids):
        sql = f'SELECT {listed} FROM "{table}" WHERE "id" IN ({marks(part)})'
        for values in query(sql, part):
            row = dict(zip(names, values, strict=True))
            found[row["id"]] = row
    return found


def as_given(table: str, row: Mapping[str, Any]) -> dict[str, Any]:
    """Return a row's values as its dataclass has them; columns that are no more are left out."""
    known = columns(table)
    return {name: known[name].give(value) for name, value in row.items() if name in known}


def states_before(
    lines: Mapping[str, Iterable[Line]],
) -> dict[tuple[str, str, str], dict[str, Any]]:
    """Return what stood in each changed row just before each edit, as the journal tells it.

    Parameters
    ----------
    lines : mapping
        The lines of edits, by the edit's id.

    Returns
    -------
    dict
        By edit, table and row; the columns in the form the database holds.
    """
    changed: dict[str, set[str]] = {}
    for told in lines.values():
        for line in told:
            if line.act != "add" and line.table in ROWS:
                changed.setdefault(line.table, set()).add(line.row)
    found: dict[tuple[str, str, str], dict[str, Any]] = {}
    for table, ids in changed.items():
        for part in chunks(ids):
            now: dict[str, dict[str, Any]] = {}
            for edit, line in edits.history(table, part):
                row = now.setdefault(line.row, {})
                found.setdefault((edit, table, line.row), dict(row))
                row.update({name: new for name, (_, new) in line.change.items()})
    return found
