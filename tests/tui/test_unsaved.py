"""What was typed and not saved is named, with its row, before the app ends."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from core import clock
from core.practice.desk import Desk
from core.practice.keep import Act
from tests.small import ZONE, Small, fill
from tests.tui.stage_app import Opened, opened

TODAY: date = clock.today(ZONE)


@pytest.fixture
def file(tmp_path: Path) -> tuple[Path, Small]:
    place = tmp_path / "practice.db"
    desk = Desk(place)
    try:
        return place, desk.save(fill, Act("setup", clock.now()), TODAY).result(timeout=30)
    finally:
        desk.close()


def told(here: Opened) -> list[str]:
    return [n.message for n in list(here.app._notifications) if n.title == "Not saved"]


async def ended(here: Opened) -> bool:
    """Wait until what is queued for the disk is there, and the app ends."""
    await here.app.save(lambda: None)
    await here.settle()
    return here.app.return_code == 0


async def test_the_row_is_named_and_another_key_between_warns_again(
    file: tuple[Path, Small],
) -> None:
    place, small = file
    async with opened(place, small.visit, "Water") as here:
        label = here.stage.form.field.label
        await here.press("5", "escape", "q")
        named = f"{label}: 5 was typed and not saved. q again quits without it."
        assert told(here) == [named]
        await here.press("down")
        await here.press("q")
        await here.app.save(lambda: None)
        await here.settle()
        assert told(here)[-1:] == [named]
        assert here.app.return_code is None, "it does not stay armed"
        await here.press("q")
        assert await ended(here)


async def test_a_stage_that_was_left_is_named_by_its_title(file: tuple[Path, Small]) -> None:
    place, small = file
    async with opened(place, small.visit, "Water") as here:
        await here.press("5", "escape")
        await here.press("right")
        await here.press("q")
        assert told(here) == ["Water: 5 was typed and not saved. q again quits without it."]


async def test_what_was_saved_after_all_is_not_named(file: tuple[Path, Small]) -> None:
    place, small = file
    async with opened(place, small.visit, "Water") as here:
        for pressed in ("5", "escape", "right", "left", "enter", "enter", "escape", "q"):
            await here.press(pressed)
        assert (told(here), await ended(here)) == ([], True)
