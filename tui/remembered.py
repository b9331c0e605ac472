"""What this machine remembers beside the records: the theme that was chosen last."""

from __future__ import annotations

from pathlib import Path

from core.errors import Refusal
from tui.themes import THEMES

FILE = "theme.txt"


def theme(folder: Path, usual: str) -> str:
    """Return the name of the theme that was worn last on this machine."""
    try:
        said = (folder / FILE).read_text("utf-8").strip()
    except (OSError, UnicodeDecodeError):
        return usual
    return said if said in {t.name for t in THEMES} else usual


def keep_theme(folder: Path, name: str) -> None:
    """Remember the theme.

    Raises
    ------
    Refusal
        When the folder can not be written; the theme is worn all the same.
    """
    try:
        (folder / FILE).write_text(name, "utf-8")
    except OSError as error:
        raise Refusal(
            f"The theme is not remembered: {error.strerror}.", "It lasts until the app ends."
        ) from error
