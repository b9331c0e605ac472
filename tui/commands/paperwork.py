"""``finrounds paperwork``: print what a day still owes, without the screen."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path

from core.errors import Refusal

HELP = "print what a day still owes, without the screen"


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare what the command takes."""
    parser.add_argument(
        "--day", "--date", type=date.fromisoformat, metavar="YYYY-MM-DD", help="instead of today"
    )
    parser.add_argument(
        "--out",
        type=Path,
        metavar="DIR",
        help="write the day's issued papers, its summary and a list of what is missing there",
    )


def run(options: argparse.Namespace) -> str:
    """Return what a day of the practice's own records still owes, as plain text.

    With a folder the day's papers are written there, and what was written is said instead.
    """
    from core import clock
    from core.practice import paperwork
    from core.practice.desk import Desk
    from core.practice.who import practice
    from core.records.place import default_place

    desk = Desk(default_place())
    try:
        found = desk.look(practice)
        if found is None:
            raise Refusal("There is no practice in these records yet.", "Start finrounds once.")
        asked = options.day or clock.today(found.zone)
        if options.out is None:
            return paperwork.end_of_day_text(desk.look(paperwork.end_of_day, asked))
        from core.practice import day_set

        made = desk.look(day_set.write_set, asked, desk.papers, options.out, clock.now())
        return "\n".join([made.text, "Written:", *(f"  {file}" for file in made.files)])
    finally:
        desk.close()
