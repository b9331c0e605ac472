"""``finrounds restore``: put a backup, or what can still be read, in the place of the records."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from core.errors import BadInput
from tui.saying import counted

if TYPE_CHECKING:
    from core.records.place import Place
    from core.records.restore import Restored

HELP = "put a backup in the place of the records, which are set aside"


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare what the command takes."""
    parser.add_argument("file", type=Path, nargs="?", metavar="FILE", help="the backup")
    parser.add_argument(
        "--salvage",
        action="store_true",
        help="instead of a backup, bring over what can still be read of damaged records",
    )


def run(options: argparse.Namespace) -> str:
    """Restore or salvage, and return what came back and what did not."""
    from core.records.place import default_place

    if (options.file is None) != options.salvage:
        raise BadInput(
            "Name the backup to restore, or say --salvage.",
            "finrounds restore backups/practice-2026-11-25-083000.db",
        )
    return (
        _salvaged(default_place()) if options.salvage else _restored(default_place(), options.file)
    )


def _restored(place: Place, file: Path) -> str:
    from core import clock
    from core.records import restore
    from tui.commands.backup import progress

    made = restore.restore(place, file, clock.now(), progress())
    until = (
        f", the last of {made.facts.newest[:16].replace('T', ' ')} UTC" if made.facts.last else ""
    )
    edits = counted(made.facts.edits, "edit")
    said = [f"The records in {place.said} are those of {file}: {edits}{until}."]
    if made.aside is not None:
        said.append(
            f"What stood there before was set aside as {made.aside.name}; nothing of it is lost."
        )
    return "\n".join([*said, *_missing(made), *_papers(place)])


def _missing(made: Restored) -> list[str]:
    if made.missing is None:
        return ["The file that stood there can not be read: what the backup lacks is not known."]
    if not made.missing:
        return ["Nothing that stood there is missing in it."]
    total = sum(line.edits for line in made.missing)
    lines = [f"  {line.day}  {line.edits:5}  {line.who}" for line in made.missing]
    return [
        f"Missing in it, to be entered again from what was set aside: {counted(total, 'edit')}",
        *lines,
    ]


def _papers(place: Place) -> list[str]:
    """Say which issued papers are not in their folder."""
    from core import clock
    from core.practice.check import check
    from core.practice.desk import Desk

    desk = Desk(place)
    try:
        found = desk.look(lambda: list(check(place, clock.now())))
    finally:
        desk.close()
    said = []
    for line in found:
        said += [f"{line.what}: {words}" for words in line.wrong]
    return said or ["Everything in it was checked and holds, its papers included."]


def _salvaged(place: Place) -> str:
    from core import clock
    from core.records import salvage

    made = salvage.salvage(place, clock.now())
    until = f", until {made.until[:16].replace('T', ' ')} UTC" if made.until else ""
    said = [
        f"Brought over: {made.edits} of {made.of} edits that can be read, each proved{until}.",
    ]
    if made.broken:
        said.append(
            f"The chain of edits is broken {made.broken}. Each edit is proved by the one before "
            "it, so that of what comes after the break only the rows came over."
        )
    said.append(f"Rows brought over without their history: {made.rows}.")
    if made.left is not None:
        said.append(
            f"Rows that have no place in the records: {made.left_rows}, in {made.left.name}."
        )
    if made.aside is not None:
        said.append(f"The damaged file lies unchanged beside as {made.aside.name}.")
    said.append(
        "Compare with the newest backup before going on; finrounds check names the signed records "
        "that could not be brought over whole."
    )
    return "\n".join(said)
