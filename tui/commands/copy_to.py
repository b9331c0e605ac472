"""``finrounds copy-to``: carry the practice over to a server, or to another file."""

from __future__ import annotations

import argparse

from tui.commands.export import said

HELP = "carry the practice over into an empty PostgreSQL database, or to another file"


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare what the command takes."""
    parser.add_argument(
        "url",
        metavar="URL",
        help="postgresql://USER@HOST/NAME, or sqlite:///FILE; it must be empty",
    )


def run(options: argparse.Namespace) -> str:
    """Carry the practice's own records over and return what was compared."""
    from core.practice.copy import copy
    from core.records.place import default_place, place_of

    target = place_of(options.url)
    return f"{copy(default_place(), target, said).text}\nTo work there: {_how(target.said)}"


def _how(said: str) -> str:
    return f"set FINROUNDS_DATABASE to the address of {said}."
