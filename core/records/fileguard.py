"""Looking at a file before it is opened for writing, and holding it against a second copy.

Nothing here writes to the file: what is damaged, newer, read-only or somebody else's is told in
a sentence, and stays byte for byte as it was found.
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from core.errors import Refusal

if TYPE_CHECKING:
    from filelock import FileLock

MAGIC = b"SQLite format 3\x00"
HEADER = 100
"""Bytes of the header: SQLite, "Database File Format", section 1.3."""
PAGE = 4096
WHOLE = 32 * 2**20
"""Up to this size every page is looked at when the app starts: a twentieth of a second."""


class Damaged(Refusal):
    """The file can not be read as it should; it was left as it is."""

    title = "Damaged"


class NotOurs(Refusal):
    """The file is something else than Finrounds records."""

    title = "Not Finrounds records"


class Held(Refusal):
    """The records are open in another copy of the app."""

    title = "Open already"


def look_before(file: Path, newest: int, *, sealed: bool = False) -> None:
    """Refuse a file that must not be opened for writing; a file that is not there is fine.

    An empty or a half-written file is what a first start leaves that was cut off at once. It is
    fine too, unless papers or backups beside it say that it was more once.

    Parameters
    ----------
    newest : int
        The highest schema number that this version of the app knows.
    sealed : bool
        Whether it begins as an encrypted file does: in such a one nothing can be looked at. A
        plain file whose beginning is damaged is known by the page behind it.

    Raises
    ------
    Refusal
        `Damaged` when it can not be read whole, with what can be brought back; `NotOurs` when it
        is something else; else when it is newer than the app, or read-only.
    """
    if not file.exists():
        return
    head = b"" if _first_cut_off(file) else _head(file)
    if not head and _had_more(file):
        raise Damaged(f"{file} is empty, though papers or backups stand beside it.", way_back(file))
    if sealed:
        sealed = _noise_behind(file)
    if head and not sealed and not head.startswith(MAGIC):
        raise NotOurs(
            f"{file} can not be opened: it holds no Finrounds records, "
            "or its beginning is damaged.",
            way_back(file),
        )
    _must_be_writable(file)
    if head and not sealed:
        _must_be_ours(file, head, newest)


def _head(file: Path) -> bytes:
    try:
        with file.open("rb") as opened:
            return opened.read(HEADER)
    except OSError as error:
        raise Refusal(
            f"The records in {file} can not be opened: {error.strerror}.",
            "Name another file, or ask whoever owns it.",
        ) from error


def _first_cut_off(file: Path) -> bool:
    """Whether the journal beside a file takes back the very first thing written to it."""
    journal = file.with_name(file.name + "-journal")
    # The size of the file before: SQLite, "Database File Format", section 3.
    before = _head(journal)[16:20] if journal.exists() else b""
    return len(before) == 4 and not any(before)


def _noise_behind(file: Path) -> bool:
    with file.open("rb") as opened:
        opened.seek(PAGE)
        page = opened.read(PAGE)
    # An encrypted page has nearly all of the 256 bytes; one of SQLite's own has far fewer.
    return not page or len(set(page)) > 240


def _had_more(file: Path) -> bool:
    return any((file.parent / name).is_dir() for name in ("papers", "backups"))


def _must_be_writable(file: Path) -> None:
    for path, what in ((file, "the file"), (file.parent, "its folder")):
        if not os.access(path, os.W_OK):
            raise Refusal(
                f"The records in {file} can not be written: {what} is read-only.",
                "Make it writable, or copy it where you may write.",
            )


def _must_be_ours(file: Path, head: bytes, newest: int) -> None:
    if _log(file, "-journal"):
        return  # cut off while it was put in place: SQLite puts it right when it is opened
    found = look(file, head)
    if found.fault:
        raise Damaged(f"The records in {file} are damaged: {found.fault}.", way_back(file))
    if found.foreign:
        raise NotOurs(
            f"{file} is a database of another program.",
            "Nothing was written to it; name another file in FINROUNDS_DATABASE.",
        )
    if found.schema > newest:
        raise Refusal(
            f"The records in {file} were made by a newer version of Finrounds.",
            "Install the newer version; nothing was changed in the file.",
        )


@dataclass(frozen=True)
class Look:
    """What a file holds, as far as it was looked at."""

    schema: int = 0
    """Number of the last migration; 0 when nothing is in it yet."""
    foreign: bool = False
    fault: str = ""
    """What is wrong with it, in words; empty when nothing was found."""


def look(file: Path, head: bytes) -> Look:
    """Return what a file holds; nothing is written, neither to it nor beside it."""
    logged = _log(file, "-wal")
    found = _look(file, head, logged)
    if found.fault and not logged and _log(file, "-wal"):
        return _look(file, head, True)  # somebody began to write while we looked
    return found


def _look(file: Path, head: bytes, logged: bool) -> Look:
    size = file.stat().st_size
    # What a log holds may not have reached the file yet: then only SQLite knows its size.
    if not logged and size < _said_size(head):
        return Look(fault="its end is missing")
    try:
        with _reading(file, logged) as reading:
            names = {name for (name,) in reading.execute("SELECT name FROM sqlite_master")}
            if names and "schema_step" not in names:
                return Look(foreign=True)
            if size <= WHOLE and reading.execute("PRAGMA quick_check(1)").fetchall() != [("ok",)]:
                return Look(fault="a part of it can not be read")
            if not names:
                return Look()
            (schema,) = reading.execute("SELECT max(number) FROM schema_step").fetchone()
            return Look(schema or 0)
    except sqlite3.DatabaseError:
        return Look(fault="a part of it can not be read")


def _log(file: Path, ending: str) -> bool:
    beside = file.with_name(file.name + ending)
    return beside.exists() and beside.stat().st_size > 0


def _said_size(head: bytes) -> int:
    """Return the size that the header says the file has; 0 when it does not say."""
    if len(head) < HEADER:
        return HEADER
    page = int.from_bytes(head[16:18], "big")
    pages = int.from_bytes(head[28:32], "big")
    return pages * (65536 if page == 1 else page) if head[24:28] == head[92:96] else 0


@contextmanager
def _reading(file: Path, logged: bool) -> Iterator[sqlite3.Connection]:
    # Without a log the file is all there is; read so, SQLite makes nothing beside it.
    how = "mode=ro" if logged else "immutable=1"
    address = f"{file.absolute().as_uri()}?{how}"
    with closing(sqlite3.connect(address, uri=True)) as connection:
        yield connection


def way_back(file: Path) -> str:
    """Return, in words, what can be brought back when a file is damaged, and how."""
    kept = sorted((file.parent / "backups").glob("*.db"))
    if not kept:
        return (
            "It was left as it is, and there is no backup beside it: finrounds check says what "
            "can still be read, finrounds restore --salvage brings that into a new file."
        )
    return (
        f"It was left as it is; the newest backup is {kept[-1].name}: finrounds restore "
        f"{kept[-1]} brings it back, and finrounds check says what else can still be read."
    )


def hold(file: Path) -> FileLock:
    """Hold a file for this copy of the app alone, until `release` or the end of the process.

    A lock of the operating system on a file beside it, which holds the number of the process.

    Raises
    ------
    Held
        When another copy has it; the sentence names the process.
    Refusal
        When there can be no lock beside it.
    """
    from filelock import FileLock, Timeout

    beside = file.with_name(file.name + ".lock")
    lock = FileLock(beside, timeout=0, thread_local=False, on_acquired=_sign)
    try:
        lock.acquire()
    except Timeout as error:
        raise Held(
            f"The records in {file} are open in another copy of Finrounds{_who(beside)}.",
            "Go on there, or quit it first; for several desks see PostgreSQL in the README.",
        ) from error
    except OSError as error:
        raise Refusal(
            f"The records in {file} can not be held: {error.strerror}.",
            "Name a folder that can be written.",
        ) from error
    return lock


def _sign(handle: int) -> None:
    os.ftruncate(handle, 0)
    os.write(handle, str(os.getpid()).encode())


def _who(beside: Path) -> str:
    """Return who holds a lock, in words; nothing when that can not be read."""
    try:
        number = beside.read_text()
    except OSError:  # so Windows keeps what is locked
        return ""
    return f" (process {number})" if number.isdecimal() else ""
