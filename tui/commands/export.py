"""``finrounds export``: everything, in a folder of open formats."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from tui.saying import say

HELP = "write everything into a folder, in open formats"


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare what the command takes."""
    parser.add_argument("folder", type=Path, metavar="DIR", help="a new folder")


def run(options: argparse.Namespace) -> str:
    """Export the practice's own records; return what was written."""
    from core import clock
    from core.practice.desk import Desk
    from core.practice.export import export
    from core.records.place import default_place

    desk = Desk(default_place())
    try:
        return desk.look(export, options.folder, desk.papers, clock.now(), said).text
    finally:
        desk.close()


def said(words: str) -> None:
    """Say how far it is, beside what is printed at the end."""
    say(f"  {words}", sys.stderr)
