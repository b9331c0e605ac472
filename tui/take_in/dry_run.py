"""What taking in a file would do: every bad row with its reason, likely doubles, and the counts."""

from __future__ import annotations

import threading
from pathlib import Path

from textual import getters, work
from textual.app import ComposeResult
from textual.screen import Screen
from textual.widgets import Static

from core import clock
from core.errors import Refusal
from core.practice import csv_plan, csv_write
from core.practice.csv_columns import Match
from core.practice.csv_plan import Plan
from core.practice.csv_read import CsvFile
from core.practice.csv_write import Made
from core.practice.keep import Act
from tui.base import RoundsApp
from tui.keys import bind
from tui.take_in import words
from tui.widgets.confirm import Confirm, confirm
from tui.widgets.foot import foot
from tui.widgets.lines import Lines
from tui.widgets.panel import Panel


class _Left(Exception):
    """The person has left while the rows were being looked through."""


class ConfirmLeaveOut(Confirm):
    """Before rows of a file are left out."""

    BINDINGS = [bind("pass_over", "do_it", "Leave them out")]


class DryRun(Screen[Made | None]):
    """Two lists, bad rows and likely doubles; nothing is made before `f`.

    Parameters
    ----------
    path : Path
        The file.
    file : CsvFile
        What was read of it.
    match : dict
        Where each of our columns comes from.
    """

    app = getters.app(RoundsApp)
    lines = getters.query_one("#rows", Lines)
    CSS_PATH = Path(__file__).with_name("take_in.tcss")
    BINDINGS = [
        bind("finish", label="Make them"),
        bind("pass_over", label="Leave these out"),
        bind("other_list", label="Bad/doubles"),
        bind("back", label="Back"),
    ]

    def __init__(self, path: Path, file: CsvFile, match: Match) -> None:
        super().__init__()
        self.path = path
        self.file = file
        self.match = match
        self.plan: Plan | None = None
        self.without_bad = False
        """Whether the person has said that the bad rows are left out."""
        self.in_doubles = False
        self.busy = ""
        self._left = threading.Event()

    def compose(self) -> ComposeResult:
        yield Static("", id="heading", markup=False)
        yield Static("", id="counts", markup=False)
        yield Lines("Whole row", id="rows")
        yield Static("", id="detail", markup=False)
        yield foot()

    def on_mount(self) -> None:
        self.lines.focus()
        self.look_through(frozenset())

    @work(exclusive=True, group="take in")
    async def look_through(self, skipped: frozenset[int]) -> None:
        """Try every row, saying how far it is; Esc ends it."""
        self._busy("Looking through the rows")
        try:
            self.plan = await self.app.look(
                csv_plan.plan, self.file, self.match, self._progress, skipped
            )
        except _Left:
            return
        except Refusal as error:
            self.app.tell(error)
            self.dismiss(None)
            return
        self._done()
        self.in_doubles = not self.plan.bad and bool(self.plan.doubles)
        self.fill()

    def _busy(self, what: str) -> None:
        self.busy = what
        self.query_one("#heading", Static).update(f" {what} ...")
        self.refresh_bindings()

    def _done(self) -> None:
        self.busy = ""
        self.refresh_bindings()

    def _progress(self, done: int, of: int) -> None:
        """Say how far it is; called on another thread, which ends when the person has left."""
        if self._left.is_set():
            raise _Left
        self.app.call_from_thread(self._say, f" {self.busy}: {done} of {of}. Esc leaves.")

    def _writing(self, done: int, of: int) -> None:
        self.app.call_from_thread(self._say, f" {self.busy}: {done} of {of}.")

    def _say(self, text: str) -> None:
        if self.is_mounted:
            self.query_one("#heading", Static).update(text)

    def fill(self) -> None:
        """Paint the list and what stands around it."""
        plan = self.plan
        if plan is None or self.busy:
            return
        width = (self.size.width or self.app.size.width) - 3
        listed = words.doubles(plan, width) if self.in_doubles else words.bad(plan, width)
        self.lines.fill(listed)
        self._say(words.heading(plan, self.path, self.in_doubles, without=self.without_bad))
        self.query_one("#counts", Static).update(words.counts(plan))
        self._paint_detail()

    def on_resize(self) -> None:
        self.fill()

    def on_option_list_option_highlighted(self) -> None:
        self._paint_detail()

    def on_option_list_option_selected(self) -> None:
        """Show the whole row, cell by cell."""
        if self.plan is not None and self.lines.current:
            self.app.push_screen(
                Panel(*words.whole(self.plan, self.in_doubles, self.lines.current))
            )

    def _paint_detail(self) -> None:
        if self.plan is not None:
            said = words.detail(self.plan, self.in_doubles, self.lines.current)
            self.query_one("#detail", Static).update(said)

    def action_other_list(self) -> None:
        """Go from the bad rows to the likely doubles and back."""
        self.in_doubles = not self.in_doubles
        self.fill()

    def action_pass_over(self) -> None:
        """Leave out what the list shows: bad rows after asking, likely doubles at once."""
        plan = self._looked()
        if self.in_doubles:
            if not (plan.doubles or plan.skipped):
                raise Refusal("There are no likely doubles to leave out.")
            skipped = plan.skipped | {double.line for double in plan.doubles}
            self.look_through(frozenset() if not plan.doubles else skipped)
            return
        many = len(plan.bad_lines)
        if not many:
            raise Refusal("There are no bad rows to leave out.")
        title, body = words.leaving_out(many, self.path)
        confirm(self.app, ConfirmLeaveOut(title, body), self._leave_out)

    async def _leave_out(self) -> None:
        self.without_bad = True
        self.fill()

    def _looked(self) -> Plan:
        if self.plan is None:
            raise Refusal("The rows are still being looked through.")
        return self.plan

    def action_finish(self) -> None:
        """Make everything that can be made, in one edit."""
        plan = self._looked()
        many = len(plan.bad_lines)
        if many and not self.without_bad:
            raise Refusal(
                f"{many} rows can not be taken in, so nothing is.",
                f"Mend the file, or o says: leave the {many} bad rows out.",
            )
        self.make(plan, many)

    @work(exclusive=True, group="take in")
    async def make(self, plan: Plan, left_out: int) -> None:
        """Write it; the app goes on meanwhile, and other saves wait for it."""
        self._busy("Making them")
        act = Act(self.app.worker.id, clock.now())
        try:
            made = await self.app.save(
                csv_write.write, act, plan, self.path, left_out, self._writing
            )
        except Refusal as error:
            self._done()
            self.fill()
            self.app.tell(error)
            return
        self.dismiss(made)

    def action_back(self) -> None:
        """Back to the columns; nothing was made."""
        self._left.set()
        self.dismiss(None)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """While the rows are looked through one can only leave; while they are made, wait."""
        if self.busy and action in ("finish", "pass_over", "other_list"):
            return False
        return not (action == "back" and self.busy.startswith("Making"))
