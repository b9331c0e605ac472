"""A desk in a process of its own: ``python -m tests.core.records.desk URL FOLDER NAME NUMBER``."""

from __future__ import annotations

import sys
import time
from dataclasses import replace
from pathlib import Path

from core import clock
from core.records import engine
from core.records.journal import edit
from core.records.keys import new_key
from core.records.place import place_of
from core.records.tables import Client


def work(name: str, number: int) -> None:
    """Enter clients, one edit each; each second one is changed at once."""
    for n in range(number):
        # A moment for the other one, who is never asked to wait longer than for one edit.
        time.sleep(0.01)
        row = Client(id=new_key(), name=f"{name} {n}")
        with edit("new client", who=name, at=clock.now()) as doing:
            doing.add(row)
            doing.change(Client, row.id, phone=f"{n}")


if __name__ == "__main__":
    url, folder, name, number = sys.argv[1:]
    engine.open_records(replace(place_of(url), folder=Path(folder)))
    with engine.connection():
        print("ready", flush=True)
        sys.stdin.readline()
        work(name, int(number))
