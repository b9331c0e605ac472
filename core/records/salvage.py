"""What can still be read of a damaged file, in a new one; the damaged file stays as it is.

Edits come over in their order, each proved by its hash, until the first that can not be read
or does not follow. Then rows that can be read and are not there yet are added in one edit of
their own, which says so. What fits nowhere is written to a file beside, so that nothing that
could be read is lost.
"""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

import peewee as pw

from core.errors import Refusal
from core.records import engine, files, journal, passphrase, receive
from core.records.models import MODELS, ROWS, columns, database
from core.records.place import Place, place_of
from core.records.receive import EDIT_COLUMNS
from core.records.restore import _file, alone

WHO = "setup"
SMALLEST = 20
"""No row of a table takes fewer bytes: so many rows at most are looked for one by one."""


@dataclass(frozen=True)
class Salvaged:
    """What came over.

    Attributes
    ----------
    edits, of : int
        How many edits came over as they were, and how many could be read at all.
    until : str
        When the last of them was made, as the records hold moments.
    rows : int
        Rows that came over without their edits.
    left : Path or None
        A file of those that could be read and have no place; None when there are none.
    aside : Path or None
        Where the damaged file lies now.
    """

    edits: int
    of: int
    until: str
    rows: int
    left_rows: int
    left: Path | None
    aside: Path | None


def salvage(place: Place, at: datetime) -> Salvaged:
    """Put what can be read of the damaged records in their place, and set them aside.

    Raises
    ------
    Refusal
        When the records lie on a server or are open elsewhere, or nothing can be read.
    """
    file = _file(place)
    if not file.exists():
        raise Refusal(f"There are no records in {file}.", "Restore a backup.")
    part = file.with_name(f"{file.stem}-salvaging{file.suffix}")
    with alone(file):
        for ending in ("", "-wal", "-shm"):
            files.beside(part, ending).unlink(missing_ok=True)
        try:
            made = _brought_over(file, part, at)
            files.proved(part)
            aside = files.put_in_place(part, file, at)
        finally:
            part.unlink(missing_ok=True)
    return Salvaged(**{**vars(made), "aside": aside})


def _brought_over(file: Path, part: Path, at: datetime) -> Salvaged:
    held = _readable(file)
    if not held.edits and not any(held.rows.values()):
        raise Refusal(f"Nothing in {file} can be read any more.", "Restore a backup.")
    _begin(file, part)
    try:
        with engine.connection():
            taken, until = _edits(held)
            left = _rows(held, at)
            _secrets(held)
            count = held.count() - len(left)
    finally:
        files_closed()
    beside = _written(file, left, at)
    return Salvaged(taken, len(held.edits), until, count, len(left), beside, None)
