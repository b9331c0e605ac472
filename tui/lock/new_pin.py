"""Setting a PIN: typed twice, then the recovery code is shown, once."""

from __future__ import annotations

from collections.abc import Awaitable, Callable

from rich.text import Text
from textual.binding import Binding

from core.errors import Refusal
from core.practice import access
from tui.lock.asking import Asking

Finish = Callable[[str, str], Awaitable[str]]
"""Sets the PIN from the old one and the new one; gives the recovery code."""

WHY = (
    f"A PIN has {access.LEAST} to {access.MOST} digits or letters. It keeps a colleague from "
    "working under your name; it does not hide the records from whoever can copy their file."
)
KEEP = (
    "Write it down and keep it away from this machine. It is shown this once. With it you set a "
    "new PIN when you have forgotten yours, also without a signal; it works once, and then "
    "there is a new one."
)


class NewPin(Asking[bool]):
    """Asks for a new PIN, and for the old one where there is one.

    Parameters
    ----------
    title : str
        Whose PIN.
    old : bool
        Whether the old one is asked first.
    finish : callable
        Sets it; what it refuses is shown and nothing is set.
    """

    BINDINGS = [
        Binding("enter", "take", "Go on"),
        Binding("escape", "leave", "Leave", key_display="esc"),
    ]

    def __init__(self, title: str, finish: Finish, *, old: bool = False) -> None:
        super().__init__()
        self._title = title
        self._finish = finish
        self._asked = ["Your PIN as it is", "New PIN", "Once more"][0 if old else 1 :]
        self._first = list(self._asked)
        self._answers: list[str] = []
        self.code = ""

    def title_text(self) -> str:
        return self._title

    def rows_text(self) -> Text:
        if self.code:
            code = Text(f"  Recovery code:  {self.code}\n\n", "bold")
            return code + self.line("Its last group, as you wrote it", current=True, open_text=True)
        done = [Text(f"  {label}", no_wrap=True) for label in self._first[: len(self._answers)]]
        return Text("\n").join([*done, self.line(self._asked[0], current=True)])

    def below_text(self) -> str:
        if self.code:
            return KEEP
        return WHY

    async def take(self, text: str) -> None:
        """Take one answer after another; the last one sets it."""
        if self.code:
            self._written(text)
            return
        if self._asked[0] == "New PIN":
            access.fit(text)
        if self._asked[0] == "Once more" and text != self._answers[-1]:
            self._answers.pop()
            self._asked.insert(0, "New PIN")
            raise Refusal("These two are not the same.", "Type the new PIN again.")
        self._answers.append(text)
        self._asked.pop(0)
        if not self._asked:
            await self._done()

    def _written(self, text: str) -> None:
        """Let the code go only when it stands somewhere else: it is not shown again."""
        if text.strip().upper() != self.code.rpartition("-")[2]:
            raise Refusal("The PIN is set.", "Type the last five signs of the code to go on.")
        self.dismiss(True)

    async def _done(self) -> None:
        answers, self._answers, self._asked = self._answers, [], list(self._first)
        self.code = await self._finish(answers[0] if len(answers) == 3 else "", answers[-1])

    def leave(self) -> None:
        """Leave without a new PIN; once the code is shown the PIN is set."""
        if not self.code:
            self.dismiss(False)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Nothing leads past the code."""
        return action != "leave" or not self.code
