"""A person at 80x24 who has keys and eyes: the practice is made before, the rest is by keys.

`at_work` opens the Day desk as somebody; `Person` presses keys, reads what is painted, looks at
the records, and reads a paper back from its PDF with its lines as they stand.
"""

from __future__ import annotations

import asyncio
import io
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any, TypeVar

import pypdf
from textual.widgets import OptionList

from core import clock
from core.practice.desk import Desk
from core.practice.keep import Act
from core.practice.who import people, practice
from core.records import read
from core.records.tables import Document, Row
from tests.tui.stage_app import painted
from tests.visit.driver import LONGEST_S, Hands, flat
from tui.app import FinroundsApp
from tui.widgets.confirm import ConfirmInvoice
from tui.widgets.foot import Foot
from tui.widgets.form import Form
from tui.widgets.panel import Panel

T = TypeVar("T")
R = TypeVar("R", bound=Row)


def made(file: Path, fill: Callable[[Act], T]) -> T:
    """Put a practice into new records, as the setup of a practice would; return what was made."""
    desk = Desk(file)
    try:
        return desk.save(fill, Act("setup", clock.now())).result(timeout=30)
    finally:
        desk.close()


@asynccontextmanager
async def at_work(file: Path, name: str = "") -> AsyncIterator[Person]:
    """Open the Day desk at 80x24 as a person of the practice, by a part of the name."""
    desk = Desk(file)
    try:
        found = desk.look(practice)
        assert found is not None
        worker = next(p for p in desk.look(people) if name in p.name)
        app = FinroundsApp(desk, found, worker)
        async with app.run_test(size=(80, 24)) as pilot:
            person = Person(app, pilot)
            await person.settle()
            yield person
    finally:
        desk.close()


class Person(Hands):
    """`Hands` that also finds a row by what stands in it and reads the papers.

    Rows are named by their key, as in `Hands`; `reach` names them by their words.
    """

    async def settle(self) -> None:
        """Wait as `Hands` does, until no row is being saved and nothing moved meanwhile."""
        await super().settle()
        before: object = None
        async with asyncio.timeout(LONGEST_S):
            while before != (before := self._state()) or self._saving():
                await super().settle()

    def _state(self) -> object:
        """What a key would meet: the screen, and the rows of its forms."""
        # While the desk changes there is no screen for a moment.
        front = [id(screen) for screen in self.app.screen_stack]
        return front, [(f.index, f.typing, [x.key for x in f.fields]) for f in self._forms()]

    def _saving(self) -> bool:
        return any(r.state.mark == "saving" for f in self._forms() for r in f.rows)

    def _forms(self) -> list[Form]:
        return [f for s in self.app.screen_stack for f in s.query("#form").results(Form)]

    @property
    def screen(self) -> str:
        """All that is painted, line by line, as a person sees it."""
        self.app.screen._on_timer_update()  # what was just written is laid out first
        strips = self.app.screen._compositor.render_strips()
        return "\n".join(strip.text.rstrip() for strip in strips)

    @property
    def seen(self) -> str:
        """All that is painted, every gap made one space."""
        return flat(self.screen)

    @property
    def footer(self) -> str:
        """The last line: the keys of the moment."""
        return str(self.app.screen.query_one(Foot).render()).strip()

    @property
    def said(self) -> str:
        """What stands below the form in front, every gap made one space."""
        return flat(self.below)

    @property
    def panel(self) -> str:
        """The whole text of the panel in front, also what is scrolled away."""
        screen = self.app.screen
        assert isinstance(screen, Panel), f"{screen} is no panel: {self.told[-1:]}"
        return screen._body

    def rows(self) -> list[str]:
        """What is painted in each row of the form in front."""
        return [flat(painted(row)) for row in self.form.rows]

    def values(self) -> dict[str, str]:
        """The rows of the form in front by key."""
        return dict(zip((f.key for f in self.form.fields), self.rows(), strict=True))

    async def reach(self, words: str) -> str:
        """Go with the arrows to the row in which these words stand; return its key."""
        key = next(k for k, text in self.values().items() if words.lower() in text.lower())
        return await self.go(key)

    async def refused(self, start: str, *parts: str) -> str:
        """Type an answer that is not taken; return what stands beside it. It stays as a draft."""
        await self.go(start)
        await self.press("enter", "ctrl+u", *parts, "enter")
        said = self.error
        assert said, f"{parts} was taken in {start}: {self.row(start)}"
        await self.press("escape")
        return said

    async def empty(self, start: str) -> None:
        """Empty a row, so that nothing is answered there."""
        await self.go(start)
        await self.press("enter", "ctrl+u", "enter", "escape")
        assert self.error == "", f"{start}: {self.error}"

    async def fill(self, **answers: str) -> None:
        """Type an answer into each row, by key; what stood there is emptied first."""
        for key, text in answers.items():
            await self.enter(key, "ctrl+u", text)

    async def choose(self, **letters: str) -> None:
        """Answer rows of one letter, by key."""
        for key, letter in letters.items():
            await self.letter(key, letter)

    async def line(self, listed: str, words: str) -> None:
        """Go with the arrows to the line of a list in which these words stand, or its key."""
        found = self.app.screen.query_one(listed, OptionList)
        lines = [(o.id, flat(str(o.prompt)).lower()) for o in found.options]
        wanted = next(
            n for n, (key, line) in enumerate(lines) if key == words or words.lower() in line
        )
        step = wanted - (found.highlighted or 0)
        await self.press(*(["down"] * step if step > 0 else ["up"] * -step))

    async def visit(self, words: str = "") -> None:
        """Open a visit from the Day desk: the one in whose line these words stand."""
        await self.line("#visits", words)
        await self.press("enter")
        self.look()

    async def command(self, words: str) -> None:
        """Open the list of all commands from the help, type a command and take it."""
        await self.press("?")
        await self.press("s")
        await self.press(words)
        listed = self.app.screen.query_one(OptionList)
        async with asyncio.timeout(LONGEST_S):
            while not listed.option_count or words not in str(listed.options[0].prompt):
                await self.pilot.pause(0.02)
        palette = self.app.screen
        await self.press("enter")
        async with asyncio.timeout(LONGEST_S):
            while self.app.screen is palette:
                await self.pilot.pause(0.02)
        await self.settle()

    async def to(self, stage: str) -> None:
        """Go to a stage of the visit through the list of the stages."""
        await self.press("s")
        listed = self.app.screen.query_one("#stage-list", OptionList)
        names = [o.id for o in listed.options]
        step = names.index(stage) - (listed.highlighted or 0)
        await self.press(*(["down"] * step if step > 0 else ["up"] * -step), "enter")
        assert self.stage == stage
        self.look()

    def toasts(self) -> set[str]:
        """Marks of what is told beside the form now; see `told_since`."""
        return {n.identity for n in self.app._notifications}

    def told_since(self, before: set[str]) -> str:
        """What was told since, every gap made one space."""
        fresh = (n for n in self.app._notifications if n.identity not in before)
        return flat(" ".join(f"{n.title}: {n.message}" for n in fresh))

    async def hears(self, before: set[str], words: str) -> str:
        """Wait until these words are told beside the form; return all that was told since."""
        async with asyncio.timeout(LONGEST_S):
            while words not in self.told_since(before):
                await self.pilot.pause(0.02)
        return self.told_since(before)

    def find(self, kind: type[R], **where: Any) -> tuple[R, ...]:
        """Rows of the records that are not struck."""
        return self.app.desk.look(lambda: read.find(kind, **where))

    async def print(self, name: str) -> tuple[str, str]:
        """Issue a paper of the visit by keys.

        Returns
        -------
        tuple of str
            Its plain-text twin as it is shown, and the text of its PDF with its layout.
        """
        before = {d.id for d in self.find(Document)}
        twin = await self.paper(name)
        fresh = [d for d in self.find(Document) if d.id not in before]
        assert fresh, f"{name} was not issued"
        return twin, pdf_lines(self.app.desk.papers / fresh[-1].file)

    async def not_printed(self, name: str) -> str:
        """Try to issue a paper that is refused; return what is told, and leave the list."""
        before, toasts = self.find(Document), self.toasts()
        await self.press("g")
        listed = [o.id for o in self.app.screen.query_one(OptionList).options]
        await self.press(*(["down"] * listed.index(name)), "enter")
        if isinstance(self.app.screen, ConfirmInvoice):
            await self.press("j")
        await self.hears(toasts, "can not")
        assert not isinstance(self.app.screen, Panel), f"{name} was issued"
        assert self.find(Document) == before
        await self.press("escape")
        return self.told_since(toasts)


def pdf_lines(file: Path) -> str:
    """Return the text of a PDF as it stands on its pages, line by line."""
    pages = pypdf.PdfReader(io.BytesIO(file.read_bytes())).pages
    texts = (page.extract_text(extraction_mode="layout") for page in pages)
    return "\n".join(line.rstrip() for text in texts for line in text.splitlines())
