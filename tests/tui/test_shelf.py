"""Medicines and shelf, by keys: a row read and switched on, lots, the log and its day."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from decimal import Decimal
from pathlib import Path

from textual.widgets import Static

from core import clock
from core.practice import read_medicines, shelf, stock_log
from core.practice.desk import Desk
from core.practice.keep import Act
from core.practice.shelf import NewProduct, Received
from core.practice.who import people, practice
from core.records import read
from core.records.tables import DayMark, Lot, MedicineRead, Product, StockLine, Treatment
from tests.read_rows import all_read
from tests.small import build
from tests.tui.form_app import keys
from tests.tui.test_lock import Quiet, Shop
from tests.tui.test_people_screen import more
from tui.shelf.ask import Receive
from tui.shelf.product_ask import CorrectProduct
from tui.shelf.screen import ShelfScreen
from tui.widgets.confirm import ConfirmClose
from tui.widgets.form import Form
from tui.widgets.lines import Lines
from tui.widgets.panel import Panel

NEW = NewProduct("butorphanol", "butorphanol, ours", 10.0, "mg/mL", 50.0, "mL", controlled=True)


@asynccontextmanager
async def opened(folder: Path, who: int = 0, *, stocked: bool = False) -> AsyncIterator[Shop]:
    made = build(folder / "p.db")
    desk = Desk(folder / "p.db")
    vet = Act(made.vet, clock.now())

    def stock() -> None:
        product = shelf.add_product(vet, NEW)
        shelf.receive(vet, product, Received("B-1", Decimal("50.00")))

    try:
        desk.save(more).result(timeout=30)
        if stocked:
            desk.save(stock).result(timeout=30)
        house = desk.look(practice)
        assert house is not None
        app = Quiet(desk, house, desk.look(people)[who])
        async with app.run_test(size=(80, 24)) as pilot:
            here = Shop(app, pilot, made, [])
            await here.settle()
            commands = {c.title: c for c in app.get_system_commands(app.screen)}
            commands["Medicines and shelf"].callback()
            await here.settle()
            assert isinstance(app.screen, ShelfScreen)
            yield here
    finally:
        desk.close()


def said(here: Shop, which: str) -> str:
    return str(here.app.screen.query_one(f"#{which}", Static).render())


def lines(here: Shop, which: str) -> list[str]:
    return here.app.screen.query_one(f"#{which}", Lines).painted()


def go(here: Shop, which: str, key: str) -> None:
    found = here.app.screen.query_one(f"#{which}", Lines)
    found.highlighted = list(found.words).index(key)


async def answer(here: Shop, text: str) -> None:
    """Type an answer into the open row and accept it; a single letter picks at once."""
    await keys(here.pilot, text)
    await here.settle()
    if len(text) > 1:
        await here.press("enter")


async def test_a_row_is_read_whole_before_it_is_switched_on(tmp_path: Path) -> None:
    async with opened(tmp_path) as here:
        assert "0 of" in said(here, "heading")
        go(here, "medicines", "formalin-bath")
        await here.settle()
        assert "no veterinarian of this practice has read it yet" in said(here, "detail")
        await here.press("v")
        assert here.app.desk.look(read.find, MedicineRead) == ()
        assert "read before it is switched on" in str(here.told())
        await here.press("enter")
        assert isinstance(here.app.screen, Panel)
        body = str(here.app.screen.query_one("#panel-body", Static).content)
        assert "dose: at most 250 uL/L (read)" in body
        assert "Code of Federal Regulations" in body
        await here.press("escape")
        await here.press("v")
        [mark] = here.app.desk.look(read.find, MedicineRead)
        assert (mark.medicine, mark.state, mark.by) == ("formalin-bath", "on", here.made.vet)
        assert "1 of" in said(here, "heading")
        assert "on: read by Vera Test" in said(here, "detail")
        assert next(x for x in lines(here, "medicines") if x.startswith(">"))[2:4] == "on"
        await here.press("r")
        await answer(here, "recalled")
        await here.press("f")
        assert not here.app.desk.look(read_medicines.state, "formalin-bath").on
        assert "recalled" in said(here, "detail")


async def test_a_technician_reads_and_is_told_who_switches(tmp_path: Path) -> None:
    async with opened(tmp_path, who=1) as here:
        await here.press("enter")
        await here.press("escape")
        await here.press("v")
        assert "Only a veterinarian switches a medicine on" in str(here.told())
        assert here.app.desk.look(read.find, MedicineRead) == ()


async def test_no_line_is_cut_without_saying_so(tmp_path: Path) -> None:
    async with opened(tmp_path, stocked=True) as here:
        for line in lines(here, "medicines"):
            assert len(line) <= 79
        await here.press("s")
        assert "SHELF" in said(here, "heading")
        assert "lot B-1, 50.00 mL left" in "\n".join(lines(here, "products"))
        assert "Drug log of today: not counted today; f closes it." in said(here, "log")


async def test_a_product_comes_on_the_shelf_with_its_lot(tmp_path: Path) -> None:
    async with opened(tmp_path) as here:
        await here.press("s")
        await here.press("a")
        for text in ("butorphanol", "ours 10", "10", "a", "50", "m"):
            await answer(here, text)
        await here.press("escape")
        form = here.app.screen.query_one(Form)
        form.go([f.key for f in form.fields].index("controlled"))
        await here.press("enter")
        await answer(here, "y")
        if not isinstance(here.app.screen, ShelfScreen):
            await here.press("f")
        [product] = here.app.desk.look(read.find, Product)
        assert (product.name, product.strength, product.strength_unit) == ("ours 10", 10, "mg/mL")
        assert (product.controlled, product.pack_unit) == (True, "mL")
        # What came in of it is asked at once: batch, expiry, how much.
        assert isinstance(here.app.screen, Receive)
        await answer(here, "B-9")
        await here.press("escape")
        await here.press("f")
        [lot] = here.app.desk.look(read.find, Lot)
        assert lot.number == "B-9"
        assert here.app.desk.look(stock_log.left, lot.id) == 50
        assert "lot B-9, 50.00 mL left" in "\n".join(lines(here, "products"))


async def test_a_product_is_corrected_from_its_log_while_nothing_was_given(tmp_path: Path) -> None:
    async with opened(tmp_path, stocked=True) as here:
        await here.press("s")
        await here.press("w")
        body = str(here.app.screen.query_one("#panel-body", Static).content)
        assert "10 mg/mL, packs of 50 mL" in body
        await here.press("enter")
        assert isinstance(here.app.screen, CorrectProduct)
        form = here.app.screen.query_one(Form)
        form.go([f.key for f in form.fields].index("strength"))
        await here.press("enter")
        await answer(here, "12.5")
        await answer(here, "e")
        below = str(here.app.screen.query_one("#dialog-below", Static).render())
        assert "a weight of the product (w/w)" in below
        assert "without the density nothing is taken" in " ".join(below.split())
        await here.press("escape")
        await here.press("f")
        [product] = here.app.desk.look(read.find, Product)
        assert (product.strength, product.strength_unit) == (12.5, "% w/w")
        await here.press("w")
        await here.press("r")
        await answer(here, "written twice")
        await here.press("f")
        assert "Something came in of butorphanol, ours: its log stays" in str(here.told())
        assert len(here.app.desk.look(read.find, Product)) == 1


async def test_a_wrong_count_blocks_closing_the_day(tmp_path: Path) -> None:
    async with opened(tmp_path, stocked=True) as here:
        await here.press("s")
        await here.press("down")
        await here.press("enter")
        for text in ("w", "0.05", "left in the needle", "Tim Test"):
            await answer(here, text)
        await here.press("f")
        assert "waste 0.05 mL, and not counted since" in said(here, "log")
        await here.press("f")
        assert "can not be closed" in str(here.told())
        await here.press("enter")
        for text in ("c", "49.90"):
            await answer(here, text)
        await here.press("f")
        assert "49.90 mL counted, the log says 49.95" in said(here, "log")
        await here.press("f")
        assert here.app.desk.look(read.find, DayMark) == ()
        await here.press("enter")
        for text in ("p", "a drop was spilt", "Tim Test"):
            await answer(here, text)
        await here.press("f")
        assert "Drug log of today: it agrees; f closes it." in said(here, "log")
        await here.press("f")
        assert isinstance(here.app.screen, ConfirmClose)
        painted = str(here.app.screen.query_one("#panel-body", Static).content)
        assert "butorphanol, ours: 49.90 mL left" in painted
        await here.press("f")
        assert "Drug log of today: closed." in said(here, "log")
        assert len(here.app.desk.look(read.find, DayMark)) == 1
        await here.press("w")
        body = str(here.app.screen.query_one("#panel-body", Static).content)
        assert body.splitlines()[-1] == "Left: 49.90 mL"


async def test_the_end_of_the_day_asks_for_the_count(tmp_path: Path) -> None:
    async with opened(tmp_path, stocked=True) as here:
        [lot] = here.app.desk.look(read.find, Lot)
        act = Act(here.made.vet, clock.now())
        here.app.desk.save(
            stock_log.waste, act, lot.id, Decimal("0.10"), "spilt", "Tim Test"
        ).result(timeout=30)
        await here.press("escape", "p")
        owing = here.app.screen.query_one("#owing", Lines)
        owing.highlighted = next(n for n, k in enumerate(owing.words) if k.startswith("count:"))
        await here.press("enter")
        await here.press("down", "enter")
        await answer(here, "49.90")
        await here.press("f")
        rows = here.app.desk.look(read.find, StockLine, lot=lot.id)
        assert [r.kind for r in rows] == ["received", "waste", "count"]
        words = here.app.screen.query_one("#owing", Lines).words
        assert not [k for k in words if k.startswith("count:")]


async def test_the_practice_leads_there(tmp_path: Path) -> None:
    async with opened(tmp_path) as here:
        await here.press("escape")
        await here.press("*")
        for _ in range(3):
            await here.press("right")
        form = here.app.screen.query_one(Form)
        form.go([f.label for f in form.fields].index("Medicines and shelf"))
        await here.press("enter")
        assert isinstance(here.app.screen, ShelfScreen)


async def test_given_in_hand_from_the_shelf_by_keys(tmp_path: Path) -> None:
    from tests.tui import hand

    async with hand.opened(tmp_path / "h.db") as here:
        vet = Act(here.made.vet, clock.now())

        def stock() -> str:
            all_read(vet)
            product = shelf.add_product(vet, NEW)
            shelf.receive(vet, product, Received("B-2", Decimal("50.00")))
            return shelf.receive(vet, product, Received("B-3", Decimal("50.00")))

        second = here.app.desk.save(stock).result(timeout=30)
        await here.take("Biscuit")
        await here.words("5000")
        await here.press("enter", "escape", "h")
        await here.words("butorphanol")
        await here.press("enter")
        await here.words("0.4")
        await here.press("enter", "a")
        here.go("Lot")
        await here.press("escape", "enter")
        await here.words("B-3")
        await here.press("enter")
        assert "Why this lot" in here.lines()
        await here.words("in the other truck")
        await here.press("enter")
        await here.press("escape", "f")
        [row] = here.find(Treatment)
        assert row.lot == "B-3"
        [line] = here.find(StockLine, treatment=row.id)
        assert (line.lot, line.why) == (second, "in the other truck")
        assert line.balance == Decimal("49.8")
