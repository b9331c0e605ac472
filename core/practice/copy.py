"""Carrying a practice from its file to a server, or to another file: every edit as it was made."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar

from core.errors import Refusal
from core.papers.files import write_whole
from core.records import engine, exchange, fileguard, files, passphrase, secrets
from core.records.migrate import VERSION
from core.records.place import Place

T = TypeVar("T")
Progress = Callable[[str], None]
_SAY_EVERY = 5000


class NotCopied(Refusal):
    """The practice can not be carried over; the old records stay as they are."""

    title = "Not copied"


@dataclass(frozen=True)
class Copied:
    """What was carried over.

    Attributes
    ----------
    proved : dict
        What was compared and is equal on both sides, as `exchange.state` gives it.
    papers : int
        Papers that were copied into the folder of the new place.
    other : tuple of str
        Papers that were not, since another file of that name stands there.
    """

    source: Place
    target: Place
    proved: dict[str, Any]
    papers: int
    other: tuple[str, ...]

    @property
    def text(self) -> str:
        """Say it to a person."""
        counts = {table: n for table, n in self.proved["counts"].items() if n}
        hashes = self.proved["hashes"].items()
        beside = self.source.papers == self.target.papers
        told = "stay where they are" if beside else f"{self.papers} were copied there"
        return "\n".join(
            [
                f"Copied to {self.target.said}: {self.proved['edits']} edits, "
                f"{sum(counts.values())} rows. Counted on both sides, and equal:",
                *(f"  {table:<16}{number:>8}" for table, number in counts.items()),
                "Last hash of each machine, the same on both sides:",
                *(f"  {name}  {count} edits  {last[:16]}" for name, (count, last) in hashes),
                f"Papers lie in {self.target.papers}: {told}.",
                *(f"  not copied, another file stands there: {name}" for name in self.other),
                f"The old records stay as they were in {self.source.said}.",
            ]
        )


def copy(source: Place, target: Place, progress: Progress) -> Copied:
    """Carry the practice of a file over into an empty database or a new file; all of it or none.

    Parameters
    ----------
    source : Place
        A file of records; nothing is written to it.
    target : Place
        An empty database, or a file that is not there yet.
    progress : callable
        Told how far it is.

    Raises
    ------
    Refusal
        When the source is no file, is open or of another version; when the target holds records
        or tables already; when what came out is not what went in.
    """
    file = _readable(source, target)
    held = fileguard.hold(file)
    try:
        # The old records first: a wrong passphrase leaves the new place as it was.
        passphrase.key_of(file)
        engine.open_records(target)
        with files.reading(file, "live") as opened, exchange.carrying(), engine.connection():
            return _carried(source, target, opened, progress)
    finally:
        held.release()
        engine.let_go()


def _readable(source: Place, target: Place) -> Path:
    if source.file is None:
        raise NotCopied(
            f"{source.said} is no file.", "A server's own tools copy a database to another server."
        )
    if not source.file.exists():
        raise NotCopied(f"There are no records in {source.said}.", "Name the file that holds them.")
    if target.file is not None and target.file.absolute() == source.file.absolute():
        raise NotCopied("The records lie there already.", "Name another place.")
    sealed = passphrase.sealed(source.file)
    fileguard.look_before(source.file, VERSION, sealed=sealed)
    return source.file


def _carried(source: Place, target: Place, opened: Any, progress: Progress) -> Copied:
    def read(look: Callable[[], T]) -> T:
        return next(engine.from_beside(opened, (look() for _ in range(1))))

    _is_of_now(read(lambda: engine.query('SELECT max("number") FROM "schema_step"')))
    proved = read(exchange.state)
    edits = engine.from_beside(opened, exchange.edits())
    opens = read(secrets.all_rows)
    told = _told(edits, proved["edits"], progress)
    exchange.take_in(told, proved, lambda: secrets.put_all(opens))
    papers, other = _papers(source.papers, target.papers)
    return Copied(source, target, proved, papers, other)


def _is_of_now(steps: list[tuple[Any, ...]]) -> None:
    [[number]] = steps
    if number != VERSION:
        raise NotCopied(
            f"These records are of schema {number}, and this version writes {VERSION}.",
            "Open them once with finrounds, which makes a backup first; then copy.",
        )


def _told(
    edits: Iterator[exchange.Edit], whole: int, progress: Progress
) -> Iterator[exchange.Edit]:
    for number, edit in enumerate(edits, start=1):
        if number % _SAY_EVERY == 0:
            progress(f"{number} of {whole} edits")
        yield edit
    progress("comparing both sides")


def _papers(old: Path, new: Path) -> tuple[int, tuple[str, ...]]:
    """Copy the papers that the new folder lacks; return how many, and which stand there else."""
    if old.absolute() == new.absolute() or not old.is_dir():
        return 0, ()
    made, other = 0, []
    for paper in sorted(path for path in old.rglob("*") if path.is_file()):
        name, data = paper.relative_to(old), paper.read_bytes()
        there = new / name
        if not there.exists():
            write_whole(there, data)
            made += 1
        elif there.read_bytes() != data:
            other.append(str(name))
    return made, tuple(other)
