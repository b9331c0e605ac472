"""Proving the records as a whole: one line for each thing looked at, with its count."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from core.errors import Refusal
from core.practice import salvages, signatures
from core.records import backup, files, health, index, verify
from core.records.altered import named
from core.records.engine import query
from core.records.migrate import VERSION
from core.records.place import Place
from core.records.read import find
from core.records.tables import Document

OLD_DAYS = 7
"""A newest backup older than this is said to be old."""
_CHUNK = 1 << 20
SALVAGED = (
    "The file was damaged, and a part of these signed records could not be read then. What they "
    "hold can not be proved: compare with a backup or the printed record."
)


@dataclass(frozen=True)
class Checked:
    """One thing that was looked at.

    Attributes
    ----------
    what, count : str
        What it is, and how many of it.
    wrong : tuple of str
        A sentence for each fault; empty when all holds.
    todo : str
        What to do about them, or about what the count says.
    """

    what: str
    count: str
    wrong: tuple[str, ...] = ()
    todo: str = ""


RESTORE = "Make no entries; finrounds restore with the newest backup, or restore --salvage."
ASK = "Keep this list; somebody has written beside the journal. Compare with a backup."


def check(place: Place, at: datetime) -> Iterator[Checked]:
    """Look at the open records, their papers and their backups; nothing is changed.

    Parameters
    ----------
    at : datetime
        The moment, for the age of the backups.
    """
    # Counted first, and by every table: a page that can not be read stops here.
    pages = health.broken_pages()
    yield Checked("pages", "not counted" if pages else _rows(), tuple(pages), RESTORE)
    if pages:
        return
    references = len(list(health.references()))
    lost = tuple(health.broken_references())
    yield Checked("references", f"{references} columns", lost, ASK)
    gone = tuple(health.missing_guards())
    yield Checked("guards", f"{len(health.guards_wanted())} triggers", gone, ASK)
    chain = tuple(verify.broken_chain())
    yield Checked("journal, the chain of edits", _count("edit", "edits"), chain, ASK)
    rows = tuple(verify.broken_rows())
    yield Checked("rows against the journal", _count("edit_line", "lines"), rows, ASK)
    yield from _signatures()
    yield from _exempt()
    yield from _papers(place.papers)
    yield _backups(place, at)


def _rows() -> str:
    return f"{health.counted()} rows"


def _count(table: str, words: str) -> str:
    [[count]] = query(f'SELECT count(*) FROM "{table}"')
    return f"{count} {words}"


def _signatures() -> Iterator[Checked]:
    """Prove the signed records; those that a salvage brought over are told apart."""
    faults, salvaged = signatures.faults(), salvages.visits()
    wrong = tuple(words for visit, words in faults if visit not in salvaged)
    yield Checked("signed records", _signed(), wrong, ASK)
    lost = {visit for visit, _ in faults} & salvaged.keys()
    for day in salvages.days():
        told = sorted(
            f"{named(visit)} could not be brought over whole." for visit in lost
            if salvaged[visit] == day
        )  # fmt: skip
        yield Checked(
            f"salvage of {day}",
            f"{salvages.rows(day)} rows without their history",
            tuple(told),
            SALVAGED,
        )


def _signed() -> str:
    found = query('SELECT count(*) FROM "visit" WHERE "signed_at" IS NOT NULL')
    return f"{found[0][0]} visits"


def _exempt() -> Iterator[Checked]:
    """Give the tables outside the journal, each with what can be proved of it."""
    steps = health.steps()
    proofs: dict[str, tuple[str, Callable[[], list[str]], str]] = {
        "device": (_count("device", "devices"), list, ""),
        "schema_step": (f"schema {max(steps, default=0)}", lambda: _steps(steps), RESTORE),
        "secret": (_count("secret", "people"), health.strangers, "Set those PINs anew."),
        "search": (
            _count("search_document", "documents"),
            index.check,
            "finrounds check --mend makes it anew from the rows.",
        ),
    }
    for table, why in verify.EXEMPT.items():
        count, wrong, todo = proofs[table]
        yield Checked(f"outside the journal: {table} ({why})", count, tuple(wrong()), todo)


def _steps(found: list[int]) -> list[str]:
    return [] if found == [*range(1, VERSION + 1)] else [f"Migrations that have run: {found}."]


def _papers(folder: Path) -> Iterator[Checked]:
    documents = find(Document, struck=True)
    wrong = [words for row in documents if (words := _paper(folder / row.file, row.sha256))]
    yield Checked(
        "papers as issued",
        f"{len(documents)} papers",
        tuple(wrong),
        f"Copy them back into {folder} from wherever copies went; the records say what was issued.",
    )


def _paper(file: Path, sha256: str) -> str:
    if not file.is_file():
        return f"{file.name} is not there."
    with file.open("rb") as opened:
        found = hashlib.sha256()
        while part := opened.read(_CHUNK):
            found.update(part)
    return "" if found.hexdigest() == sha256 else f"{file.name} is not as it was issued."


def _backups(place: Place, at: datetime) -> Checked:
    found = backup.dated(place)
    if not found:
        more = "" if place.file else " here, and the server's own pg_dump one there"
        return Checked("backups", "none yet", (), f"finrounds backup makes one{more}.")
    newest = found[-1]
    days = (at - newest.moment).days
    count = f"{len(found)}, the newest {newest.file.name}, {_age(days)}"
    todo = "finrounds backup makes a new one."
    try:
        files.proved(newest.file)
    except Refusal as error:
        return Checked("backups", count, (str(error),), todo)
    return Checked("backups", count, (), todo if days > OLD_DAYS else "")


def _age(days: int) -> str:
    return "of the last day" if days < 1 else f"{days} days old"
