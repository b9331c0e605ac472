"""Asking for a passphrase on the terminal, before a screen opens."""

from __future__ import annotations

import sys
from getpass import getpass

from core.records.passphrase import VARIABLE, Sealed


def passphrase(said: str) -> str:
    """Say a sentence, then return what is typed, unseen.

    Raises
    ------
    Sealed
        When there is no terminal to ask on.
    """
    if not sys.stdin.isatty():
        raise Sealed(said, f"Give the passphrase in {VARIABLE}, or start from a terminal.")
    print(said, file=sys.stderr)
    return getpass("Passphrase: ")


def new_passphrase() -> str:
    """Ask for a new passphrase twice; return it when both are the same.

    Raises
    ------
    Sealed
        When there is no terminal, or the two differ.
    """
    first = passphrase("A new passphrase; if it is lost, there is no way back to the records.")
    if getpass("The same again: ") != first:
        raise Sealed("The two are not the same; nothing was changed.", "Start again.")
    return first
