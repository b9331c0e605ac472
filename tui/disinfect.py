"""How a disinfectant is made up: figures are typed, and what to measure stands below them."""

from __future__ import annotations

from collections.abc import Iterable

from textual.app import SystemCommand

from core import clock
from core.errors import Refusal
from core.practice import disinfect
from core.practice.disinfect import Bucket
from tui.base import RoundsApp
from tui.keys import bind
from tui.widgets import answers as answered
from tui.widgets.dialog import Answers, FormDialog
from tui.widgets.field import Field
from tui.widgets.panel import Panel
from tui.widgets.row import Widths

FIELDS = (
    Field("wanted", "Wanted level", required=True, example="200 ppm, 0.5 % w/v, 10 mL/L"),
    Field("finished", "Finished volume", required=True, example="10 L"),
    Field("stock", "Strength of stock", example="5 % w/v"),
    Field("density", "Density of stock", example="1.2 g/mL", hint="if w/w"),
    Field("life", "May stand, h", "count", low=1, high=10_000, hint="label"),
    Field("old", "Made, h ago", "count", low=0, high=10_000, hint="if old"),
)


def commands(app: RoundsApp) -> Iterable[SystemCommand]:
    """Give what the list of commands offers."""
    words = "What to measure for a bucket of disinfectant; nothing is recorded"
    yield SystemCommand("Disinfectant dilution", words, lambda: show(app))


def show(app: RoundsApp) -> None:
    """Ask for the figures."""
    app.push_screen(DisinfectDialog())


class DisinfectDialog(FormDialog):
    """Asks for stock, level and bucket, and shows what to measure; `w` shows the working."""

    REMEMBERS = False
    BINDINGS = [bind("working", "working", "Working")]

    def __init__(self) -> None:
        super().__init__(
            "Disinfectant dilution",
            FIELDS,
            self._looked,
            self._said,
            widths=Widths(label=20, value=32),
        )

    def _said(self, answers: Answers) -> str:
        if "wanted" not in answers or "finished" not in answers:
            return "For equipment. Nothing of it is recorded."
        try:
            return "\n".join(disinfect.make_up(bucket_of(answers), clock.now()).said)
        except Refusal as error:
            return f"{error.sentence} {error.todo}".strip()

    async def _looked(self, answers: Answers) -> None:
        """Nothing is made; what can not be is told and stays."""
        disinfect.make_up(bucket_of(answers), clock.now())

    def action_working(self) -> None:
        """Show the working of what stands below."""
        text = "Type the level and the volume first."
        if "wanted" in self.answers and "finished" in self.answers:
            text = "\n".join(disinfect.make_up(bucket_of(self.answers), clock.now()).working)
        self.app.push_screen(Panel("Working of this dilution", text))


def bucket_of(answers: Answers) -> Bucket:
    """Return the answers as what is to be made up."""
    texts = {
        key: answers[key].words if key in answers else ""
        for key in ("stock", "density", "wanted", "finished")
    }
    return Bucket(
        **texts,
        hours_old=answered.number(answers, "old"),
        life_hours=answered.number(answers, "life"),
    )
