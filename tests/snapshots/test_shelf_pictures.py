"""Medicines and shelf as pictures: the lists, a row read, and what is asked of one of our own."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Iterator
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from textual.pilot import Pilot

from core import clock
from core.practice import own_typed, shelf
from core.practice.desk import Desk
from core.practice.keep import Act
from core.practice.shelf import NewProduct, Received
from tests.practice.test_own_medicine import FULL, MINT
from tests.snapshots import clinic
from tests.snapshots.test_snapshots import (
    LARGE,
    SMALL,
    Compare,
    View,
    app_on,
    check,
    press,
    settle,
)
from tui.shelf.screen import ShelfScreen

KEYS_TO_MINT = ("l", *"mint", "enter")
VIEWS = {
    "medicines": View(says=("MEDICINES", "acriflavine", "Add ours", "Look up")),
    "look_up": View(("l", *"praz"), says=("Look up a medicine", "praziquantel")),
    "ours": View(KEYS_TO_MINT, says=("garden mint oil", "Written by this practice", "Food fish")),
    "read_whole": View(
        (*KEYS_TO_MINT, "enter"), says=("COMMON PRACTICE", "Correct it", "common practice")
    ),
    "read_to_the_end": View(
        (*KEYS_TO_MINT, "enter", *("down",) * 40), says=("PEOPLE", "NOT KNOWN", "antimicrobial")
    ),
    "write_ours": View(("a",), says=("A medicine of our own", "Generic name", "It is off until")),
    "wrong_kind": View(
        (
            *("a", *"oil", "enter", *"drops", "enter", *"koi", "enter", *"bath", "enter", "enter"),
            *("enter", "enter", *"5 mL/L", "enter"),
        ),
        says=(
            "5 mL/L",
            "mL/L is a thousand times uL/L and easily slips.",
        ),
    ),
    "correct_ours": View(
        ("l", *"thyme", "enter", "enter", "enter"), says=("Correct garden thyme", "free menthol")
    ),
    "shelf": View(("s",), says=("SHELF", "mint 10", "100 mg/mL", "lot B-1", "expires")),
    "add_product": View(("s", "a"), says=("A product for the shelf", "Density, g/mL", "Price")),
    "product_log": View(("s", "w"), says=("packs of 50 mL", "50.00", "Correct it")),
}


def plant(vet: Act) -> None:
    """Write two medicines of the practice's own, with a product of one."""
    key = own_typed.write(vet, MINT)
    own_typed.write(vet, replace(FULL, name="garden thyme oil"))
    product = NewProduct(key, "mint 10", 100.0, "mg/mL", 50.0, "mL", density_g_ml=1.02)
    came = Received("B-1", Decimal("50.00"), date(2027, 3, 1), "truck 1")
    shelf.receive(vet, shelf.add_product(vet, product), came)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give the fixed practice with what it has of its own, made once."""
    made = tmp_path_factory.mktemp("shelf")
    house = clinic.build(made)
    desk = Desk(made / "practice.db")
    try:
        desk.save(plant, Act(house.people["moss"], clinic.NOW)).result(timeout=30)
    finally:
        desk.close()
    return made


@pytest.fixture
def desk(folder: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Desk]:
    monkeypatch.setattr(clock, "now", lambda: clinic.NOW)
    made = Desk(folder / "practice.db")
    yield made
    made.close()


def walk(view: View, size: tuple[int, int]) -> Callable[[Pilot[None]], Awaitable[None]]:
    """Return what leads to the screen, and there by the keys of a view."""

    async def go(pilot: Pilot[None]) -> None:
        await settle(pilot)
        await pilot.app.push_screen(ShelfScreen())
        await settle(pilot)
        await press(pilot, *view.keys)
        check(pilot, view.says, size)

    return go


@pytest.mark.parametrize("size", [SMALL, LARGE], ids="%dx%d".__mod__)
@pytest.mark.parametrize("name", VIEWS)
def test_the_shelf(name: str, size: tuple[int, int], desk: Desk, snap_compare: Compare) -> None:
    assert snap_compare(app_on(desk), terminal_size=size, run_before=walk(VIEWS[name], size))
