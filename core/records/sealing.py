"""Setting, changing and removing the passphrase of the records and of their backups.

The records are copied into a new file under the new key, the copy is proved and compared, and
then put in the place of the old one, which is set aside. The old file is never written to.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from core.errors import Refusal
from core.records import files, passphrase, sqlcipher
from core.records.fileguard import Damaged
from core.records.files import Facts
from core.records.place import Place
from core.records.restore import alone, file_of


@dataclass(frozen=True)
class Rekeyed:
    """What was done.

    Attributes
    ----------
    aside : Path or None
        Where the old file lies, readable as before; None when it was deleted.
    backups : tuple
        Backups that are under the new passphrase now.
    old_backups : tuple
        Backups that are as they were, since they could not be opened or written.
    plain : tuple
        Other files beside the records that anybody can read: what was set aside earlier.
    """

    facts: Facts
    sealed: bool
    aside: Path | None
    backups: tuple[Path, ...]
    old_backups: tuple[Path, ...]
    plain: tuple[Path, ...] = ()


def rekey(place: Place, new: str, at: datetime, *, delete_old: bool) -> Rekeyed:
    """Put the records and their backups under a new passphrase, or under none.

    Parameters
    ----------
    new : str
        The passphrase; "" leaves the records plain.
    delete_old : bool
        Whether the old file, and with it what the old passphrase or nobody's protects, is
        deleted once the new one is proved.

    Raises
    ------
    Refusal
        When the records lie on a server or are open elsewhere, the passphrase is too short or
        there is none to remove, or the copy is not whole. Nothing was changed then.
    """
    file = file_of(place)
    if not file.exists():
        raise Refusal(f"There are no records in {file} yet.", "Start finrounds once.")
    if not new and not passphrase.sealed(file):
        raise Refusal("The records are plain: there is no passphrase to remove.")
    sqlcipher.driver()
    key = passphrase.new_key(new)
    with alone(file):
        part = file.with_name(f".{file.name}.rekeyed")
        try:
            found = _under(file, part, key)
            aside = files.put_in_place(part, file, at)
        except OSError as error:
            raise Refusal(
                f"The passphrase was not changed: {error.strerror}.",
                "Make room on the disk of the records, then try again.",
            ) from error
        finally:
            part.unlink(missing_ok=True)
        if delete_old and aside is not None:
            aside.unlink()
            aside = None
        done, not_done = _backups(place.backups, new)
    plain = _plain(place, aside) if key else ()
    return Rekeyed(found, bool(key), aside, done, not_done, plain)


def _plain(place: Place, aside: Path | None) -> tuple[Path, ...]:
    found = sorted((*place.folder.glob("*.db"), *place.folder.glob("*.jsonl")))
    return tuple(file for file in found if file != aside and not passphrase.sealed(file))


def _under(file: Path, part: Path, key: str) -> Facts:
    """Copy a file under another key, and prove that it is the same."""
    part.unlink(missing_ok=True)
    try:
        source = files.connect_keyed(file)
        try:
            told = (files.facts(source), _counts(source))
            sqlcipher.export(source, part, key)
        finally:
            source.close()
        found = files.proved(part)
        with files.reading(part) as opened:
            same = (found, _counts(opened)) == told
    except files.driver_errors() as error:
        raise Damaged(
            f"{file} could not be copied: {error}.", "finrounds check says what is wrong."
        ) from error
    if not same:
        raise Damaged("The copy is not what was copied.", "Nothing was changed; try again.")
    return found


def _counts(opened: Any) -> dict[str, int]:
    """Return how many rows each table has."""
    named = opened.execute("SELECT name FROM sqlite_master WHERE type = 'table'").fetchall()
    return {
        name: opened.execute(f'SELECT count(*) FROM "{name}"').fetchone()[0] for (name,) in named
    }


def _backups(folder: Path, new: str) -> tuple[tuple[Path, ...], tuple[Path, ...]]:
    """Put each backup under the passphrase; return which are, and which could not be."""
    done, not_done = [], []
    for file in sorted(folder.glob("*.db")):
        part = file.with_name(f".{file.name}.rekeyed")
        try:
            _under(file, part, passphrase.new_key(new))
            files.flush(part)
            part.replace(file)
            done.append(file)
        except (Refusal, OSError):
            not_done.append(file)
        finally:
            part.unlink(missing_ok=True)
    return tuple(done), tuple(not_done)
