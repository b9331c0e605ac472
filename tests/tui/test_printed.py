"""By keys: the size of labels, the lists of the palette, and the form that waits for its text."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from core.practice import label_paper
from core.practice.keep import Act
from core.records import read
from core.records.tables import Document, Setting
from tests.small import Small
from tests.tui.desk_app import at_desk, press, write
from tests.tui.test_people_screen import go, opened, row
from tui import printed
from tui.widgets.choices import LABELS
from tui.widgets.panel import Panel
from tui.workup.papers import PAPERS, Papers


def nothing(_small: Small, _act: Act, _today: date) -> None:
    """Plant nothing more."""


def test_every_size_can_be_chosen() -> None:
    assert [choice.value for choice in LABELS] == list(label_paper.sizes())


async def test_the_size_of_labels_is_chosen_by_a_letter(tmp_path: Path) -> None:
    async with opened(tmp_path) as here:
        await here.press("right")
        go(here, "Labels")
        assert "90 x 50 mm, plain paper to cut" in row(here)
        await here.press("enter", "f")
        go(here, "Labels")
        assert "4 x 3 1/3 in, US Letter of six" in row(here)
        (kept,) = here.app.desk.look(read.find, Setting)
        assert (kept.key, kept.value) == ("label_size", "4 x 3 1/3 in")


@pytest.mark.parametrize("name", printed.LISTS)
async def test_a_list_is_shown_and_saved(tmp_path: Path, name: str) -> None:
    async with at_desk(tmp_path, "d", nothing) as (pilot, app):
        assert name in {command.title for command in app.get_system_commands(app.screen)}
        printed.ask(app, name)
        await press(pilot, "f")
        assert isinstance(app.screen, Panel), app.screen
        await press(pilot, "g")
        await write(pilot, str(tmp_path))
        await press(pilot, "f")
        made = sorted(file.suffix for file in tmp_path.glob(f"{printed.LISTS[name][1]}-*"))
        assert made == sorted(printed.LISTS[name][4])


async def test_the_feed_directive_says_that_it_waits(tmp_path: Path) -> None:
    async with at_desk(tmp_path, "d", nothing) as (pilot, app):
        await press(pilot, "enter", "g")
        assert isinstance(app.screen, Papers)
        await press(pilot, *["down"] * (len(PAPERS) - 1), "enter")
        told = [note.message for note in app._notifications]
        assert any("558.6 has not been read" in squeezed(said) for said in told)
        assert app.desk.look(read.find, Document) == ()


def squeezed(text: str) -> str:
    return " ".join(text.split())
