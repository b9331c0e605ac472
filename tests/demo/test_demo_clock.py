"""The demo built soon after midnight, on the first day of a year, far from Greenwich."""

from __future__ import annotations

from datetime import UTC, date, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from core.practice import day
from core.records import engine
from core.records.engine import query
from core.records.fields import UtcField
from fixtures.demo.build import build

ZONE = "Pacific/Auckland"


def test_nothing_lies_in_the_future(tmp_path: Path) -> None:
    now = datetime(2027, 1, 1, 0, 20, tzinfo=ZoneInfo(ZONE)).astimezone(UTC)
    engine.open_records(build(tmp_path, now=now, zone=ZONE))
    with engine.connection():
        moments = [UtcField().python_value(at) for (at,) in query('SELECT "at" FROM "edit"')]
        assert max(moments) == now
        assert len(day.lines(date(2027, 1, 1))) == 8
