"""Where what was found leads: to its visit, or to booking the first one."""

from __future__ import annotations

from core import clock
from core.practice import visits
from core.practice.find import Found
from tui.base import RoundsApp
from tui.messages import OpenVisit


async def follow(app: RoundsApp, found: Found) -> None:
    """Open the visit; for a client who had none yet, ask for one."""
    if found.visit:
        app.post_message(OpenVisit(found.visit))
        return
    from tui.bookings.book import BookVisit

    known = await app.look(visits.choices)
    today, now = app.today(), clock.local(clock.now(), app.practice.zone)
    dialog = BookVisit(today, today, known, app.worker.id, now)
    dialog.take(found.client, found.client_name)

    def done(_: bool | None) -> None:
        if dialog.made:
            app.clear_notifications()
            app.notify(dialog.booked())

    app.push_screen(dialog, done)
