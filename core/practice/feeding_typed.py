"""How much is fed, how often and how fast it is eaten, from what a person types."""

from __future__ import annotations

import re

from core.errors import BadInput
from core.numbers import plain
from core.units import understand

_SCOOPS = re.compile(r"([\d.,]+)\s*scoops?\Z", re.ASCII | re.IGNORECASE)
FED_G = (0.0, 10_000_000.0)


def understand_fed(text: str, scoop_g: float | None) -> float:
    """Return the grams of one feeding from ``45``, ``1.2 kg`` or ``3 scoops``.

    Raises
    ------
    BadInput
        When it can not be read, or the scoop was never weighed.
    """
    scoops = _SCOOPS.match(text.strip())
    if scoops and scoop_g is None:
        raise BadInput("This scoop was never weighed.", "Weigh one level scoop first, in its row.")
    typed = understand(scoops.group(1) if scoops else text, "plain" if scoops else "mass")
    grams = typed.value * (scoop_g or 0.0) if scoops else typed.value
    if typed.below or typed.above or not FED_G[0] <= grams <= FED_G[1]:
        raise BadInput(f"{text.strip()[:16]} can not be.", "Allowed 0 to 10000000 g, as 45 g.")
    return grams


_EVERY = re.compile(r"every\s+(\d{1,2})(?:\s*days?)?\Z", re.ASCII | re.IGNORECASE)
_TIMES = re.compile(r"(\d{1,2})(?:\s*(?:x|times|a|per|/)*\s*(?:day|d)?)?\Z", re.ASCII | re.I)


def understand_often(text: str) -> float:
    """Return the days from one feeding to the next, from ``2`` (a day) or ``every 3 days``.

    Raises
    ------
    BadInput
        When it can not be read.
    """
    bare = " ".join(text.split())
    if found := _EVERY.match(bare):
        days = int(found.group(1))
        if 1 <= days <= 60:
            return float(days)
    elif (found := _TIMES.match(bare)) and 1 <= int(found.group(1)) <= 48:
        return 1.0 / int(found.group(1))
    raise BadInput("This is not how often.", "Type 1 to 48 (times a day), or every 1 to 60 days.")


def often_words(every_days: float) -> str:
    """Return how often in words: ``2 a day``, ``every 3 days``."""
    if every_days > 1:
        return f"every {plain(every_days)} days"
    return f"{round(1 / every_days)} a day"


def understand_gone(text: str) -> tuple[float | None, bool]:
    """Return minutes until the food was gone, and whether some was left over.

    Raises
    ------
    BadInput
        When it can not be read.
    """
    if text.strip().lower() in ("left", "left over", "not gone", "no"):
        return None, True
    typed = understand(text, "duration")
    if typed.above or not 0 <= typed.value <= 1440:
        raise BadInput("This can not be.", "Type 0 to 1440 min, for example 4, or left.")
    return typed.value, False


def gone_words(minutes: float | None, left_over: bool) -> str:
    """Return how fast the food was eaten in words."""
    if left_over:
        return "left over"
    return "" if minutes is None else f"{plain(round(minutes, 1))} min"
