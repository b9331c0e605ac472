"""What is asked when a problem is named: from the list by part of its name, or in own words."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from core.practice.problem_list import kinds
from tui.widgets.dialog import Answers
from tui.widgets.field import Choice, Field
from tui.widgets.row import Widths

LIKELY_WIDTHS = Widths(label=20, value=36)
OWN = Choice("", "", "in own words")
WHOLE = Choice("", "", "the whole water")
STATES = (
    Choice("s", "suspected", "suspected"),
    Choice("c", "confirmed", "confirmed"),
    Choice("r", "ruled out", "ruled out"),
)
CARRIED = (
    *STATES,
    Choice("i", "improving", "improving"),
    Choice("d", "resolved", "resolved"),
)
"""Two more for a problem carried over from an earlier visit."""


def call_fields(authority: str) -> list[Field]:
    """Return what is asked about a call to the authority."""
    return [
        Field("whom", "Who was rung", required=True, example=authority),
        Field("words", "When, what was said", example="16:40; sample by courier"),
    ]


def name_fields(answers: Answers, groups: Sequence[tuple[str, str]]) -> list[Field]:
    """Return the rows of the dialog; own words are asked only when nothing was chosen."""
    listed = (OWN, *(Choice("", k.key, k.name) for k in kinds().values()))
    found = [Field("problem", "Problem", "pick", choices=listed, required=True)]
    if "problem" in answers and not answers["problem"].words:
        found.append(Field("words", "In own words", required=True, example="a leak in the liner"))
    found.append(Field("state", "Held as", "choice", choices=STATES, required=True))
    if groups:
        whose = (WHOLE, *(Choice("", key, name) for key, name in groups))
        found.append(Field("group", "Who has it", "pick", choices=whose))
    found.append(Field("why", "Because", example="four flukes in one snip"))
    return found


def named(answers: Answers) -> dict[str, Any]:
    """Return the answers as `name_problem` takes them."""

    def words(key: str) -> str:
        return answers[key].words if key in answers else ""

    return {
        "problem": words("problem"),
        "words": words("words"),
        "state": words("state"),
        "why": words("why"),
        "group": words("group") or None,
    }
