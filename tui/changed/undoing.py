"""The keys that take back, do again and tell what changed, on every screen that shows records."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING

from textual.app import SystemCommand
from textual.screen import Screen

from core import clock
from core.practice.keep import Act
from tui.base import RoundsApp
from tui.changed.subject import Subject, subject_of

if TYPE_CHECKING:
    from core.practice.undo import Turned

ACTIONS = ("undo", "redo", "changed")


class Undoing(RoundsApp):
    """The part of the app that takes back and does again."""

    async def action_undo(self) -> None:
        """Take back the last thing that the person at work did, at any screen."""
        from core.practice.undo import take_back

        await self._turn(take_back, "Taken back", "+ does it again.")

    async def action_redo(self) -> None:
        """Do again what was just taken back."""
        from core.practice.undo import do_again

        await self._turn(do_again, "Done again", "- takes it back.")

    async def _turn(self, write: Callable[[Act], Turned], title: str, other: str) -> None:
        subject = subject_of(self.screen)
        turned = await self.save(write, Act(self.worker.id, clock.now()))
        here = subject is not None and subject.id == turned.visit
        whose = "" if here or not turned.client else f"{turned.client}, "
        self.notify(f"{whose}{turned.words}. {other}", title=title, timeout=8)
        refill = getattr(self.screen, "refill", None)
        if refill is not None:
            await refill().wait()

    async def action_changed(self) -> None:
        """Tell what changed: of the visit on the screen, or what the person at work did."""
        from tui.changed.screen import ChangedScreen

        subject = subject_of(self.screen) or Subject("person", self.worker.id)
        self.push_screen(ChangedScreen(subject))

    def turning_commands(self) -> Iterable[SystemCommand]:
        """Return what the list of commands offers of these."""
        yield SystemCommand("Take back", "The last thing you did", self.action_undo)
        yield SystemCommand("Do again", "What you have just taken back", self.action_redo)
        words = "Who entered, corrected or took back what, and when"
        yield SystemCommand("What changed", words, self.action_changed)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Only where records stand on the screen, and not while something is typed."""
        if action in ACTIONS:
            typing = getattr(self.focused, "typing", False)
            return not typing and shows_records(self.screen)
        return super().check_action(action, parameters)


def shows_records(screen: Screen[object]) -> bool:
    """Say whether a screen shows records that it can read again: a desk, a day, a visit."""
    return hasattr(screen, "refill")
