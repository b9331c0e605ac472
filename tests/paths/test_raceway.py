"""A trout raceway by keys only: a bath while the water runs, for fish that people will eat.

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
from core.records.tables import Figure, OwnerStep, Treatment
from tests.paths.hand import Person, at_work, made
from tests.read_rows import all_read
from tests.small import ZONE
from tests.visit.driver import flat

LITRES, ERROR = Decimal(38_000), Decimal(10)
GALLON_L = Decimal("3.785411784")
"""The gallon of the United States."""
COLD = "formalin, bath: external protozoa and monogeneans, salmon and trout b"
REASON = "the raceway is watched and aerated all the while"


@dataclass(frozen=True)
class Fed:
    """What a bath in running water needs: at once, fed in, and a minute of it."""

    fill: Decimal
    fed: Decimal
    a_minute: Decimal

    @property
    def whole(self) -> Decimal:
        return self.fill + self.fed


def farm(act: Act) -> None:
    setup.make_practice(
        act,
        name="Practice of the Paths",
        address="1 Invented Lane",
        phone="555 0199",
        currency="USD",
        zone=ZONE,
        invented=True,
    )
    vet = setup.add_person(act, "Vera Path", "veterinarian", "L-1")
    client = setup.add_client(act, "Ashgill Farm", phone="555 0100", address="2 Invented Lane")
    site = setup.add_site(act, client, "farm", address="2 Invented Lane")
    water = setup.add_system(
        act,
        site,
        "raceway 4",
        "trout_flowing",
        volume_l=float(LITRES),
        volume_error_percent=float(ERROR),
        flow="flowing",
        food_fish=True,
        invertebrates="no",
        plants="no",
        zeolite="no",
    )
    setup.add_group(act, water, "rainbow_trout", "trout", count=2400)
    by = Act(vet, act.at)
    all_read(by)
    visits.book(by, water, clock.today(ZONE), "10:30", vet, "white dots")


def figures(value: Decimal, many: int = 4) -> str:
    """A figure to so many figures as a person would write it down; whole numbers stand whole."""
    places = max(0, many - 1 - value.adjusted())
    return format(value.quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP).normalize(), "f")


def kept(value: float) -> Decimal:
    """A figure of the records without the residue of binary arithmetic."""
    return round(Decimal(repr(value)), 6)


def fed(ml_l: Decimal, l_min: Decimal, minutes: int) -> Fed:
    """What is needed of a product of which each litre of water gets so many millilitres."""
    return Fed(ml_l * LITRES, ml_l * l_min * minutes, ml_l * l_min)


def ends(level: Decimal) -> tuple[Decimal, Decimal]:
    """What the level really is when the volume is known to so many per cent."""
    return level / (1 + ERROR / 100), level / (1 - ERROR / 100)


def said(of: Fed, minutes: int, unit: str = "mL") -> str:
    """How the two parts of a bath are told to who gives it."""
    return (
        f"{figures(of.fill)} {unit} at once, then {figures(of.fed)} {unit} fed in evenly over "
        f"{minutes} min ({figures(of.a_minute)} {unit} a minute)"
    )


async def arrived(vet: Person, oxygen: str, temperature: str) -> None:
    """Come to the plan of the raceway with its water read at the outlet."""
    await vet.visit("Ashgill")
    await vet.to("Water")
    await vet.fill(oxygen=oxygen, temperature=temperature, ph="7.3")
    await vet.press("escape")
    await vet.to("Plan")


async def order(vet: Person, medicine: str, act: str = "p") -> None:
    await vet.go("order")
    await vet.press("enter", medicine, "enter", "enter", act)


async def all_of_it(vet: Person) -> str:
    """Look at all of an order and its working."""
    await vet.go("dose")
    await vet.press("w")
    text = flat(vet.panel)
    await vet.press("escape")
    return text


async def test_formalin_is_stopped_by_low_oxygen_and_by_warm_water(file: Path) -> None:
    made(file, farm)
    async with at_work(file, "Vera") as vet:
        await arrived(vet, "4.6", "16")
        await order(vet, COLD)
        for ground in (
            "The oxygen is 4.6 mg/L: formalin is not to be used below 5 mg/L.",
            "The temperature is 16 °C: above 10 °C salmon and trout get at most 170 µL/L.",
        ):
            assert f"STOP. Needs a reason in a sentence: {ground}" in vet.said, "before any dose"
        await vet.fill(dose="200 uL/L", flow="475 gpm", minutes="45 min", reason="they die")
        await vet.press("f")
        assert "STOP. This needs a reason that is kept: The oxygen is 4.6 mg/L" in vet.told[-1]
        assert vet.find(Treatment) == ()


async def test_running_water_is_never_reckoned_as_if_it_stood(file: Path) -> None:
    made(file, farm)
    async with at_work(file, "Vera") as vet:
        await arrived(vet, "8.6", "9")
        await order(vet, COLD)
        await vet.fill(dose="200 uL/L", reason=REASON)
        assert "No amount: The water runs, and how fast is not known." in vet.said
        await vet.press("f")
        assert "how fast is not known" in vet.told[-1]
        assert "475 is not a number with its unit" in await vet.refused("flow", "475")
        assert "mg/L is not how formalin is dosed here: uL/L" in await vet.refused(
            "dose", "200 mg/L"
        )
        assert vet.find(Treatment) == ()


async def test_a_bath_by_volume_while_the_water_runs(file: Path) -> None:
    made(file, farm)
    today, level, minutes = clock.today(ZONE), Decimal(200), 45
    want = fed(level / 1000, 475 * GALLON_L, minutes)
    low, high = ends(level)
    async with at_work(file, "Vera") as vet:
        await arrived(vet, "8.6", "9")
        await order(vet, COLD)
        await vet.fill(dose="240 uL/L", flow="475 gpm", minutes=f"{minutes} min")
        assert f"{figures(ends(Decimal(240))[1])} uL/L; at most 250 uL/L: the high end is over" in (
            await all_of_it(vet)
        )
        await vet.fill(dose=f"{level} uL/L")
        assert f"Amount: {figures(want.whole)} mL of formalin as sold, 37 %." in vet.said
        await vet.choose(**{"asked bad bottle": "n"})
        text = await all_of_it(vet)
        for words in (
            f"{figures(want.fill)} mL at once and {figures(want.fed)} mL fed in "
            f"({figures(want.a_minute)} mL a minute)",
            f"It may really be {figures(low)} to {figures(high)} uL/L; at most 250 uL/L: "
            "the high end is not over it.",
            "formalin: 0 days of withdrawal (read)",
            "Food fish: formalin is listed as approved in the United States (read).",
            "flow 475 gal/min",
            f"water {LITRES} L",
        ):
            assert words in text, words
        await vet.enter("reason", REASON)
        await vet.finish()
        [row] = vet.find(Treatment)
        assert kept(row.amount) == round(want.whole, 6)
        assert row.withdrawal_until == today
        parts = {f.name: kept(f.value) for f in vet.find(Figure, subject=row.id)}
        assert parts["at once"] == round(want.fill, 6)
        assert parts["fed in"] == round(want.fed, 6)
        assert said(want, minutes) in await vet.note("treatment")
        await vet.press("v")
        await papers(vet, row, want, minutes)


async def papers(vet: Person, row: Treatment, want: Fed, minutes: int) -> None:
    """Nobody is told to put the whole amount in at once."""
    _, pdf = await vet.print("Care sheet for the owner")
    care = flat(pdf)
    assert f"Formalin: {said(want, minutes)}, into the water of raceway 4." in care
    assert f"{figures(want.whole)} mL" not in care
    assert "trout" in care
    assert "Stop and ring us when" in care
    _, pdf = await vet.print("Visit record")
    record = flat(pdf)
    assert f"formalin {figures(want.whole)} mL bath raceway 4" in record
    assert f"In running water: {said(want, minutes)}" in record
    assert "concentration 200 uL/L" in record
    assert "flow 475 gal/min" in record
    assert row.withdrawal in record
    assert REASON in record


async def test_a_bath_by_weight_of_active_substance_from_a_liquid(file: Path) -> None:
    made(file, farm)
    level, minutes = Decimal(75), 60
    mg_ml = Decimal("0.35") * Decimal("1.132") * 1000
    want = fed(level / mg_ml, Decimal(1800), minutes)
    low, high = ends(level)
    today = clock.today(ZONE)
    async with at_work(file, "Vera") as vet:
        await arrived(vet, "8.6", "9")
        await order(vet, "hydrogen per", "d")
        assert "uL/L is not how hydrogen peroxide is dosed here: mg/L" in await vet.refused(
            "dose", "75 uL/L"
        )
        await vet.fill(dose=f"{level} mg/L", flow="1800 L/min", minutes="1 h")
        await vet.go("product")
        await vet.press("enter", "another", "enter")
        await vet.fill(strength="35 % w/w, 1.132 g/mL", lot="P-1", expires="+90", reason=REASON)
        assert f"Amount: {figures(want.whole)} mL ({figures(mg_ml)} mg/mL)" in vet.said
        text = await all_of_it(vet)
        assert f"{figures(want.whole * 3)} mL in all" in text
        assert f"It may really be {figures(low)} to {figures(high)} mg/L" in text
        assert "the range is 50 mg/L to 100 mg/L: both ends are inside." in text
        await vet.finish()
        [row] = vet.find(Treatment)
        assert kept(row.amount) == round(want.whole, 6)
        assert (row.repeats, row.interval_days) == (3, 2.0)
        assert row.withdrawal_until == today + timedelta(days=4)
        await vet.press("v")
        given = [s for s in vet.find(OwnerStep) if s.origin.startswith("dose:")]
        assert [s.day for s in given] == [today + timedelta(days=2 * n) for n in range(3)]
        assert all(said(want, minutes) in s.words for s in given)
        _, pdf = await vet.print("Care sheet for the owner")
        assert flat(pdf).count(said(want, minutes)) == 3
        assert eaten(today + timedelta(days=4)) in flat(pdf)
        _, pdf = await vet.print("Labels of what is dispensed")
        label = flat(pdf)
        assert f"Quantity: 3 x {figures(want.whole)} mL" in label
        assert f"Dosage: {said(want, minutes)} each time, for raceway 4." in label


def eaten(first: date) -> str:
    return f"not to be eaten by anyone before {first:%a} {first.day} {first:%b %Y}"
