"""What stands in the rows of one fish in hand."""

from __future__ import annotations

from dataclasses import replace

from core.numbers import figures, plain
from core.practice import in_hand_bath
from core.practice.in_hand import Fish
from core.practice.names import name
from core.records.tables import Handling, Lesion
from tui.widgets.field import Entry, Field
from tui.widgets.row import Shown
from tui.workup import in_hand_stock
from tui.workup.in_hand_words import dose_words


def shown(fish: Fish, field: Field) -> Shown:
    """Return what stands in a row of a fish."""
    part = field.key.split()[0]
    return _SHOWN[part](fish, field) if part in _SHOWN else Shown(note=field.hint)


def _group(fish: Fish, field: Field) -> Shown:
    del field
    return Shown(fish.group.name if fish.group else "", note=fish.kind)


def _count(fish: Fish, field: Field) -> Shown:
    del field
    many = fish.handling.count > 1
    return Shown(str(fish.handling.count), note="a scoop" if many else "")


def _weight(fish: Fish, field: Field) -> Shown:
    row = fish.handling
    if row.weight_g is None:
        return Shown(note=fish.by_length or field.hint)
    each = f"{figures(row.weight_g / row.count)} g each; " if row.count > 1 else ""
    return Shown(_unit(row.weight_typed, "g"), note=f"{each}{fish.by_length or row.weight_how}")


def _length(fish: Fish, field: Field) -> Shown:
    row = fish.handling
    if row.length_cm is None:
        return Shown(note=field.hint)
    return Shown(_unit(row.length_typed, "cm"), note=fish.by_length)


def _unit(typed: str, unit: str) -> str:
    return typed if any(c.isalpha() for c in typed) else f"{typed} {unit}"


def _agent(fish: Fish, field: Field) -> Shown:
    agent = fish.handling.agent
    ranges = in_hand_bath.ranges(agent) if agent else field.hint
    return Shown(agent, note="; ".join(filter(None, (agent, ranges))))


def _level(fish: Fish, field: Field) -> Shown:
    row = fish.handling
    value = "" if row.agent_mg_l is None else f"{plain(row.agent_mg_l)} mg/L"
    word = "watch" if fish.bath.cautions and value else ""
    return Shown(value, word, note=" ".join(fish.bath.cautions) if value else field.hint)


def _litres(fish: Fish, field: Field) -> Shown:
    row = fish.handling
    value = "" if row.bath_l is None else f"{plain(row.bath_l)} L"
    note = " ".join(filter(None, (fish.bath.text, fish.bath.withdrawal)))
    return Shown(value, note=note or field.hint)


def _days(fish: Fish, field: Field) -> Shown:
    found = fish.set_days
    note = fish.bath.withdrawal or field.hint
    return Shown(f"{found.days} days", note=note) if found else Shown(note=note)


def _clock(fish: Fish, field: Field) -> Shown:
    lines = fish.anaesthesia.lines
    note = "; ".join((*fish.anaesthesia.cautions, *lines[-3:])) or field.hint
    lacks = fish.anaesthesia.lacking
    if lacks:
        return Shown(fish.anaesthesia.phase, "act", note=f"Missing {', '.join(lacks)}. {note}")
    return Shown(fish.anaesthesia.phase if lines else "", note=note)


def _lesion(fish: Fish, field: Field) -> Shown:
    row = _row(fish.lesions, field)
    if row is None:
        return Shown()
    size = f"{plain(row.size_mm)} mm" if row.size_mm is not None else "no size"
    where = name("place", row.place)
    return Shown(size, note="; ".join(filter(None, (where, row.note))))


def _row(rows: tuple[Lesion, ...], field: Field) -> Lesion | None:
    return next((x for x in rows if x.id == field.key.split()[1]), None)


def _sampled(fish: Fish, field: Field) -> Shown:
    row = fish.samples.get(field.key.split()[2])
    if row is None:
        return Shown(note=field.hint)
    if not row.got:
        return Shown("not got", note=row.why)
    place = name("place", row.place) if row.place else ""
    return Shown(f"{row.number}", note="; ".join(filter(None, ("got", place, field.hint))))


def _dose(fish: Fish, field: Field) -> Shown:
    row = next((t for t in fish.given if t.id == field.key.split()[1]), None)
    return Shown(f"{plain(row.amount)} {row.amount_unit}", note=dose_words(row)) if row else Shown()


def _note(fish: Fish, field: Field) -> Shown:
    del field
    return Shown(fish.handling.note)


_SHOWN = {
    "group": _group,
    "count": _count,
    "weight": _weight,
    "length": _length,
    "agent": _agent,
    "level": _level,
    "bath": _litres,
    "days": _days,
    "clock": _clock,
    "shelf": in_hand_stock.shown,
    "lesion": _lesion,
    "sample": _sampled,
    "given": _dose,
    "note": _note,
}


def with_typed(row: Handling, part: str, entry: Entry) -> Handling:
    """Return a fish with its bath as it is being typed."""
    if part == "level":
        return replace(row, agent_mg_l=entry.number)
    return replace(row, bath_l=entry.number)
