"""What stands against giving a medicine to these fish in this water, before any arithmetic.

A stop, a caution or a note is only what the row of the medicine says about the facts of the
recipient; a fact that is not known gives a caution of its own. The veterinarian decides.
"""

from __future__ import annotations

import operator
from collections.abc import Callable, Iterator
from typing import NamedTuple

from core.dosing.danger_facts import air, dangers
from core.dosing.food_fish import food_fish
from core.dosing.medicines import Medicine
from core.dosing.recipient import Recipient, Stop, Weight, line
from core.numbers import plain

__all__ = ["Recipient", "Stop", "check"]

_ORDER = ("stop", "caution", "note")


class _Flag(NamedTuple):
    """A flag of a medicine, the fact of the recipient that it is about, and what that means."""

    flag: str
    fact: str
    what: str
    kind: Weight


class _Limit(NamedTuple):
    """A limit of a medicine, the figure of the recipient it is held against, and which side."""

    limit: str
    figure: str
    subject: str
    unit: str
    side: str
    kind: Weight


_FLAGS = (
    _Flag("scaleless_caution", "scaleless", "scaleless fish", "caution"),
    _Flag("elasmobranch_stop", "elasmobranch", "sharks or rays", "stop"),
    _Flag("elasmobranch_caution", "elasmobranch", "sharks or rays", "caution"),
    _Flag(
        "harms_invertebrates",
        "invertebrates",
        "invertebrates in this water (shrimp, snails, corals)",
        "stop",
    ),
    _Flag("harms_plants", "plants", "live plants in this water", "caution"),
    _Flag("harms_biofilter", "biofilter", "a biofilter on this water", "caution"),
)

_LIMITS = (
    _Limit("minimum_alkalinity_mg_l", "alkalinity_mg_l", "alkalinity", " mg/L", "below", "stop"),
    _Limit("minimum_oxygen_mg_l", "oxygen_mg_l", "oxygen", " mg/L", "below", "stop"),
    _Limit("caution_below_ph", "ph", "pH", "", "below", "caution"),
    _Limit("caution_below_c", "temperature_c", "temperature", " °C", "below", "caution"),
    _Limit("max_temperature_c", "temperature_c", "temperature", " °C", "above", "stop"),
    _Limit("caution_above_c", "temperature_c", "temperature", " °C", "above", "caution"),
)


_HARM = {"harms_biofilter": "may set it back; test ammonia and nitrite every day."}
_HARM_OF_OTHERS = "harms them or is not known to be safe with them."
_WITHIN = {"below": operator.ge, "above": operator.le}
_HELD: dict[Weight, str] = {"stop": "is not to be used", "caution": "needs care"}


def check(medicine: Medicine, recipient: Recipient) -> tuple[Stop, ...]:
    """Return all that stands against a medicine for a recipient, stops first.

    Parameters
    ----------
    medicine : Medicine
    recipient : Recipient

    Returns
    -------
    tuple of Stop
        Several may be true at once; empty only when the row says nothing at all.
    """
    found = [stop for part in _PARTS for stop in part(medicine, recipient)]
    return tuple(sorted(found, key=lambda stop: _ORDER.index(stop.kind)))


def _flags(medicine: Medicine, recipient: Recipient) -> Iterator[Stop]:
    for flag in _FLAGS:
        if getattr(medicine, flag.flag):
            fact: bool | None = getattr(recipient, flag.fact)
            yield from _fact(medicine, flag, fact)


def _groups(medicine: Medicine, recipient: Recipient) -> Iterator[Stop]:
    weighed: dict[Weight, tuple[str, ...]] = {
        "stop": medicine.stop_groups,
        "caution": medicine.caution_groups,
    }
    for kind, group in ((kind, group) for kind, groups in weighed.items() for group in groups):
        known = None if recipient.groups is None else group in recipient.groups
        yield from _fact(medicine, _Flag(f"{kind}_groups", group, group, kind), known)


def _fact(medicine: Medicine, flag: _Flag, fact: bool | None) -> Iterator[Stop]:
    usual = f"{medicine.name} {_HARM.get(flag.flag, _HARM_OF_OTHERS)}"
    remark = medicine.remarks.get(flag.flag, usual)
    fields = (flag.flag, "avoid")
    if fact is None:
        sentence = f"Not known whether present: {flag.what}; {remark}"
        yield line(medicine, "caution", flag.fact, sentence, *fields)
    elif fact:
        yield line(medicine, flag.kind, flag.fact, f"Present: {flag.what}; {remark}", *fields)


def _system(medicine: Medicine, recipient: Recipient) -> Iterator[Stop]:
    if recipient.system is None and len(medicine.systems) < 3:
        yield _at_odds(medicine, "Not known whether this is fresh or sea water")
    elif recipient.system is not None and recipient.system not in medicine.systems:
        yield _at_odds(medicine, f"This water is {recipient.system}")


def _at_odds(medicine: Medicine, start: str) -> Stop:
    row = " or ".join(medicine.systems)
    sentence = f"{start}: this row of {medicine.name} is for {row} water."
    return line(medicine, "caution", "system", sentence, "system")


def _limits(medicine: Medicine, recipient: Recipient) -> Iterator[Stop]:
    for limit in _LIMITS:
        edge: float | None = getattr(medicine, limit.limit)
        figure: float | None = getattr(recipient, limit.figure)
        if edge is not None:
            yield from _against(medicine, limit, edge, figure)


def _against(
    medicine: Medicine, limit: _Limit, edge: float, figure: float | None
) -> Iterator[Stop]:
    usual = f"{medicine.name} {_HELD[limit.kind]} {limit.side} {plain(float(edge))}{limit.unit}."
    remark = medicine.remarks.get(limit.limit, usual)
    fields = (limit.limit, "avoid")
    if figure is None:
        sentence = f"Not known what the {limit.subject} is: {remark}"
        weight: Weight = "stop" if limit.limit in medicine.unknown_stops else "caution"
        yield line(medicine, weight, limit.subject, sentence, *fields)
    elif not _WITHIN[limit.side](figure, edge):
        now = f"The {limit.subject} is {plain(float(figure))}{limit.unit}"
        yield line(medicine, limit.kind, limit.subject, f"{now}: {remark}", *fields)


def _together(medicine: Medicine, recipient: Recipient) -> Iterator[Stop]:
    for other in medicine.not_with:
        remark = medicine.remarks.get(f"not_with {other}", f"never {medicine.name} with {other}.")
        fields = (f"not_with {other}", "hazards")
        if recipient.running is None:
            sentence = f"Not known what else is in the water: {remark}"
            yield line(medicine, "caution", other, sentence, *fields)
        elif other in recipient.running:
            sentence = f"There is {other} in this water: {remark}"
            yield line(medicine, "stop", other, sentence, *fields)


def _goes_with(medicine: Medicine, recipient: Recipient) -> Iterator[Stop]:
    if medicine.in_water and recipient.flowing:
        yield Stop(
            "caution",
            "flow",
            "The water flows: reckon the fill and what is fed in, or stop the flow and watch the "
            "oxygen.",
            "ARITHMETIC",
        )
    if medicine.switch_off:
        yield _note("switch off", f"Switch off or take out: {', '.join(medicine.switch_off)}.")
    if medicine.extra_air or medicine.lowers_oxygen:
        why = f": {medicine.name} lowers the oxygen" if medicine.lowers_oxygen else ""
        yield _note("air", f"Give extra air{why}.")
    if medicine.buffer_g_per_g is not None:
        grams = plain(medicine.buffer_g_per_g)
        yield _note(
            "buffer", f"Buffer with {grams} g sodium bicarbonate for each g, to pH 7 to 7.5."
        )
    for subject, field, words in (
        ("stay by", "stay", medicine.stay),
        ("stop at", "stop_at", medicine.stop_at),
        ("trial", "trial", medicine.trial and f"Try it on a few fish first: {medicine.trial}"),
        ("water after", "water_goes", medicine.water_goes),
        ("test kit", "kit", medicine.kit),
    ):
        if words:
            yield line(medicine, "note", subject, words, field)
    if medicine.in_water and medicine.unsaid:
        yield _note("not said", f"Its sources say nothing of: {', '.join(medicine.unsaid)}.")
    if medicine.controlled:
        yield _note("controlled", "A controlled drug: enter it in its log.")


def _people(medicine: Medicine, recipient: Recipient) -> Iterator[Stop]:
    del recipient
    for subject, field, words in (
        ("people", "hazards", medicine.hazards),
        ("also on record", "avoid", medicine.avoid),
    ):
        if words:
            yield line(medicine, "note", subject, f"{'; '.join(words)}.", field)
    if medicine.from_memory:
        yield _note("from memory", "The dose of this row is from memory: read it before use.")


def _note(subject: str, sentence: str) -> Stop:
    return Stop("note", subject, sentence, "from memory")


_PARTS: tuple[Callable[[Medicine, Recipient], Iterator[Stop]], ...] = (
    food_fish,
    _flags,
    _groups,
    _system,
    _limits,
    _together,
    dangers,
    air,
    _goes_with,
    _people,
)
