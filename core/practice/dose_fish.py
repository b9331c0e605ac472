"""For how many fish the amount of one treatment is meant: an injection is for each of them."""

from __future__ import annotations

from core.practice.stock import fish_here
from core.records import read
from core.records.tables import FishGroup, Handling, Treatment


def fish_of(route: str, system: str, group: str | None, handling: str | None) -> int | None:
    """Return how many fish each get the amount; 1 for what goes into water or food.

    None when a group is to be injected and nobody knows how many they are.
    """
    if handling is not None and route.startswith("injection"):
        return read.one(Handling, handling).count
    if group is None or not route.startswith("injection"):
        return 1
    if read.one(FishGroup, group).single:
        return 1
    return next((h.alive for h in fish_here(system) if h.group.id == group), None)


def fish_of_row(row: Treatment) -> int:
    """Return the same for a treatment of the record; 1 when nobody knows."""
    return fish_of(row.route, row.system, row.group, row.handling) or 1
