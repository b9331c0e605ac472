"""A small practice on one fixed day: eight visits, one worked through every stage, unsigned.

Nothing in it depends on the demonstration's own tables, so its pictures change only when a
screen does.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from decimal import Decimal
from pathlib import Path

from core.practice import (
    bookings,
    feeding,
    feeding_plan,
    feeding_view,
    in_hand,
    setup,
    treatments,
    visits,
)
from core.practice.desk import Desk
from core.practice.dose_parts import Ask
from core.practice.in_hand import Sore
from core.practice.keep import Act
from core.practice.setup import NewPerson
from core.practice.treatments import Order
from core.practice.who import Practice
from fixtures.demo.house import House
from fixtures.demo.work import Work
from tests.read_rows import all_read

NOW = datetime(2026, 11, 25, 13, 10, tzinfo=UTC)
BEFORE = NOW - timedelta(days=40)
ZONE = "Etc/UTC"
PEOPLE = {
    "moss": NewPerson("Vera Moss", "veterinarian", "V-1"),
    "brandt": NewPerson("Ilya Brandt", "veterinarian", "V-2"),
    "okoro": NewPerson("Tam Okoro", "technician"),
    "holt": NewPerson("Rae Holt", "reception"),
}
MAIN = "koi"
"""The visit that is worked through every stage."""
TWO_WATERS = "reef"

WATERS = {
    "koi": ("Ottoline Marsh", "koi pond", "koi_pond", 9000.0, ("koi", "koi", 12)),
    "reef": ("Harbour School", "reef tank", "marine_reef", 850.0, ("clownfish", "clowns", 4)),
    "bowl": ("Dov Kestrel", "goldfish tank", "goldfish_pond", 120.0, ("goldfish", "goldfish", 3)),
    "trout": ("Mill Farm", "raceway", "trout_flowing", 60000.0, ("rainbow_trout", "trout", 1800)),
    "soft": ("Nell Abara", "planted tank", "soft_water", 235.0, ("neon_tetra", "tetras", 24)),
    "shut": ("Pim Vester", "garden pond", "goldfish_pond", 3400.0, ("goldfish", "goldfish", 9)),
    "off": ("Joss Arden", "koi pond", "koi_pond", 14000.0, ("koi", "koi", 20)),
    "begun": ("Lina Soto", "koi pool", "koi_pond", 6200.0, ("koi", "koi", 8)),
}
BOOK = (
    ("koi", "moss", "09:00", "sores on two fish", 3),
    ("reef", "moss", "14:00", "white spots", 3),
    ("bowl", "moss", "15:30", "health check", 1),
    ("trout", "moss", "17:00", "deaths", 4),
    ("soft", "brandt", "08:30", "gasping", 2),
    ("shut", "brandt", "11:00", "recheck", 2),
    ("off", "brandt", "13:00", "health check", 1),
    ("begun", "brandt", "14:30", "off food", 2),
)
TAX = {"service": Decimal(0), "medicine": Decimal(0), "goods": Decimal(7)}


def build(folder: Path) -> House:
    """Make the practice in a folder of its own, and close it again."""
    desk = Desk(folder / "practice.db")
    house = House(ZONE, NOW, desk.papers)
    try:
        desk.save(fill, house).result(timeout=60)
    finally:
        desk.close()
    return house


def fill(house: House) -> None:
    """Make everything in the open records."""
    act = Act("setup", BEFORE)
    details = Practice(
        id="",
        name="Tern Lane Fish Practice",
        address="1 Tern Lane, Nowhere",
        phone="555-0100",
        currency="EUR",
        zone=ZONE,
        opens="08:00",
        closes="18:00",
    )
    made = setup.begin(act, details, tuple(PEOPLE.values()), TAX)
    house.people.update(zip(PEOPLE, made, strict=True))
    all_read(Act(house.people["moss"], BEFORE))
    for number, key in enumerate(WATERS):
        _client(house, number, key)
    for key, vet, starts, reason, rank in BOOK:
        asked = bookings.Asked(
            house.waters[key], house.today, starts, house.people[vet], 60, "new", reason, rank
        )
        house.visits[key] = bookings.book(house.act("holt", -3, "10:00"), asked)
    _next_weeks(house)
    _koi(house)
    _others(house)


def _client(house: House, number: int, key: str) -> None:
    client, water, kind, litres, (species, fish, count) = WATERS[key]
    act = house.act("holt", -30, "09:15")
    phone, address = f"555-01{number:02d}", f"{number + 2} Tern Lane, Nowhere"
    owner = setup.add_client(act, client, phone=phone, address=address)
    site = setup.add_site(
        act, owner, "home", address=address, access="side gate", bring="long net", travel_min=15
    )
    known = {"volume_l": litres, "volume_typed": f"{litres:g} L", "source_water": "mains"}
    house.waters[key] = setup.add_system(act, site, water, kind, **known)
    house.fish[key] = setup.add_group(act, house.waters[key], species, fish, count=count)
    if key == TWO_WATERS:
        setup.add_system(act, site, "quarantine tank", "hospital_marine", volume_l=90.0)


def _next_weeks(house: House) -> None:
    for key, days, vet, starts in (("bowl", 2, "moss", "09:00"), ("off", 5, "brandt", "10:30")):
        asked = bookings.Asked(
            house.waters[key],
            house.day(days),
            starts,
            house.people[vet],
            45,
            "recheck",
            "second count",
            2,
        )
        bookings.book(house.act("holt", -2, "10:00"), asked)


def _koi(house: House) -> None:
    """Work the main visit up to the signature."""
    work = Work(house, MAIN, "moss", house.at(0, "09:00"))
    work.tell("told_by=owner", "complaint=ulcers", "deaths=yes", "new_fish=no", "tried=no")
    work.still_true()
    work.lost(-1, 1, MAIN, "the smallest")
    work.done("History")
    work.look("koi", "flashing", "seen")
    work.look("", "air", "ok")
    work.done("Watching")
    work.read({"oxygen": "7.4", "temperature": "19.5", "ph": "8.1", "salinity": "0.2"})
    work.read({"ammonia": "0.30", "nitrite": "<0.05", "kh": "5 dKH", "nitrate": "20 as NO3"})
    work.read({"ph": "7.6", "ammonia": "0"}, "tap")
    work.done("Water")
    _hand(work)
    _feeding(work)
    work.problem("ulcer_bacteria", "suspected", "one sore of 9 mm; the culture is awaited")
    work.problem("gill_flukes", "confirmed", "both gill snips")
    work.done("Assessment")
    _plan(work)
    work.charge({"call_out": 1, "exam": 1, "water_panel": 1, "sedation": 1, "slide": 2})
    work.pay(5000)


def _hand(work: Work) -> None:
    fish = work.catch("koi 1", MAIN)
    in_hand.set_value(work.act(), fish, length_cm=38.0, length_typed="38 cm")
    work.sedate(fish, 80.0, 40.0)
    in_hand.set_weight(work.act(), fish, 1150.0, "1150 g")
    in_hand.add_lesion(work.act(), fish, Sore("ulcer", "flank_left", 9.0))
    gill, lesion = work.sample(fish, "gill"), work.sample(fish, "lesion", "flank_left")
    work.awake(fish)
    work.seen(gill, ("gill_fluke", "4"))
    work.send("culture", "of the sore", lesion, "", 7)
    work.done("In hand", "Biopsy")


def _feeding(work: Work) -> None:
    work.size(MAIN, "12 x 38 cm")
    feeding.record_food(
        work.act(),
        work.visit,
        work.water,
        name="koi pellet",
        kind="koi_pellet",
        protein_fraction=0.38,
        opened=work.house.day(-40),
    )
    work.fed("60 g", gone_min=4.0, new_deaths=1)
    grams = feeding_plan.usual_hold(feeding_view.view(work.visit, work.water))
    feeding_plan.hold(work.act(), work.visit, work.water, grams or 0.0)
    work.done("Feeding")


def praziquantel(work: Work) -> Order:
    """Return the bath that is ordered against the flukes."""
    return Order(
        "dispensed",
        "praziquantel-prolonged",
        Ask("2 mg/L", "prolonged bath", product="praziquantel-powder"),
        work.water,
        repeats=2,
        interval_days=7,
        lot="PZ-1",
        expires=work.house.day(300),
        directions="stirred into a bucket of pond water, poured in all round",
        reason="a second after 7 days",
    )


def _plan(work: Work) -> None:
    treatments.order_treatment(work.act(), work.visit, praziquantel(work))
    work.offered_steps("dose", "stop")
    work.step("do", "Net the sieve pit clean each evening.")
    work.again((6, 7, 8), "second bath, gill snips")
    work.again((2, 2, 3), "ring about the fish with the sore", "phone")
    work.done("Plan")


def _others(house: House) -> None:
    reef = Work(house, TWO_WATERS, "moss", house.at(0, "12:40"))
    reef.done("History", "Watching")
    reef.read({"oxygen": "6.4", "temperature": "25.5", "ph": "8.2"})
    begun = Work(house, "begun", "okoro", house.at(0, "12:00"))
    begun.tell("told_by=owner")
    visits.no_access(house.act("brandt", 0, "11:05"), house.visits["shut"], "gate locked")
    visits.cancel(house.act("holt", 0, "08:10"), house.visits["off"], "owner away")
    soft = Work(house, "soft", "brandt", house.at(0, "08:30"))
    for stage in ("History", "Watching", "In hand", "Biopsy", "Feeding", "Assessment", "Plan"):
        soft.passed("water only", stage)
    soft.read({"oxygen": "7.9", "temperature": "25.0", "ph": "6.8", "ammonia": "<0.05"})
    soft.done("Water")
    soft.charge({"call_out": 1, "water_panel": 1})
    soft.pay()
    soft.close()
