"""Asking for a passphrase on the terminal, before a screen opens."""

from __future__ import annotations

import os
import sys
from getpass import getpass

from core.errors import Refusal
from core.records.passphrase import VARIABLE, Sealed
from tui.saying import say

NEW = "FINROUNDS_NEW_PASSPHRASE"


def passphrase(said: str) -> str:
    """Say a sentence, then return what is typed, unseen.

    Raises
    ------
    Sealed
        When there is no terminal to ask on.
    """
    if not sys.stdin.isatty():
        raise Sealed(said, f"Give the passphrase in {VARIABLE}, or start from a terminal.")
    say(said, sys.stderr)
    return getpass("Passphrase: ")


def new_passphrase() -> str:
    """Return the new passphrase: from the environment, or typed twice.

    Raises
    ------
    Refusal
        When it is empty, there is no terminal, or the two differ.
    """
    given = os.environ.get(NEW)
    if given is not None:
        return _not_empty(given)
    if not sys.stdin.isatty():
        raise Refusal(
            "A new passphrase is typed on a terminal, and there is none here.",
            f"Give it in {NEW}, or start from a terminal; nothing was changed.",
        )
    first = _not_empty(
        passphrase("A new passphrase; if it is lost, there is no way back to the records.")
    )
    if getpass("The same again: ") != first:
        raise Refusal("The two are not the same; nothing was changed.", "Start again.")
    return first


def _not_empty(typed: str) -> str:
    if typed.strip():
        return typed
    raise Refusal(
        "The new passphrase is empty; nothing was changed.",
        "To leave the records plain, use finrounds password --remove.",
    )


def sure(said: str, unasked: str) -> None:
    """Say what is about to be done, and go on only after a typed "yes".

    Parameters
    ----------
    unasked : str
        The option that stands for the answer where there is no terminal.

    Raises
    ------
    Refusal
        When the answer is another, or there is no terminal.
    """
    if not sys.stdin.isatty():
        raise Refusal(
            "This is confirmed on a terminal, and there is none here; nothing was changed.",
            f"Add {unasked} to confirm it beforehand.",
        )
    say(f"{said} Type yes to go on; anything else changes nothing.", sys.stderr)
    try:
        typed = input()
    except EOFError:
        typed = ""
    if typed.strip().casefold() != "yes":
        raise Refusal("It was not confirmed; nothing was changed.")
