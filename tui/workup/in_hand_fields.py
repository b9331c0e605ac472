"""What is asked of one fish in hand, row by row."""

from __future__ import annotations

import re
from dataclasses import replace

from core.errors import BadInput
from core.practice import in_hand, in_hand_bath
from core.practice.in_hand import Fish, HandView
from core.practice.names import name
from tui.widgets.field import Choice, Field
from tui.workup import in_hand_stock

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
            hint="together, without the water" if many else "on the scale; g without a unit",
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
