from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.catalogue.load import table
from core.errors import OutOfRange
from core.microscopy.lifecycle import Hatching, first_hatch_days

HATCH = {k: Hatching.from_row(k, r) for k, r in table("organisms")["hatch"].items()}


@pytest.mark.parametrize(("temperature", "days"), [(10, 19), (20, 3), (30, 2), (35, 1.5)])
def test_watched_temperatures_give_the_watched_days(temperature: float, days: float) -> None:
    got = first_hatch_days(temperature, HATCH["gill_fluke"].points)
    assert got == pytest.approx(days, rel=1e-12)


def test_worked_example_17_degrees() -> None:
    # ln 19 = 2.9444, ln 3 = 1.0986; 2.9444 - 0.7 x 1.8458 = 1.6523; e^1.6523 = 5.22
    assert first_hatch_days(17.0, HATCH["gill_fluke"].points) == pytest.approx(5.22, abs=0.005)


@pytest.mark.parametrize("temperature", [9.9, 35.1, float("nan")])
def test_outside_there_is_no_figure(temperature: float) -> None:
    with pytest.raises(OutOfRange, match="10 to 35"):
        first_hatch_days(temperature, HATCH["gill_fluke"].points)


@given(st.floats(10, 35), st.floats(10, 35))
def test_warmer_is_never_slower(one: float, other: float) -> None:
    points = HATCH["gill_fluke"].points
    cold, warm = sorted((one, other))
    slow, fast = first_hatch_days(cold, points), first_hatch_days(warm, points)
    assert slow >= fast or slow == pytest.approx(fast, rel=1e-12)
