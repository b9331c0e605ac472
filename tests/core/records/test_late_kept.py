"""What comes in late is kept, and dates are listed, the same on each engine."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest

from core.practice import keep, keeping, keeping_list, late, owing, sign, water
from core.practice.keep import Act
from core.records import read
from core.records.journal import Closed
from core.records.place import Place
from core.records.tables import Proposed, Reading
from tests.conftest import MOMENT
from tests.core.records.checks import all_hold
from tests.small import Small, fill


@pytest.fixture
def signed(records: Place) -> Small:
    made = fill(Act("setup", MOMENT), MOMENT.date())
    act = Act(made.vet, MOMENT)
    for stage in sign.WALKED:
        keep.mark_stage(act, made.visit, stage, "passed over", "a test")
    sign.sign(act, made.visit)
    return made


def test_a_late_reading_waits_is_listed_and_is_taken(signed: Small) -> None:
    act = Act(signed.technician, datetime(2026, 11, 25, 9, 30, tzinfo=UTC))

    def measure() -> str:
        typed = water.Measured("nitrite", 0.4, "0.4")
        return water.record_reading(act, signed.visit, signed.system, typed)

    with pytest.raises(Closed) as refused:
        measure()
    assert "signed at 08:30 by Vera Test" in late.instead(refused.value, measure).sentence
    [row] = read.find(Proposed)
    assert row.words.startswith("Nitrite here 0.4")
    [line] = [x for x in owing.lines(MOMENT.date(), ()) if x.kind == "late"]
    assert (line.visit, line.what) == (signed.visit, f"after signing: {row.words}")
    late.take(Act(signed.vet, act.at), row.id)
    assert [x for x in owing.lines(MOMENT.date(), ()) if x.kind == "late"] == []
    assert read.find(Reading) == ()
    all_hold()


def test_dates_and_holds_are_the_same(signed: Small) -> None:
    [record] = keeping.kept()
    assert record.until == date(2033, 11, 25)
    act = Act(signed.vet, MOMENT)
    key = keeping.hold(act, signed.client, "dispute", signed.visit)
    assert "HELD: dispute" in keeping_list.text(date(2040, 1, 1))
    keeping.end_hold(act, key, "settled")
    assert "date passed 2033-11-25" in keeping_list.text(date(2040, 1, 1))
    all_hold()
