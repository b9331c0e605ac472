"""The app at 80x24 and a person who has nothing but its keys; every key is written down."""

from __future__ import annotations

import asyncio
import io
from pathlib import Path
from textwrap import wrap

import pypdf
from textual.pilot import Pilot
from textual.widgets import OptionList, Static
from textual.worker import Worker

from tests.tui.form_app import presses
from tests.tui.stage_app import painted
from tui.app import FinroundsApp
from tui.widgets.confirm import Confirm, ConfirmInvoice
from tui.widgets.dialog import FormDialog
from tui.widgets.form import Form
from tui.widgets.panel import Panel
from tui.workup.screen import WorkupScreen
from tui.workup.stage import Stage

ROUNDS = 3
"""So many times each queue is waited for."""
LONGEST_S = 20.0


class Hands:
    """Presses keys and looks at the screen; it never calls anything of the app."""

    def __init__(self, app: FinroundsApp, pilot: Pilot[None]) -> None:
        self.app = app
        self.pilot = pilot
        self.pressed: list[str] = []
        """Every key by its name; a printable one as its character."""
        self.cut: list[str] = []
        """What did not fit on the screen, as it was seen."""

    async def press(self, *parts: str) -> None:
        """Press keys and texts without waiting between them, then wait until all is quiet."""
        for event in presses(*parts):
            self.pressed.append(event.character or "" if event.is_printable else event.key)
            self.app.post_message(event)
        await self.settle()

    async def settle(self) -> None:
        """Wait until every queue is empty: a key goes from the app to the screen to the form.

        `Pilot.pause` would sleep each time until the process idles, half of a visit's time.
        """
        for _ in range(ROUNDS):
            await self.pilot._wait_for_screen()
            async with asyncio.timeout(LONGEST_S):
                while self._at_work():
                    await asyncio.sleep(0.002)

    def _at_work(self) -> list[Worker[object]]:
        """Return the workers that end by themselves: while a dialog asks, one waits for it."""
        asks = isinstance(self.app.screen, FormDialog)
        running = [w for w in self.app.workers if not w.is_finished]
        return [w for w in running if not (asks and w.name.startswith("_ask"))]

    @property
    def form(self) -> Form:
        """The form in front."""
        return self.app.screen.query_one("#form", Form)

    @property
    def workup(self) -> WorkupScreen:
        return next(s for s in self.app.screen_stack if isinstance(s, WorkupScreen))

    @property
    def stage(self) -> str:
        return self.workup.query_one(Stage).TITLE

    def keys(self, start: str) -> list[str]:
        """Return the rows whose key begins so."""
        return [f.key for f in self.form.fields if f.key.startswith(start)]

    async def go(self, start: str) -> str:
        """Go with the arrows to the row whose key begins so; leave the one that is typed."""
        if self.form.typing:
            await self.press("escape")
        wanted = next(n for n, f in enumerate(self.form.fields) if f.key.startswith(start))
        step = wanted - self.form.index
        if step:
            await self.press(*(["down"] * step if step > 0 else ["up"] * -step))
        assert self.form.field.key.startswith(start)
        self.look()
        return self.form.field.key

    async def enter(self, start: str, *parts: str) -> None:
        """Go to a row, open it, type an answer and accept it."""
        await self.go(start)
        await self.press("enter")
        await self.press(*parts, "enter")
        assert self.error == "", f"{start}: {self.error}"

    async def letter(self, start: str, letter: str) -> None:
        """Go to a row that one letter answers, open it and press the letter."""
        await self.go(start)
        await self.press("enter")
        await self.press(letter)
        assert self.error == "", f"{start}: {self.error}"

    @property
    def error(self) -> str:
        """What stands under any row of the form in front as refused; "" when there is no form."""
        forms = self.app.screen.query("#form").results(Form)
        return "".join(row.state.error for form in forms for row in form.rows)

    async def finish(self) -> None:
        """Be done with a dialog: out of its row, and `f`."""
        dialog = self.app.screen
        if self.form.typing:
            await self.press("escape")
        self.look()
        await self.press("f")
        told = [n.message for n in self.app._notifications]
        assert self.app.screen is not dialog, f"the dialog stays: {told[-1:]} {self.below}"

    @property
    def below(self) -> str:
        """What stands under the form in front."""
        found = self.app.screen.query("#below, #dialog-below").results(Static)
        return "\n".join(str(part.render()) for part in found)

    @property
    def asked(self) -> str:
        """What is asked before something that can not be taken back."""
        screen = self.app.screen
        assert isinstance(screen, Confirm)
        return f"{screen._title} {flat(screen._body)}"

    async def note(self, start: str) -> str:
        """Go to a row; return it with its whole note, as it stands below the form."""
        await self.go(start)
        detail = self.app.screen.query_one("#detail", Static)
        return f"{self.row(start)} {flat(str(detail.render()))}"

    def row(self, start: str) -> str:
        """Return what is painted in a row."""
        at = next(n for n, f in enumerate(self.form.fields) if f.key.startswith(start))
        return " ".join(painted(self.form.rows[at]).split())

    @property
    def told(self) -> list[str]:
        """Return what was told beside the form so far."""
        return [f"{n.title}: {n.message}" for n in self.app._notifications]

    async def walk(self, stage: str) -> None:
        """Go on to the next stage with the right arrow."""
        await self.press("right")
        assert self.stage == stage
        self.look()

    def look(self) -> None:
        """Note what does not fit: the heading, the stages, what stands below, the current row."""
        if self._cut():
            self.app.screen._on_timer_update()  # what was just written is laid out first
            self.cut += self._cut()

    def _cut(self) -> list[str]:
        screen, found = self.app.screen, []
        for one in screen.query("#heading, #stages").results(Static):
            if one.size.width and len(str(one.render())) > one.size.width:
                found.append(f"{one.id}: {one.render()}")
        for one in screen.query("#below, #detail").results(Static):
            text, room = str(one.render()), one.size.width or 80
            lines = sum(len(wrap(line, room)) or 1 for line in text.split("\n"))
            if text and lines > one.size.height > 0:
                found.append(f"{one.id}: {lines} lines in {one.size.height}: {text}")
        for one in screen.query("#detail").results(Static):
            state, row = self.form.row.state, flat(painted(self.form.row))
            seen = f"{row} {flat(str(one.render()))} {flat(self.below)}"
            if state.typing is None:
                wanted = (flat(state.label), flat(state.shown.value))
                found += [f"{text} in {row}" for text in wanted if text not in seen]
        return found

    async def paper(self, name: str) -> str:
        """Issue a paper of the visit by keys; return the plain text that is shown."""
        await self.press("g")
        listed = self.app.screen.query_one(OptionList)
        names = [o.id for o in listed.options]
        await self.press(*(["down"] * names.index(name)))
        await self.press("enter")
        if isinstance(self.app.screen, ConfirmInvoice):
            await self.press("j")
        panel = self.app.screen
        assert isinstance(panel, Panel), self.told[-1:]
        body = panel._body
        await self.press("escape")
        await self.press("escape")
        return body


def pdf_text(file: Path) -> str:
    """Return the text of a PDF, every gap made one space."""
    pages = (page.extract_text() for page in pypdf.PdfReader(io.BytesIO(file.read_bytes())).pages)
    return flat(" ".join(pages))


def flat(text: str) -> str:
    """Return a text with every gap made one space."""
    return " ".join(text.split())
