"""The catalogue of medicines: whole, in closed words, with a source and how each field is known."""

from __future__ import annotations

from typing import Any

import pytest

from core.catalogue.load import table
from core.dosing import products, syringe
from core.dosing.kinds import (
    Concentration,
    DailyDose,
    Dose,
    FeedLevel,
    Strength,
    UnitDose,
    VolumeConcentration,
    VolumeDose,
)
from core.dosing.medicines import BATHS, Prohibition, from_row, from_table
from core.errors import BadInput, Refusal

RAW: dict[str, Any] = table("medicines")
MEDICINES = from_table(RAW)
BY_SOMETHING_ELSE = {"salt-nitrite", "bicarbonate-buffer", "thiosulfate"}


def test_the_catalogue_holds_every_row() -> None:
    assert len(MEDICINES) == 78
    assert len({medicine.name for medicine in MEDICINES.values()}) == 39


@pytest.mark.parametrize("key", MEDICINES)
def test_every_row_is_known_field_by_field(key: str) -> None:
    medicine = MEDICINES[key]
    assert medicine.sources
    assert set(medicine.sources) <= set(table("sources"))
    fields = {
        "dose": True,
        "system": True,
        "us_food_fish": True,
        "interval": medicine.interval_h is not None,
        "repeats": medicine.repeats is not None,
        "duration": bool(medicine.duration),
        "avoid": bool(medicine.avoid),
        "hazards": bool(medicine.hazards),
        "withdrawal": medicine.withdrawal_days is not None,
    }
    for field, there in fields.items():
        assert (field in medicine.known) is there, field
    for field in set(medicine.known) - set(fields):
        assert getattr(medicine, field.split()[0]), field
    assert medicine.from_memory is (RAW[key]["known"]["dose"] == "from memory")


@pytest.mark.parametrize("key", sorted(set(MEDICINES) - BY_SOMETHING_ELSE))
def test_every_dose_is_a_quantity_of_the_kind_of_its_route(key: str) -> None:
    medicine = MEDICINES[key]
    low, high = medicine.lowest(), medicine.highest()
    assert type(low) is type(high)
    assert 0 < low.magnitude <= high.magnitude
    if medicine.in_water:
        assert isinstance(high, Concentration | VolumeConcentration)
        assert set(medicine.routes) <= BATHS
    elif medicine.unit.endswith(" feed"):
        assert isinstance(high, FeedLevel)
    else:
        assert isinstance(high, Dose | DailyDose | UnitDose | VolumeDose)


@pytest.mark.parametrize("key", sorted(BY_SOMETHING_ELSE))
def test_rows_dosed_by_something_else_say_so(key: str) -> None:
    with pytest.raises(Refusal, match="is dosed in"):
        MEDICINES[key].highest()


def test_doses_are_those_of_the_reference() -> None:
    got = {key: (m.dose_low, m.dose_high, m.unit) for key, m in MEDICINES.items()}
    assert got["praziquantel-prolonged"] == (2.0, 2.0, "mg/L")
    assert got["formalin-bath"] == (None, 250.0, "uL/L")
    assert got["formalin-prolonged"] == (15.0, 25.0, "uL/L")
    assert got["copper-fresh"] == (None, 2.5, "mg/L")
    assert got["emamectin-sea-lice"] == (50.0, 50.0, "ug/kg/day")
    assert got["hcg-females"] == (148.0, 4004.0, "IU/kg")
    assert got["levamisole-feed"] == (3.97, 3.97, "g/kg feed")
    assert MEDICINES["copper-fresh"].dose_rule == "total alkalinity / 100"


def test_withdrawals_are_those_of_the_reference() -> None:
    days = {key: m.withdrawal_days for key, m in MEDICINES.items()}
    assert {key for key, n in days.items() if n == 21} == {
        "oxytetracycline-feed",
        "oxytetracycline-feed-coldwater",
        "sulfamerazine-feed",
        "tricaine-sedation",
        "tricaine-anaesthesia",
    }
    assert days["florfenicol-feed"] == 15
    assert days["sulfadimethoxine-ormetoprim-salmonids"] == 42
    assert days["sulfadimethoxine-ormetoprim-catfish"] == 3
    assert sum(n is None for n in days.values()) == 49
    assert sum(n == 0 for n in days.values()) == 20


def test_prohibitions_carry_rule_item_and_date() -> None:
    rules = {m.name: m.prohibited for m in MEDICINES.values() if m.prohibited}
    assert set(rules) == {"metronidazole", "enrofloxacin", "nitrofurans"}
    for rule in rules.values():
        assert isinstance(rule, Prohibition)
        assert rule.rule == "21 CFR 530.41"
        assert rule.text_of.isoformat() == "2026-04-05"


def test_nothing_in_the_catalogue_names_an_address() -> None:
    for name in ("medicines", "products", "syringes", "routes", "anaesthesia"):
        words = str(table(name)).lower()
        for never in ("http", "www.", ".com", "repost", "mirror"):
            assert never not in words, (name, never)


@pytest.mark.parametrize(
    ("column", "value"),
    [
        ("routes", ["by post"]),
        ("routes", []),
        ("systems", []),
        ("systems", ["soup"]),
        ("us_food_fish", "fine"),
        ("switch_off", ["radio"]),
        ("known", {"dose": "rumour"}),
    ],
)
def test_words_outside_the_closed_lists_are_refused(column: str, value: object) -> None:
    with pytest.raises(ValueError, match="salt-bath"):
        from_row("salt-bath", {**RAW["salt-bath"], column: value})


def test_a_strange_or_missing_column_is_refused() -> None:
    with pytest.raises(TypeError):
        from_row("salt-bath", {**RAW["salt-bath"], "colour": "white"})
    with pytest.raises(TypeError):
        from_row("salt-bath", {k: v for k, v in RAW["salt-bath"].items() if k != "name"})


def test_products_name_medicines_of_the_catalogue() -> None:
    shelf = products.from_table(table("products"))
    assert {p.agent for p in shelf.values()} <= {m.name for m in MEDICINES.values()}
    assert isinstance(shelf["tricaine-stock"].strength, Strength)
    with pytest.raises(BadInput, match="% w/w"):
        products.from_table({"x": {"name": "x", "agent": "x", "strength": 10.0, "unit": "%"}})


def test_syringes_of_the_catalogue() -> None:
    rack = syringe.from_table(table("syringes"))
    assert len(rack) == 8
    for one in rack:
        marks = one.capacity_ml / one.graduation_ml
        assert marks == pytest.approx(round(marks))
        assert 20 <= marks <= 100, one
