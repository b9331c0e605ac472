"""What a driver's error means for the person at the desk: one sentence, and what to do.

The two engines, and the disk below the papers, say the same things in words of their own. They
are told apart by their codes; by their words only where a driver gives no code.
"""

from __future__ import annotations

import errno
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

from core.errors import Refusal
from core.records.lean import pw


class NotSaved(Refusal):
    """The disk or the database did not take a write; nothing of it is in the records."""

    title = "Not saved"


class Lost(NotSaved):
    """The connection to shared records broke while something was being saved."""


class NotRead(Refusal):
    """The disk or the database did not give what was asked for."""

    title = "Not read"


_STAYS = "What you typed stays; {}, then try again."
_SENTENCES = {
    "full": ("The disk is full", _STAYS.format("make room on the disk")),
    "disk": (
        "The disk did not do its part",
        _STAYS.format("it may be full or failing: make room on it"),
    ),
    "read-only": (
        "The records can not be written, their file or its disk is read-only",
        _STAYS.format("make it writable"),
    ),
    "held": (
        "Another program is holding the records",
        _STAYS.format("close the other program"),
    ),
    "damaged": (
        "The records are damaged",
        "Quit, and run finrounds check: it says what is damaged and what can be brought back.",
    ),
    "gone": (
        "The file of the records can not be reached any more",
        _STAYS.format("look whether its disk is still there"),
    ),
    "silent": (
        "The server of the shared records does not answer",
        _STAYS.format("look at the network and whether the server runs"),
    ),
    "lost": (
        "The connection to the shared records broke",
        "Look at the network, then try again.",
    ),
}
_LOST = (
    "The connection to the shared records broke while this was being saved.",
    "Look at the network, then whether it is there already, and try again if not.",
)
"""Whether it arrived can not be known from here."""

_SQLITE = {
    sqlite3.SQLITE_FULL: "full",
    sqlite3.SQLITE_IOERR: "disk",
    sqlite3.SQLITE_READONLY: "read-only",
    sqlite3.SQLITE_BUSY: "held",
    sqlite3.SQLITE_LOCKED: "held",
    sqlite3.SQLITE_CORRUPT: "damaged",
    sqlite3.SQLITE_NOTADB: "damaged",
    sqlite3.SQLITE_CANTOPEN: "gone",
    sqlite3.SQLITE_READONLY_DBMOVED: "gone",
}
"""By extended or primary result code: SQLite, "Result and Error Codes"."""

_SQLSTATE = {
    "08": "lost",
    "25P03": "lost",
    "57P03": "silent",
    "57P": "lost",
    "53100": "full",
    "25006": "read-only",
    "55P03": "held",
    "40": "held",
    "58030": "disk",
    "XX001": "damaged",
    "XX002": "damaged",
}
"""By how a code begins: PostgreSQL documentation, appendix "PostgreSQL Error Codes"."""

_SYSTEM = {
    errno.ENOSPC: "full",
    errno.EDQUOT: "full",
    errno.EFBIG: "full",
    errno.EIO: "disk",
    errno.EROFS: "read-only",
    errno.EACCES: "read-only",
    errno.EPERM: "read-only",
}

_WORDS = {
    "database or disk is full": "full",
    "disk i/o error": "disk",
    "readonly database": "read-only",
    "database is locked": "held",
    "malformed": "damaged",
    "not a database": "damaged",
    "unable to open database file": "gone",
    "connection is bad": "silent",
    "connection failed": "silent",
    "connection timeout expired": "silent",
    "connection refused": "silent",
    "server closed the connection": "lost",
    "terminating connection": "lost",
    "connection is closed": "lost",
    "connection is lost": "lost",
    "could not receive data from server": "lost",
    "could not send data to server": "lost",
}


def said(error: BaseException, *, reading: bool = False) -> Refusal | None:
    """Return what a person is told of a write or a look that failed; None for other mistakes.

    Parameters
    ----------
    error : BaseException
        As it came from the driver. When taking a write back failed as well, as it does after a
        disk error, the first trouble stands behind the last one and is the one that is told.
    reading : bool
        Whether something was only looked at.

    Returns
    -------
    Refusal or None
        None for a refusal, which says it itself, and for a mistake in the program.
    """
    if not isinstance(error, (pw.PeeweeException, sqlite3.Error, OSError)) and not _foreign(error):
        return None
    found = [kind for link in _chain(error) if (kind := _kind(link))]
    if not found:
        return None
    # The deepest speaks of what happened first.
    refusal = _refusal(found[-1], reading)
    refusal.__cause__ = error
    return refusal


@contextmanager
def reading() -> Iterator[None]:
    """Tell, in the block, what can not be read in the words for a person.

    Raises
    ------
    NotRead
        In place of the driver's error.
    """
    try:
        yield
    except (pw.PeeweeException, sqlite3.Error, OSError) as error:
        told = said(error, reading=True)
        if told is None:
            raise
        raise told from error


def _refusal(kind: str, reading: bool) -> Refusal:
    sentence, todo = _SENTENCES[kind]
    if reading:
        return NotRead(f"{sentence}: this could not be read.", todo)
    return Lost(*_LOST) if kind == "lost" else NotSaved(f"{sentence}: this was not saved.", todo)


def _chain(error: BaseException | None) -> Iterator[BaseException]:
    while error is not None:
        yield error
        error = error.__cause__ or error.__context__


def _foreign(error: BaseException) -> bool:
    """Whether it comes from a driver that this module must not load."""
    return type(error).__module__.partition(".")[0] in ("psycopg", "sqlcipher3", "apsw")


def _kind(error: BaseException) -> str | None:
    code = getattr(error, "sqlite_errorcode", None)
    if code is not None:
        return _SQLITE.get(code) or _SQLITE.get(code & 0xFF)
    state = getattr(error, "sqlstate", None)
    if state:
        return next((kind for start, kind in _SQLSTATE.items() if state.startswith(start)), None)
    if isinstance(error, OSError):
        return _SYSTEM.get(error.errno or 0)
    if isinstance(error, (pw.PeeweeException, sqlite3.Error)) or _foreign(error):
        words = str(error).lower()
        return next((kind for part, kind in _WORDS.items() if part in words), None)
    return None
