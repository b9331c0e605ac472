"""Every formula that rests on measurement against figures that are not ours."""

from __future__ import annotations

import csv
import importlib
import json
import pkgutil
from functools import cache
from math import isclose
from pathlib import Path
from typing import Any, NamedTuple

import pytest

import core
from core.catalogue.load import table
from core.sourced import FORMULAS, WITHOUT_UNIT, Formula, Sourced, unit_of

PUBLISHED = Path(__file__).parent.parent / "fixtures" / "published"
HEADER = ["function", "inputs", "expected", "absolute", "relative", "how", "source", "note"]
ROWS_AT_LEAST = 3
CALCULATIONS = (
    "fish",
    "water",
    "feeding",
    "dosing",
    "microscopy",
    "assessment",
    "scheduling",
    "billing",
)


class Row(NamedTuple):
    place: str
    function: str
    inputs: dict[str, Any]
    expected: float
    absolute: float | None
    relative: float | None
    how: str
    source: str


@cache
def rows() -> tuple[Row, ...]:
    return tuple(row for path in sorted(PUBLISHED.glob("*.csv")) for row in _rows_of(path))


def _rows_of(path: Path) -> list[Row]:
    with path.open(newline="", encoding="utf-8") as file:
        reader = csv.DictReader(file)
        assert reader.fieldnames == HEADER, f"{path.name}: {reader.fieldnames}"
        return [_row(f"{path.name}:{number}", raw) for number, raw in enumerate(reader, 2)]


def _row(place: str, raw: dict[str, str]) -> Row:
    return Row(
        place,
        raw["function"],
        json.loads(raw["inputs"]),
        float(raw["expected"]),
        float(raw["absolute"]) if raw["absolute"] else None,
        float(raw["relative"]) if raw["relative"] else None,
        raw["how"],
        raw["source"],
    )


@cache
def formulas() -> dict[str, Formula]:
    """Import every calculation module, so that all formulas are declared."""
    for package in CALCULATIONS:
        home = importlib.import_module(f"core.{package}")
        for module in pkgutil.walk_packages(home.__path__, f"core.{package}."):
            importlib.import_module(module.name)
    return {key: found for key, found in FORMULAS.items() if key.startswith("core.")}


def function_of(dotted: str) -> Any:
    module, name = dotted.rsplit(".", 1)
    return getattr(importlib.import_module(module), name)


def measured() -> list[Formula]:
    return [found for found in formulas().values() if found.source != "ARITHMETIC"]


@pytest.mark.parametrize("row", rows(), ids=lambda row: f"{row.place}-{row.function}")
def test_formula_gives_the_published_figure(row: Row) -> None:
    got = function_of(row.function)(**row.inputs)
    if row.absolute is not None:
        assert abs(got - row.expected) <= row.absolute, (got, row)
    else:
        assert row.relative is not None
        assert isclose(got, row.expected, rel_tol=row.relative), (got, row)


@pytest.mark.parametrize("row", rows(), ids=lambda row: f"{row.place}-{row.function}")
def test_row_says_where_it_is_from_and_how_near_it_must_be(row: Row) -> None:
    assert row.how in ("read", "computed"), row
    assert row.source.strip(), row
    assert "://" not in row.source, row
    assert "finrounds" not in row.source.lower(), row
    given = [tolerance for tolerance in (row.absolute, row.relative) if tolerance is not None]
    assert len(given) == 1, row
    assert row.relative is None or 0 <= row.relative <= 0.15, row


def test_rows_name_functions_that_are_declared() -> None:
    unknown = {row.function for row in rows()} - set(formulas())
    plain = {name for name in unknown if not callable(function_of(name))}
    assert not plain


REACHED_THROUGH = {
    "core.feeding.ramp.run_filter": "core.feeding.peaks.tan_peak_mg_l",
    "core.feeding.ramp.fastest_ramp": "core.feeding.peaks.tan_peak_mg_l",
}
"""Simulations that take a whole system, which no row can hold: the function with single
figures that runs the same model, and whose rows therefore stand for them."""


def test_a_simulation_is_reached_through_single_figures() -> None:
    for simulation, single in REACHED_THROUGH.items():
        assert not any(unit_of(name) for name in formulas()[simulation].parameters[:1])
        module = importlib.import_module(single.rpartition(".")[0])
        assert module.run_filter is importlib.import_module("core.feeding.ramp").run_filter


def test_every_measured_formula_has_rows() -> None:
    counts = {key.key: 0 for key in measured()}
    for row in rows():
        stands_for = [row.function, *(s for s, f in REACHED_THROUGH.items() if f == row.function)]
        for function in stands_for:
            if function in counts:
                counts[function] += 1
    few = {key: count for key, count in counts.items() if count < ROWS_AT_LEAST}
    assert not few


def test_rows_reach_over_half_of_each_declared_range() -> None:
    narrow = [gap for formula in measured() for gap in _gaps(formula)]
    assert not narrow, "\n".join(narrow)


def _gaps(formula: Formula) -> list[str]:
    mine = [row for row in rows() if row.function == formula.key]
    gaps = []
    for name, (low, high) in formula.valid.items():
        values = [_given(formula, row, name) for row in mine]
        numbers = [value for value in values if value is not None]
        reach = max(numbers) - min(numbers) if numbers else 0.0
        if reach < (high - low) / 2:
            gaps.append(f"{formula.key}({name}): rows reach {reach} of {low} to {high}")
    return gaps


def _given(formula: Formula, row: Row, name: str) -> float | None:
    declared = function_of(formula.key)
    default = declared._defaults.get(name) if isinstance(declared, Sourced) else None
    value = row.inputs.get(name, default)
    return None if value is None else float(value)


def test_every_source_is_in_the_catalogue() -> None:
    known = set(table("sources"))
    missing = {found.key: found.source for found in formulas().values()}
    assert not {key: source for key, source in missing.items() if source not in known}


def test_arithmetic_is_listed_for_a_person_to_read(capsys: pytest.CaptureFixture[str]) -> None:
    plain = sorted(key for key, found in formulas().items() if found.source == "ARITHMETIC")
    with capsys.disabled():
        print("\nArithmetic, held by worked examples and properties:")
        print("\n".join(f"  {key}: {formulas()[key].equation}" for key in plain))
    assert plain
    for key in plain:
        assert formulas()[key].equation.strip(), key


def test_units_of_all_parameters_are_listed_once(capsys: pytest.CaptureFixture[str]) -> None:
    units: dict[str, str] = {}
    for found in formulas().values():
        for name in found.parameters:
            units[name] = unit_of(name) or ("none" if name in WITHOUT_UNIT else "-")
    with capsys.disabled():
        print("\nParameters and their units (- is none, or not a number):")
        print("\n".join(f"  {name:28} {unit}" for name, unit in sorted(units.items())))
    assert units["temperature_c"] == "°C"


def test_core_is_the_one_under_test() -> None:
    assert Path(core.__path__[0]).samefile(PUBLISHED.parent.parent / "core")
