"""What settles each kind of line of the Paperwork desk, and its papers as plain text."""

from __future__ import annotations

from core.errors import Refusal
from core.practice import charges, day_paper, diary, letterhead, results
from core.practice.owing import Owing
from core.practice.paperwork import EndOfDay, Paper, end_of_day_text, paper_text
from tui.base import RoundsApp
from tui.bookings.calls import LogCall
from tui.paperwork.ask import EnterResult, HandOver, TakePayment, TellOwner
from tui.widgets.dialog import FormDialog

STAGE = {
    "unsigned": "Sign",
    "late": "Sign",
    "to bill": "Charges",
    "unsent": "Biopsy",
    "paper": "Plan",
}
"""The stage that mends a line of this kind."""


async def dialog_for(app: RoundsApp, line: Owing) -> FormDialog | None:
    """Return the dialog that settles a line; None when a stage of the visit does."""
    if line.kind == "awaited":
        signed = await app.look(results.signed, line.visit)
        return EnterResult(line, signed=signed)
    if line.kind == "tell":
        return TellOwner(line)
    if line.key.startswith("paper:"):
        return HandOver(line.row, f"{line.client}: {line.what}")
    if line.kind == "count":
        from tui.shelf.ask import count_or_put_right

        return await count_or_put_right(app, line.row)
    if line.kind in ("ring", "recheck"):
        due = await app.look(diary.due, app.today())
        phone = next((x.phone for x in due if x.recheck == line.row), "")
        return LogCall(line.row, line.client, phone)
    return None


async def payment_for(app: RoundsApp, visit: str, client: str) -> TakePayment:
    """Return the dialog that takes a payment for a visit.

    Raises
    ------
    Refusal
        When nothing is owed for it.
    """
    bill = await app.look(charges.bill, visit)
    if bill.owed_minor <= 0:
        raise Refusal(f"{client} owes nothing for this visit.")
    owed = letterhead.currency(app.practice).bare(bill.owed_minor)
    return TakePayment(visit, client, bill, owed.replace("\u00a0", ""))


def stage_of(line: Owing) -> str:
    """Return the stage of the visit in which a line is mended; "" for where it was left."""
    from tui.workup.stages import BUILT

    stage = line.what.split(" waits")[0] if line.kind == "waiting" else STAGE.get(line.kind, "")
    return stage if stage in BUILT else ""


async def text_of(app: RoundsApp, view: EndOfDay, paper: Paper | None) -> tuple[str, str]:
    """Return a title and plain text: of a paper, or of the whole day."""
    if paper is None:
        return "The day as text", end_of_day_text(view)
    facts = f"{paper_text(paper)}\nIt lies in {app.desk.papers}"
    text = await app.look(day_paper.twin, paper.id)
    words = text or "This kind of paper is not shown as text here; Enter opens its file."
    return f"{paper.kind} {paper.number}", f"{facts}\n\n{words}"
