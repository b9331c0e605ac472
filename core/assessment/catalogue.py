"""Problems, tests and complaints as rows of the catalogue, in frozen types."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

LIKELIHOODS = ("very likely", "likely", "possible", "rare")
"""An order of words, never summed and never a percentage."""

URGENCIES = ("emergency", "same day", "48 h", "routine")
"""How soon it must be seen to, soonest first."""


@dataclass(frozen=True)
class Clue:
    """A recorded fact that speaks for or against a problem.

    Parameters
    ----------
    fact : str
        What is recorded, for example ``sign.flashing`` or ``water.oxygen``.
    says : str
        Why it counts, in one sentence.
    is_ : str
        State that counts; empty when a range counts.
    low, high : float or None
        Closed range that counts, in the canonical unit of the fact.
    source : str
        Key of the source.
    """

    fact: str
    says: str
    source: str
    is_: str = ""
    low: float | None = None
    high: float | None = None

    @classmethod
    def from_row(cls, row: Mapping[str, Any], source: str) -> Clue:
        """Make a clue from its catalogue row; the problem's source stands unless it has its own."""
        low, high = row.get("low"), row.get("high")
        return cls(
            row["fact"],
            row["says"],
            row.get("source", source),
            row.get("is", ""),
            None if low is None else float(low),
            None if high is None else float(high),
        )


@dataclass(frozen=True)
class Test:
    """A test that may decide: its kind, days to a result, and the facts it would record."""

    __test__ = False  # pytest takes the name for one of its own

    key: str
    name: str
    kind: str
    days: int
    answers: tuple[str, ...]
    source: str

    @classmethod
    def from_row(cls, key: str, row: Mapping[str, Any]) -> Test:
        """Make a test from its catalogue row."""
        return cls(key, row["name"], row["kind"], row["days"], tuple(row["answers"]), row["source"])


@dataclass(frozen=True)
class ProblemKind:
    """A name a vet may give to what is wrong.

    Parameters
    ----------
    key, name, group : str
        Identity.
    urgency : str
        One of `URGENCIES`.
    tests : tuple of str
        Keys of tests that would decide, best first.
    clues_for, clues_against : tuple of Clue
        What speaks for and against it.
    zoonotic, notifiable : str
        The caution as sentences; empty when none is known.
    stops_movement : bool
        The suspicion alone stops every movement off the site.
    source : str
        Key of the source.
    """

    key: str
    name: str
    group: str
    urgency: str
    tests: tuple[str, ...]
    clues_for: tuple[Clue, ...]
    clues_against: tuple[Clue, ...]
    zoonotic: str
    notifiable: str
    stops_movement: bool
    source: str

    @classmethod
    def from_row(cls, key: str, row: Mapping[str, Any]) -> ProblemKind:
        """Make a kind of problem from its catalogue row."""
        source = row["source"]
        return cls(
            key,
            row["name"],
            row["group"],
            row["urgency"],
            tuple(row["tests"]),
            tuple(Clue.from_row(clue, source) for clue in row.get("for", ())),
            tuple(Clue.from_row(clue, source) for clue in row.get("against", ())),
            row.get("zoonotic", ""),
            row.get("notifiable", ""),
            bool(row.get("stops_movement", False)),
            source,
        )

    @property
    def cautions(self) -> tuple[str, ...]:
        """Return the cautions that must be said as soon as it is suspected."""
        return tuple(text for text in (self.notifiable, self.zoonotic) if text)


@dataclass(frozen=True)
class Differential:
    """A problem worth keeping in mind for a complaint, with a word for how likely it is."""

    problem: str
    likelihood: str


@dataclass(frozen=True)
class Complaint:
    """What an owner complains of, and what it makes worth looking at."""

    key: str
    label: str
    letter: str
    urgency: str
    slides: tuple[str, ...]
    tests: tuple[str, ...]
    differentials: tuple[Differential, ...]
    source: str

    @classmethod
    def from_row(cls, key: str, row: Mapping[str, Any]) -> Complaint:
        """Make a complaint from its catalogue row."""
        return cls(
            key,
            row["label"],
            row["letter"],
            row["urgency"],
            tuple(row["slides"]),
            tuple(row["tests"]),
            tuple(
                Differential(d["problem"], d["likelihood"]) for d in row.get("differentials", ())
            ),
            row["source"],
        )
