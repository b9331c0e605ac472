"""What was answered in a dialog, by the key of its row."""

from __future__ import annotations

from datetime import date

from tui.widgets.field import Entry

Answers = dict[str, Entry]


def words(answers: Answers, key: str) -> str:
    """Return the words of an answer; "" while there is none."""
    return answers[key].words if key in answers else ""


def number(answers: Answers, key: str) -> float | None:
    """Return the number of an answer, in the canonical unit of its row."""
    return answers[key].number if key in answers else None


def day(answers: Answers, key: str) -> date | None:
    """Return the day of an answer."""
    return answers[key].day if key in answers else None
