"""What the clock of an anaesthesia says: its bath, its keys, and what is missing."""

from __future__ import annotations

from collections.abc import Iterator

from core.numbers import plain
from core.practice import in_hand_clock
from core.records.tables import Handling

WIDE = 74
"""Characters of a line of keys."""


def in_short(row: Handling) -> str:
    """Return level and litres of a bath that was made up."""
    level = "" if row.agent_mg_l is None else f"{plain(row.agent_mg_l)} mg/L"
    litres = "" if row.bath_l is None else f"in {plain(row.bath_l)} L"
    return f"{level} {litres}".strip()


def in_lines(keys: list[tuple[str, str]]) -> Iterator[str]:
    """Give the keys and what they mean in lines; short ones share a line."""
    line = ""
    for key, words in keys:
        one = f"{key} {words}"
        if line and ":" not in line + one and len(line) + 3 + len(one) <= WIDE:
            line += f"   {one}"
            continue
        if line:
            yield f" {line}"
        line = one
    if line:
        yield f" {line}"


def said(event: str) -> str:
    """Return an event with what it looks like, where the catalogue says so."""
    stages = (*in_hand_clock.scale("depth"), *in_hand_clock.scale("recovery"))
    signs = {in_hand_clock.event_of(s): f"{s.name}: {s.signs}" for s in stages}
    words = {
        in_hand_clock.FIRST: "euthanasia, first step: the overdose",
        in_hand_clock.SECOND: "euthanasia, second step",
        in_hand_clock.MAINTAIN: "a weaker bath to keep it asleep",
    }
    return words.get(event) or signs.get(event, event)


def lacks(lacking: tuple[str, ...]) -> tuple[str, ...]:
    """Say that a euthanasia is not closed, and what is missing."""
    return (f"Not closed yet, missing: {', '.join(lacking)}.",) if lacking else ()
