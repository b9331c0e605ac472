"""Asks for a PIN before somebody is at work, and again where the app was locked."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from rich.text import Text
from textual import work
from textual.binding import Binding

from core import clock
from core.practice import access, in_hand_running
from core.practice.in_hand_running import Running
from core.practice.keep import Act
from core.practice.who import Worker
from tui.lock.asking import Asking
from tui.lock.new_pin import NewPin

READ_EVERY_S = 5.0
"""How often the running clocks are read again; another desk may mark them."""
ROOM = 14
"""So many lines are shown at a time."""
QUITS = "Ctrl+Q quits; what is typed and not saved is lost then."
NOBODY_ELSE = "Nobody else has a PIN: others take over at the start, after quitting."


@dataclass(frozen=True)
class Row:
    """One way in."""

    kind: str
    """``pin`` or ``code``."""
    who: Worker
    label: str


def ways(who: Worker, others: tuple[Worker, ...] = ()) -> tuple[Row, ...]:
    """Return the ways in: the PIN, the recovery code, and who else may take over."""
    own = Row("pin", who, f"PIN of {who.name}")
    code = Row("code", who, f"Forgotten: recovery code of {who.name}")
    over = (Row("pin", w, f"{w.name} takes over, PIN") for w in others if w.id != who.id)
    return (own, code, *over)


class PinScreen(Asking[Worker]):
    """Asks who chose a name for the PIN of that name; gives back the person, or None on Esc."""

    BINDINGS = [
        Binding("enter", "take", "Open"),
        Binding("down", "step(1)", "Other line"),
        Binding("escape", "leave", "Back", key_display="esc"),
    ]

    def __init__(self, rows: tuple[Row, ...]) -> None:
        super().__init__()
        self.ways = rows
        self.at = 0

    @property
    def row(self) -> Row:
        """The current line."""
        return self.ways[self.at]

    def title_text(self) -> str:
        return f"{self.ways[0].who.name} has a PIN."

    def rows_text(self) -> Text:
        first = max(0, self.at - ROOM + 1)
        lines = [
            self.line(row.label, current=n == self.at, open_text=row.kind == "code")
            for n, row in enumerate(self.ways)
        ]
        return Text("\n").join(lines[first : first + ROOM])

    def step(self, by: int) -> None:
        """Go to another line; what was typed for this one is gone."""
        self.at = max(0, min(self.at + by, len(self.ways) - 1))
        self.typing, self.said = type(self.typing)(), ""

    async def take(self, text: str) -> None:
        """Look at the PIN or the code."""
        row = self.row
        if not text:
            return
        if row.kind == "code":
            await self.app.look(access.check_code, row.who.id, text)
            self._renew(row.who, text)
        else:
            await self.app.save(access.check, self._act(row.who), row.who.id, text)
            self.let_in(row.who)

    def _act(self, who: Worker) -> Act:
        return Act(self.app.worker.id or who.id, clock.now())

    def _renew(self, who: Worker, code: str) -> None:
        async def finish(_: str, pin: str) -> str:
            act = Act(who.id, clock.now())
            return await self.app.save(access.recover, act, who.id, code, pin)

        def after(made: bool | None) -> None:
            if made:
                self.let_in(who)

        self.app.push_screen(NewPin(f"A new PIN for {who.name}", finish), after)

    def let_in(self, who: Worker) -> None:
        """Give back who is at work."""
        self.dismiss(who)

    def leave(self) -> None:
        """Back to who is at work."""
        self.dismiss(None)


class LockScreen(PinScreen):
    """Covers everything until the PIN of who is at work, or of who takes over, is typed.

    It shows no name of a client or a fish. Clocks of anaesthesia run on, and what is to be
    watched about them is said here.
    """

    BINDINGS = [Binding("enter", "take", "Open"), Binding("down", "step(1)", "Other line")]

    def __init__(self, rows: tuple[Row, ...], unlock: Callable[[Worker], None]) -> None:
        super().__init__(rows)
        self._unlock = unlock
        self.running: tuple[Running, ...] = ()

    def on_mount(self) -> None:
        self.read()
        self.set_interval(1.0, self.paint)
        self.set_interval(READ_EVERY_S, self.read)

    @work(exclusive=True, group="running")
    async def read(self) -> None:
        """Read which clocks run."""
        self.running = await self.app.look(in_hand_running.running, clock.now())
        self.paint()

    def title_text(self) -> str:
        name = self.ways[0].who.name
        return f"Locked. {name} is at work, and everything typed is kept."

    def above_text(self) -> str:
        now = clock.now()
        return "\n".join(found.said(now) for found in self.running)

    def below_text(self) -> str:
        alone = all(row.who.id == self.ways[0].who.id for row in self.ways)
        return f"\n{NOBODY_ELSE}\n{QUITS}" if alone else f"\n{QUITS}"

    def let_in(self, who: Worker) -> None:
        """Open the app again."""
        self._unlock(who)

    def leave(self) -> None:
        """Nothing leads out but a PIN."""

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """The line of keys says so, too."""
        return action != "leave"
