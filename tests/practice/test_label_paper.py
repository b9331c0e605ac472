"""Labels of what is dispensed: the amount of one time, the days, the water it goes into."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from core.papers import label
from core.practice import setup, treatments
from core.practice.label_paper import label_of
from core.records import read
from core.records.tables import Treatment
from tests.practice.plan_cases import Case, D, case


def dispensed(made: Case, medicine: str, dose: str, route: str, **more: Any) -> label.Label:
    expires = D + timedelta(200)
    known = {"act": "dispensed", "lot": "L-1", "expires": expires, "reason": "tests"}
    wanted = made.order(medicine, dose, route, **known | more)
    key = treatments.order_treatment(made.act, made.visit, wanted)
    return label_of(made.act, read.one(Treatment, key))


@pytest.fixture
def tank(records: Path) -> Case:
    made = case("marine_fish_only", 1150.0, "clownfish", 3)
    made.read(temperature=25.6, ph=8.1, salinity=33.0, oxygen=6.4, kh=142.0, ammonia=0.02)
    return made


def test_parts_are_a_third_each_day_and_the_whole_is_handed_over(tank: Case) -> None:
    hospital = setup.add_system(
        tank.act, tank.site, "hospital tank", "marine_fish_only", volume_l=180.0
    )
    found = dispensed(
        tank,
        "copper-marine",
        "0.18 mg/L",
        "prolonged bath",
        product="copper-solution",
        steps=3,
        system=hospital,
        directions="test kit before each part",
    )
    assert found.quantity == "32.4 mL"
    assert found.dosage == "10.8 mL each time, for hospital tank. Test kit before each part."
    assert found.frequency == "in 3 parts, 24 hours apart"
    assert found.duration == "from Wed 25 Nov 2026 to Fri 27 Nov 2026"


def test_repeats_that_begin_tomorrow(records: Path) -> None:
    rack = case("tropical_fresh", 640.0, "platy", 129)
    rack.read(temperature=25.0, ph=8.0, ammonia=0.1, oxygen=6.9, kh=110.0)
    found = dispensed(
        rack,
        "levamisole-bath",
        "2 mg/L",
        "bath",
        product="levamisole-powder",
        repeats=2,
        interval_days=18,
        starts=D + timedelta(1),
    )
    assert found.quantity == "2 x 12.8 g"
    assert found.dosage == "12.8 g each time, for the water."
    assert found.frequency == "every 18 days, 2 times in all"
    assert found.duration == "from Thu 26 Nov 2026 to Mon 14 Dec 2026"
    assert label.missing(found) == ()
    assert "129" in found.animals


def test_once_is_once(records: Path) -> None:
    pond = case()
    pond.read(temperature=17.0, ph=8.0, oxygen=9.0, ammonia=0.1)
    found = dispensed(
        pond, "praziquantel-prolonged", "2 mg/L", "prolonged bath", product="praziquantel-powder"
    )
    assert (found.quantity, found.frequency) == ("6.78 g", "once")
    assert found.dosage == "6.78 g, for the water."
    assert found.duration == "on Wed 25 Nov 2026"
