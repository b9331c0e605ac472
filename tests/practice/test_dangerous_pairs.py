"""Dangers drawn from the sources by people who had not seen the data, by the real road.

Thirty were drawn first, fifteen more by somebody else. Of the fifteen the data caught nine at their
weight as it then stood; for five it was mended, and one is argued below.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass, field, replace
from pathlib import Path

import pytest

from core.errors import Refusal
from core.practice import setup, visits, water
from core.practice.dose_parts import Ask
from core.practice.medicines import Answer, answer, check_for, medicine, place, typed
from core.practice.treatments import Order, prepare
from core.practice.tried import Told, add_tried
from core.practice.water import Measured
from core.records import read
from core.records.tables import System
from tests.practice.plan_cases import Case, D, case

TABLES = ("dangerous_pairs", "dangerous_pairs_more")
ROWS = {
    int(row["number"]): row
    for name in TABLES
    for row in csv.DictReader(
        Path(f"fixtures/published/dosing/{name}.csv").read_text("utf-8").splitlines()
    )
}


@dataclass(frozen=True)
class Pair:
    """One row as a practice would meet it, and the words of its ground that must be said."""

    medicine: str
    ground: str
    kind: str = "tropical_fresh"
    fish: tuple[str, ...] = ("goldfish",)
    said: tuple[str, ...] = ()
    tried: str = ""
    dose: str = ""
    """Where the danger is in the dose; any dose for the others."""
    waters: dict[str, str] = field(default_factory=dict)


PAIRS = {
    1: Pair("copper-fresh", "below 50 mg/L", "koi_pond", ("koi",)),
    2: Pair("copper-marine", "invertebrates", "marine_reef", ("clownfish",)),
    3: Pair("copper-marine", "sharks", "marine_fish_only", ("bamboo_shark",)),
    4: Pair("copper-fresh", "algae", "koi_pond", ("koi",), ("bloom", "no air")),
    5: Pair("formalin-bath", "at most 150 µL/L", dose="250 uL/L"),
    6: Pair("formalin-prolonged", "strong aeration", "koi_pond", ("koi",), ("no air",)),
    7: Pair("permanganate-bath", "explode", tried="formalin"),
    8: Pair("formalin-bath", "paraformaldehyde", said=("bad bottle",)),
    9: Pair("formalin-bath", "167 ppm", "trout_flowing", ("rainbow_trout",)),
    10: Pair("formalin-prolonged", "striped bass", "koi_pond", ("striped_bass",)),
    11: Pair("permanganate-prolonged", "1 mg/L", "rift_lake", ("malawi_cichlid",)),
    12: Pair("enrofloxacin-bath", "biofilter"),
    13: Pair("chloramine-t-warmwater", "soft acid water"),
    14: Pair("salt-bath", "ammonia", "koi_pond", ("koi",), waters={"zeolite": "yes"}),
    15: Pair("salt-bath", "scaleless", fish=("corydoras", "clown_loach")),
    16: Pair("peroxide-bath-columnaris", "northern pike", fish=("northern_pike", "walleye")),
    17: Pair("peroxide-bath-columnaris", "invertebrates", "marine_reef", ("clownfish",)),
    18: Pair("diflubenzuron", "invertebrates", "koi_pond", ("koi",)),
    19: Pair("metronidazole-feed", "21 CFR 530.41 (nitroimidazoles", "trout_flowing"),
    20: Pair("enrofloxacin-injection", "21 CFR 530.41 (fluoroquinolones", "trout_flowing"),
    21: Pair("nitrofurans-bath", "21 CFR 530.41 (furazolidone", "koi_pond", ("tilapia",)),
    22: Pair("malachite green", "cancer", "trout_flowing", ("rainbow_trout",)),
    23: Pair("eugenol-anaesthesia", "Guidance for Industry 150", "trout_flowing"),
    24: Pair("gentamicin", "kidney tubules"),
    25: Pair("fenbendazole-feed-nematodes", "white cells", "marine_fish_only", ("bamboo_shark",)),
    26: Pair("fenbendazole-feed-nematodes", "454 uses", fish=("corydoras",)),
    27: Pair("tricaine-anaesthesia", "Unbuffered", said=("no buffer",)),
    28: Pair("tricaine-euthanasia", "killing step", said=("no second step",)),
    29: Pair("oxytetracycline-bath", "magnesium", "marine_fish_only", ("clownfish",)),
    30: Pair("praziquantel-prolonged", "no bath is begun under 5 mg/L", said=("no air",)),
    31: Pair("oxytetracycline-feed", "16.7", "koi_pond", ("channel_catfish",)),
    32: Pair("fenbendazole-feed-monogeneans", "530.11(b)", "trout_flowing", ("rainbow_trout",)),
    33: Pair("sulfadimethoxine-ormetoprim-catfish", "530.11(b)", "koi_pond", ("tilapia",)),
    34: Pair("chloramphenicol", "530.41 (chloramphenicol", "trout_flowing", ("rainbow_trout",)),
    35: Pair("gnrh-analogue-domperidone", "indexed", "koi_pond", ("common_carp",)),
    36: Pair("tricaine-anaesthesia", "above 10 °C only", "trout_flowing", ("rainbow_trout",)),
    37: Pair("tricaine-sedation", "approved only for", "koi_pond", ("tilapia",)),
    38: Pair("peroxide-eggs", "70 to 140", "trout_flowing", ("rainbow_trout",)),
    39: Pair("peroxide-bath-gill-disease", "temperature", "trout_flowing", ("rainbow_trout",)),
    40: Pair("lufenuron", "invertebrates", "koi_pond", ("koi",)),
    41: Pair("formalin-bath", "sharks", "marine_fish_only", ("bamboo_shark",)),
    42: Pair("formalin-prolonged", "heavy bloom", "koi_pond", ("koi",), ("bloom",)),
    43: Pair("permanganate-bath", "fresh water", "marine_fish_only", ("clownfish",)),
    44: Pair("alfaxalone-maintenance", "4 of 6", "koi_pond", ("koi",), dose="2.5 mg/L"),
    45: Pair("florfenicol-feed", "catfish", "koi_pond", ("channel_catfish",)),
}

NOT_AGREED = {
    39: "A note, not a caution: the abstract gives no temperature from which, and a figure of our "
    "own would pass for one that was read.",
}
"""Rows that weigh less here than with whoever drew them, each with the reason.

Row 15 is caught, but bluntly: the flag is *scaleless*, and channel catfish are salted on purpose.
Row 16 is a stop for pike; for walleye alone it is a caution, as their label has it.
"""

READINGS = {
    "temperature_c": "temperature",
    "alkalinity_mg_l": "alkalinity",
    "ph": "ph",
    "oxygen_mg_l": "oxygen",
}


def met(made: Case, number: int) -> tuple[str, str]:
    """Make the water of a row; return it and the visit to it."""
    row, pair = ROWS[number], PAIRS[number]
    invertebrates = "yes" if row["present"] == "invertebrates" else "no"
    facts = {"plants": "no", "invertebrates": invertebrates, "zeolite": "no"} | pair.waters
    system = setup.add_system(
        made.act,
        made.site,
        f"water {number}",
        pair.kind,
        volume_l=1000.0,
        food_fish=row["food_fish"] == "yes",
        flow="flowing" if pair.kind == "trout_flowing" else "recirculated",
        **facts,
    )
    for species in pair.fish:
        setup.add_group(made.act, system, species, species, count=5)
    visit = visits.book(made.act, system, D, "10:30", made.act.by, "pairs")
    where = water.places(read.one(System, system))[0]
    for column, analyte in READINGS.items():
        if row[column] not in ("", "any"):
            measured = Measured(analyte, float(row[column]), row[column])
            water.record_reading(made.act, visit, system, measured, where)
    if pair.tried:
        add_tried(made.act, visit, system, Told(pair.tried))
    return system, visit


def weight(made: Case, number: int) -> tuple[str, str]:
    """Return how heavily the ground of a row weighs here, and what is said."""
    pair = PAIRS[number]
    try:
        row = medicine(pair.medicine)
    except Refusal as error:
        return ("stop" if pair.ground in error.sentence else ""), error.sentence
    system, visit = met(made, number)
    said = dict.fromkeys(pair.said, True)
    asked = typed(pair.dose, pair.dose)[0] if pair.dose else None
    lines = check_for(visit, place(system), row, said=said, asked=asked)
    found = [line for line in lines if pair.ground in line.sentence]
    mine = [line for line in found if line.kind != "note"] or found
    order = Order("given here", pair.medicine, Ask("", row.routes[0]), system, said=said)
    ask = Ask(pair.dose or "1 mg/L", row.routes[0], volume="20 L" if pair.dose else "")
    ready = prepare(visit, replace(order, ask=ask))
    told: dict[Answer, str] = {
        "refused": " ".join(ready.refused),
        "reason": " ".join(ready.reasons),
        "note": " ".join(ready.notes),
    }
    assert all(line.sentence.rstrip(".") in told[answer(line)] for line in mine), number
    kinds = {line.kind for line in mine}
    weighs = next((kind for kind in ("stop", "caution", "note") if kind in kinds), "")
    return weighs, pair.ground


def test_the_pairs_drawn_blind_are_caught(
    records: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert set(PAIRS) == set(ROWS)
    made = case()
    found = {number: weight(made, number)[0] for number in PAIRS}
    caught = {
        n
        for n, kind in found.items()
        if kind == "stop" or (kind == "caution" and ROWS[n]["severity"] == "caution")
    }
    with capsys.disabled():
        print(f"\nDangerous pairs: {len(caught)} of {len(ROWS)} caught at their weight or more")
    assert set(ROWS) - caught == set(NOT_AGREED), found
    assert all(found.values()), found


def test_what_must_never_meet_is_caught_whichever_comes_first(records: Path) -> None:
    made = case()
    for key, other in (
        ("permanganate-bath", "formalin"),
        ("formalin-bath", "potassium permanganate"),
    ):
        system = setup.add_system(made.act, made.site, key, "koi_pond", volume_l=1000.0)
        visit = visits.book(made.act, system, D, "11:30", made.act.by, "both ways")
        add_tried(made.act, visit, system, Told(other))
        lines = check_for(visit, place(system), medicine(key))
        assert any(s.kind == "stop" and "explode" in s.sentence for s in lines)


def test_copper_is_stopped_where_nobody_measured_the_alkalinity(records: Path) -> None:
    made = case()
    lines = check_for(made.visit, place(made.system), medicine("copper-fresh"))
    assert ("stop", "alkalinity") in {(s.kind, s.subject) for s in lines}


def test_the_same_waters_without_the_danger_are_left_alone(records: Path) -> None:
    made = case(kind="koi_pond", species="koi")
    made.read(temperature=20.0, ph=7.8, oxygen=8.0, alkalinity=150.0)
    asked = dict.fromkeys(("bad bottle", "no air", "bloom", "no buffer", "no second step"), False)
    for key in ("praziquantel-prolonged", "formalin-prolonged", "copper-fresh", "salt-bath"):
        lines = check_for(made.visit, place(made.system), medicine(key), said=asked)
        assert not [s for s in lines if s.kind == "stop"], key


def test_a_dose_that_is_the_danger_is_stopped_and_a_smaller_one_is_not(records: Path) -> None:
    made = case(kind="tropical_fresh", volume_l=1000.0)
    made.read(temperature=26.0, oxygen=8.0)
    for dose, over in (("250 uL/L", True), ("151 uL/L", True), ("150 uL/L", False)):
        ready = prepare(made.visit, made.order("formalin-bath", dose, "bath", volume="1000 L"))
        assert any("at most 150 µL/L" in line for line in ready.stops) is over, dose


def test_the_withdrawal_of_other_fish_does_not_pass_for_theirs(records: Path) -> None:
    """Three days hold for catfish; trout are given forty-two, tilapia what the vet sets."""
    made = case(kind="koi_pond", species="tilapia", food_fish=True)
    wanted = made.order(
        "sulfadimethoxine-ormetoprim-catfish",
        "50 mg/kg/day",
        "medicated feed",
        weight="1 kg",
        ration="2 %",
        group=made.group,
    )
    refused = " ".join(prepare(made.visit, wanted).refused)
    assert "3 days of withdrawal were found for channel catfish only" in refused
    ready = prepare(made.visit, replace(wanted, withdrawal_days=60))
    assert not ready.refused
    assert ready.withdrawal is not None
    assert "60 days" in ready.withdrawal.sentence
    assert any("530.11(b)" in line for line in ready.stops)
