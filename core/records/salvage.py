"""What can still be read of damaged records, in a new file; the damaged one stays as it is.

Edits come over in their order, each proved by its hash, until the first that can not be read
or does not follow. Then rows that can be read and are not there yet come over in one edit of
their own, which says so. What fits nowhere is written to a file beside, so that nothing that
could be read is lost.
"""

from __future__ import annotations

import gc
import json
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import Any

from core.errors import Refusal
from core.records import engine, files, journal, passphrase, receive
from core.records.journal import OpenEdit
from core.records.keys import new_key
from core.records.lean import pw
from core.records.models import ROWS, Secret, database
from core.records.place import Place, place_of
from core.records.read import find, from_values, stored
from core.records.readable import Readable, readable
from core.records.restore import alone, file_of
from core.records.tables import Row, Visit

WHO = "setup"
KIND = "salvage"
Left = tuple[str, dict[str, Any]]
"""Table and columns of a row that could be read and has no place."""


@dataclass(frozen=True)
class Salvaged:
    """What came over.

    Attributes
    ----------
    edits, of : int
        How many edits came over as they were, of how many that could be read.
    until : str
        When the last of them was made, as the records hold moments.
    rows : int
        Rows that came over without their edits.
    left_rows : int
        Rows that could be read and have no place.
    left : Path or None
        The file of those rows; None when there are none.
    aside : Path or None
        Where the damaged file lies now.
    broken : str
        Where the chain of edits breaks, so that no later one came over; "" when all did.
    """

    edits: int
    of: int
    until: str
    rows: int
    left_rows: int
    left: Path | None = None
    aside: Path | None = None
    broken: str = ""


def salvage(place: Place, at: datetime) -> Salvaged:
    """Put what can be read of the damaged records in their place, and set them aside.

    Raises
    ------
    Refusal
        When the records lie on a server or are open elsewhere, or nothing can be read.
    """
    file = file_of(place)
    if not file.exists():
        raise Refusal(f"There are no records in {file}.", "Restore a backup.")
    part = file.with_name(f"{file.stem}-salvaging{file.suffix}")
    with alone(file):
        _away(part)
        try:
            made, left = _brought_over(file, part, at)
            files.proved(part)
            if made.edits == made.of and not made.rows + made.left_rows and _whole(file):
                raise Refusal(
                    f"Everything in {file} can be read, and is whole.", "Nothing was replaced."
                )
            beside = _written(file, left, at)
            aside = files.put_in_place(part, file, at)
        finally:
            _away(part)
    return replace(made, left=beside, aside=aside)


def _whole(file: Path) -> bool:
    try:
        files.proved(file)
    except Refusal:
        return False
    return True


def _away(part: Path) -> None:
    for ending in ("", "-wal", "-shm", ".lock"):
        files.beside(part, ending).unlink(missing_ok=True)


def _brought_over(file: Path, part: Path, at: datetime) -> tuple[Salvaged, list[Left]]:
    held = _held(file)
    if key := passphrase.key_of(file):
        # The new file is encrypted from its first page on, under the same passphrase.
        begun = files.connect(part, "mode=rwc", key)
        begun.execute("VACUUM")
        begun.close()
    engine.open_records(place_of(part))
    try:
        with engine.connection():
            taken = _edits(held)
            _go_on_as_another_device()
            rows, left = _rows(held, at)
            _secrets(held)
    finally:
        engine.let_go()
        # What was refused holds statements, and they the closed connection, until it is collected;
        # a file that is still open must not be renamed.
        gc.collect()
    until = held.edits[taken - 1]["at"] if taken else ""
    made = Salvaged(taken, len(held.edits), until, rows, len(left), broken=_broken(held, taken))
    return made, left


def _held(file: Path) -> Readable:
    try:
        held = readable(file)
    except files.driver_errors():
        held = Readable((), {}, {}, ())
    if not held.edits and not any(held.rows.values()):
        raise Refusal(f"Nothing in {file} can be read any more.", "Restore a backup.")
    return held


def _edits(held: Readable) -> int:
    """Take the edits over until one is broken; return how many."""
    with database.atomic():
        for number, edit in enumerate(held.edits):
            try:
                receive.receive(edit, held.lines.get(edit["id"], []))
            except (Refusal, pw.DatabaseError, ValueError, TypeError):
                return number  # changed, cut off, or standing on one that was
    return len(held.edits)


def _broken(held: Readable, taken: int) -> str:
    """Say after which edit of which device the chain breaks, and how; "" when it does not."""
    if taken == len(held.edits):
        return ""
    edit = held.edits[taken]
    count, device = edit["count"], str(edit["device"])[-8:]
    last = sum(one["device"] == edit["device"] for one in held.edits[:taken])
    after = f"after edit {last} of device {device}" if last else f"before device {device}'s first"
    if isinstance(count, int) and count > last + 2:
        return f"{after}: edits {last + 1} to {count - 1} can not be read"
    if count == last + 2:
        return f"{after}: edit {last + 1} can not be read"
    return f"{after}: edit {last + 1} was changed, or a part of it can not be read"


def _go_on_as_another_device() -> None:
    clock = engine.query('SELECT max("clock") FROM "edit"')[0][0] or ""
    engine.execute(
        'INSERT INTO "device" ("id", "here", "count", "clock", "hash") VALUES (?, 1, 0, ?, ?)',
        (new_key(), clock, ""),
    )


def _rows(held: Readable, at: datetime) -> tuple[int, list[Left]]:
    """Bring over rows whose edits did not come; return how many, and which have no place."""
    left: list[Left] = []
    with journal.edit(KIND, who=WHO, at=at) as doing:
        signed: list[Visit] = []
        for table, values in _lacking(held):
            row = _row(table, values)
            if isinstance(row, Visit) and row.signed_at is not None and not _is_there(row):
                # Signed when all that stands under it is there.
                signed.append(row)
                row = replace(row, signed_at=None)
            if row is None or not _placed(doing, row):
                left.append((table, values))
        for visit in signed:
            doing.change(Visit, visit.id, signed_at=visit.signed_at)
        count = len({(table, row) for table, row, _, _ in doing.lines})
    return count, left


def _lacking(held: Readable) -> Iterator[Left]:
    """Give the rows that are not there as they could be read, each after those it refers to."""
    for table, kind in ROWS.items():
        there = {row.id: stored(row) for row in find(kind, struck=True)}
        for values in held.rows.get(table, ()):
            if there.get(values["id"]) != values:
                yield table, values


def _row(table: str, values: dict[str, Any]) -> Row | None:
    """Return a row of what was read; None when a value is none of its column any more."""
    try:
        return from_values(ROWS[table], tuple(values.values()))
    except (ValueError, TypeError, ArithmeticError):
        return None


def _is_there(row: Row) -> bool:
    return bool(find(type(row), struck=True, id=row.id))


def _placed(doing: OpenEdit, row: Row) -> bool:
    """Add a row or change it to what was read; whether the records took it."""
    before = len(doing.lines)
    try:
        if _is_there(row):
            doing.change(type(row), row.id, **{k: v for k, v in vars(row).items() if k != "id"})
        else:
            doing.add(row)
    except (Refusal, pw.DatabaseError):
        del doing.lines[before:]
        return False
    return True


def _secrets(held: Readable) -> None:
    names = list(Secret._meta.fields)
    people = {id_ for (id_,) in engine.query('SELECT "id" FROM "person"')}
    sql = f'INSERT INTO "secret" ({", ".join(names)}) VALUES ({", ".join("?" for _ in names)})'
    for values in held.secrets:
        if values["person"] in people:
            engine.execute(sql, tuple(values[name] for name in names))


def _written(file: Path, left: list[Left], at: datetime) -> Path | None:
    """Write the rows that have no place to a file of one line each."""
    if not left:
        return None
    target = file.with_name(f"{file.stem}-not-placed-{files.stamp(at)}.jsonl")
    lines = (json.dumps({"table": table, **row}, ensure_ascii=False) for table, row in left)
    target.write_text("".join(f"{line}\n" for line in lines), encoding="utf-8")
    files.flush(target)
    return target
