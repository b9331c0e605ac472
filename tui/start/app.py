"""The app from the door: makes the practice when there is none, and asks who is at work."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual import work
from textual.screen import Screen

from core import clock
from core.practice import access, who
from core.practice.desk import Desk
from core.practice.keep import Act
from core.practice.who import Practice, Worker
from tui.app import FinroundsApp
from tui.start.who_screen import WhoScreen

if TYPE_CHECKING:
    from tui.start.questions import Details

_NOT_YET = ("desk", "find", "command_palette", "practice", "lock")


class StartingApp(FinroundsApp):
    """Begins before anybody is at work; goes on to the Day desk when somebody is.

    Parameters
    ----------
    practice : Practice or None
        None on empty records: the first start asks for it.
    people : tuple of Worker
        Who may be at work.
    """

    MODES = {**FinroundsApp.MODES, "start": Screen}
    DEFAULT_MODE = "start"

    def __init__(self, desk: Desk, practice: Practice | None, people: tuple[Worker, ...]) -> None:
        super().__init__(desk, practice or nobody(local_zone()), Worker("", "", ""))
        self.empty = practice is None
        self.people = people

    def on_mount(self) -> None:
        if self.empty:
            from tui.start.first import FirstStart

            self.push_screen(FirstStart(self.practice.zone, self.make))
        else:
            self.ask_who()

    def ask_who(self) -> None:
        """Ask who is at work; a single person is at once."""
        if len(self.people) == 1:
            self.begin(self.people[0])
        else:
            self.push_screen(WhoScreen(self.practice.name, self.people), self.begin)

    @work(exclusive=True, group="start")
    async def make(self, entered: Details) -> None:
        """Make the practice of the first start, and go on.

        A worker, because the form that asked is taken away and could not wait for that itself.
        """
        from core.practice import setup

        act = Act("setup", clock.now())
        await self.save(setup.begin, act, entered.practice, entered.people, entered.tax)
        made = await self.look(who.practice)
        assert made is not None
        self.practice = made
        self.people = await self.look(who.people)
        await self.pop_screen()
        self.ask_who()

    def begin(self, worker: Worker | None) -> None:
        """Open the Day desk for somebody, who types a PIN first where there is one."""
        if worker is None:
            self.ask_who()
        elif self.desk.look(access.has_pin, worker.id):
            from tui.lock.pin_screen import PinScreen, ways

            self.push_screen(PinScreen(ways(worker)), self._go_for)
        else:
            self._go_for(worker)

    def _go_for(self, worker: Worker | None) -> None:
        """Go on as somebody; on new records the first visit is offered."""
        if worker is not None:
            self.worker = worker
            self._go()
        elif len(self.people) > 1:
            self.ask_who()
        else:
            # A name was given on the command line, or there is one person: nobody else to be.
            self.exit()

    @work(group="start")
    async def _go(self) -> None:
        await self.switch_mode("day")
        await self.remove_mode("start")
        if self.empty:
            await self.run_action("add", self.screen)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Before somebody is at work there are no desks."""
        if self.current_mode == "start" and action in _NOT_YET:
            return False
        return super().check_action(action, parameters)


def local_zone() -> str:
    """Return this machine's time zone by name."""
    import tzlocal

    return str(tzlocal.get_localzone_name() or "Etc/UTC")


def nobody(zone: str) -> Practice:
    """Return the practice that stands in until the first start has made one."""
    return Practice(id="", name="", address="", phone="", currency="", zone=zone)
