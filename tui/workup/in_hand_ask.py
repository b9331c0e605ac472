"""The dialogs of In hand: the next fish, and a lesion with kind, place and size."""

from __future__ import annotations

from collections.abc import Awaitable, Callable

from core.numbers import plain
from core.practice import in_hand
from core.practice.in_hand import HandView, Sore
from core.practice.names import name
from core.records.tables import Lesion
from tui.widgets.dialog import Answers, FormDialog
from tui.widgets.field import Choice, Entry, Field


def next_fish(
    view: HandView, finish: Callable[[str, int, str | None], Awaitable[None]]
) -> FormDialog:
    """Return the dialog that takes the next fish or scoop in hand.

    Parameters
    ----------
    finish : callable
        Gets label, count and the id of the group.
    """
    groups = tuple(Choice("", g.id, g.name) for g in view.groups)
    label = f"fish {view.taken + 1}"
    fields = [
        Field("group", "Which group", "pick", choices=groups),
        Field("label", "Label", "words", example=label, required=True),
        Field("count", "How many", "count", low=1, high=100_000, example="1", required=True),
    ]
    start = {"label": Entry(label, label), "count": Entry("1", 1)}
    if len(view.groups) == 1 or view.fish:
        last = view.fish[-1].group if view.fish else None
        group = last or view.groups[0]
        start["group"] = Entry(group.name, group.id)

    async def done(answers: Answers) -> None:
        group = answers["group"].words if "group" in answers else None
        await finish(answers["label"].words, int(answers["count"].number), group)

    if not groups:
        fields = fields[1:]
    title = "Next fish, or a scoop of several. f when it is right"
    return FormDialog(title, fields, done, answers=start)


def _listed(part: str) -> tuple[Choice, ...]:
    return tuple(Choice(c.letter, c.key, c.name) for c in in_hand.choices("lesions", part))


def lesion(finish: Callable[[Sore], Awaitable[None]], old: Lesion | None = None) -> FormDialog:
    """Return the dialog for a lesion, new or to be corrected."""
    fields = [
        Field("kind", "Kind", "choice", choices=_listed("lesion"), required=True),
        Field("place", "Place", "choice", choices=_listed("place"), required=True),
        Field(
            *("size", "Longest way, mm", "quantity", "plain", "", 0.1, 2000),
            example="9",
            hint="by the ruler",
        ),
        Field("note", "Note", "words", example="raised edge, no slime"),
    ]

    async def done(answers: Answers) -> None:
        size = answers["size"].number if "size" in answers else None
        note = answers["note"].words if "note" in answers else ""
        await finish(Sore(answers["kind"].words, answers["place"].words, size, note))

    title = "Correct a lesion" if old else "A lesion"
    return FormDialog(title, fields, done, answers=_stands(old) if old else None)


def _stands(old: Lesion) -> Answers:
    found = {
        "kind": Entry(name("lesion", old.kind), old.kind),
        "place": Entry(name("place", old.place), old.place),
    }
    if old.size_mm is not None:
        found["size"] = Entry(plain(old.size_mm), old.size_mm)
    if old.note:
        found["note"] = Entry(old.note, old.note)
    return found
