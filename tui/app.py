"""The app: its desks, its themes, and the one place where errors for people end."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from importlib import import_module
from importlib.util import find_spec
from typing import TYPE_CHECKING

from textual import events, work
from textual.app import SystemCommand
from textual.dom import DOMNode
from textual.screen import Screen
from textual.worker import WorkerFailed

from core.errors import Refusal
from core.practice.desk import Desk
from core.practice.who import Practice, Worker
from tui import banner, daily, remembered, unsaved
from tui.changed.undoing import ACTIONS, Undoing
from tui.keys import bind
from tui.lock.locking import Locking
from tui.meanwhile import Watch
from tui.messages import OpenVisit
from tui.themes import NIGHT, SUNLIGHT, THEMES

if TYPE_CHECKING:
    from core.practice.find import Found

DESKS = {
    "day": ("tui.day.screen", "DayScreen"),
    "bookings": ("tui.bookings.screen", "BookingsScreen"),
    "paperwork": ("tui.paperwork.screen", "PaperworkScreen"),
}
"""Each desk's module and screen; a module is loaded when its desk is first opened."""
LOADED_LATER = (
    "core.papers.flow",
    "tui.workup.screen",
    "tui.find.screen",
    "rapidfuzz.distance",
    *(module for module, _ in DESKS.values()),
)
"""What a worker loads after the first paint, so that the first key for it does not wait."""
WARM_AFTER_S = 0.5
BACKUP_AFTER_S = 20.0
"""Late enough that nobody is waiting for the start any more."""
_LETTERS = ("desk", "find", "help", "leave", "command_palette", "practice", "lock", *ACTIONS)
"""Actions whose keys are letters or signs: while something is typed they are no commands."""


def _desk(name: str) -> Callable[[], Screen[object]]:
    def made() -> Screen[object]:
        module, kind = DESKS[name]
        screen: Screen[object] = getattr(import_module(module), kind)()
        return screen

    return made


class FinroundsApp(Undoing, Locking):
    """Finrounds on a terminal, with somebody at work."""

    TITLE = "Finrounds"
    MODES = {name: _desk(name) for name, (module, _) in DESKS.items() if find_spec(module)}
    DEFAULT_MODE = "day"
    CSS = "FooterKey.-command-palette { display: none; }"
    BINDINGS = [
        bind("day", "desk('day')", show=False),
        bind("bookings", "desk('bookings')", show=False),
        bind("paperwork", "desk('paperwork')", show=False),
        bind("find", "find", show=False),
        bind("practice", "practice", show=False),
        bind("lock", "lock", show=False),
        *(bind(name, show=False) for name in ACTIONS),
        bind("help", "help"),
        bind("quit", "leave"),
    ]

    def __init__(self, desk: Desk, practice: Practice, worker: Worker) -> None:
        super().__init__()
        self.desk = desk
        self.practice = practice
        self.worker = worker
        self.others = Watch(self)
        """Tells when another desk has saved something."""
        self._warned = ""
        """What was named as not saved by the key before this one."""
        for theme in THEMES:
            self.register_theme(theme)
        self.theme = remembered.theme(desk.place.folder, SUNLIGHT.name)

    def on_mount(self) -> None:
        self.screen_change_signal.subscribe(self, self._put_banner)
        self.mode_change_signal.subscribe(self, lambda _: self._put_banner(self.screen))
        self._put_banner(self.screen)
        self.others.begin()

    def on_ready(self) -> None:
        # Not at once: the thread would compete with the first paint for the interpreter.
        self.set_timer(WARM_AFTER_S, self.warm)
        self.set_timer(BACKUP_AFTER_S, self.back_up)

    @work(thread=True, group="warm")
    def warm(self) -> None:
        """Load what is heavy, after the first paint, on a thread of its own."""
        from core import units

        units.warm()
        for module in LOADED_LATER:
            if find_spec(module):
                import_module(module)

    @work(thread=True, group="backup")
    def back_up(self) -> None:
        """Make the day's backup when there is none yet, beside whatever is done meanwhile."""
        if said := daily.back_up(self.desk.place):
            self.call_from_thread(self.notify, said)

    async def on_event(self, event: events.Event) -> None:
        """Forget, at any other key, that it was warned of what is not saved."""
        if isinstance(event, events.Key) and event.key != "q":
            self._warned = ""
        await super().on_event(event)

    def on_resize(self, event: events.Resize) -> None:
        self._put_banner(self.screen)

    def _put_banner(self, screen: Screen[object]) -> None:
        self.call_later(banner.show, self, screen)

    async def action_desk(self, name: str) -> None:
        """Go to a desk; on the Day desk itself, back to the list."""
        if name == self.current_mode:
            while len(self.screen_stack) > 1:
                await self.pop_screen()
        else:
            await self.switch_mode(name)

    async def on_open_visit(self, message: OpenVisit) -> None:
        """Open a visit behind the Day desk, in a stage or where it begins."""
        from tui.workup.screen import WorkupScreen
        from tui.workup.stages import BUILT

        await self.switch_mode("day")
        await self.action_desk("day")
        stage = message.stage if message.stage in BUILT else ""
        self.push_screen(WorkupScreen(message.visit, stage), lambda _: None)

    def action_find(self) -> None:
        """Find anything in the records, and go where it leads."""
        from tui.find.screen import FindScreen

        self.push_screen(FindScreen(), self._go_there)

    async def _go_there(self, found: Found | None) -> None:
        from tui.find.follow import follow

        if found is not None:
            await follow(self, found)

    def action_help(self) -> None:
        from tui import help as keys

        title = f"Keys here. At work: {self.worker.name}"
        self.push_screen(keys.Help(title, self.screen.active_bindings.values()))

    def action_practice(self) -> None:
        """Open the people, prices, details and settings of the practice."""
        from tui.practice.screen import PracticeScreen

        if not isinstance(self.screen, PracticeScreen):
            self.push_screen(PracticeScreen())

    def action_shelf(self) -> None:
        """Open the medicines that are on or off, and the shelf with its logs."""
        from tui.shelf.screen import ShelfScreen

        if not isinstance(self.screen, ShelfScreen):
            self.push_screen(ShelfScreen())

    def action_wear(self, theme: str) -> None:
        """Change the theme, on this machine, until it is changed again."""
        self.theme = theme
        remembered.keep_theme(self.desk.place.folder, theme)

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """Return what the command palette offers."""
        from tui import disinfect, kept, printed
        from tui.take_in.begin import commands

        for name in (desk for desk in DESKS if desk in self.MODES):
            words = f"Go to the {name} desk"
            yield SystemCommand(name.title(), words, lambda n=name: self.action_desk(n))
        for theme, words in ((SUNLIGHT, "Black on near-white"), (NIGHT, "Light on near-black")):
            title = f"Theme: {theme.name}"
            yield SystemCommand(title, words, lambda t=theme.name: self.action_wear(t))
        yield from self.turning_commands()
        yield from commands(self)
        yield from kept.commands(self)
        yield from printed.commands(self)
        yield from disinfect.commands(self)
        words = "People, prices, the practice's details, your PIN"
        yield SystemCommand("The practice", words, self.action_practice)
        words = "Read medicines and switch them on; products, lots and the drug log"
        yield SystemCommand("Medicines and shelf", words, self.action_shelf)
        yield SystemCommand("Lock", "Cover the screen until your PIN is typed", self.action_lock)
        yield SystemCommand("Keys", "The keys of this screen", self.action_help)
        yield SystemCommand("Quit", "Finish what is being saved, and end", self.action_quit)

    async def action_leave(self) -> None:
        """Quit; what was typed and not saved is named first, and a second press goes."""
        left = unsaved.words(self)
        if left and left != self._warned:
            self._warned = left
            said = f"{left} typed and not saved. q again quits without it."
            self.notify(said, title="Not saved", markup=False)
            return
        await self.action_quit()

    async def action_quit(self) -> None:
        """Finish what is queued for the disk, then end."""
        await self.save(_nothing)
        self.exit()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Only the desks that are there can be gone to; while typing letters are no commands."""
        if not super().check_action(action, parameters):
            return False
        if getattr(self.focused, "typing", False):
            return action not in _LETTERS
        return parameters[0] in self.MODES if action == "desk" else True

    async def run_action(
        self,
        action: str | tuple[str, str, tuple[object, ...]],
        default_namespace: DOMNode | None = None,
        namespaces: Mapping[str, DOMNode] | None = None,
    ) -> bool:
        """Run the action of a key; what is refused is told to the person."""
        try:
            return await super().run_action(action, default_namespace, namespaces)
        except Refusal as error:
            self.tell(error)
            return True

    def _handle_exception(self, error: Exception) -> None:
        """Tell the person what a worker was refused; every other error ends the app.

        A worker reports its failure here and to its own node only, so this is the one place
        that all of them share.
        """
        cause = error.error if isinstance(error, WorkerFailed) else error
        if isinstance(error, WorkerFailed) and isinstance(cause, Refusal):
            self.tell(cause)
        else:
            super()._handle_exception(error)


def _nothing() -> None:
    """Write nothing: when this is done, everything queued before it is on the disk."""
