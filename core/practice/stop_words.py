"""How a stop or a caution is told: with the rule it rests on, said once."""

from __future__ import annotations

from core.dosing.stops import Stop

HOW_KNOWN = frozenset({"read", "read in part", "computed", "from memory"})
"""Rules that say only how a line is known: they name no law."""


def ruled(stop: Stop) -> str:
    """Return the sentence of a stop, with its rule where that is a law it does not name yet."""
    named = stop.rule in HOW_KNOWN or stop.rule in stop.sentence
    return stop.sentence if named else f"{stop.sentence} {stop.rule}"
