"""One line above every screen, only when there is something to say there."""

from __future__ import annotations

from textual import getters
from textual.css.query import NoMatches
from textual.screen import Screen, SystemModalScreen
from textual.widgets import Static

from tui.base import RoundsApp

MADE_FOR = (80, 24)


class Banner(Static):
    """Says that the practice is invented, or that the window is smaller than the screens."""

    app = getters.app(RoundsApp)
    DEFAULT_CSS = """
    Banner { dock: top; height: 1; width: 1fr; background: $boost; color: $foreground; }
    """

    def __init__(self, words: str) -> None:
        super().__init__(words, markup=False, id="banner")


def words(app: RoundsApp) -> str:
    """Return what the line says; "" for no line."""
    width, height = app.size
    if width < MADE_FOR[0] or height < MADE_FOR[1]:
        real = " Invented, nothing is real." if app.practice.invented else ""
        return f" Window {width}x{height}, made for 80x24.{real}"
    if app.practice.invented:
        return f" Invented practice: nothing here is real. Kept in {app.desk.place.folder}"
    return ""


async def show(app: RoundsApp, screen: Screen[object]) -> None:
    """Put the line on a screen, change it, or take it away."""
    if isinstance(screen, SystemModalScreen) or not screen.is_running:
        return
    said = words(app)
    try:
        standing = screen.query_one("#banner", Banner)
    except NoMatches:
        if said:
            await screen.mount(Banner(said))
        return
    standing.update(said)
    standing.display = bool(said)
