"""``finrounds password``: encrypt the records, change the passphrase, or take it away."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from tui.saying import counted

if TYPE_CHECKING:
    from core.records.sealing import Rekeyed

HELP = "encrypt the records, change the passphrase, or take it away"
REMOVING = "Without a passphrase, whoever can read the disk can read the records and their backups."


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare what the command takes."""
    parser.add_argument(
        "--remove", action="store_true", help="leave the records plain, readable by anybody"
    )
    parser.add_argument("--yes", action="store_true", help="with --remove: do not ask again")
    parser.add_argument(
        "--delete-old",
        action="store_true",
        help="delete the old file once the new one is proved, instead of setting it aside",
    )


def run(options: argparse.Namespace) -> str:
    """Set, change or remove the passphrase, and return what is protected now and what is not."""
    from core import clock
    from core.records import passphrase, sealing
    from core.records.place import default_place
    from core.records.restore import file_of
    from tui import ask

    place = default_place()
    # Asked for first: who does not know the present one changes nothing. "" when there is none;
    # then there is nothing to remove, and `rekey` says so.
    key = passphrase.key_of(file_of(place))
    if options.remove and key and not options.yes:
        ask.sure(REMOVING, "--yes")
    new = "" if options.remove else ask.new_passphrase()
    done = sealing.rekey(place, new, clock.now(), delete_old=options.delete_old)
    return "\n".join(_said(done))


def _said(done: Rekeyed) -> list[str]:
    state = "encrypted" if done.sealed else "plain: whoever can read the file can read the records"
    said = [f"The records are {state}. {_edits(done)} carried over and compared."]
    if done.sealed:
        said.append("If the passphrase is lost, there is no way back: keep it where you keep keys.")
    if done.aside is not None:
        said.append(
            f"The old file was set aside as {done.aside.name}; it opens as it did before. "
            "Delete it when the new one opens."
        )
    if done.sealed:
        said.append(
            "Deleting does not wipe: on flash and with snapshots the old bytes may be found for "
            "some time. Papers are plain PDF files: protect their folder by other means."
        )
    if done.backups:
        state = "under the same passphrase" if done.sealed else "plain"
        are = "is" if len(done.backups) == 1 else "are"
        said.append(f"{counted(len(done.backups), 'backup')} beside them {are} {state} now.")
    said += [f"Readable by anybody, delete it when it is not needed: {file}" for file in done.plain]
    said += [f"Not changed, and as readable as before: {file}" for file in done.old_backups]
    return said


def _edits(done: Rekeyed) -> str:
    number = done.facts.edits
    return f"{counted(number, 'edit')} {'was' if number == 1 else 'were'}"
