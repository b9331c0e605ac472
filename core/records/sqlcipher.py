"""Records in one encrypted SQLite file: the embedded engine under SQLCipher."""

from __future__ import annotations

from pathlib import Path
from types import ModuleType
from typing import Any

from core.errors import Refusal
from core.records.guards import journal_writes
from core.records.lean import pw
from core.records.sqlite import PRAGMAS, Sqlite

QUIET = {"cipher_log_level": "NONE", "temp_store": 2}
"""No log on the terminal, and no file on the disk for what is sorted or put aside."""


class Sqlcipher(Sqlite):
    """The embedded engine with a key; everything else is as on SQLite."""

    def __init__(self, file: Path, key: str) -> None:
        super().__init__(file)
        self._key = key

    def database(self) -> pw.Database:
        """Return the database of the file, not connected yet.

        Raises
        ------
        Refusal
            When SQLCipher is not installed.
        """
        driver()
        from playhouse.sqlcipher_ext import SqlCipherDatabase

        found: pw.SqliteDatabase = SqlCipherDatabase(
            str(self.file),
            passphrase=self._key,
            pragmas={**QUIET, **PRAGMAS},
            lock_type="IMMEDIATE",
        )
        found.register_function(journal_writes, "journal_writes", 3)
        return found


def driver() -> ModuleType:
    """Return SQLCipher's module.

    Raises
    ------
    Refusal
        When it is not installed.
    """
    try:
        from sqlcipher3 import dbapi2
    except ImportError as error:
        raise Refusal(
            "Encrypted records need SQLCipher, which is not installed.",
            "Install finrounds[encryption].",
        ) from error
    found: ModuleType = dbapi2
    return found


def connect(address: str, key: str) -> Any:
    """Return a connection to a file, under its key or "" for a plain one."""
    made = driver().connect(address, uri=True, isolation_level=None)
    for name, value in QUIET.items():
        made.execute(f"PRAGMA {name} = {value}")
    if key:
        made.execute(f'PRAGMA key = "{key}"')
    return made


def opens(file: Path, key: str) -> bool:
    """Whether a key opens a file."""
    made = connect(f"{file.absolute().as_uri()}?mode=rw", key)
    try:
        made.execute("SELECT count(*) FROM sqlite_master").fetchone()
    except driver().DatabaseError:
        return False
    finally:
        made.close()
    return True


def export(source: Any, target: Path, key: str) -> None:
    """Write all that an open connection holds into a new file, under another key or none.

    Parameters
    ----------
    source : connection
        As `connect` gives it.
    key : str
        Of the new file; "" leaves it plain.
    """
    [[ours]] = source.execute("PRAGMA main.application_id")
    source.execute("ATTACH DATABASE ? AS other KEY ?", (str(target), key))
    try:
        source.execute("BEGIN IMMEDIATE")
        source.execute("SELECT sqlcipher_export('other')").fetchone()
        source.execute(f"PRAGMA other.application_id = {ours}")
        source.execute("COMMIT")
    finally:
        if source.in_transaction:
            source.execute("ROLLBACK")
        source.execute("DETACH DATABASE other")
