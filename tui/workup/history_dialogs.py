"""The dialogs of the history: some dead, some moved, something tried; new or corrected."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from core import dates
from core.practice import history, losses, moves, tried
from core.practice.fish import species
from core.practice.history import HistoryView
from core.records.tables import FishGroup, Loss, Move, System, Tried
from tui.widgets import answers as answered
from tui.widgets.dialog import Answers, FormDialog
from tui.widgets.field import Choice, Entry, Field
from tui.widgets.row import Widths

PAST = Field("day", "When", "date", example=dates.PAST_EXAMPLE, past=True)
"""A day of something that has happened."""
WIDTHS = Widths(label=16, value=22)
NOBODY_KNOWS = Choice("", "", "not told which")
KINDS = (
    Choice("l", "loss", "dead fish"),
    Choice("m", "move", "fish moved"),
    Choice("t", "tried", "treatment tried"),
)


def loss_fields(groups: Sequence[FishGroup]) -> list[Field]:
    """Return what is asked about some dead fish."""
    named = (*(Choice("", g.id, g.name) for g in groups), NOBODY_KNOWS)
    return [
        Field("number", "How many", "count", low=1, high=10_000_000, required=True),
        replace(PAST, label="On the day", hint="or the first it can be"),
        replace(PAST, key="day_to", label="up to the day", hint="only if day not known"),
        Field("group", "Which fish", "pick", choices=named),
        Field("note", "Note", example="found at the inlet"),
    ]


def loss_of(answers: Answers) -> losses.Told:
    """Return the answers as a loss."""
    return losses.Told(
        int(answers["number"].number),
        answered.day(answers, "day"),
        answered.day(answers, "day_to"),
        answered.words(answers, "group") or None,
        answered.words(answers, "note"),
    )


def loss_answers(row: Loss, groups: Sequence[FishGroup], today: date) -> Answers:
    """Return a loss as answers, for correcting it."""
    name = next((g.name for g in groups if g.id == row.group), NOBODY_KNOWS.label)
    found = {"number": Entry(str(row.number), row.number), "group": Entry(name, row.group or "")}
    found |= _dated("day", row.day, today) | _dated("day_to", row.day_to, today)
    return found | _worded(note=row.note)


def fish_fields() -> list[Field]:
    """Return what is asked about fish that live here."""
    kinds = tuple(Choice("", key, s.common) for key, s in species().items())
    stages = (Choice("a", "adult", "adult"), Choice("j", "juvenile", "juvenile"))
    return [
        Field("species", "Kind of fish", "pick", choices=kinds, required=True),
        Field("count", "How many", "count", low=1, high=10_000_000, hint="empty: not known"),
        Field("name", "Name of fish or group", example="Biscuit, or koi", hint="kind if empty"),
        Field("stage", "Age", "choice", choices=stages, hint="adult if empty"),
        Field("tag", "Mark or tag", example="orange head"),
    ]


def fish_of(answers: Answers) -> history.NewFish:
    """Return the answers as fish that live here."""
    count = int(answers["count"].number) if "count" in answers else None
    return history.NewFish(
        answers["species"].words,
        answered.words(answers, "name") or answers["species"].text,
        count,
        answered.words(answers, "stage") or "adult",
        answered.words(answers, "tag"),
    )


def move_fields(groups: Sequence[FishGroup], systems: Sequence[System]) -> list[Field]:
    """Return what is asked about fish moved."""
    waters = tuple(Choice("", s.id, s.name) for s in systems)
    fish = tuple(Choice("", g.id, g.name) for g in groups)
    return [
        Field("group", "Which fish", "pick", choices=fish, required=True),
        Field("from_system", "From", "pick", choices=waters, required=True),
        Field("to_system", "To", "pick", choices=waters, required=True),
        Field("number", "How many", "count", low=1, high=10_000_000, hint="blank: not counted"),
        replace(PAST, required=True),
        Field("why", "Why", example="to be treated apart"),
    ]


def move_of(answers: Answers) -> moves.Moved:
    """Return the answers as a move."""
    number = answers.get("number")
    return moves.Moved(
        answers["group"].words,
        answers["from_system"].words,
        answers["to_system"].words,
        answers["day"].day,
        int(number.number) if number else None,
        answered.words(answers, "why"),
    )


def move_answers(row: Move, view: HistoryView, today: date) -> Answers:
    """Return a move as answers, for correcting it."""
    names = {s.id: s.name for s in view.opened.systems} | {g.id: g.name for g in view.opened.groups}
    found = {
        key: Entry(names[value], value)
        for key, value in (
            ("group", row.group),
            ("from_system", row.from_system),
            ("to_system", row.to_system),
        )
    }
    if row.number is not None:
        found["number"] = Entry(str(row.number), row.number)
    day = next(m.day for m in view.moves if m.move.id == row.id)
    return found | _dated("day", day, today) | _worded(why=row.why)


TRIED = [
    Field("agent", "What was added", example="salt", required=True),
    Field("amount", "How much, as told", example="2 cups, twice"),
    replace(PAST, label="When last", hint="blank: nobody knows"),
    Field("since", "Water changed since", example="half on Monday; carbon put in"),
]


def tried_of(answers: Answers) -> tried.Told:
    """Return the answers as something tried."""
    return tried.Told(
        answered.words(answers, "agent"),
        answered.words(answers, "amount"),
        answered.day(answers, "day"),
        answered.words(answers, "since"),
    )


def tried_answers(row: Tried, today: date) -> Answers:
    """Return something tried as answers, for correcting it."""
    words = _worded(agent=row.agent, amount=row.amount, since=row.since)
    return words | _dated("day", row.day, today)


@dataclass(frozen=True)
class ListKind:
    """One of the lists of the history: how its lines are made, corrected and struck."""

    title: str
    told: Callable[[Answers], Any]
    add: Callable[..., str]
    change: Callable[..., None]
    strike: Callable[..., None]


LISTS = {
    "loss": ListKind("Dead fish", loss_of, losses.add_loss, losses.change_loss, losses.strike_loss),
    "move": ListKind("Fish moved", move_of, moves.add_move, moves.change_move, moves.strike_move),
    "tried": ListKind(
        "Already tried", tried_of, tried.add_tried, tried.change_tried, tried.strike_tried
    ),
}


def which(fields: dict[str, list[Field]], save: Callable[[Answers], Awaitable[None]]) -> FormDialog:
    """Return the dialog that first asks what is to be added."""
    first = Field("what", "Add", "choice", choices=KINDS, required=True)

    def asked(answers: Answers) -> list[Field]:
        return [first, *(fields[answers["what"].words] if "what" in answers else [])]

    return FormDialog("Add to the history", asked, save, widths=WIDTHS)


def _dated(key: str, day: date | None, today: date) -> Answers:
    return {key: Entry(dates.said(day, today), day)} if day else {}


def _worded(**words: str) -> Answers:
    return {key: Entry(text, text) for key, text in words.items() if text}
