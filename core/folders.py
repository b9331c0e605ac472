"""Folders whose names outlive a power cut."""

from __future__ import annotations

import os
from pathlib import Path


def make(folder: Path) -> None:
    """Make a folder and those above it that are missing; their names are on the disk then.

    Raises
    ------
    OSError
        When the disk refuses.
    """
    if folder.is_dir():
        return
    make(folder.parent)
    folder.mkdir(exist_ok=True)
    flush(folder.parent)


def flush(folder: Path) -> None:
    """Wait until every name in a folder is on the disk.

    Raises
    ------
    OSError
        When the disk refuses.
    """
    # Windows can not open a folder for this, and does not need it.
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
