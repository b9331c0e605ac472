"""``finrounds check``: prove the records, their papers and their backups."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from core.practice.check import Checked
    from core.records.place import Place

HELP = "prove the records: file, journal, rows, signatures, papers, backups"
MOST_SHOWN = 10


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare what the command takes."""
    parser.add_argument("--mend", action="store_true", help="make the search index anew first")


def run(options: argparse.Namespace) -> tuple[str, int]:
    """Return a line for each thing that was looked at, and 1 when something is wrong."""
    from core import clock
    from core.practice import check
    from core.practice.desk import Desk
    from core.records import fileguard, health
    from core.records.place import default_place

    place = default_place()
    try:
        _look(place)
        desk = Desk(place)
    except fileguard.Damaged as error:
        return _damaged(place, str(error)), 1
    try:
        if options.mend:
            desk.save(health.mend_index).result()
        found = desk.look(lambda: list(check.check(place, clock.now())))
    finally:
        desk.close()
    wrong = sum(bool(line.wrong) for line in found)
    end = f"{wrong} of {len(found)} {_are(wrong)} wrong." if wrong else "Everything holds."
    said = [f"Records in {place.said}", *(text for line in found for text in _said(line)), end]
    return "\n".join(said), int(bool(wrong))


def _are(number: int) -> str:
    return "is" if number == 1 else "are"


def _look(place: Place) -> None:
    """Refuse an encrypted file that is damaged; of a plain one that is seen when it is opened."""
    from core.records import files, passphrase

    if place.file is not None and passphrase.sealed(place.file):
        files.proved(place.file)


def _said(line: Checked) -> list[str]:
    state = "WRONG" if line.wrong else "ok"
    shown = [f"    {words}" for words in line.wrong[:MOST_SHOWN]]
    if more := len(line.wrong) - len(shown):
        shown.append(f"    and {more} more")
    todo = [f"    {line.todo}"] if line.todo and (line.wrong or line.what == "backups") else []
    return [f"  {state:5}  {line.what}: {line.count}", *shown, *todo]


def _damaged(place: Place, told: str) -> str:
    """Say what can still be read of a file that can not be opened."""
    from core.records import readable

    assert place.file is not None
    found = readable.readable(place.file)
    rows = sum(len(rows) for rows in found.rows.values())
    return (
        f"{told}\nStill readable in it: {len(found.edits)} edits, {rows} rows. "
        "finrounds restore --salvage brings them into a new file."
    )
