"""What a person can be told: a title, one sentence, and what to do."""

from __future__ import annotations


class Refusal(Exception):
    """Something was refused, and a person is told why and what to do next.

    Parameters
    ----------
    sentence : str
        One sentence for a person: what is wrong.
    todo : str
        What they can do about it; may be empty when the sentence says it.
    """

    title = "That can not be done"

    def __init__(self, sentence: str, todo: str = "") -> None:
        super().__init__(sentence if not todo else f"{sentence} {todo}")
        self.sentence = sentence
        self.todo = todo


class BadInput(Refusal, ValueError):
    """What was typed can not be read as what the field asks for."""

    title = "Not understood"


class UnitError(BadInput):
    """The unit typed is not one that this kind of quantity is written in."""


class OutOfRange(BadInput):
    """A figure withheld: an input lies outside what its formula was made for."""

    title = "No figure"
