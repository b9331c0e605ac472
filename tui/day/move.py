"""Moving a visit: another day, time or vet."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from core.dates import said
from core.practice import bookings
from core.practice.day import DayLine
from tui.widgets.booking_dialog import STARTS, BookingDialog, People, vet_row
from tui.widgets.dialog import Answers
from tui.widgets.field import Entry, Field


class MoveVisit(BookingDialog):
    """Asks for the day, the time and, where there are several, the vet."""

    def __init__(self, line: DayLine, day: date, today: date, vets: People) -> None:
        self.line = line
        self.vets = vets
        answers = {
            "day": Entry(said(day, today), day),
            "starts": Entry(line.starts, line.starts),
            "vet": Entry(line.vet_name, line.vet),
        }
        super().__init__(f"Move {line.client}, {line.reason}", answers)

    def rows(self, answers: Answers) -> Sequence[Field]:
        rows = [Field("day", "Day", "date", required=True), STARTS]
        return [*rows, vet_row(self.vets)] if len(self.vets) > 1 else rows

    async def write(self, answers: Answers, although: str) -> None:
        await self.app.save(
            bookings.move,
            self.act(),
            self.line.visit,
            answers["day"].day,
            answers["starts"].words,
            vet=answers["vet"].words,
            although=although,
        )
        self.made = self.line.visit
