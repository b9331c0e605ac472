"""Stock and logs by keys: a dose by active substance, what comes back, a bath, a log printed."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path

from core import clock
from core.practice import shelf
from core.practice.keep import Act
from core.practice.shelf import NewProduct, Received
from core.records import read
from core.records.tables import Document, Handling, StockLine, Treatment, Visit
from tests.read_rows import all_read
from tests.small import Small
from tests.tui import hand
from tests.tui.desk_app import at_desk, press, rows, said, write
from tests.tui.hand import Hand
from tui.paperwork.screen import PaperworkScreen
from tui.widgets.panel import Panel

WEAK = NewProduct("praziquantel-prolonged", "praziquantel 25 %", 25.0, "% w/w", 500.0, "g")
POWDER = NewProduct("tricaine-anaesthesia", "tricaine, ours", 100.0, "% w/w", 100.0, "g")
DRUG = NewProduct("butorphanol", "butorphanol 10 mg/mL", 10.0, "mg/mL", 50.0, "mL", controlled=True)


def stock(here: Hand, new: NewProduct, number: str, much: str) -> str:
    """Put a product with a lot on the shelf, as a colleague would meanwhile."""
    vet = Act(here.made.vet, clock.now())

    def put() -> str:
        product = shelf.add_product(vet, new)
        return shelf.receive(vet, product, Received(number, Decimal(much)))

    return here.app.desk.save(put).result(timeout=30)


def lines(here: Hand, lot: str) -> list[tuple[str, Decimal]]:
    return [(line.kind, line.amount) for line in here.find(StockLine, lot=lot)]


def start(here: Hand, row: str) -> None:
    """Move to the row of a form that begins with a word."""
    labels = [f.label.strip() for f in here.form.fields]
    here.form.go(next(n for n, label in enumerate(labels) if label.startswith(row)))


async def test_a_dose_by_active_substance_is_ordered_and_struck(tmp_path: Path) -> None:
    async with hand.opened(tmp_path / "p.db", "Plan") as here:
        lot = stock(here, WEAK, "P-1", "500")
        start(here, "Order a treatment")
        await here.press("enter")
        await here.words("praziquantel prol")
        await here.press("enter", "enter", "g", "escape")
        start(here, "Product")
        await here.press("enter")
        await here.words("active sub")
        await here.press("enter", "escape")
        start(here, "Taken from")
        await here.press("enter")
        await here.words("P-1")
        await here.press("enter", "escape")
        assert "Why from there" not in here.lines()
        start(here, "Reason")
        await here.press("enter")
        await here.words("flukes in two gill snips")
        await here.press("enter", "f")
        [row] = here.find(Treatment)
        assert (row.lot, row.strength) == ("P-1", "25 % w/w")
        assert lines(here, lot) == [("received", 500), ("given here", -72)]

        here.form.go([f.key for f in here.form.fields].index(f"treatment {row.id}"))
        await here.press("r")
        await here.words("the sack stayed shut")
        await here.press("enter")
        assert "72.00 g of praziquantel 25 %, lot P-1" in below(here)
        await here.press("y")
        assert "goes back to the shelf" in below(here)
        await here.press("f")
        assert here.find(Treatment) == ()
        assert lines(here, lot)[-1] == ("returned", 72)


async def test_the_lot_put_forward_lasts_to_the_end_of_the_course(tmp_path: Path) -> None:
    async with hand.opened(tmp_path / "p.db", "Plan") as here:
        vet, day = Act(here.made.vet, clock.now()), read_day(here)

        def put() -> None:
            product = shelf.add_product(vet, WEAK)
            for number, days in (("S-1", 8), ("L-1", 9)):
                shelf.receive(vet, product, Received(number, Decimal(500), day + timedelta(days)))

        here.app.desk.save(put).result(timeout=30)
        start(here, "Order a treatment")
        await here.press("enter")
        await here.words("praziquantel prol")
        await here.press("enter", "enter", "d", "escape")
        for row, typed in (("Product", "praziquantel 25"), ("Times", "2"), ("Days between", "9")):
            start(here, row)
            await here.press("enter")
            await here.words(typed)
            await here.press("enter", "escape")
        start(here, "Lot")
        assert "L-1, the oldest to last, unless said" in " ".join(here.lines().split())
        start(here, "Reason")
        await here.press("enter")
        await here.words("flukes in two gill snips")
        await here.press("enter", "f")
        [row] = here.find(Treatment)
        assert (row.act, row.lot) == ("dispensed", "L-1")

        here.form.go([f.key for f in here.form.fields].index(f"treatment {row.id}"))
        await here.press("enter")
        start(here, "Lot")
        await here.press("enter", *["backspace"] * 3)
        await here.words("S-1")
        await here.press("enter", "escape", "f")
        assert here.find(Treatment) == (row,)


def read_day(here: Hand) -> date:
    return here.find(Visit)[0].day


def below(here: Hand) -> str:
    return " ".join(str(here.app.screen.query_one("#dialog-below").render()).split())


def detail(here: Hand) -> str:
    return " ".join(str(here.app.screen.query_one("#detail").render()).split())


async def test_a_controlled_dose_comes_back_before_a_witness(tmp_path: Path) -> None:
    async with hand.opened(tmp_path / "h.db") as here:
        lot = stock(here, DRUG, "B-1", "50")
        await here.take("Biscuit")
        await here.words("5000")
        await here.press("enter", "escape", "h")
        await here.words("butorphanol")
        await here.press("enter")
        await here.words("0.4")
        await here.press("enter", "a", "escape", "f")
        [row] = here.find(Treatment)
        assert lines(here, lot)[-1] == ("given here", Decimal("-0.2"))
        here.form.go([f.key for f in here.form.fields].index(f"given {row.id}"))
        await here.press("r")
        await here.words("still in the syringe")
        await here.press("enter", "y")
        await here.words("Tim Test")
        await here.press("enter", "f")
        [_, _, back] = here.find(StockLine, lot=lot)
        assert (back.kind, back.witness, back.balance) == ("returned", "Tim Test", 50)


async def test_the_bath_of_a_fish_and_the_shelf(tmp_path: Path) -> None:
    async with hand.opened(tmp_path / "b.db") as here:
        lot = stock(here, POWDER, "T-1", "100")
        await here.take("Biscuit")
        start(here, "Agent of the bath")
        await here.press("enter")
        await here.words("tricaine")
        await here.press("enter")
        for text in ("80", "25"):
            await here.words(text)
            await here.press("enter")
        await here.press("escape")
        start(here, "Bath, from shelf")
        await here.settle()
        assert "2.00 g of tricaine, ours, taken when the clock starts" in detail(here)
        await here.press("i", "1", "escape")
        assert lines(here, lot) == [("received", 100), ("given here", -2)]
        start(here, "Bath, from shelf")
        await here.settle()
        assert "taken: 2.00 g of tricaine, ours, lot T-1" in detail(here)
        await here.press("enter", "b")
        await here.words("no bath was made")
        await here.press("enter", "f")
        assert lines(here, lot)[-1] == ("returned", 2)
        await here.press("enter", "t", "escape", "f")
        assert lines(here, lot)[-1] == ("given here", -2)
        [fish] = here.find(Handling)
        assert {line.handling for line in here.find(StockLine, lot=lot)} == {None, fish.id}


def shelf_of(small: Small, act: Act, today: date) -> None:
    all_read(act)
    product = shelf.add_product(act, DRUG)
    shelf.receive(act, product, Received("B-1", Decimal("50")))


async def test_a_log_is_printed_and_kept_by_keys(tmp_path: Path) -> None:
    async with at_desk(tmp_path, "p", shelf_of) as (pilot, app):
        assert isinstance(app.screen, PaperworkScreen)
        await press(pilot, "j", "c", "escape", "f")
        [paper] = app.desk.look(read.find, Document)
        today = app.today()
        assert (paper.kind, paper.number) == ("drug log", f"{today.replace(day=1)}_{today}")
        assert (app.desk.papers / paper.file).read_bytes().startswith(b"%PDF")
        assert f"Drug log {paper.number}, version 1" in said(app, "status")
        await press(pilot, "s")
        [line] = rows(app, "papers")
        assert len(line) <= 80
        assert ["drug", "log", paper.number, "the", "practice's", "own"] == line.split()[1:]
        await press(pilot, "w")
        assert isinstance(app.screen, Panel)
        body = str(app.screen.query_one("#panel-body").content)  # type: ignore[attr-defined]
        assert "Controlled-drug log" in body
        assert "received" in body
        await press(pilot, "escape", "j", "c", "escape", "f")
        assert len(app.desk.look(read.find, Document)) == 1, "nothing has changed"


async def test_days_of_a_log_the_wrong_way_round(tmp_path: Path) -> None:
    async with at_desk(tmp_path, "p", shelf_of) as (pilot, app):
        await press(pilot, "j", "d", "enter")
        await write(pilot, "2030-01-01")
        await press(pilot, "f")
        assert app.desk.look(read.find, Document) == ()
        told = " ".join(str(n.message) for n in app._notifications)
        assert "before the first" in told or "not come yet" in told
