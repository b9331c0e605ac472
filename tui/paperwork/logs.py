"""Printing a log at the Paperwork desk: which, and from which day to which; it is kept."""

from __future__ import annotations

from datetime import date

from core import clock, dates
from core.practice.issued import Issued
from core.practice.keep import Act
from tui.widgets.dialog import Answers, FormDialog
from tui.widgets.field import Choice, Entry, Field
from tui.widgets.row import Widths

LOGS = (
    Choice("d", "dispensing log", "dispensing log"),
    Choice("c", "drug log", "controlled-drug log"),
    Choice("a", "antimicrobial use", "antimicrobials used"),
)


class IssueLog(FormDialog):
    """A log of the days that are asked for; those of the month until others are typed."""

    REMEMBERS = False

    def __init__(self, day: date, today: date) -> None:
        self.issued: Issued | None = None
        until = min(day, today)
        days = {"since": until.replace(day=1), "until": until}
        fields = [
            Field("kind", "Which log", "choice", choices=LOGS, required=True),
            Field("since", "From", "date", required=True),
            Field("until", "To", "date", required=True),
        ]
        answers = {key: Entry(dates.said(day, today), day) for key, day in days.items()}
        widths = Widths(label=12, value=40)
        super().__init__("Print a log", fields, self.write, _keys, answers, widths)

    async def write(self, answers: Answers) -> None:
        """Draw the log and keep it."""
        from core.practice import log_documents

        act = Act(self.app.worker.id, clock.now())
        asked = (answers["kind"].words, answers["since"].day, answers["until"].day)
        log = await self.app.look(log_documents.drawn, act, *asked)
        self.issued = await self.app.save(log_documents.keep, act, log, self.app.desk.papers)


def _keys(_: Answers) -> str:
    return "f makes it and keeps it among the papers of today. Esc leaves."
