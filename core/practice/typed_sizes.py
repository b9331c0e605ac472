"""A typed weight or volume held against the record: a slip of the decimal is found here."""

from __future__ import annotations

from dataclasses import dataclass

from core.dosing.limits import over
from core.dosing.medicines import Medicine
from core.dosing.quantities import body, water
from core.errors import BadInput
from core.fish.size import estimated_weight
from core.numbers import figures
from core.practice import treatment_fish as fish
from core.practice.dose_parts import Ask
from core.practice.fish import species
from core.practice.medicines import Place, typed
from core.practice.short import short
from core.practice.slips import is_slip
from core.practice.stock import fish_here
from core.records import read
from core.records.tables import FishGroup, Handling

OFF = 2.0
"""Times off the record, either way, from which a figure is asked about (common practice, no
source)."""
KILO = 1000.0


@dataclass(frozen=True)
class Recorded:
    """What is on record, and how: `low` and `high` differ where several fish are meant."""

    low: float
    high: float
    words: str


def judged(
    visit_id: str, where: Place, row: Medicine, ask: Ask, group: str | None, handling: str | None
) -> tuple[tuple[bool, str, str], ...]:
    """Return what is to be asked about the typed weight or volume: whether a stop, subject, itself.

    Parameters
    ----------
    ask : Ask
        As typed, before the record fills in what was not.
    """
    if row.in_water:
        litres = where.system.volume_l
        if not (ask.volume and litres) or fish.own_bath(row, handling):
            return ()
        known = Recorded(litres, litres, f"{short(litres)} L on record")
        return _asked("volume of water", ask.volume, _litres(ask.volume), known)
    grams = _grams(ask.weight)
    known_g = _weight(visit_id, where, ask.route, group, handling) if grams else None
    return _asked("weight", ask.weight, grams, known_g) if known_g else ()


def of_hand(row: Handling) -> tuple[str, ...]:
    """Return what is to be asked about the weight of a fish in hand, by its length or its last."""
    if not row.weight_g or row.weight_how == "from length":
        return ()
    one = row.weight_g / row.count
    known = _by_its_length(row)
    if known is None and row.group and read.one(FishGroup, row.group).single:
        known = _last(row.visit, row.group)
    found = _asked("weight", in_words(one), one, known) if known else ()
    return tuple(said for _, _, said in found)


def differs(value: float, low: float, high: float) -> bool:
    """Return whether a figure is `OFF` times off what is on record, or more, either way.

    Examples
    --------
    >>> differs(200.0, 100.0, 100.0), differs(50.0, 100.0, 100.0), differs(199.0, 100.0, 100.0)
    (True, True, False)
    """
    return not (over(OFF * high, value) and over(value, low / OFF))


def _asked(
    subject: str, text: str, value: float | None, known: Recorded
) -> tuple[tuple[bool, str, str], ...]:
    if value is None or not differs(value, known.low, known.high):
        return ()
    said = f"{text.strip()} typed; {known.words}: look where the decimal stands."
    return ((is_slip(value, known.high), subject, said),)


def _grams(text: str) -> float | None:
    try:
        return body(*typed(text, "238 g")).m_as("g") if text else None
    except BadInput:
        return None  # what can not be read is refused where it is reckoned with


def _litres(text: str) -> float | None:
    try:
        return water(*typed(text, "640 L")).m_as("L")
    except BadInput:
        return None


def in_words(grams: float) -> str:
    """Return a weight in grams, from a kilogram on in kilograms.

    Examples
    --------
    >>> in_words(224.0), in_words(1536.0)
    ('224 g', '1.54 kg')
    """
    return f"{figures(grams / KILO, 3)} kg" if grams >= KILO else f"{figures(grams, 3)} g"


def _weight(
    visit_id: str, where: Place, route: str, group: str | None, handling: str | None
) -> Recorded | None:
    """Return the weight on record of what a dose is for: of one fish, or of all that are fed."""
    if handling is not None:
        return _of_one(read.one(Handling, handling))
    of = [f for f in where.fish if group in (None, f.id)]
    each = [found for f in of if (found := _each(visit_id, f)) is not None]
    if route.startswith("injection"):
        return _span(each)
    grams = fish.weight_g(visit_id, where.system, route, group, None)
    if len(each) < len(of) or not each:
        return Recorded(grams, grams, f"{in_words(grams)} on record") if grams else None
    return _of_all(where, of, each, grams)


def _span(each: list[Recorded]) -> Recorded | None:
    if not each:
        return None
    high = max(each, key=lambda one: one.high)
    return Recorded(min(one.low for one in each), high.high, high.words)


def _of_all(
    where: Place, of: list[FishGroup], each: list[Recorded], grams: float | None
) -> Recorded | None:
    """Return the fish counted times their mean weight, as the record has both."""
    alive = {h.group.id: h.alive for h in fish_here(where.system.id)}
    counts = [1 if f.single else alive.get(f.id) for f in of]
    whole = grams or sum((n or 0) * one.high for n, one in zip(counts, each, strict=True))
    if not whole or (grams is None and None in counts):
        return None
    if len(of) == 1 and counts[0]:
        said = f"{counts[0]} of {in_words(whole / counts[0])} ({in_words(whole)}) on record"
        return Recorded(whole, whole, said)
    return Recorded(whole, whole, f"{in_words(whole)} of fish on record")


def _each(visit_id: str, group: FishGroup) -> Recorded | None:
    """Return the weight of one fish of a group: those in hand today, else as last weighed."""
    held = read.find(Handling, visit=visit_id, group=group.id)
    in_hand = [found for row in held if (found := _of_one(row)) is not None]
    return _span(in_hand) if in_hand else _last(visit_id, group.id)


def _last(visit_id: str, group: str) -> Recorded | None:
    grams = fish.last_g(visit_id, group)
    return Recorded(grams, grams, f"{in_words(grams)} each on record") if grams else None


def _of_one(row: Handling) -> Recorded | None:
    if not row.weight_g or row.weight_how == "from length":
        return _by_its_length(row)
    grams = row.weight_g / row.count
    how = "on the scale" if row.weight_how in ("", "weighed") else row.weight_how
    return Recorded(grams, grams, f"{in_words(grams)} {how}")


def _by_its_length(row: Handling) -> Recorded | None:
    """Return the span of the weight that a length in hand says; None where it says none."""
    kind = species().get(read.one(FishGroup, row.group).species) if row.group else None
    if kind is None or row.length_cm is None:
        return None
    try:
        found = estimated_weight(kind, row.length_cm)
    except BadInput:
        return None
    said = f"about {in_words(found.weight_g)} by its length"
    return Recorded(found.low_g, found.high_g, said)
