"""The medicines against a table written from the formulary alone, without a look at the catalogue.

A tenfold slip in a row kills a tank of fish. Every figure, unit, what is counted, routes, interval,
repeats, kinds of water, standing for food fish, withdrawal, sources and how each is known must be
those of the table; a row that is changed on purpose is changed in both, with a note.
"""

from __future__ import annotations

import csv
from pathlib import Path
from typing import Any

import pytest

from core.catalogue.load import table

RAW: dict[str, Any] = table("medicines")
FORMULARY = Path("fixtures/published/dosing/formulary.csv")
ROWS = {row["key"]: row for row in csv.DictReader(FORMULARY.read_text("utf-8").splitlines())}
KILOGRAMS = {"lb": 0.45359237, "100 lb": 45.359237}
TO_MG = {"mg": 1.0, "g": 1000.0, "IU": 1.0}
MIXED = ("dose", "interval", "repeats", "duration", "system", "avoid", "hazards")
FIELDS = (*MIXED, "us_food_fish", "withdrawal")
"""What the formulary says of how it is known; flags made from it are known in the catalogue."""


def number(text: str) -> float | None:
    return float(text) if text else None


def several(text: str) -> list[str]:
    return text.split("; ")


def test_both_hold_the_same_rows() -> None:
    assert set(ROWS) == set(RAW)
    assert len(ROWS) == 78


@pytest.mark.parametrize("key", ROWS)
def test_a_row_is_that_of_the_formulary_in_every_field(key: str) -> None:
    wanted, row = ROWS[key], RAW[key]
    known = dict(part.split(": ") for part in several(wanted["known"]))
    assert {
        "medicine": row["name"],
        "routes": row["routes"],
        "low": row.get("dose_low"),
        "high": row["dose_high"],
        "unit": row["unit"],
        "counts": row.get("dose_of", ""),
        "interval": row.get("interval_h"),
        "repeats": row.get("repeats"),
        "systems": row["systems"],
        "food fish": row["us_food_fish"],
        "withdrawal": row.get("withdrawal_days"),
        "sources": row["sources"],
        "known": {f: how for f, how in row["known"].items() if f in FIELDS},
    } == {
        "medicine": wanted["medicine"],
        "routes": several(wanted["routes"]),
        "low": number(wanted["low"]),
        "high": number(wanted["high"]),
        "unit": wanted["unit"],
        "counts": wanted["counts"],
        "interval": number(wanted["interval_h"]),
        "repeats": number(wanted["repeats"]),
        "systems": several(wanted["systems"]),
        "food fish": wanted["food_fish"],
        "withdrawal": number(wanted["withdrawal_days"]),
        "sources": several(wanted["sources"]),
        "known": known,
    }


@pytest.mark.parametrize("key", [k for k, row in ROWS.items() if row["printed_unit"]])
def test_what_was_turned_from_pounds_comes_out_again(key: str) -> None:
    wanted, row = ROWS[key], RAW[key]
    mass, _, by = wanted["printed_unit"].partition("/")
    factor = TO_MG[mass] / KILOGRAMS[by] / TO_MG[row["unit"].partition("/")[0]]
    for end, printed in (("dose_low", "printed_low"), ("dose_high", "printed_high")):
        assert row[end] == pytest.approx(float(wanted[printed]) * factor, rel=3e-3)


def test_each_row_that_was_computed_has_its_printed_figure_or_is_a_stoichiometry() -> None:
    computed = {key for key, row in RAW.items() if row["known"]["dose"] == "computed"}
    printed = {key for key, row in ROWS.items() if row["printed_unit"]}
    assert computed - printed == {"thiosulfate"}
    # Two moles of pentahydrate for one of chlorine; and 5.6 g in a US gallon of 200 mg/L.
    low, high = RAW["thiosulfate"]["dose_low"], RAW["thiosulfate"]["dose_high"]
    assert low == pytest.approx(2 * 248.18 / 70.906, rel=2e-3)
    assert high == pytest.approx(5600 / (200 * 3.785411784), rel=2e-3)


@pytest.mark.parametrize("key", RAW)
def test_a_danger_by_dose_lies_within_reach_of_the_doses_of_its_row(key: str) -> None:
    """A limit of another unit or with a slipped point would never be met, or always."""
    row = RAW[key]
    low, high = row.get("dose_low", row["dose_high"]), row["dose_high"]
    assert 0 < low <= high
    for danger in row.get("dangers", ()):
        if "over" in danger:
            assert low / 10 < danger["over"] < high, danger["subject"]


def test_a_withdrawal_is_only_where_the_formulary_has_one() -> None:
    for key, row in RAW.items():
        assert ("withdrawal_days" in row) is bool(ROWS[key]["withdrawal_days"]), key
        assert "withdrawal_degree_days" not in row, key
