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
from core.practice import documents
from core.practice.issued import Issued
from core.practice.keep import Act
from tui.base import RoundsApp
from tui.widgets.foot import foot
from tui.widgets.lines import Lines
from tui.widgets.panel import Panel

Issue = Callable[[Act, str, Path], Issued]
PAPERS: dict[str, Issue] = {
    "Care sheet for the owner": documents.issue_care_sheet,
    "Invoice": documents.issue_invoice,
    "Visit record": documents.issue_record,
    "Labels of what is dispensed": documents.issue_labels,
    "Labels of the samples": documents.issue_sample_labels,
}


class Papers(ModalScreen[None]):
    """Issues a paper of a visit."""

    app = getters.app(RoundsApp)
    CSS = "Papers { align: center middle; } Papers Lines { width: 60; height: auto; padding: 1 2; }"
    BINDINGS = [Binding("escape,backspace,g", "dismiss", "Close", key_display="esc")]

    def __init__(self, visit_id: str) -> None:
        super().__init__()
        self.visit_id = visit_id

    def compose(self) -> ComposeResult:
        yield Lines("Issue", id="papers")
        yield foot()

    def on_mount(self) -> None:
        self.query_one(Lines).fill((name, name) for name in PAPERS)

    def on_option_list_option_selected(self, message: OptionList.OptionSelected) -> None:
        assert message.option_id is not None
        self.issue(PAPERS[message.option_id])

    @work
    async def issue(self, make: Issue) -> None:
        """Issue a paper on the writer's thread; keys go on working meanwhile."""
        self.query_one(OptionList).loading = True
        act = Act(self.app.worker.id, clock.now())
        try:
            issued = await self.app.save(make, act, self.visit_id, self.app.desk.papers)
        finally:
            self.query_one(OptionList).loading = False
        title = f"{issued.document.kind} {issued.document.number}: {issued.file}"
        self.app.push_screen(Panel(title, issued.text))
