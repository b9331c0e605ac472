"""A process for which files may not grow: what it is told, and how it goes on when they may.

`RLIMIT_FSIZE` needs no rights, but binds the whole process, the one of the tests would not get
over it. It prints one JSON object: what a person was told, by how many bytes files had room for.
"""

from __future__ import annotations

import json
import resource
import sys
from concurrent.futures import Future
from pathlib import Path
from typing import Any

from core.errors import Refusal
from core.papers.files import write_whole
from core.records import engine
from core.records.writer import Writer
from tests.core.records.checks import all_hold, edits
from tests.records_hard.work import begun, step

ROOMS = (0, 30, 3000, 9000, 30000)
"""Bytes that the log may still grow by: none, a part of a page's head, a page or some."""
MOST = 400


def allow(size: int) -> None:
    """Let files be as large as this, or as large as they like."""
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, resource.RLIM_INFINITY))


def told(future: Future[Any]) -> str:
    """Return what was said of a write that was refused; nothing when it was not."""
    try:
        future.result(timeout=30)
    except Refusal as error:
        return f"{error.title}. {error}"
    return ""


def without_room(writer: Writer, made: Any, log: Path, first: int, room: int) -> tuple[int, str]:
    """Work until the disk is full, then make room and do the same again."""
    allow(log.stat().st_size + room)
    before = len(edits())
    for number in range(first, first + MOST):
        said = told(writer.submit(step, made, number))
        if said:
            break
    done = number - first
    assert len(edits()) == before + done
    all_hold()
    allow(resource.RLIM_INFINITY)
    assert told(writer.submit(step, made, number)) == ""
    assert len(edits()) == before + done + 1
    all_hold()
    return number + 1, said


def paper_without_room(writer: Writer, paper: Path) -> str:
    """Write a new paper over an old one while there is no room for it, then again with room."""
    write_whole(paper, b"old")
    allow(1000)
    said = told(writer.submit(write_whole, paper, b"new" * 1000))
    allow(resource.RLIM_INFINITY)
    assert paper.read_bytes() == b"old"
    assert list(paper.parent.iterdir()) == [paper]
    assert told(writer.submit(write_whole, paper, b"new" * 1000)) == ""
    assert paper.read_bytes() == b"new" * 1000
    return said


def main(file: Path) -> None:
    """Go through all of it on a new file of records."""
    engine.open_records(file)
    writer = Writer()
    made = writer.submit(begun).result()
    found, number = {}, 0
    with engine.connection():
        for room in ROOMS:
            log = file.with_name(f"{file.name}-wal")
            number, found[str(room)] = without_room(writer, made, log, number, room)
    found["paper"] = paper_without_room(writer, file.parent / "papers" / "one.pdf")
    writer.close()
    print(json.dumps(found))


if __name__ == "__main__":
    main(Path(sys.argv[1]))
