"""The only clock. Practice functions take the moment as an argument; the screen asks here."""

from __future__ import annotations

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo


def now() -> datetime:
    """Return this moment, aware, in UTC."""
    return datetime.now(UTC)


def local(moment: datetime, zone: str) -> datetime:
    """Return an aware moment as wall time in a named zone."""
    return moment.astimezone(ZoneInfo(zone))


def today(zone: str) -> date:
    """Return the date on the wall in a named zone."""
    return local(now(), zone).date()
