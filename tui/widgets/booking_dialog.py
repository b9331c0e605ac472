"""What adding and moving a visit share: a time, and a reason when the visit does not fit."""

from __future__ import annotations

from collections.abc import Sequence

from core import clock
from core.errors import Refusal
from core.practice.booking import DoesNotFit, wall_time
from core.practice.keep import Act
from tui.widgets.dialog import Answers, FormDialog
from tui.widgets.field import Choice, Entry, Field
from tui.widgets.row import Widths

STARTS = Field("starts", "Starts at", example="10:30, 930 or 14", required=True)
ALTHOUGH = Field(
    "although", "Reason", hint="why it stands all the same", example="emergency", required=True
)

People = tuple[tuple[str, str], ...]
"""Ids and names of who may go."""


class BookingDialog(FormDialog):
    """A form about a visit in the book; asks for a reason once the book says it does not fit."""

    def __init__(self, title: str, answers: Answers) -> None:
        super().__init__(
            title, self.asked, self.book, self.said, answers, Widths(label=16, value=28)
        )
        self.clash = ""
        self.made = ""
        """Id of the visit that was booked or moved, once it is."""

    def rows(self, answers: Answers) -> Sequence[Field]:
        """Return the rows without the reason."""
        raise NotImplementedError(type(self).__name__)

    async def write(self, answers: Answers, although: str) -> None:
        """Put the visit into the book; raises `DoesNotFit`."""
        raise NotImplementedError(type(self).__name__)

    def asked(self, answers: Answers) -> Sequence[Field]:
        """Return the rows that the answers so far ask for."""
        rows = list(self.rows(answers))
        return [*rows, ALTHOUGH] if self.clash else rows

    def said(self, answers: Answers) -> str:
        """Return the line under the form."""
        return self.clash or "f books it. Esc leaves."

    def booked(self) -> str:
        """Return what was done, in words."""
        day = self.answers["day"].text if "day" in self.answers else ""
        return f"Booked for {day} {self.answers['starts'].text}.".replace("  ", " ")

    def act(self) -> Act:
        """Who is doing something now."""
        return Act(self.app.worker.id, clock.now())

    async def book(self, answers: Answers) -> None:
        """Write; when it does not fit, name the visits it clashes with and ask for a reason."""
        although = answers.get("although") if self.clash else None
        try:
            await self.write(answers, although.words if although else "")
        except DoesNotFit as error:
            await self._ask_why(error)
            # The sentences stand under the form; what is told beside it is only what to do.
            raise DoesNotFit("Say why it stands all the same, or choose another time.") from error

    async def _ask_why(self, error: Refusal) -> None:
        self.clash = error.sentence
        await self.form.set_fields(self.asked(self.answers))
        self.form.go(len(self.form.fields) - 1)
        self.form.open_row()
        self._paint_below()

    async def _keep(self, field: Field, entry: Entry) -> None:
        if field.key == "starts":
            entry = Entry(wall_time(entry.words), wall_time(entry.words))
        if field.key in ("starts", "day", "vet", "kind"):
            self.clash = ""
        await super()._keep(field, entry)


def vet_row(vets: People) -> Field:
    """Return the row that asks which vet goes."""
    choices = tuple(Choice("", key, name) for key, name in vets)
    return Field("vet", "Vet", "pick", choices=choices, required=True)
