"""What is asked before an invoice is issued: for whom, and how much."""

from __future__ import annotations

from collections.abc import Awaitable, Callable

from core.practice import charges, letterhead, visits
from tui.base import RoundsApp
from tui.widgets.confirm import ConfirmInvoice, confirm


async def issue(app: RoundsApp, visit_id: str, do: Callable[[], Awaitable[None]]) -> None:
    """Issue an invoice after asking; at once when there is none to issue, which is refused.

    Raises
    ------
    Refusal
        What `do` refuses when there is nothing to ask.
    """
    bill = await app.look(charges.bill, visit_id)
    if bill.invoice is not None or not bill.charges:
        await do()
        return
    client = (await app.look(visits.opened, visit_id)).client.name
    total = letterhead.currency(app.practice).show(bill.totals.gross)
    count = len(bill.charges)
    body = (
        f"To {client}: {count} line{'s' if count > 1 else ''}, total {total}.\n"
        "It gets its number and does not change any more. j issues it; Esc leaves."
    )
    confirm(app, ConfirmInvoice("Issue the invoice?", body), do)
