"""Which file is taken in, and into which folder everything is exported."""

from __future__ import annotations

import asyncio
from datetime import date
from pathlib import Path

from core.errors import BadInput
from core.practice import csv_read
from core.practice.csv_cells import shown
from core.practice.csv_read import CsvFile
from tui.widgets.dialog import Answers, FormDialog
from tui.widgets.field import Entry, Field
from tui.widgets.row import Widths

WIDTHS = Widths(label=8, value=56)
_MOST_NAMED = 8


def path_of(text: str) -> Path:
    """Return the path that was typed, ``~`` and quotation marks around it understood."""
    return Path(text.strip().strip("'\"")).expanduser()


class AskFile(FormDialog):
    """A CSV file; a folder instead of it is answered with the files in it."""

    def __init__(self) -> None:
        self.path = Path()
        self.file: CsvFile | None = None
        field = Field("path", "File", example="~/clients.csv", required=True)
        super().__init__(
            "Take in clients, sites and waters from a CSV file",
            [field],
            self.read,
            self.said,
            widths=WIDTHS,
        )

    def said(self, _: Answers) -> str:
        """Return the lines under the form."""
        return (
            "Nothing is made before you have seen what would be, and what can not be.\n"
            "A folder lists the CSV files in it. Enter twice goes on. Esc leaves."
        )

    async def _keep(self, field: Field, entry: Entry) -> None:
        path = path_of(entry.words)
        if path.is_dir():
            raise BadInput(listed(path), "Type the name of one behind it.")
        self.file = await asyncio.to_thread(csv_read.read, path)
        self.path = path
        await super()._keep(field, entry)

    async def read(self, answers: Answers) -> None:
        """Go on: it was read when its name was accepted."""


def listed(folder: Path) -> str:
    """Return the CSV files of a folder in a sentence, the newest first."""
    try:
        found = [p for p in folder.iterdir() if p.suffix.lower() in (".csv", ".txt", ".tsv")]
        found.sort(key=lambda p: p.stat().st_mtime, reverse=True)
    except OSError as error:
        return f"{folder} can not be read: {error.strerror}."
    if not found:
        return f"{folder} is a folder, and there is no CSV file in it."
    names = ", ".join(shown(path.name) for path in found[:_MOST_NAMED])
    more = f" and {len(found) - _MOST_NAMED} more" if len(found) > _MOST_NAMED else ""
    return f"{folder} is a folder. In it: {names}{more}."


class AskFolder(FormDialog):
    """A new folder for an export."""

    def __init__(self, today: date) -> None:
        self.folder = Path()
        usual = f"~/finrounds-export-{today}"
        field = Field("folder", "Folder", example=usual, required=True)
        super().__init__(
            "Export everything, in open formats",
            [field],
            self.name_it,
            self.said,
            {"folder": Entry(usual, usual)},
            WIDTHS,
        )

    def said(self, _: Answers) -> str:
        """Return the lines under the form."""
        return (
            "Every table as CSV and as JSON, the whole journal, the papers, and a README of the "
            "columns.\nPINs are not in it; everything else can be read by whoever has the folder.\n"
            "Enter twice writes it. Esc leaves."
        )

    async def name_it(self, answers: Answers) -> None:
        """Take the folder; the writing goes on beside whatever is done next."""
        self.folder = path_of(answers["folder"].words)
        if self.folder.is_file() or (self.folder.is_dir() and any(self.folder.iterdir())):
            raise BadInput(f"There is something in {self.folder} already.", "Name a new folder.")
