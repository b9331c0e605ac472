"""Columns of the record in words."""

from __future__ import annotations

from datetime import date

import pytest

from core.practice.record_words import Speaker


@pytest.mark.parametrize(
    ("single", "says"), [(True, "Biscuit still there"), (False, "number of Biscuit")]
)
def test_a_single_fish_is_asked_after_and_a_group_is_counted(single: bool, says: str) -> None:
    rows = {("fish_group", "g1"): {"name": "Biscuit", "single": single}}
    speaker = Speaker("Etc/UTC", "EUR", 2, "metric", rows)
    asked = {"question": "group g1"}
    assert speaker.said("answer", "question", asked, date(2026, 11, 25)) == says
