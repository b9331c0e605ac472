"""A row of the medicines read whole: every field in words, with its source and how it is known."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import fields

from core.catalogue import load
from core.dosing.medicines import Medicine
from core.numbers import plain
from core.practice import own_rows, own_words
from core.practice.own_words import FROM_MEMORY

_FLAG = "from memory"
"""How a flag is known that the row says nothing more about."""
_HOW = {
    "dose_low": "dose",
    "dose_high": "dose",
    "unit": "dose",
    "dose_of": "dose",
    "dose_rule": "dose",
    "dose_note": "dose",
    "interval_h": "interval",
    "systems": "system",
    "withdrawal_days": "withdrawal",
    "us_food_fish_note": "us_food_fish",
}
"""The word of `known` that says how a field is known, where it is not the field's own name."""
_ITSELF = ("name", "form", "routes", "indication")
"""What the row is about: known as the row is."""
_APART = ("key", "sources", "known", "remarks", "dangers", "dose_low", "dose_high", "unit")
SECTIONS: Mapping[str, tuple[str, ...]] = {
    "DOSE": (
        *("dose_of", "dose_rule", "dose_note", "step_up_h", "buffer_g_per_g"),
        *("interval_h", "repeats", "duration", "systems"),
    ),
    "FOOD FISH": (
        *("us_food_fish", "us_food_fish_note", "prohibited", "approved_groups"),
        *("withdrawal_days", "withdrawal_degree_days"),
    ),
    "PEOPLE": ("hazards", "controlled", "antimicrobial"),
    "WITH IT": (
        *("switch_off", "extra_air", "stay", "stop_at", "trial", "water_goes", "kit"),
        *("lowers_oxygen",),
    ),
}
"""Headings of a row that is read, and what stands under each; all else is against somebody."""
AGAINST = "WHO MUST NOT HAVE IT, AND WHEN"
_LABELS = {
    "indication": "for",
    "dose_of": "the dose counts",
    "interval_h": "hours between",
    "repeats": "times in all",
    "systems": "water",
    "avoid": "not for, or not with",
    "hazards": "hazard to people",
    "us_food_fish": "food fish, United States",
    "us_food_fish_note": "food fish, note",
    "withdrawal_days": "withdrawal, days",
    "minimum_oxygen_mg_l": "oxygen at least, mg/L",
    "minimum_alkalinity_mg_l": "alkalinity at least, mg/L",
    "max_temperature_c": "not above, deg C",
    "caution_above_c": "caution above, deg C",
    "caution_below_c": "caution below, deg C",
    "caution_below_ph": "caution below pH",
    "buffer_g_per_g": "bicarbonate, g for 1 g",
    "controlled": "controlled drug",
    "switch_off": "switched off or taken out",
}


def how(row: Medicine, field: str) -> str:
    """Return how a field of a row is known; what the row says nothing about is from memory."""
    if field in _ITSELF:
        return row.known["dose"]
    return row.known.get(_HOW.get(field, field), _FLAG)


def whole(row: Medicine) -> str:
    """Return a row as lines, each with how it is known, then its sources."""
    if body := own_rows.held().bodies.get(row.key):
        return own_words.whole(row, body)
    return "\n".join((*_lines(row), "", *_sources(row)))


def _lines(row: Medicine) -> Iterator[str]:
    if row.from_memory:
        yield FROM_MEMORY
    for name in _ITSELF:
        yield from _line(row, name)
    for heading, names in SECTIONS.items():
        found = [line for name in names for line in _line(row, name)]
        if heading == "DOSE":
            found.insert(0, f"dose: {dose(row)} ({how(row, 'dose_high')})")
        yield from _under(heading, found)
        if heading == "DOSE":
            yield from _under(AGAINST, list(_against(row)))


def _under(heading: str, lines: Sequence[str]) -> Sequence[str]:
    return ("", heading, *lines) if lines else ()


def _against(row: Medicine) -> Iterator[str]:
    """Give who must not have it: the flags, limits and groups, the dangers, and the remarks."""
    placed = {name for names in SECTIONS.values() for name in names}
    for one in fields(row):
        if one.name not in (*_ITSELF, *_APART, *placed):
            yield from _line(row, one.name)
    known = load.citations()
    for danger in row.dangers:
        source = known.get(danger.source, danger.source)
        yield f"{danger.kind}, {danger.subject}: {danger.says} ({danger.how}: {source})"
    for about, sentence in row.remarks.items():
        yield f"{about.replace('_', ' ')}: {sentence} ({row.known.get(about, _FLAG)})"


def _line(row: Medicine, name: str) -> Iterator[str]:
    value = getattr(row, name)
    # A withdrawal of 0 days says something; a flag that is not set does not.
    if value is None or value is False or value in ("", ()):
        return
    label = _LABELS.get(name, name.replace("_", " "))
    yield f"{label}: {_said(value)} ({how(row, name)})"


def _said(value: object) -> str:
    if value is True:
        return "yes"
    if isinstance(value, tuple):
        return ", ".join(map(str, value))
    if isinstance(value, Mapping):
        return "; ".join(f"{k}: {v}" for k, v in value.items())
    if isinstance(value, float):
        return plain(value)
    return str(getattr(value, "citation", value))


def dose(row: Medicine) -> str:
    """Return the range of a dose with its unit."""
    high = f"{plain(row.dose_high)} {row.unit}"
    if row.dose_low is None:
        return f"at most {high}"
    return high if row.dose_low == row.dose_high else f"{plain(row.dose_low)} to {high}"


def _sources(row: Medicine) -> Iterator[str]:
    known = load.citations()
    yield "Sources of what is read in them:"
    for key in row.sources:
        yield f"  {known.get(key, key)}"
