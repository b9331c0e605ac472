"""``finrounds backup``: a dated copy of the records, proved."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from tui.saying import counted

if TYPE_CHECKING:
    from core.records.backup import Made

HELP = "make a dated copy of the records, and prove it"
BIG = 5000
"""Pages from which on it is said how far a copy is: some twenty megabytes."""


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare what the command takes."""
    parser.add_argument(
        "--to", type=Path, metavar="DIR", help="another folder, such as one on a stick"
    )


def run(options: argparse.Namespace) -> str:
    """Make the backup and return what was made."""
    from core import clock
    from core.records import backup
    from core.records.place import default_place

    place, at = default_place(), clock.now()
    if options.to is None:
        made = backup.make(place, at, progress())
    else:
        made = backup.make_in(place, options.to, at, progress())
    return (
        f"Backup {made.file}\n{counted(made.facts.edits, 'edit')}, {made.size / 1e6:.1f} MB; "
        "it was opened, and is whole and the same. Papers are not in it: copy the folder "
        f"{place.papers} too.{taken_away(made)}"
    )


def taken_away(made: Made) -> str:
    """Name the backups that the rule took away by their dates; "" when there are none."""
    if not made.gone:
        return ""
    dates = [f"{one.moment:%Y-%m-%d %H:%M:%S}" for one in made.gone]
    which = f"{', '.join(dates[:-1])} and {dates[-1]}" if dates[1:] else dates[0]
    taken = "backups" if dates[1:] else "backup"
    were = "were" if dates[1:] else "was"
    return (
        "\nThe newest backup of each day and month stays, so that the older "
        f"{taken} of {which} UTC {were} taken away."
    )


def progress() -> Callable[[int, int], None] | None:
    """Return what says on a terminal how far a big copy is; None where nobody looks on."""
    if not sys.stderr.isatty():
        return None

    def said(done: int, whole: int) -> None:
        if whole > BIG:
            end = "\n" if done == whole else "\r"
            print(f"  {100 * done // whole:3} % copied", end=end, file=sys.stderr, flush=True)

    return said
