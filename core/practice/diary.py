"""What the Bookings desk shows: rechecks to ring about, and the diary of the days ahead."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Any

from core.dates import said
from core.practice.day import OFF
from core.practice.who import practice
from core.records.engine import query
from core.records.fields import DayField, UtcField
from core.scheduling import rechecks
from core.scheduling.rechecks import RecheckState, Window

DAYS_AHEAD = 14
"""How many days the diary shows at once."""


@dataclass(frozen=True)
class Try:
    """One attempt to reach an owner."""

    at: datetime
    result: str
    by: str


@dataclass(frozen=True)
class Booked:
    """The visit that a recheck was booked as."""

    visit: str
    day: date
    starts: str
    state: str


@dataclass(frozen=True)
class DueLine:
    """One recheck nobody has closed yet, with all that is needed on the telephone."""

    recheck: str
    visit: str
    """The visit at which it was planned."""
    client: str
    phone: str
    site: str
    system_id: str
    system: str
    vet: str
    """Id of the vet who planned it."""
    vet_name: str
    rank: int
    kind: str
    """``visit`` or ``phone``."""
    reason: str
    window: Window
    overdue_days: int
    booked: Booked | None
    """None while somebody must still ring, also when what was booked did not come about."""
    attempts: tuple[Try, ...]

    def said(self, today: date) -> str:
        """Return in a few words where it stands on a day."""
        if self.booked is not None:
            return f"booked {said(self.booked.day, today)} {self.booked.starts}"
        if self.overdue_days:
            return f"OVERDUE {self.overdue_days} d"
        if today < self.window.earliest:
            return f"from {said(self.window.earliest, today)}"
        return f"due to {said(self.window.latest, today)}"


_DUE = """
SELECT r."id", r."visit", c."name", c."phone", s."name", y."id", y."name", v."vet", p."name",
       v."rank", r."kind", r."reason", r."earliest", r."target", r."latest",
       b."id", b."day", b."starts", b."state"
FROM "recheck" r
JOIN "visit" v ON v."id" = r."visit"
JOIN "client" c ON c."id" = r."client"
JOIN "system" y ON y."id" = r."system"
JOIN "site" s ON s."id" = y."site"
JOIN "person" p ON p."id" = v."vet"
LEFT JOIN "visit" b ON b."id" = r."booked"
WHERE r."closed_at" IS NULL AND r."struck" IS NULL ORDER BY r."id"
"""
_TRIES = """
SELECT a."recheck", a."at", a."result", coalesce(p."name", a."by")
FROM "attempt" a JOIN "recheck" r ON r."id" = a."recheck"
LEFT JOIN "person" p ON p."id" = a."by"
WHERE r."closed_at" IS NULL AND a."struck" IS NULL ORDER BY a."at", a."id"
"""


def due(today: date) -> tuple[DueLine, ...]:
    """Return the open rechecks: to ring first, the most overdue before, then by window.

    Those that are booked follow in the order of their day. Two queries for any number.
    """
    tries: dict[str, list[Try]] = {}
    for recheck, at, result, by in query(_TRIES):
        moment = UtcField().python_value(at)
        assert moment is not None
        tries.setdefault(recheck, []).append(Try(moment, result, by))
    found = {row[0]: _due_line(row, tries.get(row[0], []), today) for row in query(_DUE)}
    ring = rechecks.to_ring((_scheduled(line) for line in found.values()), today)
    settled = [line for line in found.values() if line.booked is not None]
    settled.sort(key=lambda x: (x.booked.day, x.booked.starts) if x.booked else (date.max, ""))
    return (*(found[r.key] for r in ring), *settled)


def _due_line(row: tuple[Any, ...], tries: list[Try], today: date) -> DueLine:
    window = Window(*(date.fromisoformat(text) for text in row[12:15]))
    visit, day, starts, state = row[15:]
    stands = visit is not None and state not in OFF
    booked = Booked(visit, date.fromisoformat(day), starts, state) if stands else None
    late = 0 if booked else window.overdue_days(today)
    return DueLine(*(*row[:12], window, late, booked, tuple(tries)))


def _scheduled(line: DueLine) -> rechecks.Recheck:
    state = RecheckState.BOOKED if line.booked else RecheckState.DUE
    return rechecks.Recheck(line.recheck, line.reason, line.window, state)


@dataclass(frozen=True)
class DiaryLine:
    """One visit in the diary."""

    visit: str
    day: date
    starts: str
    minutes: int
    client: str
    phone: str
    site: str
    system: str
    reason: str
    kind: str
    vet: str
    vet_name: str
    rank: int
    state: str
    why: str
    booked_why: str
    advice: str
    rank_why: str

    @property
    def ends(self) -> str:
        """The wall time at which it should end."""
        begins = datetime.combine(self.day, time.fromisoformat(self.starts))
        return (begins + timedelta(minutes=self.minutes)).strftime("%H:%M")

    @property
    def off(self) -> bool:
        """Whether nobody goes there."""
        return self.state in OFF


@dataclass(frozen=True)
class DiaryDay:
    """One day of the diary."""

    day: date
    open: bool
    """Whether the practice makes visits on that day of the week."""
    lines: tuple[DiaryLine, ...]

    def by_vet(self) -> dict[str, tuple[DiaryLine, ...]]:
        """Return the visits that stand, by the name of the vet."""
        found: dict[str, tuple[DiaryLine, ...]] = {}
        for line in self.lines:
            if not line.off:
                found[line.vet_name] = (*found.get(line.vet_name, ()), line)
        return found


_DIARY = """
SELECT v."id", v."day", v."starts", v."minutes", c."name", c."phone", s."name", y."name",
       v."reason", v."kind", v."vet", p."name", v."rank", v."state", v."why", v."booked_why",
       v."advice", v."rank_why"
FROM "visit" v
JOIN "client" c ON c."id" = v."client"
JOIN "site" s ON s."id" = v."site"
JOIN "system" y ON y."id" = v."system"
JOIN "person" p ON p."id" = v."vet"
WHERE v."day" >= ? AND v."day" <= ? AND v."struck" IS NULL
ORDER BY v."day", v."starts", v."id"
"""


def diary(first: date, days: int = DAYS_AHEAD) -> tuple[DiaryDay, ...]:
    """Return so many days from a first one, each with its visits; two queries for any number."""
    house = practice()
    dates = [first + timedelta(days=n) for n in range(days)]
    ends = [DayField().db_value(day) for day in (dates[0], dates[-1])]
    found: dict[date, list[DiaryLine]] = {day: [] for day in dates}
    for visit, text, *rest in query(_DIARY, ends):
        day = date.fromisoformat(text)
        found[day].append(DiaryLine(visit, day, *rest))
    opens = house.open_days if house is not None else "1234567"
    return tuple(
        DiaryDay(day, str(day.isoweekday()) in opens, tuple(lines)) for day, lines in found.items()
    )
