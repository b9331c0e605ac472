"""Everything that the practice has written, put into a folder in open formats.

The folder is written whole: beside its place first, then it gets its name, or nothing is there.
"""

from __future__ import annotations

import csv
import hashlib
import json
import os
import shutil
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, TextIO

from core import folders
from core.errors import Refusal
from core.practice.export_cells import cell, exact
from core.practice.export_words import readme
from core.practice.who import practice
from core.records import exchange
from core.records.migrate import VERSION
from core.records.tables import TABLES, Document, Row

FORMAT = "finrounds export"
FORMAT_NUMBER = 1
MANIFEST, README, JOURNAL = "manifest.json", "README.txt", "journal.jsonl"
TABLES_FOLDER, ROWS_FOLDER, PAPERS_FOLDER = "tables", "rows", "documents"
Progress = Callable[[str], None]
"""Told, in a few words, how far it is."""


@dataclass(frozen=True)
class Exported:
    """What was written, and where."""

    folder: Path
    rows: int
    edits: int
    papers: int
    wrong: tuple[str, ...]
    """Papers that are missing, or not as they were issued, a sentence each."""

    @property
    def text(self) -> str:
        """Say it to a person."""
        said = [
            f"Everything is in {self.folder}: {self.rows} rows, {self.edits} edits, "
            f"{self.papers} papers.",
            "PINs and recovery codes are not in it. README.txt there says what each file is.",
        ]
        return "\n".join([*said, *self.wrong])


def export(out: Path, papers: Path, now: datetime, progress: Progress) -> Exported:
    """Write everything into a new folder, as it stands at one moment.

    Parameters
    ----------
    out : Path
        A folder that is not there, or is empty.
    papers : Path
        The folder in which issued papers are kept.
    now : datetime
        The moment that stands in it.
    progress : callable
        Told how far it is.

    Raises
    ------
    Refusal
        When there is something in the folder already, no practice in the records, or the disk
        refuses; nothing is left then.
    """
    out = out.expanduser().absolute()
    with _whole(out) as part, exchange.steady():
        said = _head(now)
        _tables(part, said["counts"], progress)
        progress("the journal")
        _journal(part / JOURNAL)
        copied, wrong = _papers(part / PAPERS_FOLDER, papers, progress)
        said |= {"papers": copied, "papers_not_as_issued": wrong}
        _put(part / README, readme(said))
        said["files"] = dict(_hashes(part))
        _put(part / MANIFEST, json.dumps(said, ensure_ascii=False, indent=1))
        _flush(part)
    return Exported(out, sum(said["counts"].values()), said["edits"], copied, tuple(wrong))


def _head(now: datetime) -> dict[str, Any]:
    house = practice()
    if house is None:
        raise Refusal("There is no practice in these records yet.", "Start finrounds once.")
    return {
        "format": FORMAT,
        "number": FORMAT_NUMBER,
        "schema": VERSION,
        "practice": house.name,
        "made": f"{now.astimezone(UTC):%Y-%m-%d %H:%M}",
        **exchange.state(),
    }


@contextmanager
def _whole(out: Path) -> Iterator[Path]:
    """Give a folder beside the one that is wanted; it gets its name when all went well."""
    part: Path | None = None
    try:
        if out.exists() and (not out.is_dir() or any(out.iterdir())):
            raise Refusal(f"There is something in {out} already.", "Name a new folder.")
        folders.make(out.parent)
        part = Path(tempfile.mkdtemp(dir=out.parent, prefix=f".{out.name}-", suffix=".part"))
        yield part
        if out.exists():
            out.rmdir()
        part.replace(out)
        folders.flush(out.parent)
    except OSError as error:
        raise Refusal(
            f"The export can not be written to {out}: {error.strerror or error}.",
            "Nothing of it is left there. Make room, or name a folder on another disk.",
        ) from error
    finally:
        if part is not None:
            shutil.rmtree(part, ignore_errors=True)


def _opened(file: Path) -> TextIO:
    file.parent.mkdir(exist_ok=True)
    # A surrogate without its other half can not be written; its sign is, rather than nothing.
    return file.open("w", encoding="utf-8", errors="backslashreplace", newline="")


def _put(file: Path, text: str) -> None:
    with _opened(file) as to:
        to.write(text)


def _tables(part: Path, counts: dict[str, int], progress: Progress) -> None:
    for row in TABLES:
        if counts[row.table]:
            progress(f"{row.table}: {counts[row.table]} rows")
        table = part / TABLES_FOLDER / f"{row.table}.csv"
        with _opened(table) as cells, _opened(part / ROWS_FOLDER / f"{row.table}.jsonl") as objects:
            _rows(row, cells, objects)


def _rows(kind: type[Row], cells: TextIO, objects: TextIO) -> None:
    names = list(exchange.kinds(kind))
    table = csv.writer(cells)
    table.writerow(names)
    for row in exchange.rows(kind):
        values = {name: getattr(row, name) for name in names}
        table.writerow([cell(value) for value in values.values()])
        held = {name: exact(value) for name, value in values.items()}
        objects.write(json.dumps(held, ensure_ascii=False) + "\n")


def _journal(file: Path) -> None:
    with _opened(file) as journal:
        for edit in exchange.edits():
            journal.write(exchange.as_json(edit) + "\n")


def _papers(to: Path, papers: Path, progress: Progress) -> tuple[int, list[str]]:
    """Copy every issued paper; return how many, and a sentence for each that is not as issued."""
    to.mkdir()
    wrong, done = [], set()
    for paper in exchange.rows(Document):
        if not paper_name(paper.file) or not (papers / paper.file).is_file():
            wrong.append(f"The {paper.kind} {paper.number} is missing: {paper.file}.")
            continue
        if paper.file not in done:
            shutil.copyfile(papers / paper.file, to / paper.file)
            done.add(paper.file)
            if len(done) % 100 == 0:
                progress(f"{len(done)} papers")
        if sha256(to / paper.file) != paper.sha256:
            wrong.append(f"The {paper.kind} {paper.number} is NOT as it was issued: {paper.file}.")
    return len(done), wrong


def paper_name(name: str) -> bool:
    """Whether a name is that of a file and leads to no other folder."""
    return bool(name) and name not in (".", "..") and not set(name) & set("/\\:\0")


def sha256(file: Path) -> str:
    """Return the SHA-256 of a file's bytes."""
    with file.open("rb") as data:
        return hashlib.file_digest(data, "sha256").hexdigest()


def _hashes(part: Path) -> Iterator[tuple[str, str]]:
    for file in sorted(part.rglob("*")):
        if file.is_file():
            yield file.relative_to(part).as_posix(), sha256(file)


def _flush(part: Path) -> None:
    """Wait until everything is on the disk, the names too."""
    for file in part.rglob("*"):
        if file.is_file():
            with file.open("rb+") as data:
                os.fsync(data.fileno())
        else:
            folders.flush(file)
    folders.flush(part)
