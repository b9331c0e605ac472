"""Every published row on fish, one by one."""

import csv
import importlib
import json
from pathlib import Path

import pytest

import fixtures

TABLE = Path(fixtures.__file__).parent / "published" / "fish.csv"
ROWS = list(csv.DictReader(TABLE.read_text(encoding="utf-8").splitlines()))


@pytest.mark.parametrize("row", ROWS, ids=lambda r: f"{r['function']}({r['inputs']})")
def test_row(row: dict[str, str]) -> None:
    module, name = row["function"].rsplit(".", 1)
    got = getattr(importlib.import_module(module), name)(**json.loads(row["inputs"]))
    tolerance = {"abs": float(row["absolute"])} if row["absolute"] else {}
    tolerance |= {"rel": float(row["relative"])} if row["relative"] else {}
    assert got == pytest.approx(float(row["expected"]), **tolerance)


def test_there_are_rows_and_each_says_how_it_is_known() -> None:
    assert len(ROWS) > 20
    assert all(row["how"] in ("read", "computed") and row["source"] for row in ROWS)
    assert all(bool(row["absolute"]) != bool(row["relative"]) for row in ROWS)
