"""The rows of one fish in hand: what is asked, and what stands in each."""

from __future__ import annotations

import re
from dataclasses import replace

from core.errors import BadInput
from core.numbers import figures, plain
from core.practice import in_hand, in_hand_bath
from core.practice.in_hand import Fish, HandView
from core.practice.names import name
from core.records.tables import Handling, Lesion
from tui.widgets.field import Choice, Entry, Field
from tui.widgets.row import Shown
from tui.workup import in_hand_stock
from tui.workup.in_hand_words import dose_words

OTHER = "other"
GOT = Choice("g", "got", "got")
WORDS = Choice("w", OTHER, "other, in words")
FIRST = Field(
    "first",
    "Take the first fish",
    "act",
    hint="Enter: one fish, or a scoop of several",
)


def fields(view: HandView, fish: Fish) -> list[Field]:
    """Return the rows of a fish; each key ends in its id, so that two fish never mix."""
    key = fish.handling.id
    clock = Field(f"clock {key}", "Anaesthesia clock", "act", hint="Enter or i opens it")
    samples = [_sample(n, t, key) for n, t in enumerate(in_hand.tissues())]
    # Last, so that what is typed every time is not interrupted by what is typed once a year.
    food = _food(key) if view.system.food_fish else []
    before = [
        *_size(view, fish, key),
        *_bath(key),
        clock,
        *in_hand_stock.row(key),
        *_lesions(fish, key),
    ]
    return [*before, *samples, *_given(fish), *_who(view, key), *food]


def _size(view: HandView, fish: Fish, key: str) -> list[Field]:
    many = fish.handling.count > 1
    at = [f.handling.id for f in view.fish].index(key) + 1
    whom = ", ".join(filter(None, (fish.group.name if fish.group else "", fish.kind)))
    section = f"{fish.handling.label}: {whom}   {at} of {len(view.fish)} in hand"
    return [
        Field(
            *(f"weight {key}", "Weight, all" if many else "Weight", "quantity", "mass", "g"),
            *(0.01, 1_000_000),
            example="238 g, 1.2 kg, 2 lb",
            hint="together on the scale, without the water" if many else "on the scale",
            section=section,
        ),
        Field(
            *(f"length {key}", "Length", "quantity", "length", "cm", 0.2, 600),
            example="24 cm",
            hint="to the end of the tail",
        ),
    ]


def _who(view: HandView, key: str) -> list[Field]:
    groups = tuple(Choice("", g.id, g.name) for g in view.groups)
    return [
        Field(f"group {key}", "Group", "pick", choices=groups, section="Which fish"),
        Field(f"count {key}", "How many", "count", low=1, high=100_000, example="1"),
        Field(f"note {key}", "Note", "words", example="thin, hangs back"),
    ]


def _bath(key: str) -> list[Field]:
    agents = tuple(Choice("", agent, agent) for agent in in_hand_bath.agents())
    return [
        Field(
            f"agent {key}",
            "Agent of the bath",
            "pick",
            choices=agents,
            hint="type part of its name",
            section="Bath and clock",
        ),
        Field(
            *(f"level {key}", "Its level", "quantity", "concentration", "mg/L", 0.01, 5000),
            example="80 mg/L",
        ),
        Field(
            *(f"bath {key}", "Bath, made up to", "quantity", "volume", "L", 0.05, 100_000),
            example="25 L",
        ),
    ]


def _food(key: str) -> list[Field]:
    return [
        Field(
            *(f"days {key}", "Withdrawal set"),
            example="28 days, twice the longest found",
            hint="days and their ground, where none is on record",
            section="Food fish",
        )
    ]


def days_and_ground(text: str) -> tuple[int, str]:
    """Return days of withdrawal and the ground for them, as they were typed in one line.

    Raises
    ------
    BadInput
        When it does not begin with a number of days.
    """
    found = _DAYS.match(text)
    if found is None:
        raise BadInput("This does not begin with days.", "For example 28 days, twice the longest.")
    return int(found[1]), found[2].strip()


_DAYS = re.compile(r"\s*(\d{1,4})(?!\d)\s*(?:days?|d\b)?[\s,;:]*(.*)", re.ASCII | re.DOTALL)


def _lesions(fish: Fish, key: str) -> list[Field]:
    rows = [
        Field(f"lesion {x.id}", name("lesion", x.kind), "act", hint="Enter corrects it")
        for x in fish.lesions
    ]
    add = Field(f"sore {key}", "Add a lesion", "act", hint="Enter: kind, place, size")
    first, *rest = [*rows, add]
    return [replace(first, section="Lesions"), *rest]


def reasons() -> tuple[Choice, ...]:
    """Return why a sample may not be got, each with its letter."""
    listed = in_hand.choices("tissues", "reason")
    return tuple(Choice(c.letter, c.name, c.name) for c in listed)


def _sample(number: int, tissue: str, key: str) -> Field:
    row = in_hand.tissues()[tissue]
    return Field(
        f"sample {key} {tissue}",
        row.name,
        "choice",
        choices=(GOT, *reasons(), WORDS),
        hint=row.take,
        section="Samples: g when got, else why not" if not number else "",
    )


def _given(fish: Fish) -> list[Field]:
    rows = [
        Field(f"given {t.id}", name("medicine", t.medicine), "act", hint="Enter: the working")
        for t in fish.given
    ]
    add = Field(f"give {fish.handling.id}", "Give something now", "act", hint="Enter or h")
    first, *rest = [*rows, add]
    return [replace(first, section="Given here"), *rest]


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
