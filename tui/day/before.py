"""The lines under the day's list: what the vet needs before getting out of the truck."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from rich.text import Text

from core.billing.money import money
from core.practice.arrival import Arrival
from core.practice.day import DayLine
from core.practice.who import Practice

LABEL = 9
LINES = (2, 1)
"""Lines that one entry may take, with room and without; cautions take what they need."""


def text(line: DayLine, arrival: Arrival, practice: Practice, width: int, height: int) -> Text:
    """Return what is to be known before a visit, as labelled lines of a width.

    With more than `height` lines every entry but a caution is kept to one.
    """
    entries = list(_entries(line, arrival, practice))
    for most in LINES:
        wrapped = [(label, _wrap(label, words, width, most)) for label, words in entries]
        if not height or sum(len(parts) for _, parts in wrapped) <= height:
            break
    out = Text(no_wrap=True, overflow="ellipsis")
    for label, parts in wrapped:
        for number, part in enumerate(parts):
            out.append(f"{label if number == 0 else '':{LABEL}}", "bold")
            out.append(part + "\n", "bold" if label == "Caution" else "")
    out.rstrip()
    return out


def _wrap(label: str, words: str, width: int, most: int) -> list[str]:
    wrapped = textwrap.wrap(words, max(20, width - LABEL)) or [""]
    if label == "Caution" or len(wrapped) <= most:
        return wrapped
    return [*wrapped[: most - 1], wrapped[most - 1][: width - LABEL - 2] + " …"]


def _entries(line: DayLine, arrival: Arrival, practice: Practice) -> Iterator[tuple[str, str]]:
    where = "; ".join(p for p in (arrival.address, arrival.access, arrival.phone) if p)
    yield "Where", where or "no address yet"
    for words in (arrival.lock, *arrival.cautions):
        if words:
            yield "Caution", words
    yield "Why", arrival.recheck or line.reason
    if line.waiting:
        yield "Waiting", line.waiting
    yield from _last(arrival)
    yield "Owes", _owed(arrival.owed_minor, practice)
    if arrival.advice:
        yield "Told", arrival.advice
    if arrival.bring:
        yield "Bring", arrival.bring


def _last(arrival: Arrival) -> Iterator[tuple[str, str]]:
    if not arrival.last:
        yield "Last", "first visit here"
    yield from zip(("Last", "Plan"), arrival.last, strict=False)


def _owed(minor: int, practice: Practice) -> str:
    if minor == 0:
        return "nothing"
    amount = money(abs(minor), practice.currency, practice.currency_exponent)
    return amount if minor > 0 else f"nothing; {amount} paid ahead"
