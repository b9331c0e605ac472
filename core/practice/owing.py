"""What a day still owes: one line for each thing left open, from a fixed number of queries."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from core.billing.charges import ChargeLine
from core.billing.invoice import totals
from core.dates import said
from core.practice import diary, drug_log, stock_bath_view
from core.practice.charges import tax_rules
from core.records.engine import query
from core.records.fields import DayField


@dataclass(frozen=True)
class Seen:
    """Somebody has seen to a line of a day's list."""

    mark: str
    """Id of the mark, to take it back."""
    by: str
    at: str
    """Wall time."""


@dataclass(frozen=True)
class Owing:
    """One thing that a day still owes."""

    key: str
    """What it is about, the same on every look: ``unpaid:`` and the visit's id."""
    kind: str
    """A word: ``unsigned``, ``unpaid``, ``to bill``, ``awaited``, ``tell``, ``unsent``,
    ``ring``, ``recheck``, ``waiting``, ``late``, ``count`` or ``paper``."""
    row: str
    """Id of the row it is about."""
    visit: str
    day: date
    client: str
    what: str
    amount_minor: int | None = None
    due: date | None = None
    seen: Seen | None = None
    labels: bool = False
    """Whether it is labels that wait to be handed over, with what they are on."""


@dataclass(frozen=True)
class Money:
    """What a visit comes to and what was paid of it, in minor units."""

    visit: str
    day: date
    client: str
    state: str
    number: str
    """Number of its invoice; "" while none is issued."""
    billed_minor: int
    open_minor: int
    """Lines that stand on no invoice yet."""
    paid_minor: int

    @property
    def charged_minor(self) -> int:
        """Invoiced or not."""
        return self.billed_minor + self.open_minor

    @property
    def owed_minor(self) -> int:
        """What is still to be paid."""
        return self.charged_minor - self.paid_minor


_VISIT = """
JOIN "visit" v ON v."id" = {}."visit" JOIN "client" c ON c."id" = v."client"
WHERE v."day" <= ? AND v."struck" IS NULL
"""
_UNSIGNED = """
SELECT v."id", v."day", c."name", v."state", y."name", v."reason"
FROM "visit" v JOIN "client" c ON c."id" = v."client" JOIN "system" y ON y."id" = v."system"
WHERE v."day" <= ? AND v."struck" IS NULL AND v."state" IN ('booked', 'open')
ORDER BY v."day", v."starts", v."id"
"""
_MONEY = """
WITH billed AS (SELECT "visit", max("number") AS "number", sum("gross_minor") AS "minor"
                FROM "invoice" GROUP BY "visit"),
     paid AS (SELECT "visit", sum("amount_minor") AS "minor" FROM "payment" GROUP BY "visit"),
     unbilled AS (SELECT DISTINCT "visit" FROM "charge"
                  WHERE "invoice" IS NULL AND "struck" IS NULL)
SELECT v."id", v."day", c."name", v."state", coalesce(i."number", ''),
       coalesce(i."minor", 0), coalesce(b."minor", 0)
FROM "visit" v JOIN "client" c ON c."id" = v."client"
LEFT JOIN billed i ON i."visit" = v."id" LEFT JOIN paid b ON b."visit" = v."id"
LEFT JOIN unbilled u ON u."visit" = v."id"
WHERE v."day" <= ? AND v."struck" IS NULL AND v."state" <> 'cancelled'
  AND (v."day" = ? OR u."visit" IS NOT NULL OR coalesce(i."minor", 0) > coalesce(b."minor", 0)
       OR (v."state" = 'signed' AND i."visit" IS NULL))
ORDER BY v."day", v."starts", v."id"
"""
_OPEN_LINES = f"""
SELECT h."visit", h."code", h."words", h."quantity", h."unit_minor", h."tax_class"
FROM "charge" h {_VISIT.format("h")} AND h."invoice" IS NULL AND h."struck" IS NULL
"""
_AWAITED = f"""
SELECT t."id", v."id", v."day", c."name", t."name", t."where", t."due"
FROM "sent_test" t {_VISIT.format("t")} AND t."struck" IS NULL
  AND NOT EXISTS (SELECT 1 FROM "test_result" r WHERE r."test" = t."id")
ORDER BY t."due", t."id"
"""
_TELL = f"""
SELECT r."id", v."id", v."day", c."name", c."phone", t."name", r."value"
FROM "test_result" r JOIN "sent_test" t ON t."id" = r."test" {_VISIT.format("r")}
  AND r."struck" IS NULL
  AND NOT EXISTS (SELECT 1 FROM "owner_told" o WHERE o."result" = r."id")
ORDER BY r."id"
"""
_UNSENT = f"""
SELECT v."id", v."day", c."name", s."number", s."tissue"
FROM "sample" s {_VISIT.format("s")} AND s."struck" IS NULL AND s."got" = 1
  AND NOT EXISTS (SELECT 1 FROM "slide" m WHERE m."sample" = s."id" AND m."struck" IS NULL)
  AND NOT EXISTS (SELECT 1 FROM "sent_test" t WHERE t."visit" = v."id" AND t."struck" IS NULL
                  AND (t."sample" = s."id" OR t."sample" IS NULL))
ORDER BY s."id"
"""
_WAITING = f"""
SELECT m."id", v."id", v."day", c."name", m."stage", m."why"
FROM "stage_mark" m {_VISIT.format("m")} AND m."state" = 'waiting' AND m."struck" IS NULL
ORDER BY m."id"
"""
_PAPERS = f"""
SELECT d."id", v."id", v."day", c."name", d."kind", d."number"
FROM "document" d {_VISIT.format("d")} AND d."kind" <> 'sample labels'
  AND NOT EXISTS (SELECT 1 FROM "delivery" x WHERE x."document" = d."id")
  AND d."id" NOT IN (SELECT "supersedes" FROM "document" WHERE "supersedes" IS NOT NULL)
ORDER BY d."id"
"""
_LATE = f"""
SELECT p."id", v."id", v."day", c."name", p."words"
FROM "proposed" p {_VISIT.format("p")} AND p."struck" IS NULL AND p."outcome" = ''
ORDER BY p."id"
"""
_NO_SHEET = """
SELECT v."id", v."day", c."name" FROM "visit" v JOIN "client" c ON c."id" = v."client"
WHERE v."day" <= ? AND v."state" = 'signed'
  AND EXISTS (SELECT 1 FROM "owner_step" o WHERE o."visit" = v."id" AND o."struck" IS NULL)
  AND NOT EXISTS (SELECT 1 FROM "document" d WHERE d."visit" = v."id" AND d."kind" = 'care sheet')
ORDER BY v."day", v."id"
"""

_NO_LABEL = """
SELECT v."id", v."day", c."name" FROM "visit" v JOIN "client" c ON c."id" = v."client"
WHERE v."day" <= ? AND v."struck" IS NULL AND EXISTS (
  SELECT 1 FROM "treatment" t WHERE t."visit" = v."id" AND t."act" = 'dispensed'
    AND t."struck" IS NULL AND NOT EXISTS (
      SELECT 1 FROM "document" d WHERE d."visit" = v."id" AND d."kind" = 'labels'
        AND d."id" > t."id"))
ORDER BY v."day", v."id"
"""


def lines(day: date, books: tuple[Money, ...]) -> Iterator[Owing]:
    """Give everything open at the end of a day, of this day and of those before it.

    Parameters
    ----------
    books : tuple of Money
        As `money` gives them for the day.
    """
    to = DayField().db_value(day)
    yield from _unsigned(day, to)
    for book in books:
        yield from _unpaid(book)
    yield from _tests(day, to)
    yield from _unsent(to)
    yield from _to_ring(day)
    for row, visit, on, client, stage, why in query(_WAITING, (to,)):
        words = f"{stage} waits: {why}" if why else f"{stage} waits"
        yield Owing(f"waiting:{row}", "waiting", row, visit, _day(on), client, words)
    for row, visit, on, client, came in query(_LATE, (to,)):
        words = f"after signing: {came}"
        yield Owing(f"late:{row}", "late", row, visit, _day(on), client, words)
    for row, visit, on, client, kind, number in query(_PAPERS, (to,)):
        words = f"{kind} {number} not handed over"
        found = Owing(f"paper:{row}", "paper", row, visit, _day(on), client, words)
        yield replace(found, labels=kind == "labels")
    for bath in stock_bath_view.still_open(day):
        about = (bath.visit, bath.day, bath.client)
        yield Owing(f"bath:{bath.handling}", "waiting", bath.handling, *about, bath.words)
    for one in drug_log.still_open(day):
        about = ("", one.day, "drug log")
        yield Owing(f"count:{one.lot}:{one.day}", "count", one.lot, *about, one.words)
    for visit, on, client in query(_NO_LABEL, (to,)):
        words = "label not made, though a medicine is dispensed"
        yield Owing(f"label:{visit}", "paper", visit, visit, _day(on), client, words)
    for visit, on, client in query(_NO_SHEET, (to,)):
        words = "care sheet not made, though steps are written for the owner"
        yield Owing(f"sheet:{visit}", "paper", visit, visit, _day(on), client, words)


def _day(text: str) -> date:
    return date.fromisoformat(text)


def age(day: date, today: date) -> str:
    """Return how long ago a day was, in words.

    Examples
    --------
    >>> age(date(2026, 11, 23), date(2026, 11, 25))
    '2 d old'
    """
    return "of today" if day >= today else f"{(today - day).days} d old"


def _unsigned(today: date, to: str | None) -> Iterator[Owing]:
    for visit, on, client, state, system, reason in query(_UNSIGNED, (to,)):
        begun = "not begun" if state == "booked" else "not signed"
        words = f"{begun}, {age(_day(on), today)}: {system}, {reason}".rstrip(", ")
        yield Owing(f"unsigned:{visit}", "unsigned", visit, visit, _day(on), client, words)


def _unpaid(book: Money) -> Iterator[Owing]:
    about = (book.visit, book.visit, book.day, book.client)
    part = " (a part is paid)" if book.paid_minor else ""
    if book.open_minor:
        words = f"not invoiced{part}" if not book.number else "lines on no invoice"
        yield Owing(f"bill:{book.visit}", "to bill", *about, words, book.owed_minor)
    elif book.owed_minor > 0:
        words = f"invoice {book.number}{part}"
        yield Owing(f"unpaid:{book.visit}", "unpaid", *about, words, book.owed_minor)
    elif book.state == "signed" and not book.charged_minor:
        yield Owing(f"bill:{book.visit}", "to bill", *about, "signed, and nothing is charged")


def _tests(today: date, to: str | None) -> Iterator[Owing]:
    for row, visit, on, client, name, where, due in query(_AWAITED, (to,)):
        by = _day(due) if due else None
        late = f", {(today - by).days} d late" if by and by < today else ""
        when = f"due {said(by, today)}{late}" if by else "no date given"
        words = f"{name}{f' at {where}' if where else ''}: {when}"
        yield Owing(f"awaited:{row}", "awaited", row, visit, _day(on), client, words, due=by)
    for row, visit, on, client, phone, name, value in query(_TELL, (to,)):
        words = f"owner not told: {name}: {value}{f'; {phone}' if phone else ''}"
        yield Owing(f"tell:{row}", "tell", row, visit, _day(on), client, words)


def _unsent(to: str | None) -> Iterator[Owing]:
    found: dict[tuple[str, str, str], list[str]] = {}
    for visit, on, client, number, tissue in query(_UNSENT, (to,)):
        found.setdefault((visit, on, client), []).append(f"{number} {tissue.replace('_', ' ')}")
    for (visit, on, client), samples in found.items():
        words = f"neither read nor sent: {', '.join(samples)}"
        yield Owing(f"unsent:{visit}", "unsent", visit, visit, _day(on), client, words)


def _to_ring(today: date) -> Iterator[Owing]:
    for line in diary.due(today):
        called = line.kind == "phone" and line.window.target <= today
        if line.booked or not (called or line.overdue_days):
            continue
        kind = "ring" if line.kind == "phone" else "recheck"
        tries = f", {len(line.attempts)} tried" if line.attempts else ", not rung yet"
        late = f"{line.overdue_days} d overdue" if line.overdue_days else "due"
        words = f"{late}{tries}: {line.reason}; {line.phone or 'no number'}"
        about = (line.recheck, line.visit, line.window.target, line.client)
        yield Owing(f"recheck:{line.recheck}", kind, *about, words, due=line.window.latest)


def money(day: date) -> tuple[Money, ...]:
    """Return what the visits of a day come to, and those before it with money still open."""
    to = DayField().db_value(day)
    bills: dict[str, list[ChargeLine]] = {}
    for visit, code, words, quantity, unit, tax_class in query(_OPEN_LINES, (to,)):
        line = ChargeLine(code, words, Decimal(quantity), unit, tax_class)
        bills.setdefault(visit, []).append(line)
    rules = tax_rules()
    found = []
    for visit, on, client, state, number, billed, paid in query(_MONEY, (to, to)):
        left = totals(bills.get(visit, []), rules).gross
        found.append(Money(visit, _day(on), client, state, number, billed, left, paid))
    return tuple(found)
