"""The forms of the shelf by keys: what is typed as packs print it, and the day's log closed."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from textual.widgets import Static

from core.records import read
from core.records.tables import DayMark, Lot, Price, Product
from tests.tui.test_lock import Shop
from tests.tui.test_shelf import answer, opened, said
from tui.shelf.product_ask import AddProduct
from tui.shelf.screen import ShelfScreen
from tui.widgets.confirm import ConfirmClose
from tui.widgets.form import Form


def form(here: Shop) -> Form:
    return here.app.screen.query_one("#form", Form)


def go(here: Shop, key: str) -> None:
    form(here).go([f.key for f in form(here).fields].index(key))


def stands(here: Shop, key: str) -> str:
    at = [f.key for f in form(here).fields].index(key)
    return form(here).rows[at].state.shown.value


async def florfenicol(here: Shop, strength: str) -> None:
    """Begin the product of florfenicol up to its strength."""
    await here.press("s")
    await here.press("a")
    for text in ("florfenicol", "Florfenicol powder", strength):
        await answer(here, text)


async def test_a_strength_brings_its_unit(tmp_path: Path) -> None:
    async with opened(tmp_path) as here:
        await florfenicol(here, "500 mg/G")
        assert (stands(here, "strength"), stands(here, "counts")) == ("500", "mg/g")
        # What it counts was taken from there, and the next row is open for another.
        assert form(here).field.key == "counts"
        for text in ("", "100", "g"):
            await (answer(here, text) if text else here.press("enter"))
        await here.press("escape")
        go(here, "controlled")
        await here.press("enter")
        await answer(here, "n")
        if isinstance(here.app.screen, AddProduct):
            await here.press("f")
        [row] = here.app.desk.look(read.find, Product)
        assert (row.strength, row.strength_unit, row.price) == (500, "mg/g", "")


async def test_a_strength_in_no_unit_of_a_strength_is_refused(tmp_path: Path) -> None:
    async with opened(tmp_path) as here:
        for typed, words in (
            ("5 mg/kg", "No strength counts mg/kg"),
            ("5 %", "of a weight or of a volume"),
            ("0 mg/g", "can not be"),
            ("much", "not a strength"),
        ):
            if not isinstance(here.app.screen, AddProduct):
                await florfenicol(here, typed)
            else:
                await here.press("ctrl+u")
                await answer(here, typed)
            assert words in form(here).row.state.error


async def test_a_price_of_a_product_is_no_service_and_is_forgotten(tmp_path: Path) -> None:
    async with opened(tmp_path) as here:
        await florfenicol(here, "500 mg/g")
        await here.press("escape")
        go(here, "price")
        offered = {c.value for c in form(here).field.choices}
        every = {p.code for p in here.app.desk.look(read.find, Price)}
        assert {"copper_solution", "pond_salt"} <= offered < every
        assert not {"necropsy", "call_out", "dispensing"} & offered
        await here.press("enter")
        await answer(here, "Necropsy on site")
        assert "not in the list" in form(here).row.state.error
        for leave in ("enter", "escape", "backspace"):
            await here.press("ctrl+u")
            await answer(here, "Salt")
            await here.press("escape")
            go(here, "price")
            assert stands(here, "price") == "Salt, bag"
            await here.press("enter")
            await here.press("backspace")
            await here.press("ctrl+u")
            await here.press(leave)
            await here.press("escape") if leave == "enter" else None
            dialog = here.app.screen
            assert isinstance(dialog, AddProduct), leave
            assert "price" not in dialog.answers, leave
            assert stands(here, "price") == "", leave
            go(here, "price")
            await here.press("enter")


async def test_an_expiry_is_typed_as_the_pack_prints_it(tmp_path: Path) -> None:
    for number, (typed, day) in enumerate(
        (("2027-02", date(2027, 2, 28)), ("03/2028", date(2028, 3, 31)))
    ):
        folder = tmp_path / f"{number}"
        folder.mkdir()
        async with opened(folder, stocked=True) as here:
            await here.press("s")
            await here.press("enter")
            await answer(here, "B-7")
            await answer(here, typed)
            assert stands(here, "expires") == f"{day.day} {day:%b} {day.year}"
            await here.press("escape")
            await here.press("f")
            [lot] = here.app.desk.look(read.find, Lot, number="B-7")
            assert lot.expires == day


async def test_one_key_too_many_does_not_close_the_drug_log(tmp_path: Path) -> None:
    async with opened(tmp_path, stocked=True) as here:
        await here.press("s")
        await here.press("f")
        assert isinstance(here.app.screen, ConfirmClose)
        body = str(here.app.screen.query_one("#panel-body", Static).content)
        assert "butorphanol, ours: 50.00 mL left" in body
        assert "Not counted today." in body
        await here.press("escape")
        assert isinstance(here.app.screen, ShelfScreen)
        assert here.app.desk.look(read.find, DayMark) == ()
        await here.press("f", "f")
        assert len(here.app.desk.look(read.find, DayMark)) == 1
        assert "Drug log of today: closed." in said(here, "log")
        await here.press("-")
        told = here.told()[-1]
        assert "closed the drug log of" in told
        assert "it is open again" in told
        assert here.app.desk.look(read.find, DayMark) == ()
        assert "not counted today" in said(here, "log")


async def test_a_count_of_every_lot_is_what_agrees(tmp_path: Path) -> None:
    async with opened(tmp_path, stocked=True) as here:
        await here.press("s")
        await here.press("enter")
        for text in ("B-8", "2028-01"):
            await answer(here, text)
        await here.press("escape")
        await here.press("f")
        for words in ("1 of 2 lots counted today", "it agrees"):
            await here.press("down")
            await here.press("enter")
            for text in ("c", "50"):
                await answer(here, text)
            await here.press("f")
            assert f"Drug log of today: {words}; f closes it." in said(here, "log")
