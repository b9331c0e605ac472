"""The app with one stage open, driven by keys, for the tests of In hand and Biopsy."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any, TypeVar

from textual.pilot import Pilot
from textual.widgets import Digits

from core import clock
from core.practice import who
from core.practice.desk import Desk
from core.practice.keep import Act
from core.records import read
from core.records.tables import Row
from tests.read_rows import all_read
from tests.small import Small, build
from tests.tui.form_app import keys
from tui.app import FinroundsApp
from tui.widgets.form import Form
from tui.workup.screen import WorkupScreen

T = TypeVar("T", bound=Row)


class Hand:
    """The app with a stage open, driven by keys."""

    def __init__(self, app: FinroundsApp, pilot: Pilot[None], made: Small) -> None:
        self.app = app
        self.pilot = pilot
        self.made = made

    async def press(self, *pressed: str) -> None:
        await self.pilot.press(*pressed)
        await self.settle()

    async def settle(self) -> None:
        await self.pilot.pause()
        await self.app.workers.wait_for_complete()
        await self.pilot.pause()

    async def words(self, text: str) -> None:
        await keys(self.pilot, text)
        await self.settle()

    @property
    def form(self) -> Form:
        return self.app.screen.query_one(Form)

    def go(self, label: str) -> None:
        labels = [f.label.strip() for f in self.form.fields]
        self.form.go(labels.index(label))

    def row(self, label: str) -> str:
        labels = [f.label.strip() for f in self.form.fields]
        return self.form.rows[labels.index(label)]._text(78).plain

    def lines(self) -> str:
        return "\n".join(r._text(78).plain for r in self.form.rows)

    def digits(self) -> list[str]:
        return [d.value for d in self.app.screen.query(Digits) if d.value]

    def find(self, kind: type[T], **where: Any) -> tuple[T, ...]:
        return self.app.desk.look(lambda: read.find(kind, **where))

    async def take(self, label: str = "") -> None:
        await self.press("a", "enter")
        if label:
            await self.words(label)
        await self.press("enter", "enter", "f")


@asynccontextmanager
async def opened(file: Path, stage: str = "In hand", role: str = "vet") -> AsyncIterator[Hand]:
    made = build(file)
    desk = Desk(file)
    try:
        desk.save(all_read, Act(made.vet, clock.now())).result(timeout=30)
        practice = desk.look(who.practice)
        assert practice is not None
        at_work = {"vet": made.vet, "technician": made.technician}[role]
        worker = next(w for w in desk.look(who.people) if w.id == at_work)
        app = FinroundsApp(desk, practice, worker)
        async with app.run_test(size=(80, 24)) as pilot:
            hand = Hand(app, pilot, made)
            await app.push_screen(WorkupScreen(made.visit, stage))
            await hand.settle()
            yield hand
    finally:
        desk.close()
