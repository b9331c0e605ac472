"""Keeps the records that this version writes, for the climbs of all later ones.

    python -m tests.records_keep.release

Run once, by hand, when a version with a new schema is released; a file that is there stays.
"""

from __future__ import annotations

import lzma
import sqlite3
import tempfile
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

from core.records.migrate import VERSION
from fixtures.demo.build import build
from tests.records_keep.released import DAY, FOLDER


def pack(target: Path) -> None:
    """Build the demo, dated to the day of the tests, into one packed file."""
    with tempfile.TemporaryDirectory() as folder:
        at = datetime(DAY.year, DAY.month, DAY.day, 8, 30, tzinfo=UTC)
        file = build(Path(folder), now=at, zone="Etc/UTC")
        with closing(sqlite3.connect(file, isolation_level=None)) as opened:
            opened.execute("PRAGMA journal_mode = DELETE").fetchall()
            opened.execute("VACUUM")
        data = lzma.compress(file.read_bytes(), preset=9 | lzma.PRESET_EXTREME)
    with target.open("xb") as new:
        new.write(data)


if __name__ == "__main__":
    pack(FOLDER / f"schema-{VERSION}.db.xz")
