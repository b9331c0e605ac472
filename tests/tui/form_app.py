"""An app with nothing but a form, and keys pressed as fast as they come."""

from __future__ import annotations

import asyncio
import string
from collections.abc import Iterator
from datetime import date
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding
from textual.keys import _character_to_key
from textual.pilot import Pilot

from core.errors import Refusal
from tui.base import RoundsApp
from tui.widgets.field import Choice, Entry, Field
from tui.widgets.form import Form
from tui.widgets.row import RowState, Shown

ANSWERS = (Choice("y", "yes", "yes"), Choice("n", "no", "no"), Choice("k", "unknown", "not known"))
FIELDS = (
    Field("temperature", "Temperature", "quantity", "temperature", "C", -2, 45, example="22.5"),
    Field("ph", "pH", "quantity", "plain", "", 3, 12, example="7.4"),
    Field("ammonia", "Ammonia", "quantity", "concentration", "mg/L", 0, 500, steps=True),
    Field("kh", "KH", "quantity", "alkalinity", "dKH", 0, 1000, example="4 dKH"),
    Field("count", "Fish", "count", low=0, high=9999),
    Field("added", "Anything added", "choice", choices=ANSWERS),
    Field("note", "Note", "words"),
    Field("day", "Day", "date"),
    Field("price", "Price", "money", low=0, high=10_000),
)
AT = {field.key: number for number, field in enumerate(FIELDS)}


class FormApp(RoundsApp):
    """Nothing but a form, and a command on every letter."""

    BINDINGS: ClassVar = [
        Binding(letter, f"command('{letter}')") for letter in string.ascii_lowercase
    ]

    def __init__(self, pause: float = 0.0) -> None:
        super().__init__()
        self.pause = pause
        self.saved: list[tuple[str, str]] = []
        self.stands: dict[str, str] = {}
        self.live: list[tuple[str, str]] = []
        self.commands: list[str] = []
        self.refuse: str = ""

    def compose(self) -> ComposeResult:
        yield Form(FIELDS, self.show, self.keep, self.lively, id="form")

    def on_mount(self) -> None:
        self.form.focus()

    @property
    def form(self) -> Form:
        return self.query_one(Form)

    def today(self) -> date:
        return date(2026, 11, 25)

    def show(self, field: Field) -> Shown:
        return Shown(self.stands.get(field.key, ""))

    def lively(self, field: Field, text: str) -> None:
        self.live.append((field.key, text))

    async def keep(self, field: Field, entry: Entry) -> None:
        if self.pause:
            await asyncio.sleep(self.pause)
        if self.refuse:
            raise Refusal(self.refuse, "Do something else.")
        self.saved.append((field.key, entry.text))
        self.stands[field.key] = entry.text

    def action_command(self, letter: str) -> None:
        self.commands.append(letter)

    def go(self, key: str) -> None:
        """Make a row the current one."""
        self.form.go(AT[key])

    def state(self, key: str = "") -> RowState:
        """What stands in a row, the current one unless said."""
        return self.form.rows[AT[key]].state if key else self.form.row.state

    @property
    def typed(self) -> str:
        typing = self.state().typing
        return "" if typing is None else typing.text

    @property
    def where(self) -> str:
        """The current row and the state of the form, in words."""
        return f"{self.form.field.key} {'typing' if self.form.typing else 'moving'}"


Driver = Pilot[None]


NAMED = {"enter": "\r", "tab": "\t", "escape": "\x1b", "backspace": "\x7f"}
UNPRINTED = {"up", "down", "left", "right", "home", "ctrl+u"}


def presses(*pressed: str) -> Iterator[events.Key]:
    """Give the key events of names of keys and of texts, which are typed letter by letter."""
    for part in pressed:
        if part in NAMED or part in UNPRINTED:
            yield events.Key(part, NAMED.get(part))
        else:
            yield from (events.Key(_character_to_key(c), c) for c in part)


async def keys(pilot: Driver, *pressed: str) -> None:
    """Press keys without waiting between them, then wait until all is quiet."""
    for event in presses(*pressed):
        pilot.app.post_message(event)
    await pilot.pause()


async def paste(pilot: Driver, text: str) -> None:
    pilot.app.query_one(Form).post_message(events.Paste(text))
    await pilot.pause()


def painted(app: FormApp, key: str) -> str:
    """Return a row as it stands on the screen."""
    return str(app.form.rows[AT[key]].content)
