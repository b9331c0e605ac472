"""History: the questions, and answers in which value, no, unknown and not asked stay apart."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from enum import Enum
from typing import Any

from core.errors import BadInput
from core.microscopy.catalogue import Choice

UNKNOWN_LETTER = "u"
"""Answers *unknown* to every question, so that no choice may use it."""


class Said(Enum):
    """What an answer is; four different things."""

    VALUE = "value"
    NO = "no"
    UNKNOWN = "unknown"
    NOT_ASKED = "not asked"


@dataclass(frozen=True)
class Question:
    """One question of the history.

    Parameters
    ----------
    key, group, label, prompt : str
        Identity, its group, the short label of a row and the question as asked.
    kind : str
        yes_no, choice, number, date or words.
    quantity : str
        For a number its kind of quantity, or ``count``.
    choices : tuple of Choice
        For a choice, each with its letter.
    where : tuple of str
        Kinds of system it is asked for: pond, tank, marine, farm.
    kept : bool
        The answer belongs to the system and is asked again as *still true?*.
    """

    key: str
    group: str
    label: str
    prompt: str
    kind: str
    quantity: str = ""
    choices: tuple[Choice, ...] = ()
    where: tuple[str, ...] = ()
    kept: bool = False

    @classmethod
    def from_row(cls, key: str, row: Mapping[str, Any]) -> Question:
        """Make a question from its catalogue row."""
        return cls(
            key,
            row["group"],
            row["label"],
            row["prompt"],
            row["kind"],
            row.get("quantity", ""),
            tuple(Choice(name, name, letter) for letter, name in row.get("choices", {}).items()),
            tuple(row["where"]),
            bool(row.get("kept", False)),
        )


@dataclass(frozen=True)
class Answer:
    """An answer: what kind it is and, for a value, the value as text.

    Raises
    ------
    BadInput
        When a value is empty, or one of the other three carries text.
    """

    question: str
    said: Said = Said.NOT_ASKED
    value: str = ""

    def __post_init__(self) -> None:
        if (self.said is Said.VALUE) != bool(self.value.strip()):
            raise BadInput(
                "An answer is a value, or no, or unknown, or it was not asked.",
                "Give the value, or choose one of the other three.",
            )

    @property
    def words(self) -> str:
        """Return the answer in words."""
        return self.value if self.said is Said.VALUE else self.said.value


def answer(question: Question, letter: str) -> Answer:
    """Return the answer one letter gives to a yes/no question or a choice.

    Parameters
    ----------
    question : Question
        Of kind yes_no or choice.
    letter : str
        ``y``, ``n``, ``u`` for unknown, or a letter of the choices.

    Raises
    ------
    BadInput
        Naming the letters that answer it.
    """
    pressed = letter.lower()
    if pressed == UNKNOWN_LETTER:
        return Answer(question.key, Said.UNKNOWN)
    if question.kind == "yes_no" and pressed in ("y", "n"):
        return Answer(question.key, *((Said.VALUE, "yes") if pressed == "y" else (Said.NO,)))
    for choice in question.choices:
        if choice.letter == pressed:
            return Answer(question.key, Said.VALUE, choice.name)
    raise BadInput(f"{letter} answers nothing here.", f"Press {letters(question)}.")


def letters(question: Question) -> str:
    """Return the letters that answer a question, with what each means."""
    own = [("y", "yes"), ("n", "no")] if question.kind == "yes_no" else []
    own += [(c.letter, c.name) for c in question.choices]
    return ", ".join(f"{k} {name}" for k, name in [*own, (UNKNOWN_LETTER, "unknown")])


def asked_for(questions: Iterable[Question], system_kind: str) -> tuple[Question, ...]:
    """Return the questions of one kind of system, in the order of the catalogue."""
    return tuple(q for q in questions if system_kind in q.where)


@dataclass(frozen=True)
class Sign:
    """A sign to watch for: its part, letter and the levels it may be noted at."""

    key: str
    label: str
    part: str
    letter: str
    levels: tuple[str, ...] = field(default=("fish",))

    @classmethod
    def from_row(cls, key: str, row: Mapping[str, Any]) -> Sign:
        """Make a sign from its catalogue row."""
        return cls(key, row["label"], row["part"], row["letter"], tuple(row["levels"]))


@dataclass(frozen=True)
class WalkItem:
    """One item of the walk round the system, answered ok, problem or not seen."""

    key: str
    label: str
    letter: str

    @classmethod
    def from_row(cls, key: str, row: Mapping[str, Any]) -> WalkItem:
        """Make an item from its catalogue row."""
        return cls(key, row["label"], row["letter"])


WALK_STATES = ("ok", "problem", "not seen")
"""How an item of the walk round is answered."""
