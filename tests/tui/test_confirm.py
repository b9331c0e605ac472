"""What can not be taken back is asked once more; the same key pressed again does it."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path

from textual.widgets import Static

from core import clock
from core.practice import charges, keep, sign, visits
from core.practice.desk import Desk
from core.practice.keep import Act
from core.records import read
from core.records.keys import new_key
from core.records.tables import Invoice, Price, Visit
from tests.practice.planted import add, taxes
from tests.small import ZONE, Small, fill
from tests.tui.stage_app import Opened, opened
from tui.widgets.confirm import Confirm
from tui.workup.charges import ChargesStage
from tui.workup.sign import SignStage

TODAY: date = clock.today(ZONE)


def planted(file: Path, *, walked: bool) -> Small:
    """Make a practice with two lines on the bill, and a visit that is walked or not."""

    def make() -> Small:
        small = fill(Act("setup", clock.now()), TODAY)
        act = Act(small.vet, clock.now())
        taxes(act)
        kit = Price(id=new_key(), code="kit", name="Test kit", unit_minor=900, tax_class="goods")
        add(act, kit)
        for words, code in (("Test kit", "kit"), ("Salt [b]bag", "")):
            charges.add_manual(act, small.visit, words, Decimal(1), 1000, "goods", code)
        for stage in sign.WALKED if walked else ():
            keep.mark_stage(act, small.visit, stage, "done")
        return small

    desk = Desk(file)
    try:
        return desk.save(make).result(timeout=30)
    finally:
        desk.close()


def asked(here: Opened) -> str:
    screen = here.app.screen
    assert isinstance(screen, Confirm)
    return "\n".join(str(part.render()) for part in screen.query("#panel Static").results(Static))


async def test_the_record_closes_only_when_the_key_is_pressed_again(tmp_path: Path) -> None:
    file = tmp_path / "practice.db"
    small = planted(file, walked=True)
    async with opened(file, small.visit, "Sign") as here:
        for leave in ("escape", "backspace"):
            await here.press("z")
            assert "Vera Test signs the visit of Clara Test" in asked(here)
            assert "closes" in asked(here)
            await here.press(leave)
            assert isinstance(here.stage, SignStage)
            assert here.app.desk.look(read.one, Visit, small.visit).signed_at is None
        await here.press("z", "z")
        assert here.app.desk.look(read.one, Visit, small.visit).signed_by == small.vet
        assert here.below().startswith("Signed")
        await here.press("z")
        assert not isinstance(here.app.screen, Confirm), "signed already: refused at once"


async def test_what_can_not_be_signed_is_refused_without_asking(tmp_path: Path) -> None:
    file = tmp_path / "practice.db"
    small = planted(file, walked=False)
    async with opened(file, small.visit, "Sign") as here:
        await here.press("z")
        assert not isinstance(here.app.screen, Confirm)
        assert "can not be signed yet" in [n.message for n in here.app._notifications][-1]


async def test_an_invoice_says_for_whom_and_how_much_first(tmp_path: Path) -> None:
    file = tmp_path / "practice.db"
    small = planted(file, walked=False)
    async with opened(file, small.visit, "Charges") as here:
        await here.press("j")
        assert "To Clara Test: 2 lines, total" in asked(here)
        assert "21.40" in asked(here)
        await here.press("escape")
        assert here.app.desk.look(read.find, Invoice) == ()
        await here.press("j", "j")
        [invoice] = here.app.desk.look(read.find, Invoice)
        assert invoice.gross_minor == 2140
        assert f"Invoice {invoice.number} issued" in here.below()
        await here.press("j")
        assert not isinstance(here.app.screen, Confirm)
        assert "issued already" in [n.message for n in here.app._notifications][-1]


async def test_what_is_refused_after_the_question_is_told(tmp_path: Path) -> None:
    file = tmp_path / "practice.db"
    small = planted(file, walked=True)
    async with opened(file, small.visit, "Sign") as here:
        await here.press("z")
        here.app.desk.save(sign.sign, Act(small.vet, clock.now()), small.visit).result(timeout=30)
        await here.press("z")
        assert "signed already" in [n.message for n in here.app._notifications][-1]
        assert here.app.desk.look(visits.opened, small.visit).closed


async def test_a_line_says_whether_it_is_from_the_price_list(tmp_path: Path) -> None:
    file = tmp_path / "practice.db"
    small = planted(file, walked=False)
    async with opened(file, small.visit, "Charges") as here:
        assert isinstance(here.stage, ChargesStage)
        lines = {f.label: here.stage.shown(f).note for f in here.stage.fields()}
        assert lines["Test kit"] == "goods; from the price list"
        assert lines["Salt [b]bag"] == "goods; by hand"
