"""Whether the dangers of a medicine are there for a recipient, and what every bath asks of air."""

from __future__ import annotations

from collections.abc import Iterator

from core.dosing.dangers import ASKED, Danger
from core.dosing.limits import over
from core.dosing.medicines import Medicine
from core.dosing.recipient import Recipient, Stop, Weight
from core.numbers import plain

LOWEST_OXYGEN_MG_L = 5.0
"""Under it no bath is begun: by analogy with the label of formalin, which is our own extension."""
AIR = "BATH_AIR"
"""Source that a bath needs air all the while."""


def dangers(medicine: Medicine, recipient: Recipient) -> Iterator[Stop]:
    """Give the dangers of a medicine that are there, and those that nobody can rule out."""
    for danger in medicine.dangers:
        there, unknown = met(danger, recipient)
        source = () if danger.how == "from memory" else (danger.source,)
        if there:
            yield Stop(danger.kind, danger.subject, danger.says, danger.how, source)
        elif there is None:
            sentence = f"Not known {' or '.join(unknown)}: {danger.says}"
            yield Stop("caution", danger.subject, sentence, danger.how, source)


def air(medicine: Medicine, recipient: Recipient) -> Iterator[Stop]:
    """Give what stands against any bath in the fishes' water that is short of oxygen."""
    if not medicine.bathes:
        return
    if medicine.minimum_oxygen_mg_l is None:
        yield from _short_of_oxygen(recipient.oxygen_mg_l)
    if recipient.said.get("no air"):
        yield _air("No strong aeration: a bath is aerated all the while, or not begun.")


def _short_of_oxygen(now: float | None) -> Iterator[Stop]:
    begun = f"no bath is begun under {plain(LOWEST_OXYGEN_MG_L)} mg/L"
    if now is None:
        yield _air(f"Measure the oxygen first: {begun}.", "note")
    elif _under(now, LOWEST_OXYGEN_MG_L):
        yield _air(f"The oxygen is {plain(float(now))} mg/L: {begun}; give air first.")


def _air(sentence: str, kind: Weight = "stop") -> Stop:
    return Stop(kind, "oxygen", sentence, "read in part", (AIR,))


def met(danger: Danger, recipient: Recipient) -> tuple[bool | None, tuple[str, ...]]:
    """Return whether a danger is there: None when that hangs on what is not known, and on what.

    Parameters
    ----------
    danger : Danger
    recipient : Recipient
    """
    facts = tuple(_facts(danger, recipient))
    if any(fact is False for _, fact in facts):
        return False, ()
    unknown = tuple(dict.fromkeys(words for words, fact in facts if fact is None))
    return (None if unknown else True), unknown


def _facts(danger: Danger, who: Recipient) -> Iterator[tuple[str, bool | None]]:
    if danger.groups:
        known = None if who.groups is None else bool(who.groups & set(danger.groups))
        yield f"whether there are {' or '.join(danger.groups)}", known
    if danger.systems:
        known = None if who.system is None else who.system in danger.systems
        yield "whether this is fresh or sea water", known
    if danger.food_fish:
        yield "whether these are food fish", who.food_fish
    if danger.above_c is not None:
        yield "the temperature", _over(who.temperature_c, danger.above_c)
    if danger.below_c is not None:
        yield "the temperature", _under(who.temperature_c, danger.below_c)
    if danger.over is not None:
        yield "the dose", who.asked is not None and over(who.asked, danger.over)
    if danger.below_ph is not None:
        yield "the pH", _under(who.ph, danger.below_ph)
    if danger.below_alkalinity_mg_l is not None:
        yield "the alkalinity", _under(who.alkalinity_mg_l, danger.below_alkalinity_mg_l)
    for key in danger.asks:
        yield f"whether {ASKED[key]}", who.said.get(key)


def _over(figure: float | None, edge: float) -> bool | None:
    return None if figure is None else not figure <= edge


def _under(figure: float | None, edge: float) -> bool | None:
    return None if figure is None else not figure >= edge
