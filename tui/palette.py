"""Visits in the command palette: type part of a client's name and open one."""

from __future__ import annotations

from functools import partial

from textual.command import Hit, Hits, Provider
from textual.content import Content
from textual.markup import escape

from core.dates import said
from core.practice import visits
from tui.base import RoundsApp
from tui.messages import OpenVisit


class VisitCommands(Provider):
    """Finds visits by the client's name, the newest first."""

    async def search(self, query: str) -> Hits:
        """Give a hit for each visit of each client whose name holds the query."""
        app = self.app
        assert isinstance(app, RoundsApp)
        for number, visit in enumerate(await app.look(visits.named, query)):
            words = f"{visit.client}, {said(visit.day, app.today())} {visit.starts}"
            yield Hit(
                1.0 - number / 100,
                Content(words),
                partial(app.post_message, OpenVisit(visit.visit)),
                text=words,
                # The palette reads help as markup, and a reason is somebody's own words.
                help=escape(f"{visit.reason} ({visit.state})"),
            )
