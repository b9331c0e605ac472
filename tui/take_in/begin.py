"""What the list of commands offers of files: clients from a CSV file in, everything out."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from textual.app import SystemCommand

from core import clock
from core.practice.csv_read import CsvFile
from tui.base import RoundsApp


def commands(app: RoundsApp) -> Iterable[SystemCommand]:
    """Give the commands."""
    yield SystemCommand(
        "Take in clients",
        "Clients, sites and waters from a CSV file, looked through before anything is made",
        lambda: ask_file(app),
    )
    yield SystemCommand(
        "Export everything",
        "All records and papers into a folder, in open formats",
        lambda: ask_folder(app),
    )


def ask_file(app: RoundsApp) -> None:
    """Ask for a file, then match its columns."""
    from tui.take_in.ask import AskFile

    dialog = AskFile()

    def after(read: bool | None) -> None:
        if read and dialog.file is not None:
            match_columns(app, dialog.path, dialog.file)

    app.push_screen(dialog, after)


def match_columns(app: RoundsApp, path: Path, file: CsvFile) -> None:
    """Match the columns of a file; say at the end what was made."""
    from tui.take_in.match import MatchColumns
    from tui.widgets.panel import Panel

    dialog = MatchColumns(path, file)

    def after(made: bool | None) -> None:
        if made and dialog.made is not None:
            said = f"{dialog.made.text}\n\nIt was one act: - takes all of it back."
            app.push_screen(Panel(f"Taken in from {path.name}", said))

    app.push_screen(dialog, after)


def ask_folder(app: RoundsApp) -> None:
    """Ask for a folder, then write everything there while the app goes on."""
    from tui.take_in.ask import AskFolder

    dialog = AskFolder(app.today())

    def after(named: bool | None) -> None:
        if named:
            app.run_worker(_export(app, dialog.folder), group="export", exclusive=True)

    app.push_screen(dialog, after)


async def _export(app: RoundsApp, folder: Path) -> None:
    from core.practice.export import export

    def progress(words: str) -> None:
        app.call_from_thread(app.notify, words, title="Exporting", timeout=60)

    made = await app.look(export, folder, app.desk.papers, clock.now(), progress)
    # Beside the screen and not over it: something else may be being typed there by now.
    app.notify(made.text, title="Exported", timeout=30)
