"""Taking an export into empty records: all of it, exactly as it was, or nothing."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from core.errors import Refusal
from core.papers.files import write_whole
from core.practice.export import (
    FORMAT,
    FORMAT_NUMBER,
    JOURNAL,
    MANIFEST,
    PAPERS_FOLDER,
    Progress,
    paper_name,
    sha256,
)
from core.records import exchange
from core.records.migrate import VERSION

_PROVED = ("edits", "counts", "sums", "hashes")
_ASK_EVERY = 200


class NotAnExport(Refusal):
    """The folder is not an export that can be taken in, or not any more."""

    title = "Not taken in"


@dataclass(frozen=True)
class TakenIn:
    """What came in, compared with what the export says it holds."""

    said: dict[str, Any]
    papers: int

    @property
    def text(self) -> str:
        """Say it to a person."""
        rows = sum(self.said["counts"].values())
        machines = len(self.said["hashes"])
        on = "one machine" if machines == 1 else f"{machines} machines"
        sums = [
            f"  {name}: {total}"
            for name, total in self.said["sums"].items()
            if total not in ("0", "0.0")
        ]
        wrong = self.said["papers_not_as_issued"]
        return "\n".join(
            [
                f"Taken in: {rows} rows, {self.said['edits']} edits, "
                f"{self.papers} papers, written on {on}. Counts, sums and last hashes are "
                "those of the export.",
                *([] if not sums else ["Sums, equal on both sides:", *sums]),
                *([] if not wrong else ["Not as issued already in the export:", *wrong]),
                "PINs and recovery codes were not in it: they must be set again.",
            ]
        )


def take_in(folder: Path, papers: Path, progress: Progress) -> TakenIn:
    """Take an export into the open records, which must be empty.

    Parameters
    ----------
    folder : Path
        As `export` wrote it; nothing in it may have been changed.
    papers : Path
        The folder in which issued papers are kept.
    progress : callable
        Told how far it is.

    Raises
    ------
    Refusal
        When the records are not empty, a file was changed (it is named) or is missing, or the
        export was made by a newer version; nothing was taken in then.
    """
    folder = folder.expanduser().absolute()
    said = manifest(folder)
    if not exchange.is_empty():
        raise NotAnExport(
            "These records are not empty: there is a practice in them already.",
            "Name another place in FINROUNDS_DATABASE; an export is taken in whole or not at all.",
        )
    progress("looking whether every file is as it was written")
    prove(folder, said)
    total, wanted = said["edits"], {name: said[name] for name in _PROVED}
    with _papers(folder, said, papers) as copied, exchange.carrying():
        edits = _edits(folder / JOURNAL, lambda n: progress(f"edit {n} of {total}"))
        exchange.take_in(edits, wanted)
    return TakenIn(said, len(copied))


def manifest(folder: Path) -> dict[str, Any]:
    """Return what an export says of itself.

    Raises
    ------
    NotAnExport
        When the folder holds none, or one that only a newer version reads.
    """
    try:
        said = json.loads((folder / MANIFEST).read_bytes())
    except OSError as error:
        raise NotAnExport(
            f"There is no export in {folder}: {MANIFEST} can not be read.",
            "Name the folder that finrounds export has written.",
        ) from error
    except ValueError as error:
        raise _changed(MANIFEST) from error
    if not isinstance(said, dict) or said.get("format") != FORMAT:
        raise NotAnExport(f"{folder} is not an export of Finrounds.", "Name another folder.")
    newer = (said.get("number", 0), FORMAT_NUMBER), (said.get("schema", 0), VERSION)
    if any(not isinstance(theirs, int) or theirs > ours for theirs, ours in newer):
        raise NotAnExport(
            "This export was made by a newer version of Finrounds.",
            "Install the newer version; nothing was taken in.",
        )
    wanted = {*_PROVED, "files", "papers", "papers_not_as_issued"}
    if not wanted <= set(said) or not isinstance(said["files"], dict):
        raise _changed(MANIFEST)
    return said


def _changed(file: str) -> NotAnExport:
    return NotAnExport(
        f"{file} is not as the export wrote it.",
        "Nothing was taken in. Make the export again, or copy the folder again.",
    )


def prove(folder: Path, said: dict[str, Any]) -> None:
    """Look whether every file is the one that was written.

    Raises
    ------
    NotAnExport
        It names the first that is not.
    """
    for name, wanted in said["files"].items():
        file = folder / name
        if not all(paper_name(part) for part in name.split("/")):
            raise _changed(MANIFEST)
        if not file.is_file():
            raise NotAnExport(f"{name} is missing in {folder}.", "Copy the whole folder again.")
        if sha256(file) != wanted:
            raise _changed(name)


def _edits(file: Path, progress: Callable[[int], None]) -> Iterator[exchange.Edit]:
    with file.open(encoding="utf-8") as journal:
        for number, line in enumerate(journal, start=1):
            try:
                edit = exchange.from_json(line)
            except ValueError as error:
                raise _changed(f"Line {number} of {JOURNAL}") from error
            if not exchange.readable(edit):
                raise NotAnExport(
                    f"There is a character of no meaning in line {number} of {JOURNAL}.",
                    "Nothing was taken in: Finrounds has not written it so.",
                )
            if number % _ASK_EVERY == 0:
                progress(number)
            yield edit


@contextmanager
def _papers(folder: Path, said: dict[str, Any], to: Path) -> Iterator[list[Path]]:
    """Copy the papers, so that every row has its paper; take the copies away when it fails."""
    made: list[Path] = []
    prefix = f"{PAPERS_FOLDER}/"
    try:
        names = [n.removeprefix(prefix) for n in said["files"] if n.startswith(prefix)]
        for name in names:
            if not (to / name).exists():
                write_whole(to / name, (folder / PAPERS_FOLDER / name).read_bytes())
                made.append(to / name)
        yield [to / name for name in names]
    except BaseException as error:
        for file in made:
            with suppress(OSError):
                file.unlink()
        if isinstance(error, OSError):
            raise NotAnExport(
                f"The papers can not be written to {to}: {error.strerror}.",
                "Nothing was taken in. Make room there, then try again.",
            ) from error
        raise
