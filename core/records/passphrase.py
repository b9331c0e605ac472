"""Encrypted files of records: how they are known, and the key that a passphrase gives.

SQLCipher makes the key from the passphrase and from the salt that begins the file. It is made
once here and kept while we run, because making it is slow on purpose.
"""

from __future__ import annotations

import os
import time
import unicodedata
from collections.abc import Callable
from pathlib import Path

from core.errors import BadInput, Refusal

PLAIN = b"SQLite format 3\x00"
"""How a file begins that is not encrypted: SQLite, "Database File Format", section 1.3."""
VARIABLE = "FINROUNDS_PASSPHRASE"
SALT, PAGE, ROUNDS = 16, 4096, 256_000
"""What SQLCipher 4 does unasked: Zetetic, "SQLCipher Design"."""
MOST_TRIES = 5
SHORTEST = 8
_MANY = 240
"""Different bytes in an encrypted page: nearly all 256. Text and SQLite's own pages stay below."""

Asking = Callable[[str], str]
"""Given a sentence to say first, asks the person for the passphrase."""

wait = time.sleep


class Sealed(Refusal):
    """The records are encrypted, and what was given does not open them."""

    title = "Not opened"


class _Known:
    keys: dict[bytes, str] = {}  # noqa: RUF012
    ask: Asking | None = None


def sealed(file: Path) -> bool:
    """Whether a file is encrypted: its first page is noise from the first byte on."""
    if not file.is_file() or file.stat().st_size % PAGE:
        return False
    with file.open("rb") as opened:
        page = opened.read(PAGE)
    return bool(page) and not page.startswith(PLAIN) and len(set(page)) > _MANY


def ask_with(ask: Asking | None) -> None:
    """Say how the person is asked; without it only the environment is looked at."""
    _Known.ask = ask


def key_of(file: Path) -> str:
    """Return the key that opens a file and its copies; "" when it is not encrypted.

    Raises
    ------
    Sealed
        When the passphrase is wrong, or there is nobody to ask.
    """
    if not sealed(file):
        return ""
    salt = _salt(file)
    if salt not in _Known.keys:
        _Known.keys[salt] = _asked(file, salt)
    return _Known.keys[salt]


def new_key(passphrase: str) -> str:
    """Return a key of this passphrase for a new file; "" for none.

    Raises
    ------
    BadInput
        When it is too short to protect anything.
    """
    if not passphrase:
        return ""
    if len(passphrase) < SHORTEST:
        raise BadInput(
            f"A passphrase has at least {SHORTEST} characters.",
            "Four or five words that do not belong together are good.",
        )
    salt = os.urandom(SALT)
    _Known.keys[salt] = _derived(passphrase, salt)
    return _Known.keys[salt]


def forget() -> None:
    """Forget every key: the next file is asked for again."""
    _Known.keys.clear()


def _salt(file: Path) -> bytes:
    with file.open("rb") as opened:
        return opened.read(SALT)


def _derived(passphrase: str, salt: bytes) -> str:
    import hashlib

    # The same letters typed on another keyboard may come as other code points.
    secret = unicodedata.normalize("NFC", passphrase).encode()
    key = hashlib.pbkdf2_hmac("sha512", secret, salt, ROUNDS, 32)
    return f"x'{key.hex()}{salt.hex()}'"


def _asked(file: Path, salt: bytes) -> str:
    given = os.environ.get(VARIABLE)
    if given is not None:
        return _right(file, salt, given) or _refuse(f"What {VARIABLE} holds does not open {file}.")
    if _Known.ask is None:
        _refuse(f"The records in {file} are encrypted, and nobody is here to ask.")
    said = f"The records in {file} are encrypted."
    for number in range(MOST_TRIES):
        assert _Known.ask is not None
        if key := _right(file, salt, _Known.ask(said)):
            return key
        said = "This passphrase does not open them."
        wait(2**number)
    return _refuse(f"The records in {file} were not opened: {MOST_TRIES} wrong passphrases.")


def _right(file: Path, salt: bytes, passphrase: str) -> str:
    """Return the key when it opens the file, else ""."""
    from core.records import sqlcipher

    key = _derived(passphrase, salt)
    return key if sqlcipher.opens(file, key) else ""


def _refuse(sentence: str) -> str:
    raise Sealed(
        sentence,
        f"Give the passphrase when it is asked for, or in {VARIABLE}; nothing opens them without. "
        "When you are sure of it, the beginning of the file may be damaged: restore a backup.",
    )
