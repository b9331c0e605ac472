"""How long one key takes in Find with many clients, and how often the right one is there.

    python -m tests.bench.find --clients 50000 --engine sqlite

The share is that of slips whose client is among the first five; one key is one search for what
stands there after it.
"""

from __future__ import annotations

import argparse
import json
import statistics
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from core.records import engine, index
from core.records.engine import execute
from core.records.index_documents import Document, document
from core.records.keys import new_key
from core.records.models import database
from core.records.place import Place, place_of
from tests import slips
from tests.servers import Server, opened

AIM_MS = 50
FIRST = 5


@contextmanager
def place(kind: str, folder: Path) -> Iterator[Place]:
    """Give a place for new records on an engine."""
    if kind == "sqlite":
        yield place_of(folder / "practice.db")
        return
    server = Server(folder)
    try:
        yield server.records()
    finally:
        server.stop()


def documents(known: list[slips.Someone], places: bool) -> Iterator[Document]:
    """Give what the index holds of clients, and of a site and two fish of each."""
    for one in known:
        row = one.client
        rest = f"{row.email} {row.address}"
        yield document("client", row.id, row.id, "", row.name, rest, row.phone)
        if places:
            yield document("site", new_key(), row.id, "", "home", row.address)
            yield document("fish_group", new_key(), row.id, "", "koi", "", key="koi")
            yield document("fish_group", new_key(), row.id, "", "Splash", "", "K-12", "goldfish")


def took(text: str) -> float:
    """Return how many milliseconds one search takes."""
    begun = time.perf_counter()
    index.search(text)
    return (time.perf_counter() - begun) * 1000


def measured(known: list[slips.Someone], many: int) -> dict[str, object]:
    """Return the shares that were found, and the times of whole questions and of single keys."""
    asked = slips.made(known, many)
    found = [(k, meant in [h.row for h in index.search(t)[:FIRST]]) for k, t, meant in asked]
    keys = [took(text[:n]) for _, text, _ in asked for n in range(2, len(text) + 1)]
    return {
        "found": {kind: round(share, 3) for kind, share in slips.shares(found).items()},
        "question_ms": spread([took(text) for _, text, _ in asked]),
        "key_ms": spread(keys),
    }


def spread(times: list[float]) -> dict[str, float]:
    ordered = sorted(times)
    return {
        "median": round(statistics.median(ordered), 1),
        "95 in 100": round(ordered[int(len(ordered) * 0.95)], 1),
        "most": round(ordered[-1], 1),
    }


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0] if __doc__ else "")
    parser.add_argument("--clients", type=int, default=50_000)
    parser.add_argument("--slips", type=int, default=200)
    parser.add_argument("--engine", choices=("sqlite", "postgresql"), default="sqlite")
    parser.add_argument("--places", action="store_true", help="a site and two fish for each")
    options = parser.parse_args()
    known = slips.people(options.clients)
    with (
        tempfile.TemporaryDirectory() as folder,
        place(options.engine, Path(folder)) as where,
        opened(where),
    ):
        begun = time.perf_counter()
        with database.atomic():
            index.fill(documents(known, options.places))
        filled = round(time.perf_counter() - begun, 1)
        if engine.kind() == "postgresql":
            execute("ANALYZE")
        figures = {"filled_s": filled, "aim_ms": AIM_MS, **measured(known, options.slips)}
    print(json.dumps({**vars(options), **figures}, indent=1))
    return 0


if __name__ == "__main__":
    sys.exit(main())
