"""The dilution of a disinfectant by keys only, at 80x24."""

from __future__ import annotations

from pathlib import Path

from textual.widgets import Static

from core.practice.desk import Desk
from tests.practice.plan_cases import case
from tests.tui.stage_app import Opened, opened
from tui.disinfect import DisinfectDialog
from tui.widgets.panel import Panel


def below(here: Opened) -> str:
    return str(here.app.screen.query_one("#dialog-below", Static).render())


async def test_a_bucket_by_keys(tmp_path: Path) -> None:
    file = tmp_path / "practice.db"
    desk = Desk(file)
    made = desk.save(case).result(timeout=30)
    desk.close()
    async with opened(file, made.visit, "Plan") as here:
        [command] = [
            c
            for c in here.app.get_system_commands(here.app.screen)
            if c.title == "Disinfectant dilution"
        ]
        command.callback()
        await here.settle()
        assert isinstance(here.app.screen, DisinfectDialog)
        here.all_fit()
        here.form.go(0)
        here.form.open_row()
        await here.press("200 ppm", "enter", "10 L", "enter")
        assert "a strength (mg/mL) is wanted here" in below(here)
        await here.press("5 % w/v", "enter", "enter", "24", "enter")
        assert below(here).splitlines()[0] == (
            "Measure 40 mL of stock, filled up with water to 10 L (9.96 L)."
        )
        assert "Made now, it is good for 24 h." in below(here)
        await here.press("30", "enter")
        assert "TOO OLD: 30 h, its life is 24 h." in below(here)
        shown = here.app.screen.query_one("#dialog-below", Static).region
        assert shown.bottom <= 23
        await here.press("w")
        assert isinstance(here.app.screen, Panel)
        await here.press("escape")
        await here.go("wanted")
        await here.press("enter", *["backspace"] * 7, "10 mL/L", "enter", "escape")
        assert "uL/L already counts the product itself" in below(here)
        await here.press("f")
        assert isinstance(here.app.screen, DisinfectDialog)
        await here.go("stock")
        await here.press("enter", *["backspace"] * 7, "1000 ppm", "enter", "escape")
        await here.go("wanted")
        await here.press("enter", *["backspace"] * 7, "20 ppm", "enter", "escape", "f")
        assert not isinstance(here.app.screen, DisinfectDialog)
