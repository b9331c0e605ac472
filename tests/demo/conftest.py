"""The demonstration at a fixed moment: as it opens, and with all eight visits finished."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from core.practice.desk import Desk
from core.records import engine, read
from core.records.place import Place
from core.records.tables import Figure
from fixtures.demo.build import VISITS, build, fill
from fixtures.demo.house import House

NOW = datetime(2026, 11, 25, 20, 0, tzinfo=UTC)
D = NOW.date()


@dataclass(frozen=True)
class Demo:
    """The finished demonstration."""

    file: Path
    house: House

    def visit(self, key: str) -> str:
        return self.house.visits[key]

    def figure(self, key: str, name: str, water: str = "") -> Figure:
        """Return the one kept figure of this name; of one water where several are read."""
        found = read.find(Figure, visit=self.visit(key), name=name)
        if water:
            found = tuple(f for f in found if f.subject.startswith(self.house.waters[water]))
        [figure] = found
        return figure

    def value(self, key: str, name: str, water: str = "") -> float:
        return self.figure(key, name, water).value


def plus(days: int) -> date:
    return D + timedelta(days=days)


def finish(where: Path | Place) -> House:
    """Make the demonstration with all eight visits finished."""
    desk = Desk(where)
    house = House("Etc/UTC", NOW, desk.papers)
    try:
        desk.save(fill, house, lambda words: None).result()
        for visit in VISITS.values():
            desk.save(visit.finish, house).result()
    finally:
        desk.close()
    return house


@pytest.fixture(scope="session")
def finished_files(tmp_path_factory: pytest.TempPathFactory) -> Demo:
    file = tmp_path_factory.mktemp("finished") / "practice.db"
    return Demo(file, finish(file))


@pytest.fixture(scope="module")
def demo(finished_files: Demo) -> Iterator[Demo]:
    """Give the finished demonstration, its records open on this thread."""
    engine.open_records(finished_files.file)
    with engine.connection():
        yield finished_files


@dataclass(frozen=True)
class Opening:
    """The demonstration as `build` leaves it, and what was said while it was built."""

    file: Path
    said: tuple[str, ...]


@pytest.fixture(scope="session")
def opening_files(tmp_path_factory: pytest.TempPathFactory) -> Opening:
    said: list[str] = []
    begun = datetime.now(UTC)
    folder = tmp_path_factory.mktemp("opening")
    file = build(folder, said.append, now=NOW, zone="Etc/UTC")
    print(f"the demo was built in {(datetime.now(UTC) - begun).total_seconds():.1f} s")
    return Opening(file, tuple(said))


@pytest.fixture(scope="module")
def opening(opening_files: Opening) -> Iterator[Opening]:
    engine.open_records(opening_files.file)
    with engine.connection():
        yield opening_files
