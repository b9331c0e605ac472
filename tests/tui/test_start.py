"""The first start, who is at work, and the command line."""

from __future__ import annotations

import subprocess
import sys
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from textual.pilot import Pilot

from core import clock
from core.errors import BadInput
from core.practice import access
from core.practice.desk import Desk
from core.practice.keep import Act
from core.practice.who import Worker, people, practice
from core.records import read
from core.records.tables import Price, TaxClass
from tests.small import ZONE, build
from tests.terminal import ROOT
from tests.tui.shell import settle
from tui import cli
from tui.app import FinroundsApp
from tui.cli import named
from tui.day.add import AddVisit
from tui.day.screen import DayScreen
from tui.start.app import StartingApp
from tui.start.first import FirstStart
from tui.start.who_screen import WhoScreen

MARLO, INES, PELL = (
    Worker("1", "Marlo Tregg", "veterinarian"),
    Worker("2", "Ines Holloway-Brandt", "veterinarian"),
    Worker("3", "Pell", "reception"),
)


async def fill_in(pilot: Pilot[None], *rows: str) -> None:
    """Type into rows one after another; "" leaves a row as it stands."""
    for row in rows:
        await pilot.press(*row, "enter")
    await pilot.pause()


async def test_the_first_start_makes_the_practice_and_offers_the_first_visit(
    tmp_path: Path,
) -> None:
    desk = Desk(tmp_path / "practice.db")
    app = StartingApp(desk, desk.look(practice), desk.look(people))
    try:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            await fill_in(pilot, "Reed Row", "1 Reed Row", "555", "", "", "Vera Vet")
            await pilot.press("v")
            await fill_in(pilot, "L-1", "", "eur", "", "", "0", "0", "7", "")
            await pilot.press("l", "escape", "f")
            await settle(pilot)
            house = desk.look(practice)
            assert house is not None
            assert (house.name, house.phone, house.currency) == ("Reed Row", "555", "EUR")
            assert (house.units, house.paper, house.open_days) == ("metric", "Letter", "1234567")
            rates = {t.code: t.rate_percent for t in desk.look(read.find, TaxClass)}
            assert rates == {"service": Decimal(0), "medicine": Decimal(0), "goods": Decimal(7)}
            assert len(desk.look(read.find, Price)) > 20
            assert [(w.name, w.role) for w in desk.look(people)] == [("Vera Vet", "veterinarian")]
            assert app.worker.name == "Vera Vet"
            assert isinstance(app.screen, AddVisit)
            await pilot.press("escape", "escape")
            await settle(pilot)
            assert isinstance(app.screen, DayScreen)
    finally:
        desk.close()


async def test_what_is_missing_is_named_and_nothing_typed_is_lost(tmp_path: Path) -> None:
    desk = Desk(tmp_path / "practice.db")
    app = StartingApp(desk, None, ())
    try:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            await fill_in(pilot, "Reed Row")
            await pilot.press("escape", "f")
            await settle(pilot)
            (told,) = [n.message for n in app._notifications]
            assert "Address" in told
            assert "Currency" in told
            assert desk.look(practice) is None
            start = app.screen
            assert isinstance(start, FirstStart)
            assert start.answers["name"].words == "Reed Row"
            assert start.form.field.key == "address"
            await pilot.press("q")
            await settle(pilot)
        assert app.return_code == 0
    finally:
        desk.close()


@pytest.mark.parametrize(
    ("key", "text"),
    [("zone", "Europe/Nowhere"), ("currency", "euro"), ("opens", "25"), ("tax_goods", "seven")],
)
async def test_a_wrong_answer_is_refused_where_it_stands(
    tmp_path: Path, key: str, text: str
) -> None:
    desk = Desk(tmp_path / "practice.db")
    app = StartingApp(desk, None, ())
    try:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            start = app.screen
            assert isinstance(start, FirstStart)
            await pilot.press("escape")
            start.form.go([f.key for f in start.form.fields].index(key))
            await pilot.press("enter", *text, "enter")
            await settle(pilot)
            assert start.form.row.state.typing is not None
            assert start.form.row.state.typing.text == text
            assert "or example" in start.form.row.state.error
    finally:
        desk.close()


@pytest.mark.parametrize(
    ("keys", "name"),
    [(["b"], "Tim Test"), (["enter"], "Vera Test"), (["down", "enter"], "Tim Test")],
)
async def test_who_is_at_work_is_chosen_by_letter_or_arrows(
    tmp_path: Path, keys: list[str], name: str
) -> None:
    file = tmp_path / "practice.db"
    build(file)
    desk = Desk(file)
    app = StartingApp(desk, desk.look(practice), desk.look(people))
    try:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            assert isinstance(app.screen, WhoScreen)
            await pilot.press(*keys)
            await settle(pilot)
            assert isinstance(app.screen, DayScreen)
            assert app.worker.name == name
            assert app.screen.mine == (name == "Vera Test")
    finally:
        desk.close()


async def test_a_single_person_is_at_work_at_once(tmp_path: Path) -> None:
    file = tmp_path / "practice.db"
    build(file)
    desk = Desk(file)
    app = StartingApp(desk, desk.look(practice), desk.look(people)[:1])
    try:
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            assert isinstance(app.screen, DayScreen)
    finally:
        desk.close()


@pytest.mark.parametrize(
    ("name", "who"), [("marlo tregg", MARLO), ("ines", INES), ("PELL", PELL), (" pell ", PELL)]
)
def test_a_name_on_the_command_line_may_be_part_of_one(name: str, who: Worker) -> None:
    assert named(name, (MARLO, INES, PELL)) == who


@pytest.mark.parametrize("name", ["e", "nobody", "Marlo Tregg Junior"])
def test_a_name_that_means_nobody_or_several_is_refused(name: str) -> None:
    with pytest.raises(BadInput, match="Marlo Tregg, Ines"):
        named(name, (MARLO, INES, PELL))


@pytest.mark.parametrize("pin", ["", "2580"])
def test_a_name_on_the_command_line_opens_at_once_unless_it_has_a_pin(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, pin: str
) -> None:
    file = tmp_path / "practice.db"
    made = build(file)
    if pin:
        monkeypatch.setattr(access, "COST", access.Cost(rounds=1, memory_kib=8, lanes=1))
        desk = Desk(file)
        desk.save(access.set_pin, Act(made.vet, clock.now()), made.vet, pin).result(timeout=30)
        desk.close()
    opened: list[str] = []
    monkeypatch.setattr(FinroundsApp, "run", lambda app: opened.append(type(app).__name__))
    monkeypatch.setenv("FINROUNDS_DATABASE", f"sqlite:///{file}")
    cli.screen(None, "vera")
    assert opened == ["StartingApp" if pin else "FinroundsApp"]


def command(*said: str, file: Path) -> subprocess.CompletedProcess[str]:
    """Run the command line, and say at its end whether Textual was loaded."""
    code = (
        "import sys\n"
        f"sys.argv = {['finrounds', *said]!r}\n"
        "from tui.cli import main\n"
        "try:\n    code = main()\n"
        "except SystemExit as end:\n    code = end.code\n"
        "print('TEXTUAL' if 'textual' in sys.modules else 'PLAIN', code)"
    )
    return subprocess.run(
        [sys.executable, "-c", code],
        cwd=ROOT,
        env={"FINROUNDS_DATABASE": f"sqlite:///{file}", "PATH": ""},
        capture_output=True,
        text=True,
        check=True,
    )


def test_help_loads_no_textual(tmp_path: Path) -> None:
    done = command("--help", file=tmp_path / "practice.db")
    assert "--demo" in done.stdout
    assert done.stdout.endswith("PLAIN 0\n")


def test_the_end_of_the_day_is_printed_without_a_screen(tmp_path: Path) -> None:
    file = tmp_path / "practice.db"
    build(file)
    today = clock.today(ZONE)
    done = command("paperwork", "--day", today.isoformat(), file=file)
    assert "Clara Test" in done.stdout
    assert done.stdout.endswith("PLAIN 0\n")
    other = command("paperwork", "--date", date(2020, 1, 1).isoformat(), file=file)
    assert "0 visits" in other.stdout


def test_an_error_is_one_sentence_and_a_code(tmp_path: Path) -> None:
    file = tmp_path / "practice.db"
    missing = command("paperwork", file=file)
    assert missing.stdout == "PLAIN 1\n"
    assert missing.stderr.count("\n") == 1
    assert "no practice" in missing.stderr
    file.write_text("no database at all, " * 200)
    broken = command("paperwork", file=file)
    assert broken.stdout == "PLAIN 1\n"
    assert broken.stderr.count("\n") == 1
    assert "can not be opened" in broken.stderr
