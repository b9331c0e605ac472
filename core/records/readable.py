"""Everything that can still be read of a damaged file, whatever lies between."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from core.records import files, passphrase
from core.records.journal import EDIT_COLUMNS
from core.records.models import MODELS, Secret

SMALLEST = 20
"""No row takes fewer bytes: a file has so many of them at most."""
STEPS = 200
"""Rows that are tried one by one after a page that can not be read: as many as two pages hold."""

Line = tuple[str, str, str, str]


@dataclass(frozen=True)
class Readable:
    """What was read.

    Attributes
    ----------
    edits : tuple
        Each edit's columns, in the order in which they were made.
    lines : dict
        The lines of each edit by its id, in order.
    rows : dict
        The rows of each table: their columns by name.
    secrets : tuple
        What opens the app for each person.
    """

    edits: tuple[dict[str, Any], ...]
    lines: dict[str, list[Line]]
    rows: dict[str, tuple[dict[str, Any], ...]]
    secrets: tuple[dict[str, Any], ...]


class _Reader:
    """A connection that goes on after each fault.

    Under SQLCipher it is opened anew: that reads nothing any more once it has met a page that
    it can not decipher.
    """

    def __init__(self, file: Path) -> None:
        self.most = file.stat().st_size // SMALLEST
        self._file, self._keyed = file, passphrase.sealed(file)
        self._opened = self._open()

    def _open(self) -> Any:
        made = files.reader(self._file)
        made.text_factory = _words
        return made

    def close(self) -> None:
        self._opened.close()

    def rows(self, sql: str, at: int) -> Iterator[tuple[Any, ...]]:
        """Give the rows from a number on, the number first, as far as they can be read.

        Raises
        ------
        Exception
            One of `files.driver_errors`, where they can not.
        """
        try:
            yield from self._opened.execute(f"{sql} WHERE rowid >= ? ORDER BY rowid", (at,))
        except files.driver_errors():
            if self._keyed:
                self._opened.close()
                self._opened = self._open()
            raise

    def reads(self, sql: str, at: int) -> bool:
        """Whether the row with this number, or the next one after it, can be read."""
        try:
            next(self.rows(sql, at), None)
        except files.driver_errors():
            return False
        return True

    def columns(self, table: str) -> set[str]:
        """Return the columns that a table has in this file; none when it is not there."""
        try:
            return {row[1] for row in self._opened.execute(f'PRAGMA table_info("{table}")')}
        except files.driver_errors():
            return set()


def readable(file: Path) -> Readable:
    """Return all that can be read of a file; nothing is written to it."""
    reader = _Reader(file)
    try:
        edits = [e for e in _rows(reader, "edit", EDIT_COLUMNS) if isinstance(e["clock"], str)]
        lines: dict[str, list[tuple[Any, ...]]] = defaultdict(list)
        for line in _rows(reader, "edit_line", ("edit", *_LINE)):
            lines[line["edit"]].append(tuple(line[name] for name in _LINE))
        rows = {
            table: tuple(_rows(reader, table, tuple(model._meta.fields)))
            for table, model in MODELS.items()
        }
        secrets = tuple(_rows(reader, "secret", tuple(Secret._meta.fields)))
    finally:
        reader.close()
    return Readable(
        tuple(sorted(edits, key=lambda edit: (str(edit["clock"]), str(edit["id"])))),
        {edit: _in_order(found) for edit, found in lines.items()},
        rows,
        secrets,
    )


_LINE = ("position", "in_table", "row", "act", "change")


def _in_order(lines: list[tuple[Any, ...]]) -> list[Line]:
    found = sorted(lines, key=lambda line: str(line[0]).zfill(9))
    return [(table, row, act, change) for _, table, row, act, change in found]


def _words(text: bytes) -> str:
    return text.decode(errors="replace")


def _rows(reader: _Reader, table: str, names: tuple[str, ...]) -> Iterator[dict[str, Any]]:
    """Give the rows of a table by name; those on a page that can not be read are passed over."""
    known = reader.columns(table)
    asked = [name for name in names if name in known]
    if not asked:
        return
    listed = ", ".join(f'"{name}"' for name in asked)
    sql, at = f'SELECT rowid, {listed} FROM "{table}" NOT INDEXED', 1
    while at:
        try:
            for number, *values in reader.rows(sql, at):
                at = number + 1
                yield dict(zip(asked, values, strict=True))
            return
        except files.driver_errors():
            at = _beyond(reader, sql, at)


def _beyond(reader: _Reader, sql: str, at: int) -> int:
    """Return the next number from which rows can be read; 0 when there is none."""
    for number in range(at + 1, at + STEPS):
        if reader.reads(sql, number):
            return number
    # Not one page but all that hang on one that led to them: in leaps, then back by halves.
    bad, leap = at + STEPS - 1, STEPS
    while not reader.reads(sql, bad + leap):
        if bad + leap > reader.most:
            return 0
        bad, leap = bad + leap, leap * 2
    good = bad + leap
    while good - bad > 1:
        middle = (bad + good) // 2
        good, bad = (middle, bad) if reader.reads(sql, middle) else (good, middle)
    return good
