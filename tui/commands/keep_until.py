"""``finrounds keep-until``: list records whose date has passed and those held."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path

from core.errors import Refusal

HELP = "list the records whose keep-until date has passed and those that are held"


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare what the command takes."""
    parser.add_argument(
        "--day", type=date.fromisoformat, metavar="YYYY-MM-DD", help="instead of today"
    )
    parser.add_argument("--out", type=Path, metavar="FILE", help="write the list there")


def run(options: argparse.Namespace) -> str:
    """Return the list, as plain text, or say where it was written; nothing is deleted."""
    from core import clock
    from core.practice import keeping_list
    from core.practice.desk import Desk
    from core.practice.who import practice
    from core.records.place import default_place

    desk = Desk(default_place())
    try:
        found = desk.look(practice)
        if found is None:
            raise Refusal("There is no practice in these records yet.", "Start finrounds once.")
        text = desk.look(keeping_list.text, options.day or clock.today(found.zone))
    finally:
        desk.close()
    if options.out is None:
        return text
    return f"Written: {keeping_list.write(options.out, text)}"
