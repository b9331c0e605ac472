"""The rows of one visit that every part of its record needs, read once."""

from __future__ import annotations

from core.practice.visits import Opened, opened
from core.records import read
from core.records.tables import (
    Handling,
    Person,
    Practice,
)


class VisitRows:
    """The rows of one visit, read once, with the names of its waters, fish and people."""

    def __init__(self, visit_id: str) -> None:
        self.id = visit_id
        self.opened: Opened = opened(visit_id)
        self.practice = read.find(Practice)[0]
        self.people = {p.id: p.name for p in read.find(Person, struck=True)}
        self.systems = {s.id: s.name for s in self.opened.systems}
        self.groups = {g.id: g for g in self.opened.groups}
        self.hands = {h.id: h for h in read.find(Handling, visit=visit_id)}

    def whom(self, group: str | None, handling: str | None, system: str) -> str:
        """Name the fish or the water that a row is about."""
        if handling and handling in self.hands:
            return self.hands[handling].label
        if group and group in self.groups:
            return self.groups[group].name
        return self.systems.get(system, "")


def visit_number(found: Opened) -> str:
    """Return the number by which papers name a visit: its day and the end of its key."""
    return f"{found.visit.day:%Y%m%d}-{found.visit.id[-4:]}"
