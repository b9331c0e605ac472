"""How the records behave as they grow, and what an entry costs above plain SQLite.

    python -m tests.bench.size --folder . --readings 1000,100000,1000000

The clients stay 2,000 while the readings grow (`tests.bench.find` has 50,000). For each size:
the median and the 95th percentile of opening a day, a visit, and of finding a client, on a real
disk; then an entry through the journal against one durable row written by sqlite3 alone, in
turn, so that the moods of the disk fall on both.
"""

from __future__ import annotations

import argparse
import json
import sqlite3
import statistics
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from core.practice import day, find, visits, water
from core.practice.door import edit
from core.records import engine, read
from core.records.keys import new_key
from core.records.sqlite import PRAGMAS
from core.records.tables import Client, Person, Reading
from tests.conftest import MOMENT
from tests.grown import Grown, grow

TIMES, ENTRIES, CLIENTS = 60, 300, 2000
AIM_GROWTH, AIM_ENTRY = 1.25, 1.9

LOOKS: dict[str, Callable[[Grown], object]] = {
    "open the day": lambda g: day.view(g.day),
    "open a visit": lambda g: (visits.opened(g.visit), water.view(g.visit, g.system)),
    "find a client": lambda g: find.find(g.client_name),
}


def timed(call: Callable[[], object], times: int) -> list[float]:
    """Return what each call took, in milliseconds."""
    took = []
    for _ in range(times):
        begun = time.perf_counter()
        call()
        took.append((time.perf_counter() - begun) * 1e3)
    return took


def told(took: list[float]) -> dict[str, float]:
    """Return the median and the 95th percentile."""
    ordered = sorted(took)
    return {
        "median_ms": round(statistics.median(ordered), 3),
        "p95_ms": round(ordered[int(0.95 * len(ordered))], 3),
    }


def sizes(folder: Path, wanted: list[int]) -> dict[str, object]:
    """Return the figures of each look at each size, the sizes taken in turn."""
    grown = {}
    for size in wanted:
        begun = time.perf_counter()
        grown[size] = grow(folder / f"{size}.db", size, CLIENTS)
        print(f"  {size} readings made in {time.perf_counter() - begun:.0f} s", flush=True)
    took: dict[str, dict[int, list[float]]] = {name: {n: [] for n in wanted} for name in LOOKS}
    for _ in range(3):
        for size, made in grown.items():
            engine.open_records(made.file)
            with engine.connection():
                for name, look in LOOKS.items():
                    look(made)
                    took[name][size] += timed(lambda m=made, go=look: go(m), TIMES // 3)
    found: dict[str, object] = {}
    for name, by_size in took.items():
        first = statistics.median(by_size[wanted[0]])
        found[name] = {
            str(size): {**told(ms), "ratio": round(statistics.median(ms) / first, 2)}
            for size, ms in by_size.items()
        }
    return found


def entry(folder: Path) -> dict[str, object]:
    """Return what an entry costs: one reading changed through the journal, and one plain row."""
    made = grow(folder / "entry.db", 1000)
    plain = sqlite3.connect(folder / "plain.db", isolation_level=None)
    for name, value in PRAGMAS.items():
        plain.execute(f"PRAGMA {name} = {value}")
    plain.execute("CREATE TABLE reading (id TEXT PRIMARY KEY, visit TEXT, value REAL, typed TEXT)")
    plain.execute("CREATE INDEX reading_visit ON reading (visit)")

    def raw() -> None:
        plain.execute("BEGIN IMMEDIATE")
        row = (new_key(), made.visit, 7.2, "7.2")
        plain.execute("INSERT INTO reading VALUES (?, ?, ?, ?)", row)
        plain.execute("COMMIT")

    def ours() -> None:
        row = Reading(
            id=new_key(),
            visit=made.visit,
            system=made.system,
            analyte="kh",
            value=7.2,
            typed="7.2",
            at=MOMENT,
        )
        with edit("reading", who=vet, at=MOMENT, visit=made.visit) as doing:
            doing.add(row)

    def client() -> None:
        row = Client(id=new_key(), name="Fenna Invented", phone="555 0123")
        with edit("client", who=vet, at=MOMENT) as doing:
            doing.add(row)

    engine.open_records(made.file)
    with engine.connection():
        vet = read.find(Person)[0].id
    took: dict[str, list[float]] = {"plain row": [], "entry": [], "new client": []}
    with engine.connection():
        for _ in range(ENTRIES // 20):
            for name, call in zip(took, (raw, ours, client), strict=True):
                took[name] += timed(call, 20)
    floor = statistics.median(took["plain row"])
    return {
        name: {**told(ms), "ratio": round(statistics.median(ms) / floor, 2)}
        for name, ms in took.items()
    }


def main() -> None:
    parser = argparse.ArgumentParser(description=(__doc__ or "").split("\n")[0])
    parser.add_argument("--folder", type=Path, default=Path(), help="on a real disk")
    parser.add_argument("--readings", default="1000,100000,1000000")
    options = parser.parse_args()
    wanted = [int(size) for size in options.readings.split(",")]
    with tempfile.TemporaryDirectory(dir=options.folder) as folder:
        found = {
            "aims": {"growth": AIM_GROWTH, "entry": AIM_ENTRY},
            "one entry": entry(Path(folder)),
            "looks": sizes(Path(folder), wanted),
        }
    print(json.dumps(found, indent=1))


if __name__ == "__main__":
    main()
