"""Until when records must be kept, and holds that stop any date: listed, and nothing deleted."""

from __future__ import annotations

import functools
from collections import defaultdict
from dataclasses import dataclass
from datetime import date
from typing import cast

from core.catalogue import load
from core.clock import local
from core.errors import BadInput, Refusal
from core.practice import settings
from core.practice.door import edit
from core.practice.keep import Act
from core.records import read
from core.records.engine import query
from core.records.fields import DayField, UtcField
from core.records.keys import new_key
from core.records.tables import Client, Hold, Practice, Visit

SETTING = "keep_years."
"""Settings of the practice begin so, the kind of record behind it: ``keep_years.record``."""
MOST_YEARS = 100


@dataclass(frozen=True)
class Kind:
    """A kind of record and how long it is kept.

    Attributes
    ----------
    years : int
        The practice's own, or the catalogue's.
    how : str
        Where the years come from, as a person reads it.
    """

    key: str
    name: str
    years: int
    how: str
    note: str


@dataclass(frozen=True)
class Kept:
    """The records of one kind that one visit has.

    Attributes
    ----------
    last : date
        Day of the last entry.
    until : date or None
        The day up to and with which they are kept; None while the visit is not signed: then
        no date runs.
    held : str
        Why they are held whatever the date; "" when they are not.
    """

    visit: str
    client: str
    client_name: str
    day: date
    kind: str
    last: date
    until: date | None
    held: str = ""

    def passed(self, today: date) -> bool:
        """Return whether the date is behind us and nothing holds them."""
        return self.until is not None and self.until < today and not self.held


def add_years(start: date, years: int) -> date:
    """Return the same day some years on; 29 February goes on to 1 March where there is none.

    The rule is the later of the two days that could be meant: nothing is called past too early.

    Examples
    --------
    >>> add_years(date(2024, 2, 29), 3), add_years(date(2024, 2, 29), 4)
    (datetime.date(2027, 3, 1), datetime.date(2028, 2, 29))
    """
    try:
        return start.replace(year=start.year + years)
    except ValueError:
        return date(start.year + years, 3, 1)


@functools.cache
def _catalogue() -> dict[str, dict[str, object]]:
    found: dict[str, dict[str, object]] = load.table("keeping")["kind"]
    return found


def kinds() -> tuple[Kind, ...]:
    """Return every kind of record with the years that this practice keeps it."""
    own = settings.under(SETTING)
    return tuple(_kind(key, row, own.get(key)) for key, row in _catalogue().items())


def _kind(key: str, row: dict[str, object], own: str | None) -> Kind:
    how = "set by this practice" if own else _known(str(row["source"]))
    also = cast(dict[str, str], row.get("also", {}))
    note = " ".join([str(row["note"]), *(f"{words}: {_known(at)}." for at, words in also.items())])
    return Kind(key, str(row["name"]), int(own or str(row["years"])), how, note)


def _known(source: str) -> str:
    """Return the work that a figure comes from, and that there is none where there is none."""
    found = load.table("sources")[source]
    return str(found["cite" if found["how"] == "read" else "how"])


def set_years(act: Act, kind: str, years: int) -> None:
    """Set for how many years this practice keeps a kind of record.

    Raises
    ------
    BadInput
        For a kind that is none, or years outside 1 to 100.
    """
    if kind not in _catalogue():
        raise BadInput(f"{kind} is no kind of record.", f"One of {', '.join(_catalogue())}.")
    if not 1 <= years <= MOST_YEARS:
        raise BadInput(f"Records are kept 1 to {MOST_YEARS} years.", "Type for example 7.")
    settings.put(act, f"{SETTING}{kind}", str(years))


_VISITS = """
SELECT v."id", v."client", c."name", v."day", v."state", v."signed_at"
FROM "visit" v JOIN "client" c ON c."id" = v."client"
WHERE v."state" <> 'booked' AND v."struck" IS NULL{} ORDER BY v."day", v."id"
"""
_LAST: dict[str, tuple[str, ...]] = {
    "record": ("addendum", "test_result", "owner_told", "proposed"),
    "medicine": ("treatment",),
    "money": ("invoice", "payment"),
    "paper": ("document",),
}
"""Tables whose last row is the last entry of a kind; a signed record also has its signature."""
ALWAYS = "record"


def _last_entries(kind: str, visit: str) -> dict[str, str]:
    """Return the moment of the last entry of a kind by visit, as the records hold it."""
    where = ' AND "visit" = ?' if visit else ""
    values = (visit,) if visit else ()
    found: dict[str, str] = {}
    for table in _LAST[kind]:
        sql = f'SELECT "visit", max("at") FROM "{table}" WHERE "struck" IS NULL{where}'
        for of, at in query(f'{sql} GROUP BY "visit"', values):
            found[of] = max(at, found.get(of, ""))
    return found


def kept(visit: str = "") -> tuple[Kept, ...]:
    """Return all records with their dates and holds, the first to pass first.

    Parameters
    ----------
    visit : str
        Only those of this visit; all when "".
    """
    held, zone = _Held(), read.find(Practice)[0].zone
    years = {kind.key: kind.years for kind in kinds()}
    last = {kind: _last_entries(kind, visit) for kind in years}
    found = []
    where = ' AND v."id" = ?' if visit else ""
    for row in query(_VISITS.format(where), (visit,) if visit else ()):
        of, client, name, on, state, signed_at = row
        day = DayField().python_value(on)
        assert day is not None
        for kind, count in years.items():
            moments = [m for m in (last[kind].get(of), signed_at) if m is not None]
            if kind != ALWAYS and of not in last[kind]:
                continue
            entry = max([day, *(_wall(m, zone) for m in moments)])
            until = None if state == "open" else add_years(entry, count)
            why = held.why(client, of)
            found.append(Kept(of, client, name, day, kind, entry, until, why))
    return tuple(sorted(found, key=lambda k: (k.until or date.max, k.day, k.client_name, k.visit)))


def _wall(moment: str, zone: str) -> date:
    at = UtcField().python_value(moment)
    assert at is not None
    return local(at, zone).date()


class _Held:
    """Which records are held, by client and by visit."""

    def __init__(self) -> None:
        self._why: dict[tuple[str, str | None], list[str]] = defaultdict(list)
        for hold in read.find(Hold, ended_at=None):
            self._why[hold.client, hold.visit].append(hold.why)

    def why(self, client: str, visit: str) -> str:
        """Return why a visit's records are held; "" when they are not."""
        return "; ".join((*self._why.get((client, visit), ()), *self._why.get((client, None), ())))


def holds(visit: str = "") -> tuple[Hold, ...]:
    """Return the holds that stand; with a visit, those that hold its records."""
    found = read.find(Hold, ended_at=None, order="at, id")
    if not visit:
        return found
    client = read.one(Visit, visit).client
    return tuple(h for h in found if h.visit == visit or (h.visit is None and h.client == client))


def hold(act: Act, client: str, why: str, visit: str | None = None) -> str:
    """Hold the records of a client, or of one visit, whatever their date; return the hold's id.

    Raises
    ------
    Refusal
        Without a reason, and for a visit of another client.
    """
    if not why.strip():
        raise Refusal("Records are held with a reason.", "Say why in a few words.")
    of = read.one(Client, client)
    if visit is not None and read.one(Visit, visit).client != of.id:
        raise Refusal(f"This visit is not one of {of.name}.", "Choose the visit again.")
    row = Hold(id=new_key(), client=client, visit=visit, why=why.strip(), by=act.by, at=act.at)
    with edit("hold", who=act.by, at=act.at, visit=visit) as doing:
        doing.add(row)
    return row.id


def end_hold(act: Act, hold_id: str, why: str) -> None:
    """End a hold, with the reason; the dates count again.

    Raises
    ------
    Refusal
        Without a reason, and when it has ended already.
    """
    row = read.one(Hold, hold_id)
    if row.ended_at is not None:
        raise Refusal("This hold has ended already.")
    if not why.strip():
        raise Refusal("A hold is ended with a reason.", "Say why in a few words.")
    with edit("hold ended", who=act.by, at=act.at, visit=row.visit) as doing:
        doing.change(Hold, row.id, ended_why=why.strip(), ended_by=act.by, ended_at=act.at)
