"""The telephone: noting an attempt to reach an owner, and closing a recheck with its outcome."""

from __future__ import annotations

from core import clock
from core.practice import bookings
from core.practice.diary import DueLine
from core.practice.keep import Act
from tui.widgets.dialog import Answers, FormDialog
from tui.widgets.field import Choice, Field
from tui.widgets.row import Widths

RESULTS = (
    Choice("n", "no answer", "no answer"),
    Choice("m", "message left", "message left"),
    Choice("r", "asked to ring back", "asked to ring back"),
    Choice("t", "three numbers told", "three numbers told"),
    Choice("s", "spoke", "spoke"),
    Choice("w", "worse, vet told", "worse, vet told"),
)
OUTCOMES = (
    Choice("c", "clear", "clear"),
    Choice("b", "better", "better"),
    Choice("s", "the same", "the same"),
    Choice("w", "worse", "worse"),
    Choice("d", "declined by the owner", "declined"),
    Choice("l", "owner not reached", "not reached"),
)
WIDTHS = Widths(label=14, value=46)


class LogCall(FormDialog):
    """Notes one attempt: what came of it, and what was said."""

    def __init__(self, recheck: str, client: str, phone: str) -> None:
        self.recheck = recheck
        fields = [
            Field("result", "Result", "choice", choices=RESULTS, required=True),
            Field("words", "What was said", example="deaths 0, ammonia 2.2, pH 6.0"),
        ]
        title = f"Called {client}, {phone or 'no number'}"
        super().__init__(title, fields, self.write, _keys, widths=WIDTHS)

    async def write(self, answers: Answers) -> None:
        """Write the attempt."""
        act = Act(self.app.worker.id, clock.now())
        await self.app.save(bookings.log_attempt, act, self.recheck, _joined(answers, "result"))


class CloseRecheck(FormDialog):
    """Closes a recheck with its outcome."""

    def __init__(self, line: DueLine) -> None:
        self.line = line
        fields = [
            Field("outcome", "Outcome", "choice", choices=OUTCOMES, required=True),
            Field("words", "In words", example="no worm in two scrapes"),
        ]
        title = f"Close the recheck of {line.client}: {line.reason}"
        super().__init__(title, fields, self.write, _keys, widths=WIDTHS)

    async def write(self, answers: Answers) -> None:
        """Write the outcome."""
        act = Act(self.app.worker.id, clock.now())
        words = _joined(answers, "outcome")
        await self.app.save(bookings.close_recheck, act, self.line.recheck, words)


def _joined(answers: Answers, chosen: str) -> str:
    said = answers["words"].words if "words" in answers else ""
    return f"{answers[chosen].words}: {said}" if said else answers[chosen].words


def _keys(_: Answers) -> str:
    return "f keeps it. Esc leaves."
