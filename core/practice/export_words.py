"""What every table and column of an export means, for people who have never seen this app."""

from __future__ import annotations

import ast
import functools
import inspect
import itertools
import re
import textwrap
from collections.abc import Iterator, Mapping
from typing import Any

from core.catalogue import load
from core.records import exchange
from core.records.exchange import ColumnKind
from core.records.tables import TABLES, Row
from core.sourced import SUFFIXES

_MARKS = re.compile(r"``?")
_WIDTH = 24
_LINE = 98
_CLOSING = {
    "visit": "closed once its visit is signed",
    "grows": "only added to, never changed",
    "invoice": "closed once it stands on an issued invoice",
    "open": "never closed",
}
_TYPES = {
    "moment": "moment, UTC",
    "date": "date, YYYY-MM-DD",
}


def meaning(row: type[Row], column: str) -> str:
    """Return in a sentence what a column holds; "" when nobody has described it."""
    said = load.table("columns")
    own = _written()[row.table].get(column, "")
    return own or str(said.get(row.table, {}).get(column) or said["any"].get(column, ""))


@functools.cache
def _written() -> dict[str, dict[str, str]]:
    """Return what the tables themselves say under their columns: Python keeps it nowhere else."""
    found = {}
    for row in TABLES:
        (table,) = ast.parse(inspect.getsource(row)).body
        assert isinstance(table, ast.ClassDef)
        found[row.table] = dict(_under(table.body))
    return found


def _under(body: list[ast.stmt]) -> Iterator[tuple[str, str]]:
    for column, words in itertools.pairwise(body):
        said = words.value if isinstance(words, ast.Expr) else None
        if isinstance(column, ast.AnnAssign) and isinstance(said, ast.Constant):
            assert isinstance(column.target, ast.Name)
            yield column.target.id, _MARKS.sub("", " ".join(str(said.value).split()))


def unit(column: str) -> str:
    """Return the unit in which a column is kept, from the end of its name; "" for none.

    Examples
    --------
    >>> unit("volume_l"), unit("agent_mg_l"), unit("gross_minor"), unit("email")
    ('L', 'mg/L', 'minor unit of the currency', '')
    """
    if column.endswith("_minor"):
        return "minor unit of the currency"
    ends = (end for end in SUFFIXES if column.endswith(f"_{end}"))
    longest = max(ends, key=len, default="")
    return SUFFIXES.get(longest, "")


def _kind(name: str, kind: ColumnKind) -> str:
    measured = kind.type in ("number", "whole number", "decimal")
    parts = [_TYPES.get(kind.type, kind.type), unit(name) if measured else ""]
    parts += [f"key of {kind.of}" if kind.of else "", "may be empty" if kind.none else ""]
    return ", ".join(part for part in parts if part)


def _table(row: type[Row], rows: int) -> Iterator[str]:
    about = _MARKS.sub("", " ".join((row.__doc__ or "").split()))
    yield f"{row.table}  ({rows} rows; {_CLOSING[row.closing]})"
    yield f"  {about}"
    for name, kind in exchange.kinds(row).items():
        yield f"    {name:{_WIDTH - 1}} {_kind(name, kind)}"
        yield from _wrapped(meaning(row, name))
    yield ""


def _wrapped(text: str) -> list[str]:
    indent = " " * (_WIDTH + 4)
    return textwrap.wrap(text, _LINE, initial_indent=indent, subsequent_indent=indent)


def readme(said: Mapping[str, Any]) -> str:
    """Return the README of an export from its manifest."""
    missing = said["papers_not_as_issued"]
    lacking = "\n".join(f"  {line}" for line in missing) or "  none"
    columns = "\n".join(line for row in TABLES for line in _table(row, said["counts"][row.table]))
    head = _HEAD.format(
        practice=said["practice"], made=said["made"], edits=said["edits"], lacking=lacking
    )
    return f"{head}\n{columns}"


_HEAD = """\
The records of {practice}, as they stood on {made} (UTC)
================================================================================

Everything that the practice has written is here, in open formats, in UTF-8.

tables/NAME.csv   A file a table, for spreadsheets and other programs. Commas between the cells,
                  quotation marks where a cell needs them, the first line names the columns.
                  Dates are ISO 8601, moments are in UTC, numbers have a point and no signs
                  between thousands, true and false are said in words, an empty cell is none.
                  A text that a spreadsheet would run as a formula (it begins with = + - @ or a
                  tab or a new line) has an apostrophe ' before it, which is not part of the text.
                  Control characters are shown as signs.
rows/NAME.jsonl   The same rows exactly, a JSON object a line; here none is null.
journal.jsonl     How it came to be: every edit in order ({edits} of them), a JSON object a line,
                  with who, when, and each value before and after. The edits of each machine are
                  chained by hash. This is what Finrounds takes in again:
                  finrounds take-in FOLDER
documents/        The papers as issued; the table document has their numbers and SHA-256.
manifest.json     Counts, sums of money and of litres, the last hash of each machine, and the
                  SHA-256 of every file here.

Amounts of money are whole numbers in the minor unit of the practice's currency (cents): the
table practice says how many digits that has. Rows are never deleted: a row in which "struck" is
not empty no longer counts, and says why.

NOT here: PINs and recovery codes (they must be set again), what the app makes anew by itself (the
index for finding), backups, and this computer's own settings.

Papers that are missing or not as they were issued:
{lacking}

The tables and their columns
--------------------------------------------------------------------------------
"""
