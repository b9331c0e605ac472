"""What may not be ordered, by keys: forbidden by law, not yet read, not seen for too long."""

from __future__ import annotations

import re
from calendar import monthrange
from datetime import date
from pathlib import Path

import pytest

from core import clock
from core.catalogue import load
from core.dosing.medicines import Medicine
from core.practice.keep import Act
from core.practice.medicines import catalogue, label
from core.records.tables import Figure, MedicineRead, StockLine, Treatment, Visit
from tests.paths.hand import Person, at_work, made
from tests.practice.plan_cases import Case, case
from tests.small import ZONE
from tui.shelf.screen import ShelfScreen
from tui.widgets.panel import Panel
from tui.workup.plan_order import OrderDialog

BY_LAW = tuple(row for row in catalogue().values() if row.prohibited is not None)
BY_NAME = load.table("refused_medicines")
ASKED_FOR = "the farmer has asked for it in writing and signs for it"
RULE = re.compile(r"\d+ (CFR|U\.S\.C\.) [\d.]+")
DATED = re.compile(r"text of 20\d\d-\d\d-\d\d|\((19|20)\d\d\)")
"""The date of a rule's text, or the year of the work that says it."""


def farm(_: Act) -> Case:
    return case(
        "trout_flowing",
        57_600.0,
        "rainbow_trout",
        3200,
        day=clock.today(ZONE),
        flow="flowing",
        flow_l_s=18.0,
        food_fish=True,
    )


def nothing(vet: Person) -> bool:
    """Whether nothing of any order is in the records."""
    rows = len(vet.find(Treatment)) + len(vet.find(StockLine))
    return rows + len(vet.find(Figure, name="amount")) == 0


async def order(vet: Person, words: str) -> None:
    """Open the order and choose a medicine by its whole name."""
    await vet.go("order")
    await vet.press("enter", words, "enter")
    assert isinstance(vet.app.screen, OrderDialog)


async def tried(vet: Person, words: str) -> None:
    """Try to make the order and be told why not; the dialog stays, and is then left."""
    dialog, before = vet.app.screen, vet.toasts()
    if vet.form.typing:
        await vet.press("escape")
    await vet.press("f")
    await vet.hears(before, words)
    assert vet.app.screen is dialog
    await vet.press("escape")
    assert vet.app.screen is not dialog


async def answer_everything(vet: Person, row: Medicine) -> None:
    """Answer what an honest order asks, and a reason in whole sentences."""
    if "injection" in row.routes[0]:
        await vet.go("whom")
        await vet.press("enter", "rainbow", "enter")
        await vet.fill(weight="1.2 kg")
    elif row.in_water:
        await vet.fill(minutes="60 min")
    else:
        await vet.fill(ration="1 %")
    await vet.choose(act="p")
    await vet.fill(dose=f"{row.dose_high:g} {row.unit}")
    await vet.fill(repeats="1", withdrawal="500", reason=ASKED_FOR)


@pytest.mark.parametrize("row", BY_LAW, ids=lambda row: row.key)
async def test_what_the_law_forbids_in_food_fish_no_reason_gets_past(
    file: Path, row: Medicine
) -> None:
    made(file, farm)
    assert row.prohibited is not None
    law = f"{row.name} is prohibited in food animals by {row.prohibited.citation}"
    async with at_work(file, "Vera") as vet:
        await vet.visit("Clara")
        await vet.to("Plan")
        await order(vet, label(row))
        await answer_everything(vet, row)
        assert f"REFUSED: Food fish: {law}" in vet.said
        assert law in vet.seen, "on the screen, not only in what is scrolled away"
        assert "Amount" not in vet.said, "no figure of what may not be given"
        assert RULE.search(law)
        assert DATED.search(law)
        await vet.press("escape") if vet.form.typing else None
        await vet.press("w")
        assert "draw" not in vet.panel
        assert "Amount" not in vet.panel
        await vet.press("escape")
        await tried(vet, law)
        assert nothing(vet)
        assert not vet.keys("treatment")


async def test_what_is_left_out_on_purpose_is_refused_by_every_name(file: Path) -> None:
    made(file, farm)
    async with at_work(file, "Vera") as vet:
        await vet.visit("Clara")
        await vet.to("Plan")
        for row in BY_NAME.values():
            for name in row["names"]:
                await order(vet, name)
                assert vet.said.startswith(f"REFUSED: {row['says']}"), name
                assert DATED.search(vet.said), name
                assert "reason" not in vet.values(), "there is none to give"
                await vet.choose(act="g")
                await tried(vet, row["says"])
        assert nothing(vet)


async def test_a_medicine_nobody_has_read_says_who_may_read_it_and_where(file: Path) -> None:
    key = "praziquantel-prolonged"
    made(file, lambda _: case(day=clock.today(ZONE), switched_on=False))
    async with at_work(file, "Vera") as vet:
        await vet.visit("Clara")
        await vet.to("Plan")
        await order(vet, label(catalogue()[key]))
        assert "off: praziquantel" in vet.row("medicine")
        await vet.choose(act="p")
        await vet.fill(repeats="1", reason=ASKED_FOR)
        said = (
            "off: no veterinarian of this practice has read it yet. Vera Test may read it in "
            "Medicines and shelf, and switch it on there."
        )
        assert said in vet.said
        assert "Amount" not in vet.said
        await tried(vet, said)
        assert nothing(vet)
        await read_and_switch_on(vet, key)
        await order(vet, label(catalogue()[key]))
        await vet.choose(act="p")
        await vet.fill(repeats="1")
        assert "Amount: 6.78 g of praziquantel powder" in vet.said
        await vet.finish()
        assert [t.medicine for t in vet.find(Treatment)] == [key]


async def read_and_switch_on(vet: Person, key: str) -> None:
    """Do what was said: read the row whole and switch it on, by keys, and come back."""
    await vet.command("Medicines and shelf")
    assert isinstance(vet.app.screen, ShelfScreen)
    await vet.line("#medicines", key)
    await vet.press("enter")
    assert isinstance(vet.app.screen, Panel)
    await vet.press("escape")
    await vet.press("v")
    await vet.press("escape")
    assert [(m.medicine, m.state) for m in vet.find(MedicineRead)] == [(key, "on")]
    await vet.go("order")


async def test_a_technician_is_told_that_a_veterinarian_orders(file: Path) -> None:
    made(file, farm)
    async with at_work(file, "Tim") as technician:
        await technician.visit("Clara")
        await technician.to("Plan")
        await technician.go("order")
        await technician.press("enter")
        assert "Only a veterinarian orders a treatment" in technician.error
        assert nothing(technician)


def months_before(day: date, count: int) -> date:
    year, month = divmod(day.year * 12 + day.month - 1 - count, 12)
    return date(year, month + 1, min(day.day, monthrange(year, month + 1)[1]))


@pytest.mark.parametrize(("months", "allowed"), [(13, False), (11, True)])
async def test_a_call_prescribes_only_after_a_visit_within_the_limit(
    file: Path, months: int, allowed: bool
) -> None:
    """A client rings: the last visit was 13 months ago, or 11, and the limit is 12."""
    last = months_before(clock.today(ZONE), months)

    def seen_then(_: Act) -> Case:
        of = case(day=last)
        of.read(temperature=17.0)
        return of

    made(file, seen_then)
    async with at_work(file, "Vera") as vet:
        await take_call(vet)
        await vet.to("Plan")
        await order(vet, label(catalogue()["praziquantel-prolonged"]))
        await vet.choose(act="p")
        await vet.fill(repeats="1", reason=ASKED_FOR)
        too_old = (
            f"The last visit to these fish was on {last.isoformat()}, longer ago than the 12 "
            "months of this practice: see them before anything is prescribed or dispensed. "
            "A call is not a visit."
        )
        if allowed:
            assert "REFUSED" not in vet.said
            await vet.finish()
            assert [t.act for t in vet.find(Treatment)] == ["prescribed"]
            return
        assert f"REFUSED: {too_old}" in vet.said
        assert too_old in vet.seen
        assert "Amount" not in vet.said
        await tried(vet, too_old)
        assert nothing(vet)


async def take_call(vet: Person) -> None:
    """Put a call into the day, and open it."""
    await vet.press("a")
    await vet.enter("client", "Clara")
    await vet.enter("reason", "flukes again, can we have the powder")
    await vet.fill(starts="1000")
    await vet.letter("kind", "t")
    await vet.finish()
    assert {v.kind for v in vet.find(Visit, day=clock.today(ZONE))} == {"phone"}
    await vet.visit("flukes")
