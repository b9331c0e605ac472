"""What the screen of the practice shows: people, details, prices and settings as they stand."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from core.practice import access, keeping, label_paper, people
from core.practice.keeping import Kind
from core.records import read
from core.records.tables import Person, Practice, Price, TaxClass


@dataclass(frozen=True)
class PracticeView:
    """The practice, as its own screen shows it."""

    house: Practice
    people: tuple[Person, ...]
    with_pin: frozenset[str]
    """Ids of those who have a PIN."""
    pin_marks: dict[str, tuple[str, datetime]]
    """What happened last to the PIN of a person, and when."""
    prices: tuple[Price, ...]
    taxes: tuple[TaxClass, ...]
    idle_min: int
    keeping: tuple[Kind, ...]
    label_size: str


def view() -> PracticeView:
    """Return the practice as it stands."""
    everybody = people.everybody()
    last = {p.id: found[-1] for p in everybody if (found := access.marks(p.id))}
    return PracticeView(
        read.find(Practice)[0],
        everybody,
        frozenset(p.id for p in everybody if access.has_pin(p.id)),
        {key: (mark.what, mark.at) for key, mark in last.items()},
        people.prices(),
        people.taxes(),
        access.idle_minutes(),
        keeping.kinds(),
        label_paper.size(),
    )
