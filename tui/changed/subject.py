"""What *What changed* is asked about: the visit that a screen shows, or that its cursor is on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, Protocol, runtime_checkable

from textual.screen import Screen


@dataclass(frozen=True)
class Subject:
    """A record by its kind and its id."""

    kind: Literal["visit", "client", "person"]
    id: str


@runtime_checkable
class ShowsVisit(Protocol):
    """A screen on which one visit is in front."""

    @property
    def visit_here(self) -> str:
        """Id of the visit; "" when no line is chosen."""


def subject_of(screen: Screen[object]) -> Subject | None:
    """Return the visit that is in front on a screen, or None."""
    visit = screen.visit_here if isinstance(screen, ShowsVisit) else ""
    return Subject("visit", visit) if visit else None
