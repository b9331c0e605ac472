"""The price list by keys: a price added and struck, sold from the shelf, and who may not."""

from __future__ import annotations

from pathlib import Path

from core.records import read
from core.records.tables import Price
from tests.tui.test_people_screen import form, go, opened
from tui.practice.screen import PracticeScreen


async def test_a_price_is_added_corrected_and_struck(tmp_path: Path) -> None:
    async with opened(tmp_path) as here:
        assert "Add a person" in here.painted()
        await here.press("right", "right")
        assert "Add a price" in here.painted()
        assert "Add a person" not in here.painted()
        await here.press("a")
        await here.press("Florfenicol, 100 g", "enter", "m", "48,50", "enter", "goods", "enter")
        await here.press("f")
        assert isinstance(here.app.screen, PracticeScreen)
        [row] = here.app.desk.look(read.find, Price, name="Florfenicol, 100 g")
        assert (row.unit_minor, row.tax_class) == (4850, "goods")
        assert row.code.startswith("own.medicine.")
        # Taken back and done again, the list follows.
        await here.press("-")
        assert "Florfenicol, 100 g" not in [f.label for f in form(here).fields]
        await here.press("+")
        go(here, "Florfenicol, 100 g")
        await here.press("51", "enter")
        assert here.app.desk.look(read.one, Price, row.id).unit_minor == 5100
        go(here, "Florfenicol, 100 g")
        await here.press("r")
        await here.press("not sold any more", "enter")
        await here.press("f")
        assert isinstance(here.app.screen, PracticeScreen)
        assert here.app.desk.look(read.find, Price, name="Florfenicol, 100 g") == ()
        assert "Florfenicol, 100 g" not in [f.label for f in form(here).fields]


async def test_a_price_that_a_visit_offers_is_not_struck(tmp_path: Path) -> None:
    async with opened(tmp_path) as here:
        await here.press("right", "right")
        go(here, "Call-out")
        await here.press("r")
        assert isinstance(here.app.screen, PracticeScreen)
        assert "it stays in the list" in str(here.told())


async def test_the_first_price_of_an_empty_list_is_added(tmp_path: Path) -> None:
    async with opened(tmp_path, more=lambda: None) as here:
        await here.press("right", "right")
        assert form(here).fields == []
        await here.press("a")
        assert "A price for the list" in here.painted()


async def test_who_may_not_is_told_before_the_form(tmp_path: Path) -> None:
    for who in (1, 2, 3):
        folder = tmp_path / f"{who}"
        folder.mkdir()
        async with opened(folder, who=who) as here:
            await here.press("right", "right")
            await here.press("a")
            assert isinstance(here.app.screen, PracticeScreen)
            assert "Only a veterinarian changes a price" in str(here.told())
