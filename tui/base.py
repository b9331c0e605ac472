"""What every screen may ask of the app: the records, who is at work, and the practice."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from contextvars import ContextVar
from datetime import date
from functools import partial
from typing import Any, ParamSpec, TypeVar

from textual.app import App
from textual.notifications import SeverityLevel

from core import clock
from core.errors import Refusal
from core.practice import meanwhile
from core.practice.desk import Desk
from core.practice.who import Practice, Worker

typed_since: ContextVar[str | None] = ContextVar("what the screen had seen", default=None)
"""The clock of the records up to which a person had seen them when they began to type."""

P = ParamSpec("P")
R = TypeVar("R")


class RoundsApp(App[None]):
    """The part of the app that screens rely on; `FinroundsApp` builds the desks on it."""

    desk: Desk
    worker: Worker
    """Who is at work; chosen at each start."""
    practice: Practice

    seen: str | None = None
    """The clock up to which every screen shows the records; None where no other desk writes."""

    def __init__(self) -> None:
        super().__init__()
        self.drafts: dict[tuple[str, ...], dict[str, str]] = {}
        """What was typed in a stage and not accepted when it was left: kept while we run."""
        self.half_made: dict[tuple[str, ...], dict[str, Any]] = {}
        """Answers of a dialog that was left, for when the same is asked of the same visit."""

    async def save(self, write: Callable[P, R], *args: P.args, **kwargs: P.kwargs) -> R:
        """Queue a write and wait, without stopping the app, until it is on the disk.

        What is queued is written even when whoever waits for it goes away.
        """
        since = typed_since.get()
        if since is None:
            queued = self.desk.save(write, *args, **kwargs)
        else:
            queued = self.desk.save(meanwhile.knowing, since, partial(write, *args, **kwargs))
        return await asyncio.shield(asyncio.wrap_future(queued))

    async def look(self, read: Callable[P, R], *args: P.args, **kwargs: P.kwargs) -> R:
        """Read from the records on a thread of its own."""
        return await asyncio.to_thread(lambda: self.desk.look(read, *args, **kwargs))

    async def newest(self) -> str | None:
        """Return the clock of the records now; None where no other desk writes."""
        if self.seen is None:
            return None
        return (await self.look(meanwhile.news, self.seen)).clock

    def notify(
        self,
        message: str,
        *,
        title: str = "",
        severity: SeverityLevel = "information",
        timeout: float | None = 4.0,
        markup: bool = False,
    ) -> None:
        """Say something beside the screen, one thing at a time; never read as markup."""
        self.clear_notifications()
        super().notify(message, title=title, severity=severity, timeout=timeout, markup=markup)

    def today(self) -> date:
        """Return the date on the practice's wall."""
        return clock.today(self.practice.zone)

    def tell(self, error: Refusal) -> None:
        """Say to the person what was refused and what to do."""
        sentence = f"{error.sentence} {error.todo}".strip()
        self.notify(sentence, title=error.title, severity="error", timeout=10, markup=False)
