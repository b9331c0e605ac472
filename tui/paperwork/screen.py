"""The Paperwork desk: what a day still owes, its money and its papers."""

from __future__ import annotations

from datetime import date, timedelta

from textual import events, getters, work
from textual.app import ComposeResult
from textual.screen import Screen
from textual.widgets import Static

from core import clock
from core.errors import Refusal
from core.practice import paperwork
from core.practice.keep import Act
from core.practice.owing import Owing
from core.practice.paperwork import EndOfDay, Paper
from tui.base import RoundsApp
from tui.keys import bind
from tui.paperwork import made, words
from tui.widgets.confirm import ConfirmSeen, confirm
from tui.widgets.dialog import FormDialog
from tui.widgets.foot import foot
from tui.widgets.lines import Lines


class PaperworkScreen(Screen[None]):
    """Two lists of one day: what is still open, and its papers."""

    app = getters.app(RoundsApp)
    owing_list = getters.query_one("#owing", Lines)
    paper_list = getters.query_one("#papers", Lines)
    CSS_PATH = "paperwork.tcss"
    BINDINGS = [
        bind("seen_to"),
        bind("pay"),
        bind("hand_over"),
        bind("as_text", show=False),
        bind("print", "summary", "Summary"),
        bind("invoice", "log", "Print a log", show=False),
        bind("other_list", label="Papers/open"),
        bind("earlier", show=False),
        bind("later", show=False),
        bind("today", show=False),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.day = date.min
        self.view: EndOfDay | None = None

    def compose(self) -> ComposeResult:
        yield Static("", id="heading", markup=False)
        yield Lines("Settle", id="owing")
        yield Lines("Open file", id="papers")
        yield Static("", id="detail", markup=False)
        yield Static("", id="money", markup=False)
        yield Static("", id="status", markup=False)
        yield foot()

    def on_mount(self) -> None:
        self.day = self.app.today()
        self.view = self.app.desk.look(paperwork.end_of_day, self.day)
        self.status("")
        self.show_papers(False)

    def on_screen_resume(self) -> None:
        if self.view is not None:
            self.refill()

    def on_resize(self, event: events.Resize) -> None:
        self.fill()

    @work(exclusive=True, group="paperwork")
    async def refill(self) -> None:
        """Read the day again and paint it."""
        self.view = await self.app.look(paperwork.end_of_day, self.day)
        self.fill()

    def status(self, text: str) -> None:
        """Say what is being made, or where it lies."""
        line = self.query_one("#status", Static)
        line.update(text)
        line.display = bool(text)

    @property
    def in_papers(self) -> bool:
        """Whether the papers are shown, and not what is open."""
        return bool(self.paper_list.display)

    def show_papers(self, shown: bool) -> None:
        """Show one list or the other."""
        self.paper_list.display, self.owing_list.display = shown, not shown
        (self.paper_list if shown else self.owing_list).focus()
        self.fill()
        self.refresh_bindings()

    def fill(self) -> None:
        """Paint both lists, each staying where it was."""
        view = self.view
        if view is None:
            return
        width = self._width() - 3
        self.owing_list.fill((x.key, words.owing_line(view, x, width)) for x in view.lines)
        self.paper_list.fill((p.id, words.paper_line(p, width)) for p in view.papers)
        head = words.heading(view, self.app.today(), self.in_papers, self._width())
        self.query_one("#heading", Static).update(head)
        self.query_one("#money", Static).update(words.money(view))
        self._paint_detail()

    def _width(self) -> int:
        return self.size.width or self.app.size.width

    def _paint_detail(self) -> None:
        if self.in_papers:
            paper = self._paper()
            text = words.paper_detail(paper) if paper else "No papers on this day. j prints a log."
        else:
            line = self._line()
            text = words.owing_detail(line) if line else "Nothing is open. g makes the day summary."
        self.query_one("#detail", Static).update(text)

    def _line(self) -> Owing | None:
        lines = self.view.lines if self.view and not self.in_papers else ()
        return next((x for x in lines if x.key == self.owing_list.current), None)

    def _paper(self) -> Paper | None:
        papers = self.view.papers if self.view and self.in_papers else ()
        return next((p for p in papers if p.id == self.paper_list.current), None)

    def _chosen(self) -> Owing:
        line = self._line()
        if line is None:
            raise Refusal("No line is chosen.", "s shows what is still open.")
        return line

    def _act(self) -> Act:
        return Act(self.app.worker.id, clock.now())

    def on_option_list_option_highlighted(self) -> None:
        self._paint_detail()
        self.refresh_bindings()

    def on_option_list_option_selected(self) -> None:
        paper, line = self._paper(), self._line()
        if paper is not None:
            from tui.widgets.opener import open_paper

            open_paper(self.app, self.app.desk.papers / paper.file)
        elif line is not None:
            self.settle(line)

    @work(exclusive=True, group="dialog")
    async def settle(self, line: Owing) -> None:
        """Do what settles a line: a dialog, or the stage of the visit where it is mended."""
        from tui.paperwork.settle import dialog_for, stage_of
        from tui.workup.screen import WorkupScreen

        if line.kind == "unpaid":
            await self._pay(line)
        elif (dialog := await dialog_for(self.app, line)) is not None:
            self._ask(dialog)
        else:
            self.app.push_screen(WorkupScreen(line.visit, stage_of(line)), lambda _: None)

    def _ask(self, dialog: FormDialog) -> None:
        self.app.push_screen(dialog, lambda _: None)

    async def action_seen_to(self) -> None:
        """Mark the line as seen to, or take the mark back; of labels it is asked once more."""
        line = self._chosen()

        async def mark() -> None:
            await self.app.save(paperwork.see_to, self._act(), self.day, line)
            self.refill()

        if line.labels and line.seen is None:
            confirm(self.app, ConfirmSeen(*words.only_seen(line)), mark)
        else:
            await mark()

    async def action_pay(self) -> None:
        """Take a payment for the visit of the line."""
        await self._pay(self._chosen())

    async def _pay(self, line: Owing) -> None:
        from tui.paperwork.settle import payment_for

        made.say(self, await payment_for(self.app, line.visit, line.client))

    def action_log(self) -> None:
        """Print a log and keep it."""
        from tui.paperwork.logs import IssueLog

        made.say(self, IssueLog(self.day, self.app.today()))

    def _to_hand_over(self) -> tuple[str, str] | None:
        """Return the id and the words of the paper that the line is about."""
        paper, line = self._paper(), self._line()
        if paper is not None and paper.visit is not None:
            return paper.id, f"{paper.client}: {paper.kind} {paper.number}"
        if line is not None and line.key.startswith("paper:"):
            return line.row, f"{line.client}: {line.what}"
        return None

    def action_hand_over(self) -> None:
        """Note how a paper was handed over, and to whom."""
        from tui.paperwork.ask import HandOver

        if (found := self._to_hand_over()) is not None:
            self._ask(HandOver(*found))

    @work(exclusive=True, group="dialog")
    async def action_as_text(self) -> None:
        """Show a paper, or the whole day, as plain text."""
        from tui.paperwork.settle import text_of
        from tui.widgets.panel import Panel

        assert self.view is not None
        title, text = await text_of(self.app, self.view, self._paper())
        self.app.push_screen(Panel(title, text))

    @work(exclusive=True, group="summary")
    async def action_summary(self) -> None:
        """Make the summary of the day, saying how far it is; the keyboard never waits."""
        await made.summary(self, self._act(), self.day)
        self.refill()

    def action_other_list(self) -> None:
        """Go from what is open to the papers and back."""
        self.show_papers(not self.in_papers)

    def action_earlier(self) -> None:
        self._turn(self.day - timedelta(days=1))

    def action_later(self) -> None:
        self._turn(self.day + timedelta(days=1))

    def action_today(self) -> None:
        self._turn(self.app.today())

    def _turn(self, day: date) -> None:
        self.day = day
        self.status("")
        self.refill()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Lines are seen to and paid in the list of what is open, papers handed over in both."""
        if not self.is_mounted:
            return True
        if action in ("seen_to", "pay"):
            return not self.in_papers
        return bool(self._to_hand_over()) if action == "hand_over" else True
