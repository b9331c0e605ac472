"""What a visit orders for other waters of the site, told in the plan of the one that is open."""

from __future__ import annotations

from collections.abc import Iterator

from core.practice import plan_steps
from core.practice.names import name
from core.practice.visits import Opened
from core.records import read
from core.records.tables import Treatment


def lines(found: Opened, system_id: str) -> Iterator[str]:
    """Give each other water with what is ordered for it and how much waits for its owner."""
    for system in found.systems:
        rows = read.find(Treatment, visit=found.visit.id, system=system.id)
        if rows and system.id != system_id:
            named = ", ".join(dict.fromkeys(name("medicine", row.medicine) for row in rows))
            waiting = len(plan_steps.offers(found.visit.id, system.id))
            count = f"{waiting} line{'s' * (waiting > 1)}"
            more = f"; {count} offered for the owner there" if waiting else ""
            yield f"{system.name}: {named} ordered{more}"
