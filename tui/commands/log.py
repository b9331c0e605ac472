"""``finrounds log``: the dispensing log or the controlled-drug log."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path

from core.errors import Refusal

HELP = "the dispensing log, or the controlled-drug log with its balances"


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare what the command takes."""
    parser.add_argument("which", choices=("dispensing", "drugs"), help="which log")
    for name, dest, said in (
        ("--from", "since", "first day; else 1 January"),
        ("--to", "until", "last day; else today"),
    ):
        parser.add_argument(
            name, dest=dest, type=date.fromisoformat, metavar="YYYY-MM-DD", help=said
        )
    parser.add_argument("--out", type=Path, metavar="FILE", help="write it there, as .pdf or .txt")


def run(options: argparse.Namespace) -> str:
    """Return the log as plain text, or say where it was written."""
    from core import clock
    from core.practice import log_paper
    from core.practice.desk import Desk
    from core.practice.keep import Act
    from core.practice.who import practice
    from core.records.place import default_place

    desk = Desk(default_place())
    try:
        found = desk.look(practice)
        if found is None:
            raise Refusal("There is no practice in these records yet.", "Start finrounds once.")
        act = Act("", clock.now())
        until = options.until or clock.today(found.zone)
        asked = (act, options.which, options.since or until.replace(month=1, day=1), until)
        if options.out is None:
            return desk.look(log_paper.text, *asked).rstrip("\n")
        return f"Written: {desk.look(log_paper.write, *asked, options.out)}"
    finally:
        desk.close()
