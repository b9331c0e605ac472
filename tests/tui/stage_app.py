"""A stage of the small practice's visit, opened in the app and used by keys only."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

from textual.pilot import Pilot
from textual.widgets import Static

from core.practice.desk import Desk
from core.practice.who import people, practice
from tests.tui.form_app import keys
from tui.app import FinroundsApp
from tui.widgets.form import Form
from tui.widgets.row import FormRow
from tui.workup.screen import WorkupScreen
from tui.workup.stage import Stage


class Opened:
    """A stage on the screen: keys in, rows and words out."""

    def __init__(self, app: FinroundsApp, pilot: Pilot[None]) -> None:
        self.app = app
        self.pilot = pilot

    @property
    def stage(self) -> Stage:
        return next(s for s in self.app.screen_stack if isinstance(s, WorkupScreen)).query_one(
            Stage
        )

    @property
    def form(self) -> Form:
        """The form in front: the dialog's when one is open."""
        return self.app.screen.query_one("#form", Form)

    async def press(self, *texts: str) -> None:
        await keys(self.pilot, *texts)
        await self.settle()

    async def settle(self) -> None:
        await self.pilot.pause()
        await self.app.workers.wait_for_complete()
        await self.pilot.pause()

    async def go(self, key: str) -> None:
        """Move to a row with the arrow keys."""
        at = [f.key for f in self.form.fields].index(key) - self.form.index
        await self.press(*(["down"] * at if at > 0 else ["up"] * -at))
        assert self.form.field.key == key

    def row(self, key: str) -> str:
        """What is painted in a row, all its lines."""
        at = [f.key for f in self.form.fields].index(key)
        return painted(self.form.rows[at])

    def all_fit(self) -> None:
        """Check that no row is cut, and that a choice shows every letter while it is open."""
        for number, field in enumerate(self.form.fields):
            self.form.go(number)
            assert "…" not in self.row(field.key), field.key
            self.form.open_row()
            row = self.row(field.key)
            assert max(map(len, row.splitlines())) <= 80, field.key
            said = " ".join(row.split())
            if field.kind == "choice":
                assert all(f"{c.letter} {c.label}" in said for c in field.choices), field.key
            if self.form.typing:
                self.form.row.state.typing = None

    def below(self) -> str:
        return str(self.stage.query_one("#below", Static).render())

    def detail(self) -> str:
        return str(self.stage.query_one("#detail", Static).render())

    def keys_of_rows(self, start: str) -> list[str]:
        return [f.key for f in self.stage.form.fields if f.key.startswith(start)]


def painted(row: FormRow) -> str:
    return row._text(row.size.width or 80).plain


@asynccontextmanager
async def opened(file: Path, visit: str, stage: str) -> AsyncIterator[Opened]:
    """Open a stage of a visit at 80x24; close the records at the end."""
    desk = Desk(file)
    found = desk.look(practice)
    assert found is not None
    app = FinroundsApp(desk, found, desk.look(people)[0])
    try:
        async with app.run_test(size=(80, 24)) as pilot:
            await app.push_screen(WorkupScreen(visit, stage))
            here = Opened(app, pilot)
            await here.settle()
            yield here
    finally:
        desk.close()
