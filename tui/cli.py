"""The command line; it loads Textual only when a screen is asked for."""

from __future__ import annotations

import argparse
import sys
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from core.errors import BadInput, Refusal

if TYPE_CHECKING:
    from core.practice.who import Worker


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
    paperwork = commands.add_parser(
        "paperwork", help="print what a day still owes, without the screen"
    )
    paperwork.add_argument(
        "--day", "--date", type=date.fromisoformat, metavar="YYYY-MM-DD", help="instead of today"
    )
    paperwork.add_argument(
        "--out",
        type=Path,
        metavar="DIR",
        help="write the day's issued papers, its summary and a list of what is missing there",
    )
    return found


def main() -> int:
    """Run the command line; return the exit code."""
    options = parser().parse_args()
    try:
        if options.command == "paperwork":
            print(paperwork_of(options.day, options.out))
        else:
            screen(demo_file() if options.demo else None, options.worker or "")
    except Refusal as error:
        print(f"{error.title}. {error.sentence} {error.todo}".strip(), file=sys.stderr)
        return 1
    return 0


def screen(demo: Path | None, name: str) -> None:
    """Open the records and the app on them; quitting finishes what is being saved."""
    from core.practice.desk import Desk
    from core.practice.who import people, practice
    from core.records.engine import default_file

    desk = Desk(demo or default_file())
    try:
        found, known = desk.look(practice), desk.look(people)
        if name and found is not None:
            known = (named(name, known),)
        if found is not None and len(known) == 1:
            from tui.app import FinroundsApp

            FinroundsApp(desk, found, known[0]).run()
        else:
            from tui.start.app import StartingApp

            StartingApp(desk, found, known).run()
    finally:
        desk.close()
    if demo is not None:
        print(f"The invented practice stays in {demo.parent}", file=sys.stderr)


def paperwork_of(day: date | None, out: Path | None) -> str:
    """Return what a day of the practice's own records still owes, as plain text.

    With a folder the day's papers are written there, and what was written is said instead.
    """
    from core import clock
    from core.practice import paperwork
    from core.practice.desk import Desk
    from core.practice.who import practice
    from core.records.engine import default_file

    desk = Desk(default_file())
    try:
        found = desk.look(practice)
        if found is None:
            raise Refusal("There is no practice in these records yet.", "Start finrounds once.")
        asked = day or clock.today(found.zone)
        if out is None:
            return paperwork.end_of_day_text(desk.look(paperwork.end_of_day, asked))
        from core.practice import day_set

        made = desk.look(day_set.write_set, asked, desk.papers, out, clock.now())
        return "\n".join([made.text, "Written:", *(f"  {file}" for file in made.files)])
    finally:
        desk.close()


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
    print(f"Building an invented practice in {folder}", file=sys.stderr)
    return build(folder, lambda words: print(f"  {words}", file=sys.stderr))


if __name__ == "__main__":
    sys.exit(main())
