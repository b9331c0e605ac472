"""Lists over the screen that are saved as files: antimicrobials used, and the two logs."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date
from functools import partial
from pathlib import Path

from textual.app import SystemCommand

from core import clock
from core.errors import Refusal
from core.practice import antimicrobial_paper, log_paper
from core.practice.keep import Act
from tui.base import RoundsApp
from tui.keys import bind
from tui.widgets.dialog import Answers, FormDialog
from tui.widgets.field import Entry, Field
from tui.widgets.panel import Panel
from tui.widgets.row import Widths

Text = Callable[[Act, date, date], str]
Write = Callable[[Act, date, date, Path], Path]


def _written(which: str, act: Act, since: date, until: date, file: Path) -> Path:
    return log_paper.write(act, which, since, until, file)


def _text(which: str, act: Act, since: date, until: date) -> str:
    return log_paper.text(act, which, since, until)


LISTS: dict[str, tuple[str, str, Text, Write, tuple[str, ...]]] = {
    "Antimicrobials used": (
        "By month and medicine, in mg and mg per kg of fish treated",
        "antimicrobials",
        antimicrobial_paper.text,
        antimicrobial_paper.write,
        (".pdf", ".csv"),
    ),
    "Dispensing log": (
        "What was dispensed: to whom, how much, which lot, by whom",
        "dispensing-log",
        partial(_text, "dispensing"),
        partial(_written, "dispensing"),
        (".pdf",),
    ),
    "Controlled-drug log": (
        "Every controlled lot with its lines and balances",
        "drug-log",
        partial(_text, "drugs"),
        partial(_written, "drugs"),
        (".pdf",),
    ),
}


def commands(app: RoundsApp) -> Iterable[SystemCommand]:
    """Give what the list of commands offers."""
    for name, (words, *_) in LISTS.items():
        yield SystemCommand(name, words, partial(ask, app, name))


def ask(app: RoundsApp, name: str) -> None:
    """Ask from which day to which, then show the list."""
    dialog = Days(app.today(), name)

    async def after(made: bool | None) -> None:
        if made:
            since, until = (dialog.answers[key].day for key in ("since", "until"))
            act = Act(app.worker.id, clock.now())
            text = await app.look(LISTS[name][2], act, since, until)
            app.push_screen(ListPanel(name, text, since, until))

    app.push_screen(dialog, after)


class Days(FormDialog):
    """The days that a list is about: this year's, until another is typed."""

    OPENS = False
    REMEMBERS = False

    def __init__(self, today: date, name: str) -> None:
        fields = [
            Field("since", "From", "date", required=True),
            Field("until", "To", "date", required=True),
        ]
        days = {"since": today.replace(month=1, day=1), "until": today}
        answers = {key: Entry(day.isoformat(), day) for key, day in days.items()}
        widths = Widths(label=8, value=20)
        super().__init__(name, fields, self.done, self.said, answers, widths)

    def said(self, _: Answers) -> str:
        """Say what the keys do."""
        return "f shows it. Esc leaves."

    async def done(self, answers: Answers) -> None:
        """Refuse days that are the wrong way round."""
        if answers["until"].day < answers["since"].day:
            raise Refusal("The last day is before the first.", "Turn them round.")


class ListPanel(Panel):
    """A list; `g` saves it as a file."""

    CSS_PATH = Panel.CSS_PATH
    BINDINGS = [bind("copy")]

    def __init__(self, name: str, text: str, since: date, until: date) -> None:
        super().__init__(name, text)
        self._days = (name, since, until)

    def action_copy(self) -> None:
        """Ask for a folder and save the list there."""
        self.app.push_screen(SaveAs(*self._days))


class SaveAs(FormDialog):
    """The folder that a list is saved in, in each of its forms."""

    def __init__(self, name: str, since: date, until: date) -> None:
        self._called, self._since, self._until = name, since, until
        stem, endings = LISTS[name][1], LISTS[name][4]
        self._files = [f"{stem}-{since}-{until}{ending}" for ending in endings]
        field = Field("folder", "Folder", example="~/Documents", required=True)
        widths = Widths(label=8, value=54)
        super().__init__(f"Save: {name}", [field], self.write, self._said, widths=widths)

    def _said(self, _: Answers) -> str:
        return f"It is saved as {' and '.join(self._files)}. f saves it. Esc leaves."

    async def write(self, answers: Answers) -> None:
        """Save it whole."""
        folder = Path(answers["folder"].words).expanduser()
        act = Act(self.app.worker.id, clock.now())
        write = LISTS[self._called][3]
        for called in self._files:
            file = await self.app.look(write, act, self._since, self._until, folder / called)
            self.app.notify(f"Saved: {file}", markup=False)
