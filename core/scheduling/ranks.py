"""Infection risk of a site, from plain facts."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from core.errors import BadInput, Refusal

UNKNOWN_RANK = 3
"""Rank of a site of which nothing is known."""


@dataclass(frozen=True)
class RankFact:
    """A fact that gives a site its rank; `first` puts a farm before every other stock."""

    key: str
    rank: int
    says: str
    first: bool = False

    @classmethod
    def from_row(cls, key: str, row: Mapping[str, Any]) -> RankFact:
        """Make a fact from its catalogue row."""
        return cls(key, row["rank"], row["says"], bool(row.get("first", False)))


@dataclass(frozen=True)
class Rank:
    """Rank of a site, 1 clean to 4 dirty, and why; `first` for a farm that is clean itself."""

    number: int
    why: tuple[str, ...]
    first: bool = False
    overridden: bool = False


def rank(facts: Iterable[str], rules: Mapping[str, RankFact]) -> Rank:
    """Return the rank of a site: the dirtiest fact that holds decides.

    A farm with unexplained deaths still goes first on its day, since what is carried onto
    a farm harms most; everything after it that day then needs a change of gear.

    Raises
    ------
    BadInput
        For a fact the rules do not know.
    """
    held = []
    for key in facts:
        if key not in rules:
            raise BadInput(f"{key} is no fact that gives a rank.", "Choose one from the list.")
        held.append(rules[key])
    if not held:
        return Rank(UNKNOWN_RANK, ("Nothing is known of this site yet.",))
    number = max(fact.rank for fact in held)
    first = any(fact.first for fact in held)
    why = tuple(fact.says for fact in held if fact.rank == number or fact.first)
    return Rank(number, why, first)


def override(given: Rank, number: int, reason: str) -> Rank:
    """Return the rank a person sets instead, with the reason first.

    Raises
    ------
    Refusal
        Without a reason, or for a number other than 1 to 4.
    """
    if not 1 <= number <= 4:
        raise Refusal("A rank goes from 1, clean, to 4, dirty.")
    if not reason.strip():
        raise Refusal(f"Say why this site is rank {number} and not {given.number}.")
    return Rank(number, (reason.strip(), *given.why), given.first, overridden=True)
