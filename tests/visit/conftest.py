"""A visit is walked once for each seed; the tests then look at what it left behind."""

from __future__ import annotations

import asyncio
import os
import random
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from core import clock
from core.practice.desk import Desk
from core.practice.keep import Act
from core.practice.who import people, practice
from core.records import engine, read
from core.records.tables import Document, Visit
from tests.small import ZONE
from tests.visit.draw import KINDS, Draw
from tests.visit.driver import Hands, pdf_text
from tests.visit.expect import Expected
from tests.visit.house import House, fill
from tests.visit.walk import Walk
from tui.app import FinroundsApp
from tui.workup.watching import WatchingStage

POND, FOOD = KINDS[0], KINDS[1]
SEEDS = ("a pond", "food fish", "at random")
"""Two fixed seeds, one of them with food fish, and one that is new each time.

The seed is printed when a test fails; ``VISIT_SEED=...`` walks the third with it again.
"""


@dataclass
class Walked:
    """A visit that was walked, and all that it left."""

    case: Draw
    want: Expected
    house: House
    walk: Walk
    hands: Hands
    folder: Path
    visit: str
    papers: dict[str, str]
    """The text of each PDF by kind of paper."""


def drawn(which: str) -> Draw:
    if which == "a pond":
        return Draw(20261125, POND)
    if which == "food fish":
        return Draw(40, FOOD)
    return Draw(int(os.environ.get("VISIT_SEED") or random.SystemRandom().randrange(10**9)))


async def walk(desk: Desk, case: Draw, house: House) -> tuple[Walk, Hands]:
    found = desk.look(practice)
    assert found is not None
    app = FinroundsApp(desk, found, desk.look(people)[0])
    async with app.run_test(size=(80, 24)) as pilot:
        hands = Hands(app, pilot)
        await hands.settle()
        done = Walk(hands, case, Expected(case, house.prices, clock.today(ZONE)))
        await done.whole()
    return done, hands


@pytest.fixture(scope="module", params=SEEDS)
def walked(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Walked]:
    case = drawn(request.param)
    print(f"seed {case.seed}: {case.kind.key}, {case.kind.species}, {case.client}")
    folder = tmp_path_factory.mktemp("visit")
    desk = Desk(folder / "practice.db")
    try:
        house = desk.save(fill, Act("setup", clock.now()), case).result(timeout=30)
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(WatchingStage, "clock", WatchingStage.__dict__["clock"])
            done, hands = asyncio.run(walk(desk, case, house))
        with engine.connection():
            (visit,) = read.find(Visit, state="signed")
            documents = read.find(Document)
            papers = {d.kind: pdf_text(desk.papers / d.file) for d in documents}
            yield Walked(case, done.want, house, done, hands, folder, visit.id, papers)
    finally:
        desk.close()
