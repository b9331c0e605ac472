"""Files that must not be opened for writing, made from a good one or from nothing."""

from __future__ import annotations

import random
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

PAGE = 4096


def noise(file: Path) -> None:
    """Write noise over one page in the middle."""
    content = bytearray(file.read_bytes())
    middle = len(content) // PAGE // 2 * PAGE
    content[middle : middle + PAGE] = random.Random(7).randbytes(PAGE)
    file.write_bytes(content)


def noise_at_start(file: Path) -> None:
    file.write_bytes(random.Random(8).randbytes(PAGE) + file.read_bytes()[PAGE:])


def half(file: Path) -> None:
    file.write_bytes(file.read_bytes()[: file.stat().st_size // 2])


def torn(file: Path) -> None:
    """Cut it in the middle of its first page."""
    file.write_bytes(file.read_bytes()[:700])


def emptied(file: Path) -> None:
    (file.parent / "papers").mkdir()
    file.write_bytes(b"")


def one_byte(file: Path) -> None:
    file.write_bytes(b"S")


def text(file: Path) -> None:
    file.write_text("koi pond, 9000 l\n" * 50)


def foreign(file: Path) -> None:
    file.unlink()
    with closing(sqlite3.connect(file)) as other, other:
        other.execute("CREATE TABLE songs (id INTEGER PRIMARY KEY, name TEXT)")


def newer(file: Path) -> None:
    with closing(sqlite3.connect(file)) as file_of_ours, file_of_ours:
        file_of_ours.execute("INSERT INTO schema_step VALUES (9999, '2099-01-01T00:00:00+00:00')")


SPOILT: dict[Callable[[Path], None], str] = {
    noise: "are damaged: a part of it can not be read",
    noise_at_start: "can not be opened: it holds no Finrounds records, or its beginning is damaged",
    half: "are damaged: its end is missing",
    torn: "are damaged: its end is missing",
    emptied: "is empty, though papers or backups stand beside it",
    one_byte: "can not be opened: it holds no Finrounds records, or its beginning is damaged",
    text: "can not be opened: it holds no Finrounds records, or its beginning is damaged",
    foreign: "is a database of another program",
    newer: "were made by a newer version of Finrounds",
}
"""How a file may be spoilt, and what is said of it."""
