"""More published worked examples, run as whole doses; those left out are listed with the reason."""

from __future__ import annotations

import csv
import json
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest

from core.dosing import arithmetic, quantities
from core.dosing.dilution import added_mg_l, made_up_mg_l
from core.dosing.quantities import product, strength, water
from core.dosing.quantity import Quantity
from tests.core.dosing.test_dosing_examples import NOT_TESTED

HERE = Path(__file__).parents[3] / "fixtures" / "published" / "dosing"
DOORS = {name for name in vars(quantities) if name.islower() and not name.startswith("_")}
ROWS_AT_LEAST = 50


def table(name: str) -> list[dict[str, str]]:
    with (HERE / name).open(newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def worked(given: Any) -> Any:
    """A number as it is, a quantity through its door, and a call of arithmetic or by full name."""
    if not isinstance(given, list):
        return given
    name, *rest = given
    if name in DOORS:
        return getattr(quantities, name)(*rest)
    arguments = [worked(one) for one in rest]
    if "." not in name:
        return getattr(arithmetic, name)(*arguments)
    package, area, module, function, *attributes = name.split(".")
    got = getattr(import_module(f"{package}.{area}.{module}"), function)(*arguments)
    for attribute in attributes:
        got = getattr(got, attribute)
    return water(got, "L") if isinstance(got, float) else got


@pytest.mark.parametrize("row", table("more.csv"), ids=lambda row: row["id"])
def test_published_example_comes_out(row: dict[str, str]) -> None:
    got = worked(json.loads(row["call"]))
    assert isinstance(got, Quantity)
    assert got.m_as(row["unit"]) == pytest.approx(
        float(row["expected"]), rel=float(row["relative"])
    ), row


def test_every_example_is_read_and_names_its_work() -> None:
    rows = table("more.csv")
    assert len(rows) >= ROWS_AT_LEAST
    assert len({row["id"] for row in rows}) == len(rows)
    for row in rows:
        assert row["how"] == "read", row
        assert row["source"].strip(), row
        assert "://" not in row["source"], row
        assert 0 < float(row["relative"]) <= 0.05, row


def test_no_example_was_there_before() -> None:
    before = {json.dumps(json.loads(row["call"])) for row in table("examples.csv")}
    mine = {json.dumps(json.loads(row["call"])) for row in table("more.csv")}
    assert not mine & before


def test_what_is_left_out_is_listed_with_its_reason() -> None:
    rows = table("not_tested.csv")
    listed = {row["row"] for row in rows}
    assert len(listed) == len(rows)
    assert set(NOT_TESTED) <= listed
    assert not listed & {row["id"] for row in table("more.csv")}
    assert all(row["class"].strip() for row in rows)
    assert all(row["why"].strip() for row in rows)


def test_an_anaesthetic_recipe_holds_made_up_to_and_not_added_to() -> None:
    """N01: 4.2 mL of 4 mg/mL is 168 mg/L in 100 mL, but 161 when 100 mL of water are there."""
    stock, tricaine = product(4.2, "mL"), strength(4, "mg/mL")
    made_up = arithmetic.level_made_up_to(stock, tricaine, water(100, "mL"))
    added = arithmetic.level_added_to(stock, tricaine, water(100, "mL"))
    assert made_up.m_as("mg/L") == pytest.approx(168)
    assert added.m_as("mg/L") == pytest.approx(161.2, abs=0.05)


def test_bleach_of_a_manual_is_shown_to_be_too_strong() -> None:
    """X01: 35 mL a gallon of 3 to 6 % is 277 to 555 mg/L, where 200 was meant."""
    weak, strong = (made_up_mg_l(percent, 35, 3.785411784) for percent in (3.0, 6.0))
    assert [weak, strong] == pytest.approx([277, 555], abs=1)
    assert added_mg_l(3.0, 35, 3.785411784) < weak
