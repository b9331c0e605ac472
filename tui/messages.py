"""Messages that cross screens."""

from __future__ import annotations

from textual.message import Message


class OpenVisit(Message):
    """Asks the app to open a visit behind the Day desk."""

    def __init__(self, visit: str, stage: str = "") -> None:
        super().__init__()
        self.visit = visit
        self.stage = stage
