"""Stages of a visit and their states, said in words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum

from core.errors import Refusal


class Stage(Enum):
    """The chain of a visit, in the order in which work is easiest."""

    HISTORY = "History"
    WATCHING = "Watching"
    WATER = "Water"
    IN_HAND = "In hand"
    BIOPSY = "Biopsy"
    FEEDING = "Feeding check"
    ASSESSMENT = "Assessment"
    PLAN = "Plan"
    CHARGES = "Charges"
    SIGN = "Sign"


class Kind(Enum):
    """What a stage can be."""

    NOT_BEGUN = "not begun"
    BEGUN = "begun"
    WAITING = "waiting"
    DONE = "done"
    PASSED_OVER = "passed over"


_NEEDS_WORDS = frozenset({Kind.WAITING, Kind.PASSED_OVER})


@dataclass(frozen=True)
class StageState:
    """State of one stage; `about` says what it waits for, or why it was passed over.

    Raises
    ------
    Refusal
        When waiting or passed over says nothing, or another state says something.
    """

    kind: Kind = Kind.NOT_BEGUN
    about: str = ""

    def __post_init__(self) -> None:
        if self.kind in _NEEDS_WORDS and not self.about.strip():
            asked = "what it waits for" if self.kind is Kind.WAITING else "why it is passed over"
            raise Refusal(f"Say {asked}.")
        if self.kind not in _NEEDS_WORDS and self.about:
            raise Refusal(f"A stage that is {self.kind.value} has nothing more to say.")

    @property
    def said(self) -> str:
        """Return the state in words, for example ``waiting for culture``."""
        if self.kind is Kind.WAITING:
            return f"waiting for {self.about}"
        return f"passed over: {self.about}" if self.about else self.kind.value

    @property
    def settled(self) -> bool:
        """Return whether nothing more is to be done on site."""
        return self.kind in (Kind.DONE, Kind.PASSED_OVER, Kind.WAITING)


NOT_BEGUN = StageState()
"""State of a stage nobody has entered."""


def entered(state: StageState) -> StageState:
    """Return the state after something was recorded: a stage waiting goes on waiting."""
    if state.kind in (Kind.NOT_BEGUN, Kind.PASSED_OVER):
        return StageState(Kind.BEGUN)
    return state


def emptied(state: StageState) -> StageState:
    """Return the state after the last record of a stage was struck or undone."""
    return state if state.kind is Kind.PASSED_OVER else NOT_BEGUN


def waiting(for_what: str) -> StageState:
    """Return the state of a stage that waits for a result."""
    return StageState(Kind.WAITING, for_what)


def done() -> StageState:
    """Return the state of a finished stage."""
    return StageState(Kind.DONE)


def passed_over(state: StageState, why: str) -> StageState:
    """Return the state of a stage that is left out.

    Raises
    ------
    Refusal
        Without a reason, or when something was recorded in it already.
    """
    if state.kind is not Kind.NOT_BEGUN and state.kind is not Kind.PASSED_OVER:
        raise Refusal(
            f"This stage is {state.said}; what was recorded in it stays.", "Call it done instead."
        )
    return StageState(Kind.PASSED_OVER, why)


def unsettled(states: Mapping[Stage, StageState]) -> tuple[tuple[Stage, StageState], ...]:
    """Return the stages that are not begun or only begun, in order; Sign itself is left out."""
    every = ((stage, states.get(stage, NOT_BEGUN)) for stage in Stage if stage is not Stage.SIGN)
    return tuple((stage, state) for stage, state in every if not state.settled)


def current(states: Mapping[Stage, StageState]) -> Stage:
    """Return the first stage where work goes on: Sign when all others are settled."""
    left = unsettled(states)
    return left[0][0] if left else Stage.SIGN
