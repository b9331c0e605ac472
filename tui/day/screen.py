"""The day: its visits in order, and what the vet needs before getting out of the truck."""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING

from rich.text import Text
from textual import events, getters, work
from textual.app import ComposeResult
from textual.screen import Screen
from textual.widgets import Static

from core import clock
from core.errors import Refusal
from core.practice import day as days
from core.practice import visits
from core.practice.keep import Act
from tui.base import RoundsApp
from tui.day import before, columns
from tui.day.visit_list import VisitList
from tui.keys import bind
from tui.widgets.foot import foot

if TYPE_CHECKING:
    from tui.widgets.booking_dialog import BookingDialog

WIDE = 76
"""From here on the heading names the desks too."""


class DayScreen(Screen[None]):
    """The list of a day's visits."""

    app = getters.app(RoundsApp)
    list = getters.query_one("#visits", VisitList)
    CSS_PATH = "day.tcss"
    BINDINGS = [
        bind("add"),
        bind("no_access"),
        bind("cancel", label="Cancel"),
        bind("move"),
        bind("other_vet"),
        bind("today", show=False),
    ]

    def __init__(self) -> None:
        super().__init__()
        self._fresh = True
        self._filled_for = 0
        self.day = date.min
        self.view = days.DayView(self.day, (), {})
        self.mine = True
        self.wanted = ""
        """The visit to go to once the day is read again."""

    def compose(self) -> ComposeResult:
        yield Static("", id="heading", markup=False)
        yield Static("", id="heads", markup=False)
        yield VisitList(self.app.practice.units, self._paint_before, id="visits")
        yield Static("", id="before", markup=False)
        yield foot()

    def on_mount(self) -> None:
        self.mine = self.app.worker.signs
        self.day = self.app.today()
        self.view = self.app.desk.look(days.view, self.day)
        self.fill()
        self.list.focus()

    def on_screen_resume(self) -> None:
        if self._fresh:
            self._fresh = False  # it was filled when it was mounted, a moment ago
        elif self.day != date.min:
            self.refill()

    def on_resize(self, event: events.Resize) -> None:
        if self._width() != self._filled_for:
            self.fill()
        else:
            self._paint_before()

    @work(exclusive=True, group="day")
    async def refill(self) -> None:
        """Read the day again and paint it."""
        self.view = await self.app.look(days.view, self.day)
        self.fill()

    def fill(self) -> None:
        """Paint the day, staying on the visit that was current."""
        self._filled_for = self._width()
        vet = self.app.worker.id if self.mine else None
        lines = sorted(self.view.of(vet), key=self._round)
        self.list.fill(self.view, lines, self._width() - 1, self.wanted)
        self.wanted = ""
        self.query_one("#heads", Static).update(columns.heads(self.list.fitted))
        self.query_one("#heads").display = bool(self.list.lines)
        self.query_one("#heading", Static).update(self._heading())
        self._paint_before()

    def _round(self, line: days.DayLine) -> tuple[bool, str, str]:
        """Each vet's round in order of time, one's own first."""
        return (line.vet != self.app.worker.id, line.vet_name, line.starts)

    def _width(self) -> int:
        return self.size.width or self.app.size.width

    def _heading(self) -> str:
        today = self.app.today()
        near = {-1: ", yesterday", 0: ", today", 1: ", tomorrow"}.get((self.day - today).days, "")
        whose = self.app.worker.name if self.mine else "all"
        left = f" {self.day:%a} {self.day.day} {self.day:%b}{near}   {whose}: "
        left += columns.count(self.list.lines)
        right = "DAY  b Bookings  p Paperwork "
        space = self._width() - len(left) - len(right)
        return left + " " * space + right if space > 1 and self._width() >= WIDE else left

    def _paint_before(self) -> None:
        """Paint what is worth knowing before getting out, for the current visit."""
        if not self.is_mounted:
            return
        line = self.list.current
        shown: Text | str = self._empty()
        if line is not None:
            arrival = self.view.arrivals[line.visit]
            room = (self._width() - 2, self.query_one("#before").size.height)
            shown = before.text(line, arrival, self.app.practice, *room)
        self.query_one("#before", Static).update(shown, layout=False)

    def _empty(self) -> str:
        if self.mine and (others := len(self.view.lines)):
            return f"No visits of yours on this day. e shows all {others}; a adds one."
        return (
            "No visits on this day.\n"
            "a adds one. The left and right arrows change the day, t is today, b plans ahead."
        )

    def _act(self) -> Act:
        return Act(self.app.worker.id, clock.now())

    def _chosen(self) -> days.DayLine:
        if self.list.current is None:
            raise Refusal("No visit is chosen.", "a adds one to this day.")
        return self.list.current

    def on_option_list_option_selected(self) -> None:
        """Open the visit where it was left."""
        from tui.workup.screen import WorkupScreen
        from tui.workup.stages import BUILT

        line = self._chosen()
        stage = line.resume if line.resume in BUILT else ""
        self.app.push_screen(WorkupScreen(line.visit, stage), lambda _: None)

    def action_add(self) -> None:
        """Add an unplanned visit to this day."""
        self._add()

    @work(exclusive=True, group="dialog")
    async def _add(self) -> None:
        from tui.day.add import AddVisit

        known = await self.app.look(visits.choices)
        now = clock.local(clock.now(), self.app.practice.zone)
        self._ask(AddVisit(self.day, known, self.app.worker.id, now))

    def action_move(self) -> None:
        """Move the visit to another day or time."""
        self._move(self._chosen())

    @work(exclusive=True, group="dialog")
    async def _move(self, line: days.DayLine) -> None:
        from tui.day.move import MoveVisit

        vets = (await self.app.look(visits.choices)).vets
        dialog = MoveVisit(line, self.day, self.app.today(), vets)
        self._ask(dialog)

    def _ask(self, dialog: BookingDialog) -> None:
        def done(_: bool | None) -> None:
            self.wanted = dialog.made
            if dialog.made:
                # What the book refused on the way is settled.
                self.app.clear_notifications()
                self.app.notify(dialog.booked(), markup=False)
            self.refill()

        self.app.push_screen(dialog, done)

    async def action_no_access(self) -> None:
        """Say that nobody could get to the fish; on such a visit, take it back."""
        await self._off(visits.no_access, "no access", "No access", "gate locked, nobody there")

    async def action_cancel(self) -> None:
        """Cancel the visit; on a cancelled one, take it back."""
        await self._off(visits.cancel, "cancelled", "Cancel", "owner rang, will call again")

    async def _off(self, leave: visits.Leave, state: str, title: str, example: str) -> None:
        from tui.widgets.dialog import reason

        line = self._chosen()
        if line.state == state:
            await self._again(line)
            return

        async def done(why: str) -> None:
            await self.app.save(leave, self._act(), line.visit, why)

        heading = f"{title}: {line.starts} {line.client}"
        self.app.push_screen(reason(heading, done, example), lambda _: None)

    async def _again(self, line: days.DayLine) -> None:
        """Book a visit again; where it no longer fits a reason is asked."""
        from core.practice import booking
        from tui.widgets.dialog import reason

        async def done(although: str) -> None:
            await self.app.save(booking.book_again, self._act(), line.visit, although=although)

        try:
            await done("")
        except booking.DoesNotFit as error:
            title = f"Book again all the same? {error.sentence}"
            self.app.push_screen(reason(title, done), lambda _: None)
        else:
            self.refill()

    @property
    def visit_here(self) -> str:
        """The visit under the cursor; "" when there is none."""
        return self.list.current.visit if self.list.current else ""

    def action_other_vet(self) -> None:
        """Show one's own round, or everybody's."""
        self.mine = not self.mine
        self.fill()

    def action_earlier(self) -> None:
        self._turn(-1)

    def action_later(self) -> None:
        self._turn(1)

    def action_today(self) -> None:
        self.day = self.app.today()
        self.refill()

    def _turn(self, by: int) -> None:
        self.day += timedelta(days=by)
        self.refill()
