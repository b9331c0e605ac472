"""A trout farm by keys only: ten fish are sedated for samples, then all are fed a medicine.

People eat these fish. The end of each withdrawal is counted here on a calendar of its own, day by
day, and is looked for on the screen, in the records and in each paper as it is read back.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from fractions import Fraction
from pathlib import Path

import pytest
from textual.widgets import Digits

from core import clock, dates
from core.practice import own_medicine, setup, visits
from core.practice.keep import Act
from core.records.tables import DepthMark, Handling, OwnerStep, Treatment
from tests.paths.hand import Person, at_work, made
from tests.read_rows import all_read
from tests.small import ZONE
from tests.visit.driver import flat

TRICAINE = "tricaine methanesulfonate (MS-222)"
CELSIUS = 12
DAYS, DEGREE_DAYS = 21, 500
"""What the two sources of the premix ask for: they do not agree."""
ALLOWED = [
    *("elasmobranch", "scaleless", "invertebrates", "plants", "biofilter"),
    *("alkalinity", "heat", "oxygen"),
]
PREMIX = {
    "name": "trial antibiotic",
    "form": "premix",
    "routes": ["medicated feed"],
    "indication": "furunculosis of trout",
    "dose_low": 10.0,
    "dose_high": 10.0,
    "unit": "mg/kg/day",
    "interval_h": 24,
    "repeats": 10,
    "systems": ["fresh"],
    "us_food_fish": "extra-label",
    "withdrawal_days": DAYS,
    "withdrawal_degree_days": float(DEGREE_DAYS),
    "sources": ["the data sheet of the tests"],
    "known": {"dose": "from memory", "withdrawal": "from memory"},
    "antimicrobial": True,
    "allowed": ALLOWED,
}
SLEEP = {
    "name": "trial anaesthetic",
    "form": "liquid",
    "routes": ["sedation bath"],
    "indication": "sampling",
    "dose_low": 5.0,
    "dose_high": 15.0,
    "unit": "mg/L",
    "systems": ["fresh"],
    "us_food_fish": "extra-label",
    "sources": ["the data sheet of the tests"],
    "known": {"dose": "from memory"},
    "allowed": ALLOWED,
}
WARM_SLEEP = {
    **SLEEP,
    "name": "warm anaesthetic",
    "withdrawal_days": 7,
    "withdrawal_degree_days": 250.0,
    "known": {"dose": "from memory", "withdrawal": "from memory"},
}


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
    vet = Act(setup.add_person(act, "Vera Path", "veterinarian", "L-1"), act.at)
    client = setup.add_client(act, "Ashgill Farm", phone="555 0100", address="2 Invented Lane")
    site = setup.add_site(act, client, "farm", address="2 Invented Lane")
    known = {"flow": "flowing", "flow_l_s": 18.0, "invertebrates": "no", "plants": "no"}
    water = setup.add_system(
        act, site, "raceway 2", "trout_flowing", volume_l=57_600.0, food_fish=True, **known
    )
    setup.add_group(act, water, "rainbow_trout", "trout of raceway 2", count=3200)
    for row in (PREMIX, SLEEP, WARM_SLEEP):
        own_medicine.own(vet, row)
    all_read(vet)
    visits.book(vet, water, clock.today(ZONE), "07:00", vet.by, "deaths")


class Clock:
    """A clock that stands until it is told how much later it is."""

    def __init__(self, patch: pytest.MonkeyPatch) -> None:
        self.at = datetime.now(UTC).replace(hour=9, minute=0, second=0, microsecond=0)
        patch.setattr(clock, "now", lambda: self.at)

    def later(self, **span: float) -> None:
        self.at += timedelta(**span)


@pytest.fixture
def now(monkeypatch: pytest.MonkeyPatch) -> Clock:
    return Clock(monkeypatch)


def counted(first: date, days: int) -> date:
    """Count so many days on a calendar, one after another."""
    day = first
    for _ in range(days):
        day = date.fromordinal(day.toordinal() + 1)
    return day


def by_heat(celsius: int, needed: int) -> int:
    """Count the days until the degrees of each are together as many as are needed."""
    gathered, days = Fraction(0), 0
    while gathered < needed:
        gathered, days = gathered + celsius, days + 1
    return days


async def stop_typing(vet: Person) -> None:
    if vet.form.typing:
        await vet.press("escape")


async def arrived(vet: Person, celsius: str = str(CELSIUS)) -> None:
    """Come to the fish of the raceway, with its water read at the outlet."""
    await vet.visit("Ashgill")
    await vet.to("Water")
    readings = {"temperature": celsius} if celsius else {}
    await vet.fill(oxygen="9.5", ph="7.3", **readings)
    await stop_typing(vet)
    await vet.to("In hand")
    await vet.press("a")
    await vet.press("enter", "enter", "ctrl+u", "10", "enter", "f")


async def typed(vet: Person, start: str, text: str) -> None:
    """Type an answer into a row, whatever another row still says."""
    await vet.go(start)
    await vet.press("enter", "ctrl+u", text, "enter")


async def test_a_sedation_by_its_sheet_one_key_for_each_moment(
    file: Path, now: Clock, monkeypatch: pytest.MonkeyPatch
) -> None:
    made(file, farm)
    taps = iter(range(0, 600, 1))
    monkeypatch.setattr("tui.workup.in_hand_clock.monotonic", lambda: next(taps) * 0.75)
    async with at_work(file, "Vera") as vet:
        await arrived(vet)
        await vet.fill(agent="tricaine", level="80")
        # 80 mg/L x 40 L = 3.2 g; twice as much bicarbonate; 320 mL of a stock of 10 g/L.
        await vet.go("bath")
        await vet.press("enter", "40")
        assert "weigh 3.20 g and 6.40 g bicarbonate, or pour 320 mL" in seen_now(vet)
        await vet.press("enter")
        await stop_typing(vet)
        end = counted(clock.today(ZONE), 21)
        held = f"these 10 fish are not food before {end} (21 days, read)"
        assert held in vet.said
        assert "80 mg/L lies outside the rows on record: sedation bath 15 to 50" in (
            await vet.note("level")
        )
        assert "People: respiratory irritant powder" in vet.said
        await stop_typing(vet)
        await vet.press("i", "1")
        # The timer runs while other keys are at work: five beats, 0.75 s apart, are 80 a minute.
        now.later(seconds=45)
        await vet.press("2")
        await vet.press(*" " * 5)
        now.later(seconds=20)
        vet.app.screen.paint_time()  # type: ignore[attr-defined]
        assert large(vet) == ["01:05", "80"]
        assert "5 taps" in vet.seen
        await vet.press("enter")
        now.later(seconds=55)
        await vet.press("3", "0")
        now.later(seconds=40)
        vet.app.screen.paint_time()  # type: ignore[attr-defined]
        assert "in the air, 60 s at most" in vet.seen
        assert large(vet) == ["02:40", "00:40", "80"]
        assert all(len(line) <= 80 for line in vet.screen.splitlines())
        await vet.press("0")
        # A weaker bath of the same agent: 20 mg/L x 40 L = 0.8 g.
        await vet.press("9", "20", "enter", "40", "enter")
        assert "weigh 0.800 g and 1.60 g bicarbonate" in vet.said
        await vet.press("enter")
        now.later(minutes=2)
        await vet.press("7")
        now.later(minutes=4)
        await vet.press("6", "7", "escape")
        fish = vet.find(Handling)[0]
        marks = [
            (m.event, m.breaths) for m in vet.find(DepthMark, handling=fish.id, order="at, id")
        ]
        assert marks == [
            ("into the bath", None),
            ("light sedation, 2 of anaesthesia 1 to 6", None),
            ("opercular rate", 80.0),
            ("deep sedation, 3 of anaesthesia 1 to 6", None),
            ("into the air", None),
            ("back in water", None),
            ("maintenance bath", None),
            ("out of the bath", None),
            ("normal, 6 of recovery 1 to 6", None),
            ("recovered", None),
        ]
        given = vet.find(Treatment)[0]
        assert (given.route, given.dose, given.amount) == ("sedation bath", 80.0, 3.2)
        assert given.withdrawal_until == end
        await vet.press("f")
        twin, pdf = await vet.print("Visit record")
    for words in (
        f"{TRICAINE} 80 mg/L in 40 L",
        "What: opercular rate; Beats: 80 a minute; By: Vera Path",
        "maintenance bath: 20 mg/L: weigh 0.800 g and 1.60 g bicarbonate",
        "09:01:05",
        f"Not before: {end}",
    ):
        assert words in flat(twin), words
    assert "Anaesthesia and euthanasia" in pdf


def seen_now(vet: Person) -> str:
    """What stands beside the row that is typed, and below the form."""
    return flat(f"{vet.screen} {vet.said}")


def large(vet: Person) -> list[str]:
    """What stands in large digits."""
    return [d.value for d in vet.app.screen.query(Digits) if d.value]


async def test_an_agent_that_food_fish_may_not_have_is_stopped_with_its_rule(
    file: Path, now: Clock
) -> None:
    made(file, farm)
    async with at_work(file, "Vera") as vet:
        await arrived(vet)
        await typed(vet, "agent", "eugenol")
        said = await vet.refused("level", "40")
        assert "unapproved new animal drugs in the United States (Guidance for Industry 150" in said
        await typed(vet, "agent", "propofol")
        await typed(vet, "level", "7")
        assert "Food fish: propofol is listed as not for food fish" in vet.error
        assert vet.find(Handling)[0].agent_mg_l is None


async def test_a_withdrawal_that_is_not_known_needs_the_days_of_the_vet_and_their_ground(
    file: Path, now: Clock
) -> None:
    made(file, farm)
    async with at_work(file, "Vera") as vet:
        await arrived(vet)
        await typed(vet, "agent", "trial")
        said = await vet.refused("level", "10")
        assert "the withdrawal of trial anaesthetic is not known; the veterinarian sets it" in said
        assert "ground they rest on" in await vet.refused("days", "28")
        assert "does not begin with days" in await vet.refused("days", "a month")
        await typed(vet, "days", "28 days, twice the longest residue found")
        await typed(vet, "level", "10")
        await typed(vet, "bath", "40")
        end = counted(clock.today(ZONE), 28)
        ground = "28 days, set by the veterinarian: twice the longest"
        assert f"not food before {end} ({ground} residue found)" in vet.said
        await stop_typing(vet)
        await vet.press("i")
        await vet.press("1")
        await vet.press("escape")
        given = vet.find(Treatment)[0]
        assert given.withdrawal_until == end
        assert "twice the longest residue found" in given.withdrawal
        _, pdf = await vet.print("Visit record")
    assert "twice the longest residue found" in flat(pdf)


async def test_a_technician_sets_no_withdrawal(file: Path, now: Clock) -> None:
    def with_technician(act: Act) -> None:
        farm(act)
        setup.add_person(act, "Tim Path", "technician")

    made(file, with_technician)
    async with at_work(file, "Tim") as hand:
        await arrived(hand)
        await typed(hand, "agent", "trial")
        assert "Only a veterinarian" in await hand.refused("days", "28 days, a guess")


async def test_the_degree_days_of_a_sedation_go_by_the_water_that_was_measured(
    file: Path, now: Clock
) -> None:
    made(file, farm)
    heat = by_heat(CELSIUS, 250)
    assert heat == 21
    async with at_work(file, "Vera") as vet:
        await arrived(vet, "")
        await typed(vet, "agent", "warm")
        said = await vet.refused("level", "10")
        assert "is 250 degree-days, and the temperature of the water is not known" in said
        await stop_typing(vet)
        await vet.to("Water")
        await vet.fill(temperature=str(CELSIUS))
        await stop_typing(vet)
        await vet.to("In hand")
        await typed(vet, "level", "10")
        await typed(vet, "bath", "40")
        end = counted(clock.today(ZONE), heat)
        assert f"not food before {end} (21 days, from memory)" in vet.said
        both = "On record are both 7 days, and 21 days by the degree-days: the longer counts."
        assert both in await vet.note("bath")
        await stop_typing(vet)
        await vet.press("i")
        await vet.press("1")
        await vet.press("escape")
        assert vet.find(Treatment)[0].withdrawal_until == end
        await vet.to("Plan")
        assert f"not food before {end}" in vet.said


async def test_a_medicated_feed_after_it_ends_on_the_later_of_two_withdrawals(
    file: Path, now: Clock
) -> None:
    made(file, farm)
    today = clock.today(ZONE)
    sedated, fed = counted(today, 21), counted(counted(today, 9), by_heat(CELSIUS, DEGREE_DAYS))
    assert (by_heat(CELSIUS, DEGREE_DAYS), fed - today) == (42, timedelta(days=51))
    async with at_work(file, "Vera") as vet:
        await arrived(vet)
        await vet.fill(agent="tricaine", level="50", bath="40")
        await stop_typing(vet)
        await vet.press("i", "1", "7", "7", "escape")
        await vet.to("Plan")
        assert f"not food before {sedated}" in vet.said
        await vet.go("order")
        await vet.press("enter", "trial antibiotic", "enter", "enter", "d")
        await vet.go("product")
        await vet.press("enter", "another", "enter")
        await vet.fill(strength="500 g/kg", weight="992 kg", ration="1 %", lot="L-7")
        await vet.fill(expires="2031-05-01", reason="the farm asked for it by its own vet")
        # 10 mg/kg x 992 kg = 9.92 g a day of which 500 g are in each kg of premix.
        grams = Fraction(10 * 992, 1000) / Fraction(500, 1000)
        assert grams == Fraction("19.84")
        assert "Amount: 19.84 g (500 g/kg), for 992 kg; 198.4 g in all." in vet.said
        await vet.go("dose")
        await vet.press("w")
        whole = flat(vet.panel)
        await vet.press("escape")
        assert f"42 days of withdrawal (from memory), over on {fed}." in whole
        both = "On record are both 21 days, and 42 days by the degree-days: the longer counts."
        assert f"The label asks 500 degree-days; expected at {CELSIUS} °C" in whole
        assert both in whole
        await vet.finish()
        kept = {t.act: t for t in vet.find(Treatment)}
        assert kept["given here"].withdrawal_until == sedated
        assert kept["dispensed"].withdrawal_until == fed
        assert f"over on {fed}. The label asks 500 degree-days" in vet.said
        await vet.press("v")
        steps = {s.words: s.day for s in vet.find(OwnerStep) if s.kind == "do not"}
        assert steps == {
            f"Eat or sell none of fish 1 as food before {dates.said(sedated, today)}.": sedated,
            f"Eat or sell none of raceway 2 as food before {dates.said(fed, today)}.": fed,
        }
        _, sheet = await vet.print("Care sheet for the owner")
        _, record = await vet.print("Visit record")
        _, label = await vet.print("Labels of what is dispensed")
    for whom, end in ((f"fish 1 ({TRICAINE})", sedated), ("raceway 2 (trial antibiotic)", fed)):
        line = f"{whom}: not to be eaten by anyone before {day_words(end)}."
        assert line in flat(sheet)
        assert f"Not before: {end}" in flat(record)
    assert "The law of the place may ask for longer." in flat(sheet)
    assert "Fish that may be eaten" in flat(sheet)
    for paper in (label, record):
        assert f"over on {fed}" in flat(paper)
        assert both in flat(paper)
    assert "Food fish yes" in flat(record)


def day_words(day: date) -> str:
    """A day as a paper prints it."""
    return f"{day:%a} {day.day} {day:%b %Y}"
