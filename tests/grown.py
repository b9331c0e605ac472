"""A practice grown to any size, put straight into its file: for benchmarks and query plans."""

from __future__ import annotations

import json
import random
import sqlite3
from collections import defaultdict
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from core.records import engine, index, read
from core.records.keys import new_key
from core.records.models import columns, database
from core.records.tables import Client, FishGroup, Reading, Row, Site, StageMark, System, Visit
from tests.conftest import MOMENT
from tests.small import Small, build

A_VISIT, A_DAY, CLIENTS = 20, 8, 200
"""Readings at a visit, visits on a day, and clients, who stay as many while the years go by."""
ANALYTES = ("temperature", "ph", "tan", "nitrite", "nitrate", "kh", "gh", "oxygen")
SYLLABLES = [
    "ba",
    "de",
    "fi",
    "go",
    "lu",
    "ma",
    "ne",
    "pi",
    "ro",
    "su",
    "ta",
    "ve",
    "wi",
    "xo",
    "zu",
    "ka",
    "le",
    "mi",
    "no",
    "ru",
]
AT_ONCE = 20_000


@dataclass(frozen=True)
class Grown:
    """A file, a visit in the middle of it, and a client who is there at any size."""

    file: Path
    day: date
    visit: str
    system: str
    client_name: str


class _Bulk:
    """Puts rows and the journal's lines of them into a file, many at a time."""

    def __init__(self, file: Path) -> None:
        self._rows: dict[str, list[tuple[Any, ...]]] = defaultdict(list)
        self._edits = 0
        self.connection = sqlite3.connect(file, isolation_level=None)
        # The guards are let through here: what they hold is tested elsewhere.
        self.connection.create_function("journal_writes", 3, lambda *_: 1)
        self.connection.execute("PRAGMA synchronous = 0")

    def edit(self, rows: list[Row]) -> None:
        edit, self._edits = new_key(), self._edits + 1
        moment = columns("visit")["signed_at"].store(MOMENT)
        clock = f"{self._edits:015d}.000000"
        self._rows["edit"].append(
            (edit, "grown", self._edits, clock, moment, "setup", "grown", 1, None, None, "", "")
        )
        for position, row in enumerate(rows):
            values = read.stored(row)
            self._rows[row.table].append(tuple(values.values()))
            change = json.dumps({n: [None, v] for n, v in values.items() if v is not None})
            self._rows["edit_line"].append((edit, position, row.table, row.id, "add", change))
        if len(self._rows["edit_line"]) > AT_ONCE:
            self.write()

    def write(self) -> None:
        self.connection.execute("BEGIN")
        for table, rows in self._rows.items():
            if rows:
                names = self.connection.execute(f'SELECT * FROM "{table}" LIMIT 0').description
                marks = ", ".join("?" for _ in names)
                self.connection.executemany(f'INSERT INTO "{table}" VALUES ({marks})', rows)
                rows.clear()
        self.connection.execute("COMMIT")


def grow(file: Path, readings: int, clients: int = CLIENTS) -> Grown:
    """Make records with at least so many readings; the same every time but for the keys."""
    small = build(file)
    rng, bulk = random.Random(7), _Bulk(file)
    # Tables refer to each other; the order within one transaction is no matter.
    bulk.connection.execute("PRAGMA foreign_keys = 0")
    visits = max(A_DAY, -(-readings // A_VISIT))
    middle: Grown | None = None
    homes = [_home(rng) for _ in range(clients)]
    for home in homes:
        bulk.edit(home)
    for number in range(visits):
        day = date(2016, 1, 4) + timedelta(days=number // A_DAY)
        home = homes[number % clients]
        rows = _visit(rng, small, home, day, number % A_DAY)
        bulk.edit(rows)
        if number == visits // 2:
            middle = Grown(file, day, rows[0].id, home[2].id, _name_of(homes[0][0]))
    bulk.write()
    bulk.connection.close()
    engine.open_records(file)
    with engine.connection(), database.atomic():
        index.rebuild()
    assert middle is not None
    return middle


def _word(rng: random.Random) -> str:
    return "".join(rng.choices(SYLLABLES, k=3)).title()


def _home(rng: random.Random) -> list[Row]:
    phone = f"555 {rng.randrange(10**7):07}"
    client = Client(id=new_key(), name=f"{_word(rng)} {_word(rng)}", phone=phone)
    site = Site(id=new_key(), client=client.id, name="home", address=f"{_word(rng)} Lane")
    system = System(id=new_key(), site=site.id, name="pond", kind="koi_pond", volume_l=9000.0)
    fish = FishGroup(id=new_key(), system=system.id, species="koi", name=_word(rng), count=9)
    return [client, site, system, fish]


def _visit(rng: random.Random, small: Small, home: list[Row], day: date, hour: int) -> list[Row]:
    client, site, system, _ = (row.id for row in home)
    visit = Visit(
        id=new_key(),
        client=client,
        site=site,
        system=system,
        vet=small.vet,
        day=day,
        starts=f"{9 + hour:02}:00",
        state="open",
    )
    mark = StageMark(id=new_key(), visit=visit.id, stage="Water", state="done")
    readings = [
        Reading(
            id=new_key(),
            visit=visit.id,
            system=system,
            place=f"place {number // len(ANALYTES)}" if number >= len(ANALYTES) else "here",
            analyte=ANALYTES[number % len(ANALYTES)],
            value=round(rng.uniform(6, 8), 2),
            typed="7",
            at=MOMENT,
        )
        for number in range(A_VISIT)
    ]
    return [visit, mark, *readings]


def _name_of(row: Row) -> str:
    assert isinstance(row, Client)
    return row.name
