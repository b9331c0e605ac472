"""Files of records as files: opened beside the app, proved, copied whole, put in place.

What is here never goes through the open records, so that it works on a copy, on an older
schema and on a damaged file too. A file is written under another name and renamed when it is
whole; what stood there before is set aside, never written over.
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any, Literal

from core import folders
from core.records import passphrase
from core.records.fileguard import Damaged, NotOurs

How = Literal["live", "still"]
Progress = Callable[[int, int], None]
"""Told how many pages are copied, and of how many."""

PAGES = 2000
MOST_TOLD = 20


@dataclass(frozen=True)
class Facts:
    """By what a copy is compared with its source.

    Attributes
    ----------
    last : str
        Hash of the newest edit; "" before there is one.
    """

    schema: int
    edits: int
    last: str
    newest: str
    """When the newest edit was made, as the records hold moments."""


def driver_errors() -> tuple[type[Exception], ...]:
    """Return what a file that can not be read raises, of either driver."""
    import sys

    loaded = sys.modules.get("sqlcipher3.dbapi2")
    # A page that SQLCipher can not decipher comes to Python as a lack of memory.
    keyed: tuple[type[Exception], ...] = (loaded.DatabaseError, MemoryError) if loaded else ()
    return (sqlite3.DatabaseError, *keyed)


def unreadable() -> tuple[type[Exception], ...]:
    """Return what is raised by a file that is damaged or can not be opened with what is known."""
    return (*driver_errors(), passphrase.Sealed)


def connect(file: Path, query: str, key: str) -> Any:
    """Return a connection to a file, with SQLite's own words in the address, under its key."""
    address = f"{file.absolute().as_uri()}?{query}"
    if not key:
        return sqlite3.connect(address, uri=True, isolation_level=None)
    from core.records import sqlcipher

    return sqlcipher.connect(address, key)


def connect_keyed(file: Path) -> Any:
    """Return a connection of SQLCipher's, under the file's key or none for a plain one."""
    from core.records import sqlcipher

    address = f"{file.absolute().as_uri()}?mode=rw"
    return sqlcipher.connect(address, passphrase.key_of(file))


@contextmanager
def reading(file: Path, how: How = "still") -> Iterator[Any]:
    """Give a connection that only reads.

    Parameters
    ----------
    how : str
        ``live`` while others may write to the file; ``still`` makes nothing beside it.

    Raises
    ------
    Sealed
        When the file is encrypted and its passphrase is not given.
    """
    made = reader(file, how)
    try:
        yield made
    finally:
        made.close()


def reader(file: Path, how: How = "still") -> Any:
    """Return a connection as `reading` gives it, for whoever closes it."""
    made = connect(file, _words(file, how), passphrase.key_of(file))
    made.execute("PRAGMA query_only = 1")
    return made


def _words(file: Path, how: How) -> str:
    if how == "live":
        return "mode=rw"
    log = beside(file, "-wal")
    return "mode=ro" if log.exists() and log.stat().st_size else "immutable=1"


def beside(file: Path, ending: str) -> Path:
    """Return the file that SQLite keeps beside another: its log or its index."""
    return file.with_name(file.name + ending)


def facts(opened: Any) -> Facts:
    """Return by what a file is compared with its copies."""
    [[schema]] = opened.execute('SELECT max("number") FROM "schema_step"').fetchall()
    [[edits]] = opened.execute('SELECT count(*) FROM "edit"').fetchall()
    sql = 'SELECT "hash", "at" FROM "edit" ORDER BY "clock" DESC LIMIT 1'
    last, newest = (opened.execute(sql).fetchall() or [("", "")])[0]
    return Facts(schema or 0, edits, last, newest)


def faults(opened: Any) -> list[str]:
    """Return what is wrong with a file's pages and references, as SQLite finds it."""
    told = [str(line) for (line,) in opened.execute(f"PRAGMA integrity_check({MOST_TOLD})")]
    found = [] if told == ["ok"] else told
    lost = opened.execute("PRAGMA foreign_key_check").fetchmany(MOST_TOLD)
    found += [
        f"A row of {table} refers to a {parent} that is not there." for table, _, parent, _ in lost
    ]
    return found


def proved(file: Path) -> Facts:
    """Return the facts of a file in which nothing is wrong.

    Raises
    ------
    Damaged
        When a part of it can not be read or does not fit the rest.
    NotOurs
        When it is something else than records.
    """
    try:
        with reading(file) as opened:
            named = "SELECT name FROM sqlite_master WHERE name IN ('edit', 'schema_step')"
            if len(opened.execute(named).fetchall()) < 2:
                raise NotOurs(f"{file} holds no Finrounds records.", "Nothing was changed.")
            wrong = faults(opened)
            found = facts(opened)
    except driver_errors() as error:
        raise Damaged(f"{file} can not be read: {error}.", "Nothing was changed.") from error
    if wrong:
        raise Damaged(f"{file} is damaged: {wrong[0]}", "Nothing was changed.")
    return found


def copy(file: Path, target: Path, progress: Progress | None = None) -> Facts:
    """Copy records as they are at one moment, while others may write; the copy is proved.

    Raises
    ------
    Damaged
        When the copy is not whole or not the same; then there is none.
    OSError
        When the disk refuses.
    """
    folders.make(target.parent)
    part = target.with_name(f".{target.name}.part")
    part.unlink(missing_ok=True)
    try:
        told = _copied(file, part, progress)
        return whole_copy(part, target, told)
    finally:
        part.unlink(missing_ok=True)


def whole_copy(part: Path, target: Path, told: Facts | None = None) -> Facts:
    """Prove a new file and give it its name once it is on the disk.

    Raises
    ------
    Damaged
        When it is not whole, or has other facts than were told.
    """
    _still(part)
    found = proved(part)
    if told is not None and found != told:
        raise Damaged("The copy is not what was copied.", "Look at the disk; try again.")
    flush(part)
    part.replace(target)
    folders.flush(target.parent)
    return found


def _copied(file: Path, part: Path, progress: Progress | None) -> Facts:
    said = None
    if progress is not None:
        tell = progress

        def said(_: int, left: int, whole: int) -> None:
            tell(whole - left, whole)

    try:
        with reading(file, "live") as source:
            # One reading transaction: what others write meanwhile does not begin the copy anew.
            source.execute("BEGIN")
            told = facts(source)
            target = connect(part, "mode=rwc", passphrase.key_of(file))
            try:
                source.backup(target, pages=PAGES, progress=said)
                target.execute("PRAGMA journal_mode = DELETE").fetchall()
            finally:
                target.close()
    except driver_errors() as error:
        raise Damaged(
            f"{file} could not be copied: {error}.", "finrounds check says what is wrong."
        ) from error
    return told


def flush(file: Path) -> None:
    """Wait until a file's bytes are on the disk."""
    handle = os.open(file, os.O_RDWR)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def put_in_place(part: Path, file: Path, moment: datetime) -> Path | None:
    """Let a whole file take the place of another, which is set aside under a stamped name.

    At no moment is there no file in that place.

    Returns
    -------
    Path or None
        Where the old file lies now; None when there was none.
    """
    _still(part)
    flush(part)
    aside = None
    if file.exists():
        aside = folders.free_name(
            file.with_name(f"{file.stem}-set-aside-{stamp(moment)}{file.suffix}")
        )
        _settle(file)
        folders.second_name(file, aside)
        for ending in ("-wal", "-shm", "-journal"):
            # A log that stays would be read into the new file.
            if beside(file, ending).exists():
                beside(file, ending).replace(beside(aside, ending))
    part.replace(file)
    folders.flush(file.parent)
    return aside


def _still(part: Path) -> None:
    """Bring a new file's log into it; what is renamed must be all there is."""
    _settle(part)
    log = beside(part, "-wal")
    if log.exists() and log.stat().st_size:
        raise Damaged("The new file is still open.", "Nothing was changed; try again.")


def _settle(file: Path) -> None:
    """Bring what the log holds into the file, when it can be read."""
    try:
        # SQLite throws away the log of a file that it can not read, when it may write to it.
        with reading(file) as opened:
            opened.execute("SELECT count(*) FROM sqlite_master").fetchall()
        made = connect(file, "mode=rw", passphrase.key_of(file))
        try:
            made.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchall()
        finally:
            made.close()
    except unreadable():
        return


def stamp(moment: datetime) -> str:
    """Return a moment as it stands in the name of a file, in UTC."""
    from datetime import UTC

    return moment.astimezone(UTC).strftime("%Y-%m-%d-%H%M%S")
