"""Papers that are made at the Paperwork desk, and where each lies."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from core.practice.keep import Act

if TYPE_CHECKING:
    from tui.paperwork.ask import TakePayment
    from tui.paperwork.logs import IssueLog
    from tui.paperwork.screen import PaperworkScreen


def say(screen: PaperworkScreen, dialog: TakePayment | IssueLog) -> None:
    """Open a dialog that makes a paper, and say where that lies."""

    def after(done: bool | None) -> None:
        if done and dialog.issued:
            paper = dialog.issued.document
            words = f"{paper.kind.capitalize()} {paper.number}, version {paper.version}"
            screen.status(f"{words}: {dialog.issued.file}")

    screen.app.push_screen(dialog, after)


async def summary(screen: PaperworkScreen, act: Act, day: date) -> None:
    """Make the summary of the day, saying how far it is."""
    from core.practice import day_paper

    app = screen.app
    screen.status("Day summary, step 1 of 2: reading the day and drawing it ...")
    drawn = await app.look(day_paper.drawn, act, day)
    screen.status("Day summary, step 2 of 2: keeping it ...")
    issued = await app.save(day_paper.keep_summary, act, drawn, app.desk.papers)
    screen.status(f"Day summary, version {issued.document.version}: {issued.file}")
