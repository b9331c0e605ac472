"""One day of the book: its visits, to be added to, moved and cancelled."""

from __future__ import annotations

from datetime import date, timedelta

from textual import getters, work
from textual.app import ComposeResult
from textual.screen import Screen
from textual.widgets import Static

from core import clock
from core.errors import Refusal
from core.practice import booking, diary, visits
from core.practice import day as days
from core.practice.diary import DiaryDay, DiaryLine
from core.practice.keep import Act
from tui.base import RoundsApp
from tui.bookings import words
from tui.bookings.book import BookVisit
from tui.day.move import MoveVisit
from tui.keys import bind
from tui.widgets.dialog import FormDialog, reason
from tui.widgets.foot import foot
from tui.widgets.lines import Lines


class DayBook(Screen[None]):
    """The visits of one day, one line each."""

    app = getters.app(RoundsApp)
    list = getters.query_one("#visits", Lines)
    CSS_PATH = "bookings.tcss"
    BINDINGS = [
        bind("add", label="New booking"),
        bind("move"),
        bind("cancel"),
        bind("back"),
        bind("earlier", show=False),
        bind("later", show=False),
        bind("today", show=False),
    ]

    def __init__(self, day: date, visit: str = "") -> None:
        super().__init__()
        self.day = day
        self.shown = DiaryDay(day, True, ())
        self._first = visit

    def compose(self) -> ComposeResult:
        yield Static("", id="heading", markup=False)
        yield Lines("Open visit", id="visits")
        yield Static("", id="detail", markup=False)
        yield foot()

    def on_mount(self) -> None:
        [self.shown] = self.app.desk.look(diary.diary, self.day, 1)
        self.fill(self._first)
        self.list.focus()

    def on_screen_resume(self) -> None:
        if self.is_mounted:
            self.refill()

    @work(exclusive=True, group="day book")
    async def refill(self) -> None:
        """Read the day again and paint it."""
        [self.shown] = await self.app.look(diary.diary, self.day, 1)
        self.fill()

    def fill(self, current: str = "") -> None:
        """Paint the day."""
        width = (self.size.width or self.app.size.width) - 3
        lines = ((x.visit, words.visit_line(x, width)) for x in self.shown.lines)
        self.list.fill(lines, current)
        closed = "" if self.shown.open else ", closed"
        stands = sum(1 for line in self.shown.lines if not line.off)
        self.query_one("#heading", Static).update(
            f" {self.day:%a} {self.day.day} {self.day:%b %Y}{closed}: {stands} visits"
        )
        self.paint_detail()

    def paint_detail(self) -> None:
        """Paint the whole of the current booking."""
        line = self.line
        text = words.visit_detail(line) if line else "No visits on this day. a books one."
        self.query_one("#detail", Static).update(text)

    @property
    def line(self) -> DiaryLine | None:
        """The current booking."""
        return next((x for x in self.shown.lines if x.visit == self.list.current), None)

    @property
    def visit_here(self) -> str:
        """The visit under the cursor; "" when there is none."""
        return self.list.current or ""

    def _chosen(self) -> DiaryLine:
        if self.line is None:
            raise Refusal("No visit is chosen.", "a books one on this day.")
        return self.line

    def _act(self) -> Act:
        return Act(self.app.worker.id, clock.now())

    def on_option_list_option_highlighted(self) -> None:
        self.paint_detail()

    def on_option_list_option_selected(self) -> None:
        from tui.workup.screen import WorkupScreen

        self.app.push_screen(WorkupScreen(self._chosen().visit), lambda _: None)

    def action_add(self) -> None:
        """Book a visit on this day."""
        self._add()

    @work(exclusive=True, group="dialog")
    async def _add(self) -> None:
        known = await self.app.look(visits.choices)
        now = clock.local(clock.now(), self.app.practice.zone)
        dialog = BookVisit(self.day, self.app.today(), known, self.app.worker.id, now)
        self._ask(dialog)

    def action_move(self) -> None:
        """Move the visit to another day, time or vet."""
        self._move(self._chosen().visit)

    @work(exclusive=True, group="dialog")
    async def _move(self, visit: str) -> None:
        vets = (await self.app.look(visits.choices)).vets
        lines = await self.app.look(days.lines, self.day)
        line = next(x for x in lines if x.visit == visit)
        self._ask(MoveVisit(line, self.day, self.app.today(), vets))

    async def action_cancel(self) -> None:
        """Cancel the visit, with a reason; on one that is off, book it again."""
        line = self._chosen()
        if line.off:
            await self._again(line)
            return

        async def done(why: str) -> None:
            await self.app.save(visits.cancel, self._act(), line.visit, why)

        title = f"Cancel {line.starts} {line.client}"
        self._ask(reason(title, done, "owner rang, will call again"))

    async def _again(self, line: DiaryLine) -> None:
        """Book a visit again; where it no longer fits a reason is asked."""

        async def done(although: str) -> None:
            await self.app.save(booking.book_again, self._act(), line.visit, although=although)

        try:
            await done("")
        except booking.DoesNotFit as error:
            self._ask(reason(f"Book again all the same? {error.sentence}", done))
        else:
            self.refill()

    def _ask(self, dialog: FormDialog) -> None:
        self.app.push_screen(dialog, lambda _: None)

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

    def action_back(self) -> None:
        """Back to the diary."""
        self.dismiss()
