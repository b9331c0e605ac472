"""Putting a backup in the place of the records: checked first, whole or not at all.

The present file is never written over and never deleted: it is set aside, and what it has and
the backup has not is told by day and person.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from core.errors import Refusal
from core.records import fileguard, files, passphrase
from core.records.files import Facts, Progress
from core.records.keys import new_key
from core.records.place import Place


@dataclass(frozen=True)
class Missing:
    """Edits of one person on one day that the backup does not have."""

    day: str
    who: str
    """The person's name; their id where no name can be read."""
    edits: int


@dataclass(frozen=True)
class Restored:
    """What was put in place, and what it lacks.

    Attributes
    ----------
    aside : Path or None
        Where the file lies that stood there before; None when there was none.
    missing : tuple or None
        None when the old file can not be read, so that nobody knows.
    """

    facts: Facts
    aside: Path | None
    missing: tuple[Missing, ...] | None


def restore(place: Place, backup: Path, at: datetime, progress: Progress | None = None) -> Restored:
    """Put a copy of a backup in the place of the records.

    Raises
    ------
    Refusal
        When the records lie on a server or are open elsewhere, or the backup is not there, is
        damaged, is something else, or was made by a newer version. Nothing was changed then.
    """
    file = file_of(place)
    if not backup.is_file():
        raise Refusal(f"There is no backup {backup}.", "Name a file of the folder backups.")
    if file.exists() and file.samefile(backup):
        raise Refusal("These are the records themselves.", "Name a backup of them.")
    with alone(file):
        found = _must_fit(backup)
        missing = missing_in(backup, file)
        part = file.with_name(f".{file.name}.restored")
        try:
            files.copy(backup, part, progress)
            as_another_device(part)
            aside = files.put_in_place(part, file, at)
        except OSError as error:
            raise Refusal(
                f"The backup could not be put in place: {error.strerror}.",
                "Make room on the disk of the records, then try again.",
            ) from error
        finally:
            part.unlink(missing_ok=True)
    return Restored(found, aside, missing)


def file_of(place: Place) -> Path:
    """Return the file of the records; what lies on a server is refused."""
    if place.file is None:
        raise Refusal(
            f"The records in {place.said} lie on a server.",
            "Restore its own dump there; or set FINROUNDS_DATABASE=sqlite:///FILE to a backup, "
            "and carry that into an empty database with finrounds copy-to.",
        )
    return place.file


@contextmanager
def alone(file: Path) -> Iterator[None]:
    """Hold a file while it is replaced: no copy of the app may have it open."""
    file.parent.mkdir(parents=True, exist_ok=True)
    lock = fileguard.hold(file)
    try:
        yield
    finally:
        lock.release()


def _must_fit(backup: Path) -> Facts:
    from core.records.migrate import VERSION

    found = files.proved(backup)
    if found.schema > VERSION:
        raise Refusal(
            f"{backup} was made by a newer version of Finrounds.",
            "Install the newer version; nothing was changed.",
        )
    return found


def missing_in(backup: Path, present: Path) -> tuple[Missing, ...] | None:
    """Return what a file has and a backup of it has not; None when the file can not be read."""
    if not present.exists() or not present.stat().st_size:
        return ()
    try:
        with files.reading(backup) as opened:
            held = {id_ for (id_,) in opened.execute('SELECT "id" FROM "edit"')}
        with files.reading(present) as opened:
            names = dict(opened.execute('SELECT "id", "name" FROM "person"').fetchall())
            edits = opened.execute('SELECT "id", "at", "who" FROM "edit"').fetchall()
    except files.unreadable():
        return None
    counted = Counter((at[:10], names.get(who, who)) for id_, at, who in edits if id_ not in held)
    return tuple(Missing(day, who, count) for (day, who), count in sorted(counted.items()))


def as_another_device(file: Path) -> None:
    """Let this machine go on in a file as a new device.

    The old one has made edits that this file does not have; its counts would run twice.
    """
    made = files.connect(file, "mode=rw", passphrase.key_of(file))
    try:
        made.execute("BEGIN IMMEDIATE")
        made.execute('UPDATE "device" SET "here" = 0')
        made.execute(
            'INSERT INTO "device" ("id", "here", "count", "clock", "hash") VALUES (?, 1, 0, ?, ?)',
            (new_key(), _newest_clock(made), ""),
        )
        made.execute("COMMIT")
    finally:
        made.close()


def _newest_clock(opened: Any) -> str:
    """Return the newest clock: what the new device writes comes after all that is there."""
    [[clock]] = opened.execute('SELECT max("clock") FROM "edit"').fetchall()
    return str(clock or "")
