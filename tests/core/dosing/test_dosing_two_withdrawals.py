"""Two sources that ask for days and for degree-days: both are said, the longer is taken."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from core.dosing.food_fish import food_fish
from core.dosing.recipient import Recipient
from core.dosing.withdrawal import by_heat, withdrawal
from tests.core.dosing.test_dosing_edges import MEDICINES

D = date(2026, 11, 25)
ROW = MEDICINES["oxytetracycline-feed"]
TROUT = Recipient(food_fish=True, groups=frozenset({"salmonid"}))
HEAT = " On record are both 21 days, and 42 days by the degree-days: the longer counts."
ASKS = "The label asks 500 degree-days; expected at 12 °C, longer when it is colder."


@pytest.mark.parametrize(
    ("days", "heat", "said"),
    [
        (21, 500.0, "withdrawal 21 days or 500 degree-days, whichever is longer, counted"),
        (0, 500.0, "withdrawal 0 days or 500 degree-days, whichever is longer, counted"),
        (None, 500.0, "withdrawal 500 degree-days, counted"),
        (21, None, "withdrawal 21 days, counted"),
        (0, None, "withdrawal 0 days, counted"),
    ],
)
def test_what_is_on_record_is_said_and_stops_nothing(
    days: int | None, heat: float | None, said: str
) -> None:
    row = replace(ROW, withdrawal_days=days, withdrawal_degree_days=heat)
    found = next(s for s in food_fish(row, TROUT) if s.subject == "withdrawal")
    assert found.kind == "note"
    assert found.sentence == f"Food fish: {said} from the last time it is given."


def test_neither_on_record_is_a_stop() -> None:
    row = replace(ROW, withdrawal_days=None, withdrawal_degree_days=None)
    found = next(s for s in food_fish(row, TROUT) if s.subject == "withdrawal")
    assert found.kind == "stop"
    assert found.sentence.endswith("is not known; the veterinarian sets it.")


@pytest.mark.parametrize(
    ("days", "heat", "celsius", "said"),
    [
        (21, 500.0, 12.0, ASKS + HEAT),
        (None, 500.0, 12.0, ASKS),
        (21, None, 12.0, ""),
        (21, 500.0, None, ""),
    ],
)
def test_both_sources_are_said(
    days: int | None, heat: float | None, celsius: float | None, said: str
) -> None:
    row = replace(ROW, withdrawal_days=days, withdrawal_degree_days=heat)
    assert by_heat(row, celsius) == said


def test_the_sentence_ends_without_a_gap() -> None:
    row = replace(ROW, withdrawal_days=21, withdrawal_degree_days=500.0)
    assert withdrawal(row, D, True, None, 12.0).sentence == (
        "oxytetracycline: 42 days of withdrawal (read), over on 2027-01-06. " + ASKS + HEAT
    )
    assert withdrawal(row, D, True, None, 12.0).ends == D + timedelta(42)
    assert withdrawal(ROW, D, True).sentence.endswith("over on 2026-12-16.")
