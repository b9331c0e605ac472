"""Published worked examples, each with its source; those that can not be trusted are listed."""

from __future__ import annotations

import csv
import json
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest

from core.dosing import arithmetic, quantities
from core.dosing.copper import copper_sulfate_mg_l
from core.dosing.quantities import product, strength, water
from core.dosing.quantity import Quantity
from core.dosing.uncertain import dose_between
from core.dosing.withdrawal import days_not_saleable
from core.errors import OutOfRange

TABLE = Path(__file__).parents[3] / "fixtures" / "published" / "dosing" / "examples.csv"

NOT_TESTED = {
    "V05": "area of a pond from its shoreline: nothing here works out an area from it",
    "B10": "the rule of copper by alkalinity: a row of fixtures/published/dosing.csv",
    "B11": "the cap of copper: a row of fixtures/published/dosing.csv",
    "B18": "back-solved: a density was chosen to fit",
    "F04": "back-solved: a feeding rate was chosen to fit",
    "F05": "back-solved: a purity of 100 % was inferred",
    "F14": "back-solved: a feeding rate was chosen to fit",
    "F15": "back-solved: a feeding rate was chosen to fit",
    "F16": "back-solved: a feeding rate was chosen to fit",
    "F17": "back-solved: a feeding rate was chosen to fit",
    "B19": "a row of fixtures/published/dosing_more.csv: by the handbook's own 7.4 g to 1 g; two "
    "to one by moles gives 5.30, so the handbook is on the safe side",
    "X01": "does not reproduce: 35 mL per gallon of 3-6 % bleach is 277 to 555 mg/L, not 200",
    "X02": "contradictory: 1 mL of 4 mg/mL added to 10 mL is 364 ug/mL; made up to 10 mL it is 400",
    "X03": "contradictory: 50 mg/kg is 5 mg/g of feed at 1 % and 10 only at 0.5 %",
    "X04": "rounded: 1 lb of salt in 100 gal is 1.198 g/L, not 1.25",
    "X05": "contradictory: 167 ppm by volume in 10 ft3 is 47.3 mL, by weight 43.8 at density 1.08",
    "X06": "typo: 1000 mcL/mL for 1000 uL/L",
    "X07": "typo: 500-1000 mg/ml for mg/L",
}


def rows() -> list[dict[str, str]]:
    with TABLE.open(newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def argument(given: Any) -> Any:
    if isinstance(given, list):
        door, value, unit = given
        return getattr(quantities, door)(value, unit)
    return given


def answer(call: list[Any], unit: str) -> float:
    name, *given = call
    arguments = [argument(one) for one in given]
    if name == "days":
        return float(days_not_saleable(*arguments))
    if "." in name:
        module, function = name.rsplit(".", 1)
        litres = getattr(import_module(module), function)(*arguments)
        return water(litres, "L").m_as(unit)
    got = arguments[0] if name == "as" else getattr(arithmetic, name)(*arguments)
    assert isinstance(got, Quantity)
    return got.m_as(unit)


@pytest.mark.parametrize("row", rows(), ids=lambda row: row["id"])
def test_published_example_comes_out(row: dict[str, str]) -> None:
    got = answer(json.loads(row["call"]), row["unit"])
    assert got == pytest.approx(float(row["expected"]), rel=float(row["relative"])), row


def test_every_example_has_a_source_and_is_not_one_of_those_that_mislead() -> None:
    assert len(rows()) >= 34
    for row in rows():
        assert row["source"].strip(), row
        assert row["how"] in ("read", "computed"), row
        assert row["id"] not in NOT_TESTED, row
        assert 0 < float(row["relative"]) <= 0.06, row


def test_misleading_examples_are_shown_to_be_so() -> None:
    """The contradictions that our own words can say are said right."""
    stock, small = product(1, "mL"), strength(4, "mg/mL")
    added = arithmetic.level_added_to(stock, small, water(10, "mL"))
    made_up = arithmetic.level_made_up_to(stock, small, water(10, "mL"))
    assert added.m_as("mg/L") == pytest.approx(363.6, rel=1e-3)
    assert made_up.m_as("mg/L") == pytest.approx(400)
    for percent, level in ((1, 5), (0.5, 10)):
        feed = arithmetic.medicated_feed(
            quantities.dose(50, "mg/kg"), quantities.ration(percent, "%")
        )
        assert feed.m_as("g/kg") == pytest.approx(level)


def test_dose_of_a_rounded_volume_and_a_rough_weight() -> None:
    """0.05 mL of 100 mg/mL is 5 mg: 21.0 mg/kg in 238 g, 20 to 22.1 if it weighs 226 to 250 g."""
    volume, vial = product(0.05, "mL"), strength(100, "mg/mL")
    given = arithmetic.dose_given(volume, vial, quantities.body(238, "g"))
    assert given.m_as("mg/kg") == pytest.approx(21.008, rel=1e-4)
    rough = quantities.between(quantities.body(226, "g"), quantities.body(250, "g"))
    assert str(dose_between(volume, vial, rough)) == "20 to 22.12 mg/kg"


def test_liquid_sold_by_weight_is_stronger_than_its_percent() -> None:
    """35 % by weight is 396.1 mg/mL on the label of 21 CFR 529.1150."""
    got = arithmetic.strength_of_liquid(
        strength(35, "% w/w"), quantities.density(396.1 / 350, "g/mL")
    )
    assert got.m_as("mg/mL") == pytest.approx(396.1)
    assert got.m_as("mg/mL") > strength(35, "% w/v").m_as("mg/mL")


def test_copper_follows_alkalinity_up_to_its_cap() -> None:
    got = [copper_sulfate_mg_l(alkalinity) for alkalinity in (50, 100, 249, 250, 400)]
    assert got == pytest.approx([0.5, 1.0, 2.49, 2.5, 2.5])


@pytest.mark.parametrize("alkalinity", [0, 9, 49.9, 400.1, float("nan")])
def test_copper_is_refused_where_the_rule_does_not_hold(alkalinity: float) -> None:
    with pytest.raises(OutOfRange, match="alkalinity"):
        copper_sulfate_mg_l(alkalinity)
