"""Watching what the other desks save: what they have put there appears without a restart."""

from __future__ import annotations

from contextlib import suppress

from textual.worker import Worker, WorkerCancelled, WorkerFailed

from core.errors import Refusal
from core.practice import meanwhile
from tui.base import RoundsApp

EVERY_S = 2.0


class Watch:
    """Asks, every two seconds, whether another desk has saved something.

    Where no other desk may write nothing is asked.
    """

    def __init__(self, app: RoundsApp) -> None:
        self._app = app
        self._away = False
        """Whether the records did not answer the last time: that is told once."""

    def begin(self) -> None:
        """Begin to ask."""
        if meanwhile.shared():
            self._app.seen = self._app.desk.look(meanwhile.news, "").clock
            self._app.set_interval(EVERY_S, self.look)

    def look(self) -> Worker[None]:
        """Ask once; every screen that is open reads what is new."""
        return self._app.run_worker(self._look(), group="meanwhile", exclusive=True)

    async def _look(self) -> None:
        app = self._app
        try:
            news = await app.look(meanwhile.news, app.seen or "")
        except Refusal as error:
            if not self._away:
                app.tell(error)
            self._away = True
            return
        self._away = False
        if news.others:
            await self._read_again()
        app.seen = news.clock

    async def _read_again(self) -> None:
        for screen in self._app.screen_stack:
            refill = getattr(screen, "refill", None)
            if refill is not None and screen.is_mounted:
                with suppress(WorkerCancelled, WorkerFailed):
                    await refill().wait()
