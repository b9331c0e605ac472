"""Matching the columns of a file: each of ours, and which one of the file it is."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from core.practice.csv_cells import kinds, shown
from core.practice.csv_columns import COLUMNS, Column, Every, Match, first_values, guess
from core.practice.csv_read import CsvFile
from core.practice.csv_write import Made
from tui.keys import bind
from tui.widgets.dialog import Answers, FormDialog
from tui.widgets.field import Choice, Entry, Field
from tui.widgets.row import Shown, Widths

NONE = Choice("", "", "not in the file")
_EVERY = "every "
_SECTIONS = {"name": "", "first": "The client", "site": "The site", "system": "The water"}


class MatchColumns(FormDialog):
    """A row for each of our columns, filled with what the headings say."""

    OPENS = False
    REMEMBERS = False
    CSS = "MatchColumns #dialog #form { max-height: 14; }"
    BINDINGS = [bind("finish", "finish", "Look through the rows")]

    def __init__(self, path: Path, file: CsvFile) -> None:
        self.path = path
        self.file = file
        self.made: Made | None = None
        self._named = dict(_named(file))
        answers = {key: self._entry(source) for key, source in guess(file.header).items()}
        super().__init__(
            f"{shown(path.name)}: {len(file.lines)} rows. Which column is what?",
            [self._field(column) for column in COLUMNS],
            self.nothing,
            self.said,
            answers,
            Widths(label=18, value=20),
        )

    def _entry(self, source: int | Every) -> Entry:
        return Entry(self._named[str(source)], str(source))

    def _field(self, column: Column) -> Field:
        picks = [Choice("", key, label) for key, label in self._named.items()]
        if column.key == "kind":
            picks += [
                Choice("", _EVERY + key, f"in every row: {name}") for key, name in kinds().items()
            ]
        return Field(
            column.key,
            column.label,
            "pick",
            choices=(*picks, NONE),
            section=_SECTIONS.get(column.key, ""),
            hint="not in the file",
        )

    def _shown(self, field: Field) -> Shown:
        entry = self.answers.get(field.key)
        if entry is None or not entry.words:
            return Shown(pending=True)
        return Shown(entry.text, pending=True, note=self._first(entry))

    def _first(self, entry: Entry) -> str:
        if entry.words.startswith(_EVERY):
            return "the same in every row"
        return first_values(self.file, int(entry.words))

    def said(self, answers: Answers) -> str:
        """Return the lines under the form: what stands in the column of the current row."""
        keys = "Enter chooses another column. f looks through the rows. Esc leaves."
        if not self.is_mounted:
            return keys
        field = self.form.field
        entry = answers.get(field.key)
        first = self._first(entry) if entry and entry.words else "not in the file"
        return f"{field.label}: {first}\n{keys}"

    def on_form_moved(self) -> None:
        """Say what stands in the column of the row."""
        self._paint_below()

    def matched(self) -> Match:
        """Return where each of our columns comes from."""
        found: Match = {}
        for key, entry in self.answers.items():
            if entry.words.startswith(_EVERY):
                found[key] = Every(entry.words.removeprefix(_EVERY))
            elif entry.words:
                found[key] = int(entry.words)
        return found

    async def nothing(self, answers: Answers) -> None:
        """Make nothing: the rows are looked through first."""

    async def action_finish(self) -> None:
        """Go on to what would be made; come back here when it is not."""
        from tui.take_in.dry_run import DryRun

        if not self._stands_unaccepted():
            self.app.push_screen(DryRun(self.path, self.file, self.matched()), self._after)

    def _after(self, made: Made | None) -> None:
        if made is not None:
            self.made = made
            self.dismiss(True)


def _named(file: CsvFile) -> Iterator[tuple[str, str]]:
    """Give each column of a file with a name that no other has."""
    names = [shown(file.column(at)) for at in range(len(file.header))]
    for at, name in enumerate(names):
        yield str(at), name if names.count(name) == 1 else f"{name} ({at + 1})"
