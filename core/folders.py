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


def free_name(wanted: Path) -> Path:
    """Return a name that nobody has: this one, or with a number behind it."""
    names = (wanted.with_name(f"{wanted.stem}-{n}{wanted.suffix}") for n in range(2, 1000))
    return wanted if not wanted.exists() else next(name for name in names if not name.exists())


def second_name(file: Path, other: Path) -> None:
    """Give a file a second name, which stays when the first is given to another file.

    Raises
    ------
    OSError
        When the disk refuses.
    """
    try:
        os.link(file, other)
    except OSError:  # a disk that knows no second names
        import shutil

        shutil.copyfile(file, other)
        with other.open("r+b") as copied:
            os.fsync(copied.fileno())
    flush(other.parent)
