"""The papers of a visit: choose one, it is issued, and its plain text is shown."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from textual import getters, work
from textual.app import ComposeResult
from textual.binding import Binding
from textual.screen import ModalScreen
from textual.widgets import OptionList

from core import clock
from core.practice import day_paper, documents, preventive
from core.practice.issued import Issued, copy_to, folder_of
from core.practice.keep import Act
from tui.base import RoundsApp
from tui.keys import bind
from tui.widgets.dialog import Answers, FormDialog
from tui.widgets.field import Entry, Field
from tui.widgets.foot import foot
from tui.widgets.lines import Lines
from tui.widgets.opener import open_paper
from tui.widgets.panel import Panel
from tui.widgets.row import Widths
from tui.workup import invoice_ask

Issue = Callable[[Act, str, Path], Issued]
PAPERS: dict[str, Issue] = {
    "Care sheet for the owner": documents.issue_care_sheet,
    "Invoice": day_paper.invoice,
    "Visit record": documents.issue_record,
    "Labels of what is dispensed": documents.issue_labels,
    "Labels of the samples": documents.issue_sample_labels,
    "Feed directive (waits: its text is not read yet)": documents.issue_feed_directive,
}


def plans_of(system: str) -> dict[str, Issue]:
    """Return the plans of prevention for a water, by what the list calls them."""
    return {
        f"Prevention: {form.title[0].lower()}{form.title[1:]}": _plan(form.key, system)
        for form in preventive.templates().values()
    }


def _plan(key: str, system: str) -> Issue:
    def issue(act: Act, visit: str, folder: Path) -> Issued:
        return preventive.issue(act, visit, folder, key, system)

    return issue


class Papers(ModalScreen[None]):
    """Issues a paper of a visit; `system` is the water that a plan of prevention is for."""

    app = getters.app(RoundsApp)
    CSS = "Papers { align: center middle; } Papers Lines { width: 60; height: auto; padding: 1 2; }"
    BINDINGS = [Binding("escape,backspace,g", "dismiss", "Close", key_display="esc")]

    def __init__(self, visit_id: str, system: str = "") -> None:
        super().__init__()
        self.visit_id = visit_id
        self.papers = {**PAPERS, **plans_of(system)}

    def compose(self) -> ComposeResult:
        yield Lines("Issue", id="papers")
        yield foot()

    def on_mount(self) -> None:
        self.query_one(Lines).fill((name, name) for name in self.papers)

    async def on_option_list_option_selected(self, message: OptionList.OptionSelected) -> None:
        assert message.option_id is not None
        make = self.papers[message.option_id]
        if make is not day_paper.invoice:
            self.issue(make)
            return

        async def do() -> None:
            self.issue(make)

        await invoice_ask.issue(self.app, self.visit_id, do)

    @work
    async def issue(self, make: Issue) -> None:
        """Issue a paper on the writer's thread; keys go on working meanwhile."""
        self.query_one(OptionList).loading = True
        act = Act(self.app.worker.id, clock.now())
        try:
            issued = await self.app.save(make, act, self.visit_id, self.app.desk.papers)
        finally:
            self.query_one(OptionList).loading = False
        self.app.push_screen(PaperPanel(issued))


class PaperPanel(Panel):
    """A paper as it was issued, in plain text; it can be opened and saved from here."""

    app = getters.app(RoundsApp)
    BINDINGS = [bind("open"), bind("copy")]

    def __init__(self, issued: Issued) -> None:
        named = f"{issued.document.kind} {issued.document.number}: {issued.file}"
        super().__init__(named, issued.text)
        self.issued = issued

    def action_open(self) -> None:
        """Show the paper in the system's own viewer; in any case say where it lies."""
        open_paper(self.app, self.issued.file)

    def action_copy(self) -> None:
        """Save the paper in a folder that is typed."""
        self.app.push_screen(CopyDialog(self.issued))


class CopyDialog(FormDialog):
    """Asks for a folder that is there, and saves the paper in it."""

    def __init__(self, issued: Issued) -> None:
        async def done(answers: Answers) -> None:
            made = await self.app.look(copy_to, issued.file, answers["folder"].words)
            self.app.notify(str(made), title="A copy lies here", timeout=15, markup=False)

        folder = Field("folder", "Folder", example="~/Documents", required=True)
        title = f"Save a copy of {issued.document.kind} {issued.document.number}"
        super().__init__(title, [folder], done, widths=Widths(label=8, value=54))

    async def _keep(self, field: Field, entry: Entry) -> None:
        folder_of(entry.words)
        await super()._keep(field, entry)
