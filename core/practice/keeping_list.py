"""The list of what has passed its date and what is held: text for a screen or a file."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from core.errors import Refusal
from core.papers.files import write_whole
from core.practice.keeping import Kept, kept, kinds


def write(file: Path, text: str) -> Path:
    """Write the list as a file, whole; return where it lies.

    Raises
    ------
    Refusal
        When it can not be written there.
    """
    try:
        return write_whole(file, text.encode() + b"\n")
    except OSError as error:
        raise Refusal(
            f"{file} can not be written: {error.strerror}.", "Name another folder."
        ) from error


def until_words(one: Kept, today: date) -> str:
    """Say until when records are kept, with what holds them."""
    if one.held:
        return f"HELD: {one.held}"
    if one.until is None:
        return "not signed yet: no date runs"
    return f"date passed {one.until}" if one.passed(today) else f"kept until {one.until}"


def text(today: date, most: int | None = None) -> str:
    """Write the list of what has passed its date and what is held, as plain text.

    Parameters
    ----------
    most : int, optional
        So many lines of each are given, for a screen, and of more it is said how many.
    """
    rows = kept()
    past, held = [k for k in rows if k.passed(today)], [k for k in rows if k.held]
    waiting = sum(k.until is None and not k.held for k in rows)
    return "\n".join(
        [
            f"Records and their dates on {today}",
            "",
            "Finrounds deletes nothing. It lists; the practice decides, by the law of its place.",
            "",
            f"Date passed: {len(past)}",
            *_lines(past, today, most),
            "",
            f"Held, whatever the date: {len(held)}",
            *_lines(held, today, most),
            "",
            f"Not signed yet, so that no date runs: {waiting}",
            f"Kept until a later date: {len(rows) - len(past) - len(held) - waiting}",
            "",
            "Years kept after the last entry. Places differ; the practice sets its own.",
            *(f"  {k.name}: {k.years}. {k.how}. {k.note}" for k in kinds()),
        ]
    )


def _lines(rows: Sequence[Kept], today: date, most: int | None) -> list[str]:
    names = {kind.key: kind.name for kind in kinds()}
    found = [
        f"  {k.client_name}, visit of {k.day}, {names[k.kind]}: last entry {k.last}, "
        f"{until_words(k, today)}"
        for k in rows[:most]
    ]
    left = len(rows) - len(found)
    return [*found, *([f"  and {left} more"] if left else [])] or ["  none"]
