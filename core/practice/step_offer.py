"""One line for the owner as the record offers it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True)
class StepOffer:
    """A line for the owner that the record offers; nothing is told until it is taken."""

    origin: str
    kind: str
    words: str
    day: date | None = None
