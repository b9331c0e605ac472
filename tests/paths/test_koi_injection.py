"""A koi pond: three fish weighed, each injected; the same millilitres on screen, paper and shelf.

The sums of this test are made anew, with `Decimal`, from what is typed.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path

from core import clock
from core.practice import shelf
from core.practice.keep import Act
from core.practice.shelf import NewProduct, Received
from core.practice.stock_log import left
from core.records.tables import Handling, StockLine, Treatment, Visit
from tests.paths.hand import Person, at_work, made
from tests.practice.plan_cases import Case, case
from tests.small import ZONE
from tests.visit.driver import flat

DOSE, STRENGTH = Decimal(20), Decimal(100)
"""In mg/kg and mg/mL."""
POUND_G = Decimal("453.59237")
MARK = Decimal("0.01")
"""Of the 1 mL syringe, in mL."""
LOT, PACK = "V-17", Decimal(10)
PLACE = "left epaxial"


@dataclass(frozen=True)
class Pond:
    """What was made before the first key."""

    case: Case
    product: str
    lot: str


def pond(act: Act) -> Pond:
    day = clock.today(ZONE)
    of = case("koi_pond", 9000.0, "koi", 3, day=day)
    vet = Act(of.act.by, act.at)
    vial = NewProduct(
        "ceftazidime-injection", "vial of ceftazidime", 100.0, "mg/mL", float(PACK), "mL"
    )
    product = shelf.add_product(vet, vial)
    lot = shelf.receive(vet, product, Received(LOT, PACK, day + timedelta(days=90)))
    return Pond(of, product, lot)


def wanted_ml(grams: Decimal) -> Decimal:
    """The volume of the product for a fish."""
    return DOSE * grams / 1000 / STRENGTH


def to_marks(volume: Decimal) -> Decimal:
    """A volume as it can be drawn."""
    return (volume / MARK).quantize(Decimal(1), ROUND_HALF_UP) * MARK


KUMO, AKA, CHIBI = Decimal(3157), Decimal("5.2") * POUND_G, Decimal(38)


async def weigh(vet: Person, label: str, typed: str) -> None:
    await vet.press("a", "enter", label, "enter", "enter", "f")
    await vet.enter("weight", typed)
    await vet.press("escape")


async def begin_order(vet: Person, whom: str, act: str) -> None:
    """Choose the medicine and the fish; only fish are offered, since it is only injected."""
    await vet.go("order")
    await vet.press("enter", "ceftaz", "enter")
    assert "all of it" not in vet.screen.split("Draw")[0].split("For ")[-1]
    await vet.press(whom, "enter", act)


async def weigh_three(vet: Person) -> None:
    await vet.to("In hand")
    await weigh(vet, "Kumo", "3157 g")
    await weigh(vet, "Aka", "5.2 lb")
    await weigh(vet, "Chibi", "38 g")
    grams = {h.label: Decimal(str(h.weight_g)) for h in vet.find(Handling)}
    assert grams["Kumo"] == KUMO
    assert abs(grams["Aka"] - AKA) < Decimal("0.001")
    assert grams["Chibi"] == CHIBI


async def refuse_wrong_kinds(vet: Person) -> None:
    """What is no dose by weight stands refused in its own row, and nothing is reckoned of it."""
    for typed, said in WRONG.items():
        told = await vet.refused("dose", typed)
        assert told == f"Dose, with unit: {said} Type for example 20 mg/kg."
        assert said.split(".")[0] in vet.seen
        assert vet.said.endswith("Type the dose with its unit.")
        assert "Amount" not in vet.said
    await vet.press("f")
    assert vet.find(Treatment) == ()
    await vet.fill(dose="20 mg/kg")
    told = await vet.refused("weight", "3157")
    assert told == "Weight, with unit: 3157 is not a number with its unit. Type for example 238 g."
    await vet.empty("weight")


NOT_SO = "is not how ceftazidime is dosed here: mg/kg."
WRONG = {
    "20": "20 is not a number with its unit.",
    "2 mL/L": f"mL/L {NOT_SO}",
    "20 ppm": f"ppm {NOT_SO}",
    "2 %": f"% {NOT_SO}",
    "20 mg": f"mg {NOT_SO}",
    "0.2 mL/kg": f"mL/kg {NOT_SO}",
    "20 mg/L": f"mg/L {NOT_SO}",
}


async def order_kumo(vet: Person) -> None:
    """A rough syringe rounds by 5 %; the finer one is chosen, and both say so."""
    await begin_order(vet, "kumo", "g")
    await refuse_wrong_kinds(vet)
    await vet.fill(syringe="3 mL sy")
    exact = wanted_ml(KUMO)
    assert "Draw 0.6 mL on 3 mL syringe, marks every 0.1 mL" in vet.said
    assert f"wanted {exact.normalize()} mL, error {error(Decimal('0.6'), exact)} %" in vet.said
    await vet.fill(syringe="1 mL sy")
    drawn = to_marks(exact)
    assert f"Amount: {drawn} mL of vial of ceftazidime (100 mg/mL), for 3157 g" in vet.said
    assert f"Draw {drawn} mL on 1 mL syringe, marks every {MARK} mL" in vet.said
    assert f"wanted {exact.normalize()} mL, error {error(drawn, exact)} %" in vet.said
    await vet.fill(repeats="1", place=PLACE)
    await vet.finish()


def error(drawn: Decimal, exact: Decimal) -> str:
    return f"{100 * (drawn - exact) / exact:+.1f}"


async def order_aka(vet: Person) -> None:
    await begin_order(vet, "aka", "d")
    await vet.fill(repeats="3", interval="3", place=PLACE)
    drawn = to_marks(wanted_ml(AKA))
    assert f"Amount: {drawn} mL of vial of ceftazidime (100 mg/mL), for 2359 g; " in vet.said
    assert f"{3 * drawn} mL in all" in vet.said
    await vet.finish()


async def order_chibi(vet: Person) -> None:
    """Under five marks nothing is ordered before it is said how it is drawn."""
    await begin_order(vet, "chibi", "g")
    await vet.fill(repeats="1", place=PLACE)
    exact = wanted_ml(CHIBI)
    assert f"No amount: {exact.normalize()} mL is only {exact / MARK:.1f} marks" in vet.said
    assert MIXED in vet.said
    assert f"Then draw {CHIBI_DRAWN} mL on 1 mL syringe" in vet.said
    assert "Or undiluted" not in vet.said, "no syringe at hand has five marks of it"
    before = vet.find(Treatment)
    await vet.press("escape", "f")
    assert "Still needed: Draw it" in vet.told[-1]
    assert vet.find(Treatment) == before
    await vet.letter("diluted", "d")
    assert f"Amount: {CHIBI_DRAWN} mL of vial of ceftazidime (5 mg/mL, made 1 in 20" in vet.said
    assert MIXED in vet.said
    assert f"wanted {(FACTOR * exact).normalize()} mL" in vet.said
    assert f"{CHIBI_DRAWN} mL is more than the 1 mL/kg taken for injection IM" in vet.said
    await vet.fill(reason="halved over both sides")
    await vet.finish()


FACTOR = 20
CHIBI_DRAWN = to_marks(FACTOR * wanted_ml(CHIBI))
STOCK = 10 * MARK
"""Of the product, measured on the same syringe in ten marks."""
MIXED = (
    f"Dilute 1 in {FACTOR}: {STOCK.normalize()} mL of the 100 mg/mL with "
    f"{(STOCK * (FACTOR - 1)).normalize()} mL of diluent make {(STOCK * FACTOR).normalize()} mL "
    f"of {STRENGTH / FACTOR:.0f} mg/mL."
)
DRAWN = {"Kumo": to_marks(wanted_ml(KUMO)), "Aka": to_marks(wanted_ml(AKA)), "Chibi": CHIBI_DRAWN}


async def hand_over_labels(vet: Person) -> None:
    """Note at the Paperwork desk that the medicine was handed over: then it leaves the shelf."""
    await vet.press("p")
    await vet.line("#owing", "labels")
    await vet.press("h")
    await vet.press("h")
    await vet.enter("to", "Clara Test")
    await vet.finish()
    await vet.press("d")


async def sign(vet: Person) -> None:
    for stage in ("History", "Watching", "Water", "Biopsy", "Feeding", "Assessment"):
        await vet.to(stage)
        await vet.press("o", "come for the injections only", "enter")
        await vet.press("f")
    await vet.to("Sign")
    await vet.press("v")
    await vet.press("z")
    await vet.press("z")
    assert [v.state for v in vet.find(Visit)] == ["signed"]


async def walk(vet: Person) -> dict[str, str]:
    """The whole path; return the text of each PDF by its name in the list of papers."""
    await vet.visit("Clara")
    await weigh_three(vet)
    await vet.to("Plan")
    await order_kumo(vet)
    await order_aka(vet)
    await order_chibi(vet)
    for label, drawn in DRAWN.items():
        await vet.reach(f"{label}: ceftazidime")
        assert f"{drawn} mL" in vet.row(vet.form.field.key)
    await vet.press("v")
    papers = {}
    for name in ("Care sheet for the owner", "Labels of what is dispensed"):
        twin, papers[name] = await vet.print(name)
        assert f"{DRAWN['Aka']} mL" in twin
    await hand_over_labels(vet)
    await sign(vet)
    _, papers["Visit record"] = await vet.print("Visit record")
    assert vet.cut == []
    return papers


async def test_the_same_millilitres_on_screen_in_the_records_and_on_every_paper(file: Path) -> None:
    of = made(file, pond)
    begun = clock.now()
    async with at_work(file, "Vera") as vet:
        papers = await walk(vet)
        in_the_records(vet, of, begun)
        off_the_shelf(vet, of)
    on_paper({name: flat(text) for name, text in papers.items()})


def in_the_records(vet: Person, of: Pond, begun: datetime) -> None:
    """What was given has its time, lot, place and by whom; what is in the syringe is the amount."""
    names = {h.id: h.label for h in vet.find(Handling)}
    rows = {names[t.handling or ""]: t for t in vet.find(Treatment)}
    assert {k: Decimal(str(r.amount)) for k, r in rows.items()} == DRAWN
    assert {k: r.act for k, r in rows.items()} == {
        "Kumo": "given here",
        "Aka": "dispensed",
        "Chibi": "given here",
    }
    for row in rows.values():
        assert (row.amount_unit, row.dose, row.dose_unit) == ("mL", float(DOSE), "mg/kg")
        assert (row.lot, row.place, row.by) == (LOT, PLACE, of.case.act.by)
        assert begun <= row.at <= clock.now()
    assert rows["Kumo"].strength == rows["Aka"].strength == "100 mg/mL"
    assert rows["Chibi"].strength == f"5 mg/mL, made 1 in {FACTOR} from 100 mg/mL"


def off_the_shelf(vet: Person, of: Pond) -> None:
    """The lot holds less by what was drawn; of the dilution only what is in it of the product."""
    thousandth = Decimal("0.001")
    of_chibi = (DRAWN["Chibi"] / FACTOR).quantize(thousandth, ROUND_HALF_UP)
    used = DRAWN["Kumo"] + of_chibi + 3 * DRAWN["Aka"]
    assert vet.app.desk.look(left, of.lot) == PACK - used
    kinds = [line.kind for line in vet.find(StockLine, lot=of.lot)]
    assert kinds == ["received", "given here", "given here", "dispensed"]


def on_paper(papers: dict[str, str]) -> None:
    care, label, record = papers.values()
    aka = f"{DRAWN['Aka']} mL"
    assert (
        care.count(f"Ceftazidime: {aka} of vial of ceftazidime, injected into muscle of Aka") == 3
    )
    assert f"Quantity: 3 x {aka}" in label
    assert f"Dosage: {aka} each time, for Aka" in label
    assert "100 mg/mL · vial of ceftazidime" in label
    assert f"Lot: {LOT}" in label
    for whom, drawn in DRAWN.items():
        assert re.search(rf"ceftazidime [^.]*? {drawn} mL injection IM {whom} ", record), whom
        assert f"amount: {drawn} mL" in record
    assert record.count(f"Lot: {LOT}; Place: {PLACE};") == 3
    assert record.count("By: Vera Test") >= 3
    assert MIXED in record
    assert f"made 1 in {FACTOR}" in record
    grams = re.findall(r"body (\S+ k?g)", record)
    assert grams == ["3157 g", "2359 g", "38 g"]
    every = set(re.findall(r"(?<![\d.])(\d[\d.]*) mL(?!/)", care + label))
    assert every == {str(DRAWN["Aka"])}, "no other volume on what the owner gets"
