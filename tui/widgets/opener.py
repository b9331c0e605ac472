"""Opening a paper with the system's own viewer, where there is a desktop to show it on."""

from __future__ import annotations

import os
import sys
from pathlib import Path

from tui.base import RoundsApp


def has_desktop() -> bool:
    """Whether there is a desktop; without one a text browser would take over the terminal."""
    if sys.platform in ("darwin", "win32"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def open_paper(app: RoundsApp, file: Path) -> None:
    """Open a paper, and in any case say where it lies."""
    if not file.is_file():
        app.notify(f"{file} is not there.", title="Missing file", severity="error", markup=False)
        return
    if has_desktop():
        app.open_url(file.resolve().as_uri())
    app.notify(str(file), title="The paper lies here", timeout=15, markup=False)
