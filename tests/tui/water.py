"""The water form from outside: which rows it has, and answers for them, all different."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from itertools import count
from pathlib import Path

from core.errors import BadInput
from core.practice.desk import Desk
from core.practice.who import people, practice
from tests.small import Small
from tui.app import FinroundsApp
from tui.widgets.field import Field, judge, unlikely
from tui.widgets.form import Form
from tui.workup.screen import WorkupScreen

INDENT = 9
"""Cells of a row before its label: the marker of the current row, and a word."""
TODAY = date(2026, 11, 25)


@dataclass(frozen=True)
class Rows:
    """The rows of a form and where their columns stand on the screen."""

    fields: list[Field]
    label_at: slice
    value_at: slice

    def saved(self, lines: Iterable[str]) -> set[tuple[str, str]]:
        """Return the figures that a screen marks as saved, each with the key of its row."""
        cut = {f.key: f.label[: self.label_at.stop - self.label_at.start - 1] for f in self.fields}
        return {
            (key, (line[self.value_at].split() or [""])[0])
            for line in lines
            for key, label in cut.items()
            if line.endswith(" saved") and line[self.label_at].startswith(label)
        }


async def rows_of(file: Path, made: Small, stage: str = "Water") -> Rows:
    """Return the rows of a stage, as the app itself shows them for this visit."""
    desk = Desk(file)
    try:
        found = desk.look(practice)
        assert found is not None
        app = FinroundsApp(desk, found, desk.look(people)[0])
        async with app.run_test() as pilot:
            await app.push_screen(WorkupScreen(made.visit, stage))
            await app.workers.wait_for_complete()
            await pilot.pause()
            form = app.screen.query_one(Form)
            label, value = form.row.widths.label, form.row.widths.value
            behind = INDENT + label + 1
            return Rows(
                list(form.fields), slice(INDENT, INDENT + label), slice(behind, behind + value)
            )
    finally:
        desk.close()


def numeric(field: Field) -> bool:
    """Whether a row takes a reading; the others are passed over with Enter."""
    return field.kind == "quantity"


def answers(field: Field) -> Iterator[str]:
    """Give answers that a row takes as likely, each different from all before it."""
    low, high = field.likely or (field.low or 0.0, field.high or 1000.0)
    step = max(0.01, round((high - low) / 200, 2))
    for number in count(1):
        text = f"{low + number * step:.2f}"
        try:
            entry = judge(field, text, TODAY)
        except BadInput:
            if number > 5000:
                raise
            continue
        if not unlikely(field, entry):
            yield text
