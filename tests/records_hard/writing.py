"""A process that is killed while it writes: started once, forked for each kill.

It takes the name of a file on each line of its input. A copy of it then works on that file until
it is killed, saying `number PID`, `open` when it begins to write, and `saved ID` when an edit is
on the disk; the original says after that how it ended. Starting Python and loading the app anew
for each kill would take minutes.
"""

from __future__ import annotations

import os
import sys
from collections import deque
from concurrent.futures import Future
from pathlib import Path
from tempfile import TemporaryDirectory

from core.records import engine
from core.records.writer import Writer
from tests.records_hard.work import begun, numbers, step

IN_HAND = 2
"""Edits that wait behind the one being written, as after fast typing."""


def say(words: str) -> None:
    """Write a line at once and whole."""
    os.write(1, f"{words}\n".encode())


def work(file: Path) -> None:
    """Open the records, make them if need be, and write until killed."""
    engine.open_records(file)
    writer = Writer()
    made = writer.submit(begun).result()
    say("open")
    waiting: deque[Future[str]] = deque()
    for number in writer.submit(numbers).result():
        waiting.append(writer.submit(step, made, number))
        if len(waiting) > IN_HAND:
            say(f"saved {waiting.popleft().result()}")


def warm() -> None:
    """Do everything once, so that what is loaded when first needed is there in every fork."""
    with TemporaryDirectory() as folder:
        engine.open_records(Path(folder) / "warm.db")
        with engine.connection():
            made = begun()
            for number in range(4):
                step(made, number)


def main() -> None:
    """Fork a writer for each file named."""
    warm()
    for line in sys.stdin:
        pid = os.fork()
        if pid == 0:
            say(f"number {os.getpid()}")
            work(Path(line.strip()))
        status = os.waitpid(pid, 0)[1]
        say(f"gone {os.waitstatus_to_exitcode(status)}")


if __name__ == "__main__":
    main()
