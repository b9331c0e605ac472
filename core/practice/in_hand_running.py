"""Clocks of anaesthesia that run at this moment, without a word of whose fish it is."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from core.practice import in_hand_clock
from core.practice.in_hand_clock import Anaesthesia
from core.records import read
from core.records.engine import query
from core.records.fields import UtcField
from core.records.tables import Handling

SAID = {
    "bath": "A fish is in the bath",
    "recovery": "A fish is recovering",
    "euthanasia": "A euthanasia is under way",
}
SINCE = timedelta(hours=12)
"""A clock that began earlier was forgotten, and alarms nobody."""
_MARKED = 'SELECT DISTINCT "handling" FROM "depth_mark" WHERE "struck" IS NULL AND "at" > ?'


@dataclass(frozen=True)
class Running:
    """One running clock."""

    clock: Anaesthesia

    def said(self, now: datetime) -> str:
        """Return its phase, its time and what is to be watched, in words without a name."""
        elapsed = self.clock.elapsed(now) or timedelta(0)
        head = f"{SAID[self.clock.phase]}: {in_hand_clock.clock_text(elapsed)} since it went in."
        return " ".join((head, *self.clock.cautions))


def running(now: datetime) -> tuple[Running, ...]:
    """Return the clocks that run, each since its bath or its first step."""
    rows = query(_MARKED, (UtcField().db_value(now - SINCE),))
    clocks = [in_hand_clock.of(read.one(Handling, key)) for (key,) in rows]
    return tuple(Running(c) for c in clocks if c.phase in SAID)
