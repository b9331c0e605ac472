"""Changing a level of the water in steps: what, how far, and the dates below."""

from __future__ import annotations

from collections.abc import Awaitable, Callable

from core.errors import BadInput
from core.practice import level_ramps
from core.practice.level_ramps import Change
from tui.widgets import answers as answered
from tui.widgets.dialog import Answers, FormDialog
from tui.widgets.field import Choice, Entry, Field
from tui.widgets.row import Widths
from tui.workup.fitting import in_lines

WHAT = (
    Choice("t", "temperature", "temperature"),
    Choice("p", "ph", "pH"),
    Choice("s", "salinity", "salt content"),
)
WIDTHS = Widths(label=20, value=32)
EXAMPLES = {"temperature": "25 C", "ph": "7.4", "salinity": "3"}
HINTS = {"temperature": "", "ph": "", "salinity": "g/L"}
QUANTITIES = {"temperature": "temperature", "ph": "plain", "salinity": "plain"}
"""What is read with a unit; the others are bare figures of one scale."""


class LevelDialog(FormDialog):
    """Asks what is changed and how far, and shows the level of each day after each answer."""

    REMEMBERS = False

    CSS = "LevelDialog #dialog-below { max-height: 9; }"

    def __init__(self, visit: str, system: str, made: Callable[[Change], Awaitable[None]]):
        async def done(answers: Answers) -> None:
            await made(change_of(answers, system))

        super().__init__(
            "Change a level in steps", level_fields, done, lambda _: self._text, widths=WIDTHS
        )
        self._visit, self._system, self._text = visit, system, ""

    async def _keep(self, field: Field, entry: Entry) -> None:
        if field.key == "what" and self.answers.get("what") != entry:
            for key in ("target", "now", "most"):
                self.answers.pop(key, None)
        self.answers[field.key] = entry
        await self._look()
        await super()._keep(field, entry)

    async def _forgotten(self, field: Field) -> None:
        await self._look()

    async def _look(self) -> None:
        """Work the steps out anew."""
        if "what" not in self.answers or "target" not in self.answers:
            self._text = ""
            return
        wanted = change_of(self.answers, self._system)
        try:
            said = await self.app.look(level_ramps.sentences, self._visit, wanted)
        except BadInput as error:
            self._text = f"{error.sentence} {error.todo}".strip()
        else:
            self._text = in_lines(said)


def level_fields(answers: Answers) -> list[Field]:
    """Return the rows of a change; levels are asked once it is said of what."""
    found = [Field("what", "What is changed", "choice", choices=WHAT, required=True)]
    if "what" not in answers:
        return found
    what = answers["what"].words
    kind = QUANTITIES[what]
    most = f"{level_ramps.limit(what):g} a day"
    return [
        *found,
        Field(
            "target",
            "Level to reach",
            "quantity",
            kind,
            low=0,
            high=42,
            required=True,
            example=EXAMPLES[what],
            hint=HINTS[what],
        ),
        Field("now", "Where it is now", "quantity", kind, low=0, high=42, hint="as measured"),
        Field("most", "Most in a day", "quantity", low=0.01, high=20, example="1", hint=most),
        Field("first", "First step on", "date", hint="visit day"),
        Field("reason", "Reason to go past", hint="if asked", example="fish are gasping"),
    ]


def change_of(answers: Answers, system: str) -> Change:
    """Return the answers as a change."""
    target = answered.number(answers, "target")
    return Change(
        system,
        answers["what"].words,
        0.0 if target is None else target,
        answered.number(answers, "now"),
        answered.number(answers, "most"),
        answered.day(answers, "first"),
        answers["reason"].words if "reason" in answers else "",
    )
