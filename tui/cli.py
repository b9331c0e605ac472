"""The command line; it loads Textual only when a screen is asked for."""

from __future__ import annotations

import argparse
import shlex
import sys
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from core.errors import BadInput, Refusal
from core.records import passphrase
from tui import ask, daily
from tui.saying import say

if TYPE_CHECKING:
    from core.practice.who import Worker

COMMANDS = (
    "paperwork",
    "backup",
    "restore",
    "check",
    "password",
    "export",
    "take-in",
    "copy-to",
    "keep-until",
    "antimicrobial",
    "log",
)
"""What works without the screen: each is a module of `tui.commands` with `HELP`, `arguments`
and `run`, which gives the text to print, or that and the exit code."""


def parser() -> argparse.ArgumentParser:
    """Return what may be said on the command line."""
    found = argparse.ArgumentParser(
        prog="finrounds",
        description="The rounds of a mobile aquatic veterinary practice.",
        epilog="Without anything it opens the practice's own records on the screen.",
    )
    found.add_argument(
        "--demo",
        action="store_true",
        help="open a throw-away copy of an invented practice, dated to today",
    )
    found.add_argument("--as", dest="worker", metavar="NAME", help="who is at work")
    commands = found.add_subparsers(dest="command", metavar="COMMAND")
    for name in COMMANDS:
        command = import_module(f"tui.commands.{name.replace('-', '_')}")
        command.arguments(commands.add_parser(name, help=command.HELP))
    return found


def main() -> int:
    """Run the command line; return the exit code."""
    options = parser().parse_args()
    passphrase.ask_with(ask.passphrase)
    try:
        if options.command:
            run = import_module(f"tui.commands.{options.command.replace('-', '_')}").run
            said = run(options)
            text, code = said if isinstance(said, tuple) else (said, 0)
            say(text, sys.stdout)
            return int(code)
        screen(demo_file() if options.demo else None, options.worker or "")
    except Refusal as error:
        say(f"{error.title}. {error.sentence} {error.todo}".strip(), sys.stderr)
        return 1
    return 0


def screen(demo: Path | None, name: str) -> None:
    """Open the records and the app on them; quitting finishes what is being saved."""
    from core.practice.access import has_pin
    from core.practice.desk import Desk
    from core.practice.who import people, practice
    from core.records.place import default_place

    desk = Desk(demo or default_place(), alone=True)
    try:
        found, known = desk.look(practice), desk.look(people)
        if name and found is not None:
            known = (named(name, known),)
        if found is not None and len(known) == 1 and not desk.look(has_pin, known[0].id):
            from tui.app import FinroundsApp

            FinroundsApp(desk, found, known[0]).run()
        else:
            from tui.start.app import StartingApp

            StartingApp(desk, found, known).run()
    finally:
        desk.close()
    if demo is None and (said := daily.back_up(desk.place)):
        say(said, sys.stderr)
    if demo is not None:
        say(stays(demo), sys.stderr)


def stays(demo: Path) -> str:
    """Say where the demo lies and the command that opens it again."""
    address = shlex.quote(f"sqlite:///{demo}")
    return (
        f"The invented practice stays in {demo.parent}\n"
        f"To open it again:\n  FINROUNDS_DATABASE={address} finrounds"
    )


def named(name: str, people: tuple[Worker, ...]) -> Worker:
    """Return the person a name means: the whole name, or a part that only one has.

    Raises
    ------
    BadInput
        When nobody or more than one is meant.
    """
    asked = name.strip().casefold()
    whole = [p for p in people if p.name.casefold() == asked]
    part = [p for p in people if asked in p.name.casefold()]
    found = whole or part
    if len(found) != 1:
        known = ", ".join(p.name for p in people)
        raise BadInput(f"{name} is not one person of this practice.", f"There are {known}.")
    return found[0]


def demo_file() -> Path:
    """Build the demo in a new folder, saying how far it is and where it lies."""
    import tempfile

    from fixtures.demo.build import build

    folder = Path(tempfile.mkdtemp(prefix="finrounds-demo-"))
    say(f"Building an invented practice in {folder}", sys.stderr)
    return build(folder, lambda words: say(f"  {words}", sys.stderr))


if __name__ == "__main__":
    sys.exit(main())
