"""What is said of a dose that was read in no source, wherever its row is used."""

from __future__ import annotations

from core.practice import own_rows
from core.practice.medicines import catalogue
from core.practice.own_row import COMMON

MEMORY = "dose from memory, read in no source"
PRACTICE = "dose by common practice, read in no source"


def said(key: str) -> str:
    """Return how the dose of a row is known when no source was read; "" for all others.

    Parameters
    ----------
    key : str
        Of the catalogue or of the practice's own rows.
    """
    row = catalogue().get(key)
    if row is None or not row.from_memory:
        return ""
    own = own_rows.held().bodies.get(key)
    return PRACTICE if own is not None and own["known"]["dose"] == COMMON else MEMORY
