"""A reef aquarium by keys only: what kills its animals is stopped, the fish are bathed elsewhere.

The figures are worked out here anew with `Decimal` from what was typed, and are looked for on the
screen, in the records and in the papers as they are read back.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path

from core import clock
from core.practice import setup, visits
from core.practice.keep import Act
from core.records.tables import Figure, Move, OwnerStep, Treatment
from tests.paths.hand import Person, at_work, made
from tests.read_rows import all_read
from tests.small import ZONE
from tests.visit.driver import flat

DISPLAY_L, TUB_L = Decimal("618"), Decimal("92.4")
BATH_UL_L, LASTING_UL_L, TIMES = Decimal(150), Decimal(15), 3
FISH, EACH_G = 6, Decimal(14)
OXYGEN, LOWEST, USED_MG_KG_H = Decimal("6.3"), Decimal(5), Decimal(300)
REASON = "the sponge filter is taken out first"


@dataclass(frozen=True)
class Reef:
    """Ids of what was made."""

    visit: str
    display: str
    tub: str
    fish: str


def reef(act: Act) -> Reef:
    setup.make_practice(
        act,
        name="Practice of the Paths",
        address="1 Invented Lane",
        phone="555 0199",
        currency="EUR",
        zone=ZONE,
        invented=True,
    )
    vet = setup.add_person(act, "Vera Path", "veterinarian", "L-1")
    client = setup.add_client(act, "Rhea Corallis", phone="555 0100", address="2 Invented Lane")
    site = setup.add_site(act, client, "home", address="2 Invented Lane")
    known = {"plants": "no", "zeolite": "no"}
    litres = float(DISPLAY_L)
    display = setup.add_system(
        act, site, "reef display", "marine_reef", volume_l=litres, invertebrates="yes", **known
    )
    tub = setup.add_system(
        act, site, "bath tub", "hospital_marine", volume_l=float(TUB_L), invertebrates="no", **known
    )
    fish = setup.add_group(act, display, "clownfish", "clownfish", count=FISH)
    by = Act(vet, act.at)
    all_read(by)
    return Reef(
        visits.book(by, display, clock.today(ZONE), "10:30", vet, "white dots"), display, tub, fish
    )


def ml(ul_l: Decimal, litres: Decimal) -> Decimal:
    """What a concentration by volume needs of the product as it is sold."""
    return ul_l * litres / 1000


def kept(value: float) -> Decimal:
    """A figure of the records without the residue of binary arithmetic."""
    return round(Decimal(repr(value)), 9).normalize()


def figures(value: Decimal, many: int) -> str:
    """A figure to so many figures as a person would write it down."""
    step = Decimal(1).scaleb(value.adjusted() - many + 1)
    return format(value.quantize(step, ROUND_HALF_UP).normalize(), "f")


def said_on(day: date) -> str:
    return f"{day:%a} {day.day} {day:%b %Y}"


async def order(vet: Person, medicine: str, whom: str, act: str) -> None:
    """Open the dialog of an order up to its dose."""
    await vet.go("order")
    await vet.press("enter", medicine, "enter", whom, "enter", act)


async def moved(vet: Person) -> None:
    """Tell in the history that all fish went to the tub."""
    await vet.to("History")
    await vet.press("a", "m")
    await vet.press("clown", "enter", "reef", "enter", "bath", "enter", str(FISH), "enter")
    await vet.press("today", "enter", "to be bathed apart", "enter")
    await vet.finish()


async def measured(vet: Person) -> None:
    """Read the water of the tub and weigh its fish."""
    await vet.to("Water")
    await vet.press("e")
    await vet.fill(oxygen=str(OXYGEN), temperature="25.5", ph="8.2", salinity="34")
    await vet.press("escape")
    await vet.to("Feeding")
    await vet.enter("new", f"{FISH} x {EACH_G} g")
    await vet.press("escape")


async def test_what_kills_the_corals_is_stopped_before_any_dose(file: Path) -> None:
    made(file, reef)
    async with at_work(file, "Vera") as vet:
        await vet.visit("Rhea")
        await vet.to("Plan")
        await order(vet, "formalin", "reef", "g")
        ground = "invertebrates in this water (shrimp, snails, corals); formalin harms them"
        assert vet.said.startswith("STOP. Needs a reason in a sentence: Present: invertebrates")
        assert ground in vet.said
        assert "Type the dose" in vet.said
        await vet.enter("dose", f"{BATH_UL_L} uL/L")
        assert ground in vet.said
        assert f"Amount: {figures(ml(BATH_UL_L, DISPLAY_L), 4)} mL of formalin as sold" in vet.said
        for reason in ("", "please"):
            if reason:
                await vet.enter("reason", reason)
            await vet.press("escape") if vet.form.typing else None
            await vet.press("f")
            assert "STOP. This needs a reason that is kept: Present: invertebrates" in vet.told[-1]
        assert vet.find(Treatment) == ()


async def test_the_fish_are_moved_and_bathed_in_their_own_water(file: Path) -> None:
    at, today = made(file, reef), clock.today(ZONE)
    async with at_work(file, "Vera") as vet:
        await vet.visit("Rhea")
        await moved(vet)
        [move] = vet.find(Move)
        assert (move.from_system, move.to_system, move.number) == (at.display, at.tub, FISH)
        await measured(vet)
        await vet.press("e")
        await vet.to("Plan")
        assert "reef display 618 L" in vet.seen
        await order(vet, "formalin", "clownfish (6) in bath", "g")
        assert "invertebrates" not in vet.said
        await vet.enter("dose", f"{BATH_UL_L} uL/L")
        await vet.choose(**{"asked bad bottle": "n"})
        await vet.fill(hours="1", lot="F-7", directions="60 min by the clock", reason=REASON)
        once = ml(BATH_UL_L, TUB_L)
        assert f"Amount: {figures(once, 4)} mL of formalin as sold, 37 %." in vet.said
        await whole_is_said(vet)
        await vet.finish()
        [here] = vet.find(Treatment)
        assert (here.act, here.system, here.group) == ("given here", at.tub, at.fish)
        assert kept(here.amount) == once
        assert "bath tub: formalin ordered" in vet.said, "the plan of the display tells of it"
        await lasting(vet, today)
        await lines_of_the_owner(vet, today)
        await papers(vet, today)


async def whole_is_said(vet: Person) -> None:
    """Look at all of an order: what goes with it, and how long its oxygen lasts."""
    await vet.go("dose")
    await vet.press("w")
    text = flat(vet.panel)
    lasts = (OXYGEN - LOWEST) * TUB_L * 60 / (USED_MG_KG_H * FISH * EACH_G / 1000)
    for words in (
        f"from {OXYGEN} to {LOWEST} mg/L in about {figures(lasts, 2)} min",
        "Meanwhile UV, ozone and skimmer off, carbon out, extra air on; as before 1 h after",
        "Give extra air: formalin lowers the oxygen.",
        "Stay by for the whole bath, never over 60 min.",
        "let fresh water in, or move the fish out, at the first sign of stress",
        "Not into a stream or pond without thorough dilution",
        "Formaldehyde binds ammonia and upsets the ammonia kits",
        "Try it on a few fish first",
        "water 92.4 L",
    ):
        assert words in text, words
    await vet.press("escape")


async def lasting(vet: Person, today: date) -> None:
    """Prescribe the bath that is left in, three times, and see what a water change asks."""
    one = ml(LASTING_UL_L, TUB_L)
    await order(vet, "formalin, prol", "bath tub, all", "p")
    await vet.choose(**{"asked bad bottle": "n", "asked no air": "n", "asked bloom": "n"})
    await vet.fill(repeats=str(TIMES), starts="+2", hours="48", reason=REASON)
    assert f"Amount: {figures(one, 4)} mL" in vet.said
    assert f"{figures(one * TIMES, 4)} mL in all" in vet.said
    await vet.go("dose")
    await vet.press("w")
    assert f"put back {figures(one / 10, 3)} mL for each 10 % of the water" in flat(vet.panel)
    await vet.press("escape")
    await vet.finish()
    [row] = [t for t in vet.find(Treatment) if t.act == "prescribed"]
    assert (kept(row.amount), row.repeats, row.interval_days) == (one, TIMES, 5.0)
    assert row.starts == today + timedelta(days=2)


async def lines_of_the_owner(vet: Person, today: date) -> None:
    """Go to the plan of the tub, where its lines are offered, and take them all."""
    assert "e goes there" in vet.said
    await vet.press("e")
    assert "bath tub 92.4 L" in vet.seen
    await vet.press("v")
    told = {(s.words, s.day) for s in vet.find(OwnerStep)}
    off = "UV, ozone and skimmer off, carbon out, extra air on before the formalin; as before after"
    on = "UV, ozone and skimmer on again, fresh carbon in:"
    assert (f"{off} 1 h.", today) in told
    assert (f"{on} 1 h after the formalin.", today) in told
    for n in range(TIMES):
        begins = today + timedelta(days=2 + 5 * n)
        assert (f"{off} 48 h.", begins) in told
        assert (f"{on} 48 h after the formalin.", begins + timedelta(days=2)) in told


async def papers(vet: Person, today: date) -> None:
    """Read care sheet and record back: the same figures, each with its water."""
    bath, one = ml(BATH_UL_L, TUB_L), ml(LASTING_UL_L, TUB_L)
    twin, pdf = await vet.print("Care sheet for the owner")
    care = flat(pdf)
    assert flat(twin)
    assert "bath tub, 92.4 L" in care
    assert care.count(f"Formalin: {figures(one, 3)} mL, into the water of bath tub.") == TIMES
    assert f"put back {figures(one / 10, 3)} mL for each 10 %" in care
    for n in range(TIMES):
        assert said_on(today + timedelta(days=2 + 5 * n)) in care
        assert said_on(today + timedelta(days=4 + 5 * n)) in care
    assert "Stop and ring us when" in care
    assert "move the fish out, at the first sign of stress" in care
    assert "upsets the ammonia kits" in care
    _, pdf = await vet.print("Visit record")
    record = flat(pdf)
    assert f"{FISH} clownfish to bath tub: to be bathed apart" in record
    assert f"formalin {figures(bath, 4)} mL bath" in record
    assert f"amount: {figures(bath, 4)} mL" in record
    assert f"amount: {figures(one, 4)} mL" in record
    assert f"concentration {BATH_UL_L} uL/L; water {TUB_L} L" in record
    assert "Oxygen (bath tub) 6.3 mg/L" in record, "no reading passes for one of the display"
    assert f"{REASON} (gone past: biofilter" in record
    amounts = {kept(f.value) for f in vet.find(Figure, name="amount")}
    assert amounts == {bath, one}


async def test_fish_in_hand_are_bathed_in_a_tub_that_is_on_no_record(file: Path) -> None:
    made(file, reef)
    tub = Decimal("27.5")
    async with at_work(file, "Vera") as vet:
        await vet.visit("Rhea")
        await vet.to("In hand")
        await vet.press("a")
        await vet.fill(label="net of all")
        await vet.go("count")
        await vet.press(str(FISH), "enter")
        await vet.finish()
        await vet.to("Plan")
        await order(vet, "formalin", "net of all, in hand", "g")
        assert "invertebrates" not in vet.said
        await vet.enter("dose", f"{BATH_UL_L} uL/L")
        assert "No amount: The volume of the water is not known." in vet.said
        await vet.fill(volume=f"{tub} L", lot="F-7", reason="the tub is aerated and heated")
        await vet.choose(**{"asked bad bottle": "n"})
        assert f"Amount: {figures(ml(BATH_UL_L, tub), 4)} mL of formalin as sold" in vet.said
        await vet.go("dose")
        await vet.press("w")
        text = flat(vet.panel)
        assert "skimmer" not in text, "nothing of the display is switched off for a tub"
        assert "extra air" in text.lower()
        assert text.count("never over 60 min.") == 1
        await vet.press("escape")
        await vet.finish()
        [row] = vet.find(Treatment)
        assert kept(row.amount) == ml(BATH_UL_L, tub)
        await vet.press("v")
        assert [s.origin for s in vet.find(OwnerStep)] == ["stop:default"]
        _, pdf = await vet.print("Visit record")
        record = flat(pdf)
        assert f"formalin {figures(ml(BATH_UL_L, tub), 4)} mL bath net of all" in record
        assert f"water {tub} L" in record
