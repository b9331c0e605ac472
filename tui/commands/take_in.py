"""``finrounds take-in``: an export, into empty records."""

from __future__ import annotations

import argparse
from pathlib import Path

from core.errors import Refusal
from tui.commands.export import said

HELP = "take an export into empty records"


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare what the command takes."""
    parser.add_argument("folder", type=Path, metavar="DIR", help="as finrounds export wrote it")


def run(options: argparse.Namespace) -> str:
    """Take an export into the practice's own records, which must be empty."""
    from core.practice.desk import Desk
    from core.practice.take_in import manifest, take_in
    from core.records.place import default_place

    if options.folder.is_file():
        raise Refusal(
            f"{options.folder} is a file, and an export is a folder.",
            "A CSV file of clients is taken in on the screen, where its columns are matched.",
        )
    manifest(options.folder)
    place = default_place()
    desk = Desk(place)
    try:
        found = desk.save(take_in, options.folder, desk.papers, said).result()
        return f"{found.text}\nThe records are in {place.said}."
    finally:
        desk.close()
