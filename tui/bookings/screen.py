"""The Bookings desk: rechecks to ring about, and the diary of the days ahead."""

from __future__ import annotations

from datetime import date, timedelta

from textual import events, getters, work
from textual.app import ComposeResult
from textual.screen import Screen
from textual.widgets import Digits, Static

from core import clock
from core.errors import Refusal
from core.practice import diary, visits
from core.practice.diary import DiaryDay, DueLine
from tui.base import RoundsApp
from tui.bookings import words
from tui.keys import bind
from tui.widgets.dialog import FormDialog
from tui.widgets.foot import foot
from tui.widgets.lines import Lines

WEEK = timedelta(days=7)
SHOWN = 6
"""So many visits of a day are shown under the diary."""


class BookingsScreen(Screen[None]):
    """Two lists: the rechecks nobody has settled, and fourteen days of the book."""

    app = getters.app(RoundsApp)
    due_list = getters.query_one("#due", Lines)
    diary_list = getters.query_one("#diary", Lines)
    CSS_PATH = "bookings.tcss"
    BINDINGS = [
        bind("log_call"),
        bind("close", "close_recheck"),
        bind("add", label="New booking"),
        bind("other_list", label="Diary/due"),
        bind("earlier", label="Week before", show=False),
        bind("later", label="Week after", show=False),
        bind("today", show=False),
        bind("back", "leave_recheck", "Leave recheck", show=False),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.first = date.min
        self.due: tuple[DueLine, ...] = ()
        self.days: tuple[DiaryDay, ...] = ()
        self.asked: DueLine | None = None
        """The recheck that a day is being chosen for."""

    def compose(self) -> ComposeResult:
        yield Static("", id="heading", markup=False)
        yield Static("", id="asked", markup=False)
        yield Lines("Book it", id="due")
        yield Lines("Open day", id="diary")
        yield Static("", id="detail", markup=False)
        yield Digits("", id="phone")
        yield foot()

    def on_mount(self) -> None:
        self.first = self.app.today()
        self.due, self.days = self.app.desk.look(self._read, self.first)
        self.show_diary(False)
        self.fill()

    def _read(self, first: date) -> tuple[tuple[DueLine, ...], tuple[DiaryDay, ...]]:
        return diary.due(self.app.today()), diary.diary(first)

    def on_screen_resume(self) -> None:
        if self.first != date.min:
            self.refill()

    def on_resize(self, event: events.Resize) -> None:
        self.fill()

    @work(exclusive=True, group="bookings")
    async def refill(self, current: str = "") -> None:
        """Read both lists again and paint them."""
        self.due, self.days = await self.app.look(self._read, self.first)
        self.fill(current)

    @property
    def in_diary(self) -> bool:
        """Whether the diary is shown, and not the rechecks."""
        return bool(self.diary_list.display)

    def show_diary(self, shown: bool) -> None:
        """Show one list or the other."""
        self.diary_list.display, self.due_list.display = shown, not shown
        (self.diary_list if shown else self.due_list).focus()
        self.refresh_bindings()

    def fill(self, current: str = "") -> None:
        """Paint both lists, each staying where it was unless a day is named."""
        today, width = self.app.today(), self._width() - 3
        self.due_list.fill((x.recheck, words.due_line(x, today, width)) for x in self.due)
        window = self.asked.window if self.asked else None
        days = ((str(d.day), words.day_line(d, today, window, width)) for d in self.days)
        self.diary_list.fill(days, current)
        self.paint()

    def _width(self) -> int:
        return self.size.width or self.app.size.width

    def paint(self) -> None:
        """Paint what stands around the lists."""
        head = words.heading(self.due, self.in_diary, self._width())
        self.query_one("#heading", Static).update(head)
        asked = self.query_one("#asked", Static)
        asked.display = self.asked is not None
        if self.asked is not None:
            asked.update(words.asked_words(self.asked, self.app.today(), self._width() - 2))
        self._paint_detail()

    def _paint_detail(self) -> None:
        line = None if self.in_diary else self._line()
        phone = self.query_one("#phone", Digits)
        phone.display = line is not None and bool(line.phone)
        phone.update(line.phone if line else "")
        day = self._day()
        if line is not None:
            detail = words.due_detail(line, self.app.today(), self.app.practice.zone)
        elif not self.in_diary:
            detail = "No recheck is open. Plans of visits put them here. s shows the diary."
        else:
            detail = words.day_detail(day, self._width() - 2, SHOWN) if day else ""
        self.query_one("#detail", Static).update(detail or "No visits on this day. a books one.")

    def _line(self) -> DueLine | None:
        return next((x for x in self.due if x.recheck == self.due_list.current), None)

    def _chosen(self) -> DueLine:
        line = None if self.in_diary else self._line()
        if line is None:
            raise Refusal("No recheck is chosen.", "s shows the list of rechecks.")
        return line

    def _day(self) -> DiaryDay | None:
        return next((d for d in self.days if str(d.day) == self.diary_list.current), None)

    def on_option_list_option_highlighted(self) -> None:
        self._paint_detail()

    async def on_option_list_option_selected(self) -> None:
        day = self._day()
        if not self.in_diary:
            self.seek_day(self._chosen())
        elif day is not None and self.asked is not None:
            self.ask_recheck(self.asked, day.day)
        elif day is not None:
            self.open_day(day.day)

    def open_day(self, day: date, visit: str = "") -> None:
        """Open the list of a day."""
        from tui.bookings.day_book import DayBook

        self.app.push_screen(DayBook(day, visit), lambda _: None)

    def seek_day(self, line: DueLine) -> None:
        """Show the diary with the window of a recheck, or the day it is booked on."""
        if line.booked is not None:
            self.open_day(line.booked.day, line.booked.visit)
            return
        today = self.app.today()
        target = max(line.window.target, today)
        self.asked = line
        self.first = today if target < today + timedelta(days=diary.DAYS_AHEAD) else target - WEEK
        self.show_diary(True)
        self.refill(str(target))

    def action_leave_recheck(self) -> None:
        """Give up choosing a day; back to the rechecks."""
        if self.asked is not None or self.in_diary:
            self.asked = None
            self.show_diary(False)
            self.fill()

    @work(exclusive=True, group="dialog")
    async def ask_recheck(self, line: DueLine, day: date) -> None:
        """Ask for the time and book the recheck."""
        from tui.bookings.book import BookRecheck

        vets = (await self.app.look(visits.choices)).vets
        dialog = BookRecheck(line, day, self.app.today(), vets)
        self.app.push_screen(dialog, self._after_recheck)

    def _after_recheck(self, booked: bool | None) -> None:
        if booked:
            self.action_leave_recheck()

    def action_add(self) -> None:
        """Book a visit for anybody, on the day chosen in the diary."""
        self._add()

    @work(exclusive=True, group="dialog")
    async def _add(self) -> None:
        from tui.bookings.book import BookVisit

        known = await self.app.look(visits.choices)
        today, day = self.app.today(), self._day()
        on = day.day if self.in_diary and day else today
        now = clock.local(clock.now(), self.app.practice.zone)
        self._ask(BookVisit(on, today, known, self.app.worker.id, now))

    def action_log_call(self) -> None:
        """Log an attempt to reach the owner."""
        from tui.bookings.calls import LogCall

        line = self._chosen()
        self._ask(LogCall(line.recheck, line.client, line.phone))

    def action_close_recheck(self) -> None:
        """Close the recheck with its outcome."""
        from tui.bookings.calls import CloseRecheck

        self._ask(CloseRecheck(self._chosen()))

    def _ask(self, dialog: FormDialog) -> None:
        self.app.push_screen(dialog, lambda _: None)

    def action_other_list(self) -> None:
        """Go from the rechecks to the diary and back."""
        self.asked = None
        self.show_diary(not self.in_diary)
        self.fill()

    def action_earlier(self) -> None:
        self._turn(-WEEK)

    def action_later(self) -> None:
        self._turn(WEEK)

    def action_today(self) -> None:
        self.first = self.app.today()
        self.refill(str(self.first))

    def _turn(self, by: timedelta) -> None:
        if self.in_diary:
            self.first += by
            self.refill()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Calls are logged in the list of rechecks, weeks are turned in the diary."""
        if action in ("log_call", "close_recheck"):
            return not self.is_mounted or not self.in_diary
        return True
