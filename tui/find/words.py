"""How what was found is said: a line each, and what Enter does with the current one."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from core.dates import said
from core.practice.find import Found
from tui.widgets.lines import fit

KIND, LEAST = 8, 10
"""Cells for what a thing is, and for what it is called at the least."""
ASKED = (
    "Part of a name, a phone number, a place, a fish or its tag, a species, a problem "
    "or an invoice number. Two letters are enough, and a wrong one is forgiven."
)
OFF = ("no access", "cancelled")


def lines(found: Sequence[Found], today: date, width: int) -> list[str]:
    """Return the line of each thing that was found, in so many cells."""
    leads = [lead(one, today) for one in found]
    room = max(LEAST, width - KIND - 2 - max(map(len, leads), default=0))
    pairs = zip(found, leads, strict=True)
    return [f"{one.what:{KIND}}{fit(one.line, room)}  {where}" for one, where in pairs]


def lead(found: Found, today: date) -> str:
    """Return in a few words where it leads: the day of the visit, and when it is off that."""
    if found.day is None:
        return "no visit yet"
    off = f", {found.state}" if found.state in OFF else ""
    return f"{said(found.day, today)}{off}"


def below(found: Found, today: date) -> str:
    """Return the whole of it, and what Enter does."""
    if found.day is None:
        return f"{found.line}\nNo visit yet: Enter books one for {found.client_name}."
    day = f"{found.day:%a} {said(found.day, today)}, {found.starts}"
    state = "" if found.state == "open" else f" ({found.state})"
    which = "the visit" if found.what in ("problem", "invoice") else "the latest visit"
    if found.day > today and found.what not in ("problem", "invoice"):
        which = "the next visit"
    return f"{found.line}\nEnter opens {which} of {found.client_name}: {day}{state}."


def none(asked: str) -> str:
    """Return what is said when nothing was found."""
    if len(asked.strip()) < 2:
        return ASKED
    return f"Nothing found under {asked.strip()}.\nTry fewer letters, or the phone number."
