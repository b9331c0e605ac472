"""The rows that the owner's care sheet is made from, read once."""

from __future__ import annotations

from collections.abc import Iterator

from core.dosing.medicines import BATHS
from core.practice.keep import ever
from core.practice.plan_steps import every_offer
from core.practice.record_rows import VisitRows
from core.practice.treatment_said import sentence
from core.records import read
from core.records.tables import (
    Food,
    Handling,
    OwnerStep,
    Reading,
    System,
    Treatment,
)
from core.units import Locale, show

FOR_OWNER = ("dispensed", "prescribed", "advised")


class CareRows:
    """What the plan of a visit holds for its owner.

    Attributes
    ----------
    steps : tuple of OwnerStep
        The lines taken or typed, in their order.
    told : set of str
        Origins of the lines that were taken, struck ones too: what was struck is not told.
    treatments, own : tuple of Treatment
        All of the visit; those that the owner gives or gets.
    """

    def __init__(self, visit_id: str) -> None:
        self.visit = VisitRows(visit_id)
        self.steps = read.find(OwnerStep, visit=visit_id, order="position, id")
        self.told = {s.origin for s in ever(OwnerStep, visit=visit_id)}
        self.treatments = read.find(Treatment, visit=visit_id)
        self.own = tuple(t for t in self.treatments if t.act in FOR_OWNER)
        self.handled = read.find(Handling, visit=visit_id)
        self.units: Locale = "us" if self.visit.practice.units == "us" else "metric"
        self._offered = {
            offer.origin: offer.words
            for system in self.visit.opened.systems
            for offer in every_offer(visit_id, system.id)
        }

    def as_offered(self, step: OwnerStep) -> bool:
        """Whether nobody has put a line in other words than it was offered in."""
        return self._offered.get(step.origin) == step.words

    def said(self, kind: str, but: tuple[str, ...] = ()) -> tuple[str, ...]:
        """Return the lines of a kind; `but` names origins that are told elsewhere."""
        return tuple(
            sentence(step.words)
            for step in self.steps
            if step.kind == kind and step.origin.split(":")[0] not in but
        )

    def in_water(self) -> tuple[Treatment, ...]:
        """Return what the owner puts into the water."""
        return tuple(t for t in self.own if t.route in BATHS and t.handling is None)

    def about(self) -> tuple[System, ...]:
        """Return the waters of the visit: its own, and others that were read or treated."""
        used = {row.system for row in read.find(Reading, visit=self.visit.id)}
        used |= {row.system for row in self.treatments} | {self.visit.opened.system.id}
        return tuple(s for s in self.visit.opened.systems if s.id in used)

    def waters(self) -> Iterator[str]:
        """Give each water with its volume in the practice's units."""
        for system in self.about():
            volume = show(system.volume_l, "volume", self.units) if system.volume_l else ""
            yield ", ".join(filter(None, (system.name, volume)))

    def fish(self) -> Iterator[str]:
        """Give the names of the fish of these waters."""
        about = {s.id for s in self.about()}
        yield from (g.name for g in self.visit.opened.groups if g.system in about)

    def scoop_g(self, system_id: str) -> float | None:
        """Return what the owner's scoop holds of the food that is fed."""
        food = read.first(Food, visit=self.visit.id, system=system_id)
        return food.scoop_g if food else None
