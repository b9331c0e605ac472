"""When to look again: due windows from the recheck rows, and which are overdue."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from enum import Enum
from typing import Any

from core.errors import BadInput


@dataclass(frozen=True)
class RecheckRule:
    """One row: steps of days (earliest, target, latest) after the plan began.

    Parameters
    ----------
    key : str
        Identity.
    problems : tuple of str
        Keys of the problems it is for; empty for one chosen by hand.
    low_c, high_c : float or None
        Water temperatures in degrees C it was made for; None leaves that side open.
    steps : tuple
        Days (earliest, target, latest) from the start of the plan.
    check, clear_when, note, source : str
        What to look at, when it is clear, what to know, and the key of the source.
    """

    key: str
    problems: tuple[str, ...]
    low_c: float | None
    high_c: float | None
    steps: tuple[tuple[int, int, int], ...]
    check: str
    clear_when: str
    note: str
    source: str

    @classmethod
    def from_row(cls, key: str, row: Mapping[str, Any]) -> RecheckRule:
        """Make a rule from its catalogue row."""
        low, high = row.get("low"), row.get("high")
        return cls(
            key,
            tuple(row["problems"]),
            None if low is None else float(low),
            None if high is None else float(high),
            tuple((e, t, n) for e, t, n in row["steps"]),
            row["check"],
            row["clear_when"],
            row["note"],
            row["source"],
        )

    def distance_c(self, temperature_c: float) -> float:
        """Return how far a temperature lies outside this row, 0 inside it, in degrees C."""
        below = 0.0 if self.low_c is None else self.low_c - temperature_c
        above = 0.0 if self.high_c is None else temperature_c - self.high_c
        return max(below, above, 0.0)


@dataclass(frozen=True)
class Choice:
    """The rows that answer, and whether one was made for this temperature.

    When none was, both neighbours stand here, nearest first: the vet chooses.
    """

    rules: tuple[RecheckRule, ...]
    exact: bool


def rules_for(rules: Iterable[RecheckRule], problem: str, temperature_c: float | None) -> Choice:
    """Return the recheck rows of a problem at a water temperature.

    Parameters
    ----------
    rules : iterable of RecheckRule
        Rows of the catalogue.
    problem : str
        Key of the problem.
    temperature_c : float or None
        Water temperature in degrees C; None when it was not measured.
    """
    mine = [rule for rule in rules if problem in rule.problems]
    if temperature_c is None:
        single = len(mine) == 1 and mine[0].low_c is None and mine[0].high_c is None
        return Choice(tuple(mine), single)
    ordered = sorted(mine, key=lambda rule: rule.distance_c(temperature_c))
    inside = tuple(rule for rule in ordered if rule.distance_c(temperature_c) == 0)
    return Choice(inside, True) if inside else Choice(tuple(ordered[:2]), False)


@dataclass(frozen=True)
class Window:
    """Dates between which a recheck is due."""

    earliest: date
    target: date
    latest: date

    def __post_init__(self) -> None:
        if not self.earliest <= self.target <= self.latest:
            raise BadInput(
                "A recheck window runs from earliest over target to latest.", "Put them in order."
            )

    def overdue_days(self, today: date) -> int:
        """Return the days past the latest date, 0 when there are none."""
        return max((today - self.latest).days, 0)

    def warning(self, day: date) -> str:
        """Return why a day lies outside the window, empty when it lies inside."""
        if day < self.earliest:
            early = (self.earliest - day).days
            return f"{early} d before the window opens on {self.earliest.isoformat()}."
        if day > self.latest:
            return (
                f"{self.overdue_days(day)} d after the window closed on {self.latest.isoformat()}."
            )
        return ""


def window(began: date, days: tuple[int, int, int]) -> Window:
    """Return the dates of one step, counted from the day the plan began."""
    earliest, target, latest = (began + timedelta(days=d) for d in days)
    return Window(earliest, target, latest)


def windows(rule: RecheckRule, began: date) -> tuple[Window, ...]:
    """Return the windows of every step of a rule."""
    return tuple(window(began, step) for step in rule.steps)


class RecheckState(Enum):
    """How far a recheck has come."""

    DUE = "due"
    OFFERED = "offered"
    BOOKED = "booked"
    DONE = "done"
    DECLINED = "declined"
    LOST = "lost"


WAITING = frozenset({RecheckState.DUE, RecheckState.OFFERED})
"""States in which somebody must still ring the owner."""


@dataclass(frozen=True)
class Recheck:
    """A recheck of the plan: what for, when due, how far it has come."""

    key: str
    reason: str
    due: Window
    state: RecheckState = RecheckState.DUE


def to_ring(rechecks: Iterable[Recheck], today: date) -> tuple[Recheck, ...]:
    """Return the rechecks nobody has settled, the most overdue first, then by their window."""
    return tuple(
        sorted(
            (r for r in rechecks if r.state in WAITING),
            key=lambda r: (-r.due.overdue_days(today), r.due.latest, r.due.target, r.key),
        )
    )
