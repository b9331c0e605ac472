"""The records that each released version wrote, put where a test wants them."""

from __future__ import annotations

import lzma
from datetime import date
from pathlib import Path

from tests.terminal import ROOT

FOLDER = ROOT / "fixtures" / "released"
NUMBERS = sorted(int(file.name.split(".")[0].split("-")[1]) for file in FOLDER.glob("*.xz"))
DAY = date(2026, 11, 25)
"""The day on which they were written."""


def put(number: int, folder: Path) -> Path:
    """Put the records of a schema number into a folder; return the file."""
    file = folder / "practice.db"
    packed = (FOLDER / f"schema-{number}.db.xz").read_bytes()
    file.write_bytes(lzma.decompress(packed))
    return file
