"""The papers of a visit by keys: issued, opened in the system's viewer, saved in a folder."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.practice.keep import Act
from core.records import read
from core.records.tables import Document
from tests.practice.planted import bill, taxes
from tests.small import Small
from tests.tui.desk_app import at_desk, press, write
from tui.widgets import opener
from tui.widgets.confirm import ConfirmInvoice
from tui.widgets.form import Form
from tui.workup.papers import PaperPanel, Papers


def billed(small: Small, act: Act, _today: object) -> None:
    taxes(act)
    bill(act, small.visit, ("examination", 15_000, "service"))


async def test_an_issued_paper_is_opened_and_saved_from_the_app(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shown: list[str] = []
    monkeypatch.setattr(opener, "has_desktop", lambda: True)
    async with at_desk(tmp_path, "d", billed) as (pilot, app):
        monkeypatch.setattr(app, "open_url", lambda url: shown.append(url))
        await press(pilot, "enter", "g")
        assert isinstance(app.screen, Papers)
        await press(pilot, "down", "enter")
        assert isinstance(app.screen, ConfirmInvoice)
        await press(pilot, "escape")
        assert isinstance(app.screen, Papers)
        assert app.desk.look(read.find, Document) == ()
        await press(pilot, "enter", "j")
        assert isinstance(app.screen, PaperPanel)
        [row] = app.desk.look(read.find, Document)
        paper = app.desk.papers / row.file
        await press(pilot, "enter")
        assert shown == [paper.resolve().as_uri()]
        await press(pilot, "g")
        await write(pilot, str(tmp_path / "nowhere"))
        form = app.screen.query_one(Form)
        assert form.typing, "what was typed stands there to be corrected"
        assert "There is no folder" in form.row._text(78).plain
        target = tmp_path / "copies here"
        target.mkdir()
        await press(pilot, *["backspace"] * len("nowhere"))
        await write(pilot, "copies here")
        await press(pilot, "f")
        assert (target / row.file).read_bytes() == paper.read_bytes()
        assert isinstance(app.screen, PaperPanel)
        await press(pilot, "escape")
        assert not isinstance(app.screen, PaperPanel)
