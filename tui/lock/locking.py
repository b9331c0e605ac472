"""The part of the app that locks it: on a key, and after a time without one."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

from textual import events, work
from textual.screen import Screen

from core import clock
from core.errors import Refusal
from core.practice import access
from core.practice.who import Worker
from tui.base import RoundsApp
from tui.keys import EVERYWHERE
from tui.lock.asking import Asking

LOOK_EVERY_S = 5.0
KEY = EVERYWHERE["lock"][0]
NO_PIN = (
    "You have no PIN yet. * opens the practice; there Enter on Your PIN sets one. For somebody "
    "else to take over, quit (q) and start as somebody else."
)
WORKS = ("quit", "help_quit", "suspend_process")
"""What the app itself still does while it is locked."""


class Locking(RoundsApp):
    """Locks, and lets in again; what is below stays as it is."""

    def __init__(self) -> None:
        super().__init__()
        self.lock_screen: Screen[Any] | None = None
        self._touched = clock.now()
        self._idle_min = 0
        self._held: dict[str, Any] = {}
        """What would have been said while it was locked."""

    @property
    def locked(self) -> bool:
        """Whether it is locked."""
        return self.lock_screen is not None

    def on_mount(self) -> None:
        self.set_interval(LOOK_EVERY_S, self.look_idle)

    @work(group="idle", exclusive=True)
    async def look_idle(self) -> None:
        """Lock when nothing was touched for as long as the practice has set."""
        if self.locked or not self.worker.id:
            return
        try:
            self._idle_min = await self.look(access.idle_minutes)
        except Refusal:
            return  # The records do not answer: what was set last holds.
        if self._idle_over(clock.now()):
            self.lock(told=False)

    def _idle_over(self, now: datetime) -> bool:
        idle = now - self._touched
        return bool(self._idle_min) and idle >= timedelta(minutes=self._idle_min)

    async def on_event(self, event: events.Event) -> None:
        """Note every touch; the lock's key is taken here, before those that follow it."""
        if isinstance(event, events.InputEvent | events.Paste) and not event.is_forwarded:
            late = not self.locked and self._idle_over(clock.now())
            if late and self.lock(told=False):
                return
            self._touched = clock.now()
        # One that comes back was waiting in a form that was typed in when it was pressed.
        if isinstance(event, events.Key) and event.key == KEY and not self._typing():
            self.action_lock()
            return
        await super().on_event(event)

    def _typing(self) -> bool:
        """Return whether a sign typed now belongs to a line that is being typed."""
        at = self.focused
        held = at is not None and at.check_consume_key(KEY, "!")
        return self.locked or held or bool(getattr(at, "typing", False))

    def action_lock(self) -> None:
        """Lock at once, or say how."""
        self.lock(told=True)

    def lock(self, *, told: bool) -> bool:
        """Cover everything until a PIN is typed; return whether that could be done.

        Parameters
        ----------
        told : bool
            Whether who is at work is told when there is no PIN to lock with.
        """
        if self.locked or not self.worker.id:
            return False
        try:
            with_pin = self.desk.look(access.people_with_pin)
        except Refusal as error:
            self.tell(error)
            return False
        if self.worker.id not in {w.id for w in with_pin}:
            if told:
                self.notify(NO_PIN, title="Not locked", timeout=10)
            return False
        self._cover(with_pin)
        return True

    def _cover(self, with_pin: tuple[Worker, ...]) -> None:
        from tui.lock.pin_screen import LockScreen, ways

        self.clear_notifications()
        cover = LockScreen(ways(self.worker, with_pin), self.unlock)
        self.push_screen(cover)
        self.lock_screen = cover

    def unlock(self, worker: Worker) -> None:
        """Let somebody in; another person takes over where the first one stood."""
        cover, self.lock_screen = self.lock_screen, None
        self._touched = clock.now()
        if cover is not None:
            cover.dismiss(None)
        if worker.id != self.worker.id:
            self.worker = worker
            self.call_later(self.notify, f"{worker.name} is at work now, as {worker.role}.")
        elif self._held:
            held, self._held = self._held, {}
            self.call_later(lambda: self.notify(**held))

    def notify(self, message: str, **more: Any) -> None:
        """Say something beside the screen; while it is locked, afterwards."""
        if self.locked:
            self._held = {"message": message, **more}
        else:
            super().notify(message, **more)

    def push_screen(self, *args: Any, **more: Any) -> Any:
        """Open a screen; one that was on its way when the app was locked goes below the lock."""
        made = super().push_screen(*args, **more)
        cover = self.lock_screen
        if cover is not None and not isinstance(self.screen, Asking):
            self._screen_stack.remove(cover)
            self._screen_stack.append(cover)
            cover.post_message(events.ScreenResume())
        return made

    def pop_screen(self) -> Any:
        """Close the front screen; while it is locked, the one below the lock."""
        cover = self.lock_screen
        if cover is None or cover not in self._screen_stack or self.screen is not cover:
            return super().pop_screen()
        self._screen_stack.remove(cover)
        try:
            return super().pop_screen()
        finally:
            self._screen_stack.append(cover)
            cover.post_message(events.ScreenResume())

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """While it is locked the app does nothing but end."""
        return action in WORKS if self.locked else super().check_action(action, parameters)
